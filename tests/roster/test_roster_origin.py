"""Whether a bull was bought, as rosters say it: none may escape his quarantine unsaid.

Checked against what an entry must say (bought needs the day of arrival) and the rule
``quarantine.days`` on the board: 28 days in the rules as they come, from the day he came.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest

from readiness.entries.entry import Entry
from tests.cli.conftest import Run
from tests.roster.grids import Rows, read, said, take

PROFILE = ("origin", "arrived", "note")


def booked(*rows: Sequence[object], book: list[Entry] | None = None) -> dict[str, Any]:
    """What the entry of the first row's bull says of how he came; {} where nothing is written."""
    changes = take(read(rows), [] if book is None else book)
    assert not changes.problems, said(changes.problems)
    entry = next((entry.content for entry in changes.entries), {})
    return {key: entry[key] for key in PROFILE if key in entry}


def problems(*rows: Sequence[object]) -> list[str]:
    return said(take(read(rows), []).problems)


def warned(*rows: Sequence[object], book: list[Entry] | None = None) -> list[tuple[int, str]]:
    return take(read(rows), [] if book is None else book).warnings


@pytest.mark.parametrize("heading", ["Bought on", "date bought", "PURCHASED", "Date of purchase:"])
def test_a_day_under_a_heading_that_says_bought(heading: str) -> None:
    rows: Rows = [["tag", heading], ["00601", "2026-03-20"]]
    assert booked(*rows) == {"origin": "bought", "arrived": "2026-03-20"}
    assert warned(*rows) == []
    assert read(rows).how == {1: "a day here means bought"}
    assert booked(["tag", heading], ["00601", ""]) == {}


def test_he_is_in_quarantine_on_the_board(run: Run, tmp_path: Path) -> None:
    """Came 20 March: 28 days end on 17 April."""
    path = tmp_path / "b.csv"
    path.write_text("tag,bought on\n00601,2026-03-20\n", encoding="utf-8")
    assert run("import", path, "--on", "2026-04-03").code == 0
    (bull,) = run("board", "--json", "--on", "2026-04-03").json()["bulls"]
    assert "in quarantine until 17 Apr" in [reason["text"] for reason in bull["reasons"]]


def test_homebred_with_a_day_on_which_he_was_bought() -> None:
    (text,) = problems(
        ["tag", "bought on", "origin"],
        ["00601", "2026-03-20", "homebred"],
        ["00602", "2026-03-20", "bought"],
        ["00603", "", "homebred"],
    )
    assert text == (
        'row 2, column C "origin": says that he is homebred, and column B "bought on" the day he '
        "was bought; correct one of the two"
    )


def test_a_day_of_arrival_alone_is_taken_and_the_bulls_are_named() -> None:
    rows: Rows = [
        ["tag", "name", "came", "origin"],
        ["00601", "Wren", "2026-03-20", ""],
        ["00602", "Jay", "2026-03-20", "bought"],
        ["00603", "", "2026-03-20", ""],
        ["00604", "Kes", "", ""],
    ]
    book: list[Entry] = []
    ((row, text),) = warned(*rows, book=book)
    assert row == 0 and "whether they were bought: 00601 Wren and 00603. No quarantine" in text
    assert [entry.body.get("origin") for entry in book] == [None, "bought", None, None]
    assert warned(["tag", "came"], ["00602", "2026-03-21"], book=book) == []  # the book knows it


@pytest.mark.parametrize(
    ("heading", "cell", "note"),
    [
        ("Bought from", "Wathmoor sales", "bought from Wathmoor sales"),
        ("Purchased from", "bought at Wathmoor", "bought from Wathmoor"),
        ("Vendor", "J. Weir; Son", "bought from J. Weir; Son"),
        ("Breeder", "Over Skell", "bred by Over Skell"),
    ],
)
def test_where_he_came_from_is_kept_in_his_note(heading: str, cell: str, note: str) -> None:
    rows: Rows = [["tag", heading, "arrived"], ["00601", cell, "2026-03-20"]]
    book: list[Entry] = []
    assert booked(*rows, book=book) == {"origin": "bought", "arrived": "2026-03-20", "note": note}
    assert booked(*rows, book=book) == {}  # again: nothing new
    own_note: Rows = [["tag", heading, "note"], ["00601", cell, "shy"]]
    assert booked(*own_note, book=book) == {"note": f"shy; {note}"}
    assert booked(*own_note, book=book) == {}
    assert booked(*rows, book=book) == {}  # without a column of notes his note stays


def test_where_he_came_from_and_not_when() -> None:
    rows: Rows = [
        ["tag", "bought from"],
        ["00601", "Wathmoor"],
        ["00602", ""],
        ["00603", "Skelbank"],
    ]
    assert booked(*rows) == {"note": "bought from Wathmoor"}
    assert [row for row, _ in warned(*rows)] == [2, 4]
    assert "no quarantine can be told" in warned(*rows)[0][1]
    book: list[Entry] = []
    take(read([["tag", "came"], ["00601", "2026-03-20"]]), book)
    assert booked(*rows[:2], book=book)["origin"] == "bought"  # the book knows when


def test_homebred_in_the_column_of_the_vendor() -> None:
    rows: Rows = [["tag", "bought from", "came"], ["00601", "homebred", "2026-03-20"]]
    assert booked(*rows) == {"origin": "homebred", "arrived": "2026-03-20"}
    (text,) = problems(["tag", "vendor", "bought on"], ["00601", "Home bred", "2026-03-20"])
    assert text.startswith('row 2, column B "vendor": says that he is homebred')
    (text,) = problems(["tag", "vendor", "origin"], ["00601", "Wathmoor", "homebred"])
    assert text.startswith('row 2, column C "origin": says that he is homebred, and column B "ven')


def test_a_homebred_bull_has_a_breeder() -> None:
    rows: Rows = [["tag", "breeder", "farm", "came"], ["00601", "NETHER SKELL", "Nether Skell", ""]]
    assert booked(*rows) == {"note": "bred by NETHER SKELL"} and warned(*rows) == []
    said_so: Rows = [["tag", "breeder", "origin"], ["00601", "J. Weir", "homebred"]]
    assert booked(*said_so) == {"origin": "homebred", "note": "bred by J. Weir"}
    both = read([["tag", "breeder", "vendor"], ["00601", "J. Weir", "Skelbank"]])
    assert [column.field for column in both.head.columns] == ["bull", None, "bought_from"]


@pytest.mark.parametrize(
    ("cell", "origin"),
    [("yes", "homebred"), ("Y", "homebred"), ("no", "bought"), ("own", "homebred")],
)  # fmt: skip
def test_home_bred_may_be_answered_with_yes_or_no(cell: str, origin: str) -> None:
    rows: Rows = [["tag", "Home bred?", "came"], ["00601", cell, "2026-03-20"]]
    assert booked(*rows)["origin"] == origin


def test_an_origin_that_says_where() -> None:
    rows: Rows = [["tag", "origin", "came"], ["00601", "Bought at Wathmoor", "2026-03-20"]]
    assert booked(*rows) == {
        "origin": "bought", "arrived": "2026-03-20", "note": "bought from Wathmoor",
    }  # fmt: skip


@pytest.mark.parametrize("cell", ["Wathmoor", "rearing", "yes"])
def test_an_origin_that_is_neither_says_what_to_do(cell: str) -> None:
    (text,) = problems(["tag", "origin"], ["00601", cell])
    assert text == (
        f'row 2, column B "origin": "{cell}" is not understood; write homebred, bought or hired, '
        'or leave it empty; where he was bought belongs in a column headed "Bought from"'
    )


@pytest.mark.parametrize(
    ("heading", "cell", "says"),
    [
        ("bought on", "2026-03-20", "this is the day he was bought"),
        ("Vendor", "Wathmoor", "this is where he was bought"),
    ],
)
def test_a_bull_whom_the_book_has_as_homebred(heading: str, cell: str, says: str) -> None:
    book: list[Entry] = []
    take(read([["tag", "origin", "came"], ["00601", "homebred", "2026-03-20"]]), book)
    changes = take(read([["tag", heading], ["00601", cell]]), book)
    assert said(changes.problems) == [
        f'row 2, column B "{heading}": he is homebred in the book, and by the heading {says}; '
        "empty the cell, or write bought in a column headed Origin"
    ]
    so = [["tag", heading, "origin"], ["00601", cell, "bought"]]
    assert booked(*so, book=book)["origin"] == "bought"


def test_a_breeder_makes_no_homebred_bull_a_bought_one() -> None:
    book: list[Entry] = []
    take(read([["tag", "origin", "came"], ["00601", "homebred", "2026-03-20"]]), book)
    changes = take(read([["tag", "breeder"], ["00601", "J. Weir"]]), book)
    assert changes.warnings == [(2, "is homebred in the book, and bred by J. Weir; stays homebred")]
    assert "origin" not in changes.entries[0].content


@pytest.mark.parametrize(
    "cell",
    ["bought, not sure", "bought at foot", "Bought at foot of Daisy", "bought from Skelbank?"],
)
def test_what_follows_bought_and_is_no_place(cell: str) -> None:
    """At foot: bought as a calf with his dam."""
    (text,) = problems(["tag", "origin", "came"], ["00601", cell, "2026-03-20"])
    assert text.startswith('row 2, column B "origin": ') and "is not understood" in text


@pytest.mark.parametrize("heading", ["Hired on", "HIRED", "On hire since"])
def test_a_day_under_a_heading_that_says_hired(heading: str) -> None:
    rows: Rows = [["tag", heading], ["00601", "2026-03-20"]]
    assert booked(*rows) == {"origin": "hired", "arrived": "2026-03-20"}
    assert read(rows).how == {1: "a day here means hired"}


@pytest.mark.parametrize("cell", ["hired", "Hired in", "on hire", "On Loan", "loan", "leased"])
def test_hired_in_words(cell: str) -> None:
    rows: Rows = [["tag", "origin", "came"], ["00601", cell, "2026-03-20"]]
    assert booked(*rows) == {"origin": "hired", "arrived": "2026-03-20"}


def test_a_hired_bull_needs_the_day_he_came() -> None:
    assert problems(["tag", "origin", "came"], ["00601", "hired", ""]) == [
        'row 2, column C "came": is missing; a hired bull needs the day he arrived, for his '
        "quarantine"
    ]
    assert (
        'no quarantine can be told; write the day he came in a column headed "Hired on"'
        in (warned(["tag", "hired from"], ["00601", "J. Weir"])[0][1])
    )
    book: list[Entry] = []
    take(read([["tag", "came"], ["00601", "2026-03-20"]]), book)
    assert booked(["tag", "origin"], ["00601", "on hire"], book=book) == {
        "origin": "hired", "arrived": "2026-03-20",
    }  # fmt: skip


def test_a_hired_bull_is_booked_with_the_day_his_quarantine_counts_from(
    run: Run, tmp_path: Path
) -> None:
    path = tmp_path / "b.csv"
    path.write_text("tag,hired on,hired from\n00601,2026-03-20,J. Weir\n", encoding="utf-8")
    assert run("import", path, "--on", "2026-04-03").code == 0
    said = run("bull", "00601", "--json", "--on", "2026-04-03").json()["history"][0]
    assert (said["origin"], said["arrived"]) == ("hired", "2026-03-20")
    assert said["note"] == "hired from J. Weir"


@pytest.mark.parametrize(
    ("heading", "cell"),
    [("Hired from", "J. Weir"), ("Vendor", "on hire from J. Weir"), ("Origin", "Hired: J. Weir")],
)
def test_where_he_was_hired_is_kept_in_his_note(heading: str, cell: str) -> None:
    rows: Rows = [["tag", heading, "came"], ["00601", cell, "2026-03-20"]]
    told = {"origin": "hired", "arrived": "2026-03-20", "note": "hired from J. Weir"}
    book: list[Entry] = []
    assert booked(*rows, book=book) == told
    assert booked(*rows, book=book) == {}


def test_hired_against_what_else_is_said() -> None:
    rows: Rows = [["tag", "bought on", "hired from"], ["00601", "2026-03-20", "J. Weir"]]
    (text,) = problems(*rows)
    assert text == (
        'row 2, column C "hired from": is where he was hired, and column B "bought on" the day he '
        "was bought; correct one of the two"
    )
    (text,) = problems(["tag", "hired on", "origin"], ["00601", "2026-03-20", "homebred"])
    assert 'says that he is homebred, and column B "hired on" the day he was hired' in text


def test_a_bought_bull_is_not_made_a_hired_one_by_a_heading() -> None:
    book: list[Entry] = []
    take(read([["tag", "bought on"], ["00601", "2026-03-20"]]), book)
    changes = take(read([["tag", "hired on"], ["00601", "2026-03-21"]]), book)
    assert said(changes.problems) == [
        'row 2, column B "hired on": he is bought in the book, and by the heading this is the day '
        "he was hired; empty the cell, or write hired in a column headed Origin"
    ]
    so = [["tag", "hired on", "origin"], ["00601", "2026-03-21", "hired"]]
    assert booked(*so, book=book) == {"origin": "hired", "arrived": "2026-03-21"}
    vendor = [["tag", "vendor"], ["00601", "J. Weir"]]  # of a hired bull it is who hires him out
    assert booked(*vendor, book=book) == {"note": "hired from J. Weir"}
