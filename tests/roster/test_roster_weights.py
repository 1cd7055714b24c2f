"""A weight in a roster is a figure in a list: nobody had the bull before him to write it down.

The book is that of ``tests/cli/small_book.py``, the day 3 April 2026.
"""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

from readiness.book import Book
from readiness.crush.race import expected
from readiness.desk.desk import Desk
from readiness.system.clock import SystemClock
from tests.cli.conftest import Run
from tests.cli.small_book import DAY

ON = date.fromisoformat(DAY)


def desk_of(book: Path) -> Desk:
    clock = SystemClock()
    return Desk(Book(book, clock), None, clock, on=ON)


def race(book: Path) -> list[str]:
    """The bulls expected in the race today, as the crush asks for them."""
    desk = desk_of(book)
    return expected(desk.board().bulls, ON.toordinal(), desk.handled_on(ON))


def on_sheets(book: Path) -> list[str]:
    return [bull.key for sheet in desk_of(book).day_sheets()[0] for bull in sheet.bulls]


def weigh(run: Run, book: Path, *options: str) -> None:
    path = book.with_name("b.csv")
    path.write_text("tag,kg\n00288,900\n00310,950\n00093,1010\n", encoding="utf-8")
    ran = run("import", path, "--on", DAY, *options)
    assert ran.code == 0, ran.err


def test_the_bulls_of_a_roster_stay_in_the_race_and_off_the_day_sheet(run: Run, book: Path) -> None:
    before = race(book)
    assert "00310" in before
    weigh(run, book)
    assert run("bull", "00310", "--json", "--on", DAY).json()["history"][0]["kg"] == 950
    assert (race(book), on_sheets(book)) == (before, [])


def test_a_weight_that_is_typed_stands_on_the_day_sheet_and_takes_nobody_out_of_the_race(
    run: Run, book: Path
) -> None:
    """Who is weighed has not been lifted, nor walked."""
    before = race(book)
    assert run("log", "00310", "kg 950", "--on", DAY).code == 0
    assert (race(book), on_sheets(book)) == (before, ["00310"])


def test_out_of_an_export_it_is_still_known(run: Run, book: Path, tmp_path: Path) -> None:
    weigh(run, book)
    assert run("log", "00122", "kg 990", "--on", DAY).code == 0
    assert run("export", tmp_path / "out", "--on", DAY).code == 0
    copy = tmp_path / "copy.duckdb"
    ran = run("import", tmp_path / "out" / "entries.jsonl", "--book", copy, "--on", DAY)
    assert ran.code == 0, ran.err
    assert (race(copy), on_sheets(copy)) == (race(book), ["00122"])


def test_struck_and_said_again_by_undo_it_is_still_known(run: Run, book: Path) -> None:
    weigh(run, book)
    before = race(book)
    weight = run("bull", "00310", "--json", "--on", DAY).json()["history"][0]
    assert run("strike", weight["id"]).code == 0
    assert run("undo").code == 0
    said = run("bull", "00310", "--json", "--on", DAY).json()["history"][0]
    assert (said["kind"], said["kg"]) == ("weight", 950) and said["id"] != weight["id"]
    assert (race(book), on_sheets(book)) == (before, [])


def test_one_undo_takes_the_roster_back(run: Run, book: Path) -> None:
    weigh(run, book)
    assert run("undo").code == 0
    assert run("bull", "00310", "--json", "--on", DAY).json()["history"][0]["kind"] != "weight"
    weigh(run, book)
    assert on_sheets(book) == []


def test_a_line_of_entries_is_what_was_seen(run: Run, book: Path, tmp_path: Path) -> None:
    """A file of entries says what was seen and done; only a roster is a list."""
    line = {"kind": "mobility", "on": DAY, "bull": "00310", "scale": "gb0-3", "score": 0}
    path = tmp_path / "crush.jsonl"
    path.write_text(json.dumps(line) + "\n", encoding="utf-8")
    assert run("import", path).code == 0
    assert on_sheets(book) == ["00310"] and "00310" not in race(book)
