"""A farmer's own sheet says when each group goes out: it is all that a first board needs."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from readiness.entries.entry import Entry
from tests.cli.conftest import Run
from tests.roster.grids import ON, read, read_xlsx, said, take

HEAD = ["Tag", "Group", "Goes out"]


def test_a_sheet_with_groups_and_turnouts_makes_a_board_of_an_empty_book(
    run: Run, tmp_path: Path
) -> None:
    sheet = tmp_path / "bulls.csv"
    sheet.write_text(
        "Tag,Name,Age,Group,Turnout,Farm\n"
        "700101,Alder,3,Hill,8 May,Nether Skell\n"
        "700102,Birch,4,hill,,Nether Skell\n"
        "700103,Cedar,?,Bulling heifers,20/05/2026,Nether Skell\n"
    )
    checked = run("import", sheet, "--check", "--on", ON)
    assert "new group Hill at Nether Skell: turnout 8 May 2026, cows" in checked.out
    assert "new group Bulling heifers at Nether Skell: turnout 20 May 2026, heifers" in checked.out
    ran = run("import", sheet, "--on", ON, "--json")
    assert ran.code == 0, ran.err
    [roster] = ran.json()["rosters"]
    assert roster["new_groups"] == [
        {"group": "Hill", "farm": "Nether Skell", "turnout": "2026-05-08", "class": "cows"},
        {"group": "Bulling heifers", "farm": "Nether Skell", "turnout": "2026-05-20",
         "class": "heifers"},
    ]  # fmt: skip
    board = run("board", "--json", "--on", ON).json()
    assert {bull["bull"]: (bull["group"], bull["turnout"]) for bull in board["bulls"]} == {
        "700101": ("Hill", "2026-05-08"),
        "700102": ("Hill", "2026-05-08"),
        "700103": ("Bulling heifers", "2026-05-20"),
    }
    again = run("import", sheet, "--on", ON, "--json").json()
    assert (again["written"], again["rosters"][0]["new_groups"]) == ([], [])


def test_a_group_that_is_in_the_book_keeps_its_day_and_the_other_is_told() -> None:
    book: list[Entry] = []
    take(read([HEAD, ["700101", "Hill", "8 May 2026"]]), book)
    moved = take(read([HEAD, ["700102", "Hill", "1 May 2026"]]), book)
    assert moved.begun == []
    assert [text for _, text in moved.warnings] == [
        "Hill goes out 8 May 2026 in the book, 1 May 2026 here: the day in the book stays; the "
        "group with another turnout, written anew, moves it"
    ]
    same = take(read([HEAD, ["700103", "Hill", "8 May 2026"]]), book)
    assert (same.warnings, same.begun) == ([], [])
    # He stands in it already, and this sheet names no group.
    his = take(read([["Tag", "Turnout"], ["700101", "1 May 2026"]]), book)
    assert [row for row, _ in his.warnings] == [2]


@pytest.mark.parametrize(
    ("rows", "wrong"),
    [
        (
            [["1", "Hill", "8 May 2026"], ["2", "Hill", "9 May 2026"]],
            'row 3, column C "Goes out": Hill goes out 8 May 2026 by row 2, 9 May 2026 by this '
            "one; write one day for it",
        ),
        (
            [["1", "Hill", "2 Apr 2026"]],
            'row 2, column C "Goes out": 2 Apr 2026 is over; write when Hill goes out next, or '
            "leave it empty",
        ),
        (
            [["1", "Hill", "soon"]],
            'bulls.csv: row 2, column C "Goes out": "soon" is not a day; write it as 8 May, or '
            "8 May 2027. Nothing was written",
        ),
        (
            [["1", "Hill", ""]],
            'row 2, column B "Group": there is no group Hill on the farm without a name; give it '
            "a day in a column headed Turnout, or write it first: "
            'readiness group "Hill" --turnout DATE --on 2026-04-03',
        ),
    ],
)  # fmt: skip
def test_a_turnout_that_cannot_be_takes_nothing_in_and_says_what_to_write(
    rows: list[list[str]], wrong: str, run: Run, tmp_path: Path
) -> None:
    sheet = tmp_path / "bulls.csv"
    sheet.write_text("\n".join(",".join(row) for row in [HEAD, *rows]))
    ran = run("import", sheet, "--on", ON)
    assert ran.code == 65
    assert wrong in ran.err
    assert run("board", "--on", ON).code == 66


def test_a_turnout_without_a_group_is_told_and_left_out() -> None:
    book: list[Entry] = []
    alone = take(read([["Tag", "Turnout"], ["700101", "8 May 2026"]]), book)
    assert alone.warnings == [(2, "has a turnout and no group: not taken in")]
    assert [entry.kind for entry in book] == ["bull"]


@pytest.mark.parametrize(
    ("written", "read_as"),
    [("20/12/26", "2026-12-20"), ("20 dec", "2026-12-20"), ("3 mar", "2027-03-03"),
     ("in 8 weeks", "2026-05-29"), ("20/12", "2026-12-20"), ("2027-03-03", "2027-03-03")],
)  # fmt: skip
def test_a_turnout_is_read_as_a_day_to_come(written: str, read_as: str) -> None:
    """20/12/26 could be 2020-12-26 in a column of births."""
    [row] = read([HEAD, ["700101", "Hill", written]]).rows
    assert row.fields["turnout"] == date.fromisoformat(read_as)


def test_how_a_day_without_a_year_was_read_is_said() -> None:
    roster = read([HEAD, ["700101", "Hill", "8 May"]])
    assert roster.how[2] == "without a year the next such day"


def test_the_spreadsheets_own_day_of_a_turnout_is_read_though_it_is_to_come() -> None:
    book: list[Entry] = []
    roster = read_xlsx([HEAD, ["700101", "Hill", date(2026, 12, 20)]])
    assert said(take(roster, book).problems) == []
    assert next(entry.body["turnout"] for entry in book if entry.kind == "group") == "2026-12-20"
