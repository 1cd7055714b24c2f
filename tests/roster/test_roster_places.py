"""Farms and groups that a roster names and the book does not have; and each thing said once.

Groups are per farm, and a bull's group is looked for on his own farm.
The book is the small farm of ``tests/cli/small_book.py``: Sallow Fell, with Heifers and Hill cows.
"""

from __future__ import annotations

import shlex
from datetime import date
from pathlib import Path

import pytest

from readiness.book.lookup import near_name
from readiness.entries.entry import Entry
from readiness.roster.doubts import no_group
from readiness.roster.roster import CellProblem, Odd, bulls_words, problems_once, warnings_once
from readiness.roster.way import COMMAND, on_screen
from tests.cli.conftest import Run
from tests.cli.small_book import DAY
from tests.roster.grids import read, take


def roster(beside: Path, text: str) -> Path:
    path = beside.with_name("b.csv")
    path.write_text(text, encoding="utf-8")
    return path


def test_booked_bulls_moved_to_a_farm_that_is_not_there(run: Run, book: Path) -> None:
    path = roster(book, "tag,farm\n00288,Sallow Fel\n00310,Sallow Fel\n00501,Sallow fell\n")
    preview = run("import", path, "--check", "--on", DAY)
    told = (
        "warning: b.csv: the book has no farm Sallow Fel; the nearest that it has is Sallow Fell; "
        "moved to it, and so in no group: 00288 Rowan and 00310 Fenwick\n"
    )
    assert preview.err == told
    assert "row 2 updated 00288 Rowan: farm Sallow Fell → Sallow Fel (not in the book)" in " ".join(
        preview.out.split()
    )
    said = run("import", path, "--json", "--on", DAY)
    assert said.json()["rosters"][0]["new_farms"] == ["Sallow Fel"] and said.err == told
    assert run("bull", "00288", "--json", "--on", DAY).json()["group"] is None
    assert run("import", path, "--check", "--on", DAY).err == ""  # it is in the book now


def test_the_farm_of_the_command_is_looked_at_too(run: Run, book: Path) -> None:
    ran = run("import", roster(book, "tag\n00288\n"), "--farm", "Nowhere", "--on", DAY)
    assert "the book has no farm Nowhere; moved to it, and so in no group: 00288 Rowan" in ran.err


def test_new_bulls_on_a_farm_of_nearly_the_same_name(run: Run, book: Path) -> None:
    path = roster(book, "tag,name,farm\n00771,Kes,Sallow Fel\n00772,Jay,Over Skell\n")
    assert run("import", path, "--on", DAY).err == (
        "warning: b.csv: the book has no farm Sallow Fel; the nearest that it has is Sallow Fell; "
        "booked there: 00771 Kes\n"
    )


def test_an_empty_book_knows_no_farm_better(run: Run, tmp_path: Path) -> None:
    path = roster(tmp_path / "x", "tag,farm\n00771,Nether Skell\n00772,Nether Skel\n")
    ran = run("import", path, "--check", "--on", DAY)
    assert ran.err == "" and "not in the book" not in ran.out


@pytest.mark.parametrize(
    ("name", "near"),
    [("Nether Skel", "Nether Skell"), ("NETHERSKELL", "Nether Skell"), ("Skell", None),
     ("Low Farm", None), ("Over Skel", "Over Skell")],
)  # fmt: skip
def test_names_that_may_be_one(name: str, near: str | None) -> None:
    assert near_name(name, ["Nether Skell", "Over Skell", "High Farm"]) == near


# ---- groups ------------------------------------------------------------------------------------


def test_a_missing_group_is_said_once_with_what_to_type(run: Run, book: Path) -> None:
    rows = "".join(f"00{n},Sallow Fell,Dairy,\n" for n in range(771, 783))
    path = roster(book, f"tag,farm,group,born\n{rows}00783,Sallow Fell,,soon\n")
    ran = run("import", path, "--on", DAY)
    assert ran.code == 65
    assert ran.err.startswith(
        f'readiness: {path}: rows 2-13, column C "group": there is no group Dairy at Sallow Fell '
        "(its groups are Heifers and Hill cows); give it a day in a column headed Turnout, or "
        'write it first: readiness group "Dairy" '
        f'--turnout DATE --farm "Sallow Fell" --on {DAY}; row 14, column D "born": "soon"'
    )
    assert "more." not in ran.err


def test_what_is_to_be_typed_does_what_it_says(run: Run, book: Path) -> None:
    path = roster(book, "tag,group\n00288,dairy\n")
    refused = run("import", path, "--on", DAY).err
    command = refused.split("write it first: readiness ")[1].split(". Nothing")[0]
    typed = shlex.split(command.replace("DATE", "2026-05-01"))
    assert run(*typed).code == 0
    assert run("import", path, "--on", DAY).code == 0
    assert run("bull", "00288", "--json", "--on", DAY).json()["group"] == "dairy"


def test_a_group_of_another_farm_is_named() -> None:
    text = no_group("Late", None, {("Low", "Late"), ("High", "Late"), (None, "Early")}, None)
    assert text == (
        "there is no group Late on the farm without a name (its groups are Early); there is one at "
        "High and Low: give their farm if they are there; give it a day in a "
        'column headed Turnout, or write it first: readiness group "Late" --turnout DATE --new'
    )


def test_on_a_screen_a_command_names_the_book_where_it_is_not_the_usual(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("READINESS_BOOK", "/farm/a.duckdb")
    usual, other = (on_screen(Path(book), Path("/b c.csv")) for book in ("/farm/a.duckdb", "/x.db"))
    assert usual.option("--dates dmy").endswith("`readiness import '/b c.csv' --dates dmy`")
    assert other.takes("--renames").endswith("`readiness --book /x.db import '/b c.csv' --renames`")
    assert COMMAND.option("--dates dmy") == "say --dates dmy"
    assert COMMAND.takes("--renames") == "--renames takes it"
    text = no_group("Hill", None, (), None, other)
    assert text.endswith(
        "; give it a day in a column headed Turnout, or write it first: on its "
        "own page, with no tag on the page after it, then this file; or leave "
        'the program and run `readiness --book /x.db group "Hill" --turnout DATE`'
    )


def test_a_name_out_of_a_spreadsheet_runs_nothing_in_a_shell() -> None:
    """POSIX shell, 2.2.2 and 2.2.3: within single quotes every mark is itself, within double
    quotes $ and ` are not."""
    text = no_group("$(rm x)", 'a"b', (), date(2026, 4, 3))
    assert text.endswith("group '$(rm x)' --turnout DATE --farm 'a\"b' --on 2026-04-03")


# ---- each thing once ---------------------------------------------------------------------------


def test_problems_alike_are_one_with_their_rows() -> None:
    found = [
        CellProblem(9, 1, "column B", "is wrong"),
        CellProblem(4, 1, "column B", "is wrong"),
        CellProblem(5, 1, "column B", "is wrong"),
        CellProblem(4, 2, "column C", "is wrong"),
        CellProblem(0, 3, "column D", "cannot be read"),
    ]
    assert problems_once(found) == [
        "column D: cannot be read",
        "rows 4-5 and 9, column B: is wrong",
        "row 4, column C: is wrong",
    ]


def test_warnings_alike_are_one_with_their_rows() -> None:
    odd = [Odd(7, "e7", "odd"), Odd(3, "e3", "odd"), Odd(5, "e5", "odder"), Odd(0, "", "file")]
    assert warnings_once(odd) == [("", "file"), ("", "rows 3 and 7: odd"), ("e5", "row 5: odder")]


def test_many_bulls_in_words() -> None:
    assert bulls_words([("00417", "Rowan")]) == "00417 Rowan"
    assert bulls_words([("00417", "Rowan"), ("00418", "")]) == "00417 Rowan and 00418"
    assert bulls_words([(str(n), "") for n in range(15)]).endswith("9, 10, 11 and 3 more")


def test_a_tag_with_a_digit_too_many_or_too_few(run: Run, tmp_path: Path) -> None:
    """UK tags have 12 digits (BCMS, and DAERA for Northern Ireland)."""
    path = roster(tmp_path / "x", "tag\nUK 700915 60001\nUK 700915 600015\nUK 700915 6000151\n")
    ran = run("import", path, "--on", DAY)
    assert ran.code == 0
    assert ran.err.splitlines() == [
        f"warning: b.csv: row {row}: tag {tag}: a UK tag has 12 digits, this one {count}: read it "
        "again; no other book and no tag office will know this tag"
        for row, tag, count in ((2, "UK 700915 60001", 11), (4, "UK 700915 6000151", 13))
    ]


@pytest.mark.parametrize(
    ("there", "named"), [("Hill 1-2", "Hill 12"), ("C++", "C"), ("Team 1-1", "Team 11")]
)
def test_punctuation_makes_another_farm_or_group(there: str, named: str) -> None:
    """Names are kept as they are written: only case and spaces are a way of typing."""
    book: list[Entry] = []
    take(read([["tag", "farm"], ["00701", there]]), book)
    take(
        read([["tag", "farm"], ["00702", named], ["00703", there.lower().replace(" ", "  ")]]), book
    )
    assert [entry.body["farm"] for entry in book] == [there, named, there]


def test_a_breeder_of_nearly_the_farms_name_is_elsewhere() -> None:
    rows = [["tag", "farm", "breeder", "arrived"], ["00701", "Hill 1-2", "Hill 12", "2026-01-05"]]
    (entry,) = take(read(rows), []).entries
    assert entry.content["origin"] == "bought"
