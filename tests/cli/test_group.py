"""``group``: says more of a group, takes back, and asks before it makes a second one of a name.

Groups are per farm; said again, later fields replace earlier ones, what is not said stays, null
takes one away. The book is the small farm's: Heifers (40, turnout 9 April) and Hill cows (turnout
8 May) at Sallow Fell.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from readiness.book import Book
from readiness.entries.entry import Entry
from readiness.history.groups import groups_of
from readiness.system.clock import SystemClock
from tests.build import standing
from tests.cli.conftest import Ran, Run
from tests.cli.small_book import DAY, FARM

MAY = ("--turnout", "2026-05-01")


def group(run: Run, name: str, *options: str) -> Ran:
    ran = run("group", name, "--on", DAY, *options)
    assert ran.code == 0, ran.err
    return ran


def stands(run: Run, name: str, *options: str) -> dict[str, Any]:
    """How it stands after it was said, as programs are told."""
    found: dict[str, Any] = group(run, name, "--json", *options).json()["group"]
    return found


def said(book: Path) -> list[dict[str, Any]]:
    """What was said of groups after the small farm's two, without what every entry has."""
    entries = standing(Book(book, SystemClock()))
    groups = [dict(entry.body) for entry in entries if entry.kind == "group"]
    return [{k: v for k, v in body.items() if k not in ("kind", "on", "by")} for body in groups[2:]]


def test_a_turnout_moved_keeps_all_that_is_not_said(run: Run, book: Path) -> None:
    assert stands(run, "Heifers", "--turnout", "2026-04-16", "--weeks", "9") == {
        "farm": FARM, "group": "Heifers", "turnout": "2026-04-16", "weeks": 9, "females": 40,
        "class": "heifers", "last_day": "2026-06-18",
    }  # fmt: skip
    ran = group(run, "Heifers", "--turnout", "2026-04-18")
    assert ran.out.startswith(
        "Heifers at Sallow Fell: turnout 2026-04-18, 9 weeks (to 2026-06-20), 40 heifers\nsaved "
    )
    whose = {"group": "Heifers", "farm": FARM}
    assert said(book) == [
        {**whose, "turnout": "2026-04-16", "weeks": 9},
        {**whose, "turnout": "2026-04-18"},
    ]


def test_without_a_turnout_it_keeps_the_one_it_has(run: Run, book: Path) -> None:
    assert stands(run, "Heifers", "--females", "50")["turnout"] == "2026-04-09"
    assert stands(run, "Heifers", "--females", "0")["females"] == 0
    assert said(book)[0] == {
        "group": "Heifers", "farm": FARM, "turnout": "2026-04-09", "females": 50,
    }  # fmt: skip


def test_a_value_is_taken_away(run: Run, book: Path) -> None:
    assert stands(run, "Heifers", "--weeks", "4")["last_day"] == "2026-05-07"
    ran = group(run, "Heifers", "--weeks", "none", "--females", "none", "--class", "none")
    assert ran.out.startswith(
        "Heifers at Sallow Fell: turnout 2026-04-09, 12 weeks (to 2026-07-02, as the rules say), "
        "cows, how many is not said\n"
    )
    assert said(book)[1] == {
        "group": "Heifers", "farm": FARM, "turnout": "2026-04-09",
        "weeks": None, "females": None, "class": None,
    }  # fmt: skip
    assert stands(run, "Heifers", "--class", "heifers")["weeks"] is None


@pytest.mark.parametrize(
    ("options", "of"),
    [((), "heifers"), (("--class", "cows"), "cows"), (("--class", "none"), "cows")],
)
def test_a_new_group_is_of_heifers_where_its_name_says_so_as_on_the_first_pages(
    run: Run, book: Path, options: tuple[str, ...], of: str
) -> None:
    assert stands(run, "Hill heifers", *MAY, "--farm", FARM, *options)["class"] == of
    assert stands(run, "Hill heifers", "--females", "9", "--farm", FARM)["class"] == of
    assert "class" not in said(book)[1]


def test_nothing_said_writes_nothing(run: Run, book: Path) -> None:
    ran = run("group", "Heifers", "--on", DAY)
    assert ran.code == 2 and "Nothing is said of Heifers at Sallow Fell. Nothing was wr" in ran.err
    assert said(book) == []


@pytest.mark.parametrize(
    ("option", "value"), [("--females", "many"), ("--weeks", "-1"), ("--class", "goats")]
)
def test_what_cannot_be_is_refused(run: Run, book: Path, option: str, value: str) -> None:
    ran = run("group", "Heifers", "--on", DAY, option, value)
    assert ran.code == 2 and option in ran.err and said(book) == []


def test_a_new_group_needs_its_turnout(run: Run, book: Path) -> None:
    ran = run("group", "Late", "--females", "9", "--on", DAY)
    assert ran.code == 2 and "There is no group Late without a farm on 2026-04-03." in ran.err
    before = run("group", "Heifers", "--females", "9", "--on", "2026-01-09")
    assert before.code == 2 and "Give --turnout" in before.err
    assert said(book) == []


def test_without_a_farm_it_is_the_one_of_that_name(run: Run, book: Path) -> None:
    for name in ("Hill cows", "hill  COWS"):
        ran = group(run, name, *MAY)
        assert ran.out.startswith("Hill cows at Sallow Fell: turnout 2026-05-01") and not ran.err
    assert {(body["group"], body["farm"]) for body in said(book)} == {("Hill cows", FARM)}
    assert group(run, "Late", *MAY).out.startswith("Late without a farm: turnout 2026-05-01")


def test_a_second_group_of_a_name_is_asked_about(run: Run, book: Path) -> None:
    for farm, at in (("Over Skell", "at Over Skell"), (" ", "without a farm")):
        ran = run("group", "Hill cows", *MAY, "--farm", farm, "--on", DAY)
        assert ran.code == 2 and ran.out == ""
        assert ran.err == (
            f"readiness: Sallow Fell has a group Hill cows, and there is none {at}. Nothing was "
            'written. If that one is meant, give --farm "Sallow Fell"; to make a second one '
            f"{at}, give --new too.\n"
        )
    assert said(book) == []
    made = group(run, "Hill cows", *MAY, "--farm", "Over Skell", "--new")
    assert "Over Skell is new: no bull and no group" in made.err
    assert group(run, "Hill cows", *MAY, "--new").out.startswith("Hill cows without a farm")
    assert group(run, "Hill cows", *MAY, "--farm", "Over Skell").err == ""  # now it is there
    assert [body.get("farm") for body in said(book)] == ["Over Skell", None, "Over Skell"]


def test_a_slip_in_the_farm_makes_no_second_group(run: Run, book: Path) -> None:
    ran = run("group", "Hill cows", *MAY, "--farm", "Sallow Fel", "--on", DAY)
    assert ran.code == 2
    assert "(Sallow Fel is no farm of the book; the nearest is Sallow Fell)" in ran.err
    assert group(run, "Hill cows", *MAY, "--farm", "sallow  fell").out.startswith(
        "Hill cows at Sallow Fell:"
    )


def test_of_two_groups_of_a_name_one_has_to_be_named(run: Run, book: Path) -> None:
    group(run, "Hill cows", *MAY, "--farm", "Over Skell", "--new")
    ran = run("group", "Hill cows", *MAY, "--on", DAY)
    assert ran.code == 2
    assert 'Say which is meant: --farm "Over Skell" or --farm "Sallow Fell".' in ran.err
    third = run("group", "Hill cows", *MAY, "--farm", "Low", "--on", DAY)
    assert third.code == 2 and "Over Skell and Sallow Fell have a group Hill cows" in third.err
    assert len(said(book)) == 1


def test_new_where_it_is_there_already(run: Run, book: Path) -> None:
    ran = run("group", "Hill cows", *MAY, "--farm", FARM, "--new", "--on", DAY)
    assert ran.code == 2 and "There is a group Hill cows at Sallow Fell already" in ran.err
    assert said(book) == []


def test_at_a_farm_that_is_not_in_the_book(run: Run, book: Path) -> None:
    assert group(run, "Late", *MAY, "--farm", "Sallow Fel").err.endswith(
        ": Sallow Fel is new: no bull and no group of the book is there yet; the nearest is Sallow "
        'Fell: give --farm "Sallow Fell" if it is meant\n'
    )
    (warning,) = group(run, "Soon", *MAY, "--farm", "Elsewhere", "--json").json()["warnings"]
    assert warning["text"] == "Elsewhere is new: no bull and no group of the book is there yet"


def test_the_first_group_of_a_book_is_not_odd(run: Run, tmp_path: Path) -> None:
    assert group(run, "Hill cows", *MAY, "--farm", FARM).err == ""
    late = group(run, "Late", *MAY, "--farm", " ")
    assert late.out.startswith("Late without a farm: turnout 2026")


def test_a_group_that_is_nearly_another_of_its_farm(run: Run, book: Path) -> None:
    near = group(run, "Hil cows", *MAY, "--farm", FARM).err
    assert "There is a group Hill cows already; this is another" in near
    assert group(run, "Team 1", *MAY, "--farm", FARM).err == ""
    assert group(run, "Team 2", *MAY, "--farm", FARM).err == ""


def test_the_board_has_the_group_as_the_command_told_it(run: Run, book: Path) -> None:
    told = stands(run, "Heifers", "--turnout", "2026-04-16", "--weeks", "none")
    groups = run("board", "--json", "--on", DAY).json()["groups"]
    (line,) = [each for each in groups if each["group"] == "Heifers"]
    assert (line["farm"], line["turnout"], line["females"]) == (FARM, "2026-04-16", 40)
    for day, there in ((told["last_day"], True), ("2026-07-10", False)):
        left = run("board", "--json", "--on", day).json()["groups"]
        assert ("Heifers" in [each["group"] for each in left]) is there
    assert told["last_day"] == "2026-07-09"


def entry(day: int, body: dict[str, Any]) -> Entry:
    said = {"group": "Heifers", "turnout": "2026-05-01", **body}
    return Entry(day, f"2026-04-03T10:00:{day:02}.000000Z", 0, str(day), "group", "", said)


def test_a_group_stands_as_it_was_last_said_up_to_the_day() -> None:
    entries = [
        entry(1, {"weeks": 9, "females": 60, "class": "heifers"}),
        entry(2, {"turnout": "2026-05-08"}),
        entry(3, {"weeks": None, "class": None, "farm": "Low"}),
        entry(4, {"weeks": None, "class": None}),
    ]
    at = {day: groups_of(entries, day) for day in (1, 2, 3, 4)}
    assert at[1]["", "Heifers"][2:6] == (date(2026, 5, 1).toordinal(), 9, 60, "heifers")
    assert at[2]["", "Heifers"][2:6] == (date(2026, 5, 8).toordinal(), 9, 60, "heifers")
    assert at[3]["", "Heifers"] == at[2]["", "Heifers"]  # that was another farm's
    assert at[4]["", "Heifers"][2:6] == (date(2026, 5, 1).toordinal(), None, 60, "cows")
    assert at[4] == groups_of(entries) and len(at[4]) == 2


def test_a_new_group_called_bullers_is_of_heifers_as_its_class_would_be(
    run: Run, book: Path
) -> None:
    assert stands(run, "Bullers", *MAY)["class"] == "heifers"
    assert stands(run, "Late", "--class", "hfrs", *MAY)["class"] == "heifers"


def test_a_new_group_whose_name_says_both_is_of_cows_with_a_word(run: Run, book: Path) -> None:
    ran = group(run, "Cows (ex heifers)", "--json", *MAY)
    assert ran.json()["group"]["class"] == "cows"
    (warning,) = ran.json()["warnings"]
    assert warning["text"] == (
        "Cows (ex heifers) counts as a group of cows until somebody says it is of heifers"
    )
    assert group(run, "Not heifers", *MAY, "--class", "cows").err == ""


def test_a_group_spelt_a_little_otherwise_is_joined_as_the_book_names_it(
    run: Run, book: Path
) -> None:
    """`group` took any case, `join` refused it: one reading everywhere."""
    ran = run("log", "00417", 'join "HILL  cows"', "--on", DAY)
    assert ran.code == 0, ran.err
    joined = [e.body for e in standing(Book(book, SystemClock())) if e.kind == "join"]
    assert joined[-1]["group"] == "Hill cows"
