"""Rows that may be of another bull than their tag stop the file, and say what they would do to
whom; bulls of the book whom the file lacks are listed.

The book is that of ``tests/cli/small_book.py``: at Sallow Fell 00122 Tarn, 00093 Brock, 00310
Fenwick, 00288 Rowan, 00501 Stray, 00502 Gyle (out) and UK 123450 600417 Corran.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from readiness.entries.entry import Entry
from tests.cli.conftest import Ran, Run
from tests.cli.small_book import DAY
from tests.roster.grids import Rows, read, said, take

HERD: Rows = [
    ["tag", "name", "born"],
    ["00601", "Wren", "2021-04-03"],
    ["00602", "Jay", "2022-05-04"],
    ["00603", "Kes", "2023-06-05"],
    ["00604", "", ""],
]


def herd() -> list[Entry]:
    book: list[Entry] = []
    assert take(read(HERD), book).problems == []
    return book


def problems(book: list[Entry], *rows: list[str]) -> list[str]:
    before = list(book)
    told = said(take(read([["tag", "name", "born"], *rows]), book).problems)
    assert book == before or not told
    return told


def test_a_birth_that_changes_stops_the_file() -> None:
    assert problems(herd(), ["00602", "Jay", "2021-05-04"]) == [
        'row 2, column C "born": 00602 Jay was born 4 May 2022 in the book, and 4 May 2021 by this '
        "row: what is written of him would be of a bull of another age. Look whose birth it is; "
        "--renames takes it"
    ]
    assert problems(herd(), ["00604", "Pip", "2021-05-04"]) == []  # nothing was known


def test_a_name_that_another_bull_bears_stops_the_file() -> None:
    text = 'row 2, column B "name": 00602 Jay would be called wren, and so is 00601 Wren: '
    (told,) = problems(herd(), ["00602", "wren", ""])
    assert told.startswith(text) and "written of Jay would stand under wren" in told
    (told,) = problems(herd(), ["00604", "Wren", ""])
    assert "00604 would be called Wren, and so is 00601 Wren; --renames takes it" in told
    (told,) = problems(herd(), ["00999", "Wren", ""])
    assert "00999 would be called Wren, and so is 00601 Wren" in told  # a new bull of that name
    assert problems(herd(), ["00602", "Pip", ""], ["00603", "Kes", ""]) == []


def test_names_moved_by_a_row_against_the_tags() -> None:
    told = problems(
        herd(), ["00601", "Jay", ""], ["00602", "Kes", ""], ["00603", "Pip", ""], ["00604", "", ""]
    )
    assert told == [
        'column B "name": rows 2-3: each has the name of the bull in the row below, as where one '
        "column is sorted by itself or moved by a row. Put names and tags together again",
        'row 2, column B "name": 00601 Wren would be called Jay, and so is 00602 Jay (who would be '
        "called Kes): what is written of Wren would stand under Jay; --renames takes it",
        'row 3, column B "name": 00602 Jay would be called Kes, and so is 00603 Kes (who would be '
        "called Pip): what is written of Jay would stand under Kes; --renames takes it",
    ]
    down = problems(herd(), ["00601", "", ""], ["00602", "Wren", ""], ["00603", "Jay", ""])
    assert "rows 3-4: each has the name of the bull in the row above" in down[0]
    mixed = problems(herd(), ["00601", "Kes", ""], ["00602", "Jay", ""], ["00603", "Wren", ""])
    assert "rows 2 and 4: names have moved to other tags" in mixed[0]


def test_a_bull_who_has_left_leaves_his_name() -> None:
    book = herd()
    body = {"kind": "moved", "on": "2026-04-03", "bull": "00601", "act": "left"}
    day = book[0].day
    book.append(Entry(day, "2026-04-03T11:00:00.000000Z", 0, "x", "moved", "00601", body))
    assert problems(book, ["00999", "Wren", ""]) == []


def test_two_new_bulls_of_one_name_mix_up_nobody() -> None:
    assert problems([], ["00601", "Wren", ""], ["00602", "Wren", ""]) == []


def test_meant_they_are_taken_and_said() -> None:
    rows: Rows = [["tag", "name", "born"], ["00601", "Jay", "2021-04-04"], ["00602", "Wren", ""]]
    book = herd()
    changes = take(read(rows), book, renames=True)
    assert changes.problems == []
    names = [entry.body.get("name") for entry in book[len(herd()) :]]
    assert names == ["Jay", "Wren"]
    warned = [text for _, text in changes.warnings]
    assert any(text.startswith("00601 Wren was born 3 Apr 2021 in the book") for text in warned)
    assert any("would stand under Jay" in text for text in warned)
    assert not any("--renames" in text for text in warned)
    assert take(read(rows), book).problems == []  # it is so now


def on_the_command_line(run: Run, book: Path, text: str, *options: str) -> Ran:
    path = book.with_name("b.csv")
    path.write_text(text, encoding="utf-8")
    return run("import", path, "--on", DAY, *options)


def test_nothing_is_written_and_the_way_out_is_said(run: Run, book: Path) -> None:
    before = run("board", "--json", "--on", DAY).out
    text = "tag,name,pen\n00288,Fenwick,Bank\n00310,Rowan,Bank\n"
    for options in ((), ("--check",)):
        ran = on_the_command_line(run, book, text, *options)
        assert ran.code == 65 and ran.out == ""
        assert "b.csv: " in ran.err and 'row 2, column B "name": 00288 Rowan would be' in ran.err
        assert "Nothing was written" in ran.err and "--renames takes it" in ran.err
    assert run("board", "--json", "--on", DAY).out == before
    shown = on_the_command_line(run, book, text, "--check", "--renames")
    assert shown.code == 0 and "name Rowan → Fenwick" in shown.out
    ran = on_the_command_line(run, book, text, "--renames")
    assert ran.code == 0 and "00288 Rowan would be called Fenwick" in ran.err
    assert run("bull", "00288", "--json", "--on", DAY).json()["name"] == "Fenwick"


def lacking(run: Run, book: Path, text: str, *options: str) -> list[dict[str, Any]]:
    ran = on_the_command_line(run, book, text, "--check", "--json", *options)
    assert ran.code == 0, ran.err
    found: list[dict[str, Any]] = ran.json()["rosters"][0]["not_in_file"]
    return found


def test_bulls_that_the_file_lacks_are_listed(run: Run, book: Path) -> None:
    text = "tag\n00122\n00093\n00310\n00288\n"
    ran = on_the_command_line(run, book, text)
    assert ran.code == 0, ran.err
    lines = " ".join(ran.out.split())
    assert (
        "in the book at Sallow Fell, and not in this file: 00501 Stray, 00502 Gyle and "
        "UK 123450 600417 Corran" in lines
    )
    assert run("log", "00501", "left sold", "--on", DAY).code == 0
    assert [bull["bull"] for bull in lacking(run, book, text)] == ["00502", "UK 123450 600417"]


@pytest.mark.parametrize(
    ("text", "farms"),
    [
        ("tag,farm\n00999,Low\n", {"Low"}),
        ("tag,farm\n00999,Low\n00288,\n", {"Low", "Sallow Fell"}),
        ("tag\n00999\n", {""}),
    ],
)
def test_only_of_the_farms_that_the_file_speaks_of(
    run: Run, book: Path, text: str, farms: set[str]
) -> None:
    more = "tag,farm\n00777,Low\n00778,\n"
    assert on_the_command_line(run, book, more).code == 0
    assert {bull["farm"] for bull in lacking(run, book, text)} == farms
    whole = "tag\n00122\n00093\n00310\n00288\n00501\n00502\nUK 123450 600417\n"
    assert lacking(run, book, whole) == []
