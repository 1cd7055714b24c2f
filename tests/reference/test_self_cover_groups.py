"""The plain count of cover, worked out by hand for whole groups: who counts, from when, and where.

Seen on 3 April 2026 unless said otherwise; days were counted on a calendar by hand.
"""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from typing import Any

import pytest

from readiness.entries.validate import validate

from .books import OWN_CHECKS
from .brute import brute_board
from .cover import brute_cover
from .cover_books import cover_book
from .hand import ON, day
from .state import Entry
from .team import flat, group, heifers, hopeless_bull, out, ready_bull, said, slow_bull, standing

SOON = "2026-04-09"


def cover(*told: list[Entry] | Entry, on: date = ON, **what_if: Any) -> dict[str, Any]:
    """The only group."""
    (row,) = brute_cover(flat(*told), on, **what_if)
    return row


def test_group_of_three_by_hand() -> None:
    # two GO of 35, one of 35 who has only to be seen; the fourth comes too late, on 22 April
    told = flat(
        group(SOON, females=100, weeks=9),
        ready_bull("T 1"),
        ready_bull("T 2"),
        standing("T 3"),
        slow_bull("T 4"),
    )
    assert brute_cover(told, ON) == [
        {
            "farm": None,
            "group": "Cows",
            "turnout": day("04-09"),
            "class": "cows",
            "females": 100,
            "workers": 4,
            "capacity_go": 70,
            "capacity_forecast": 105,
            "short": 0,
            "covered_from": day("04-03"),
            "chance": Fraction(729, 1000),
            "spare_for_90": 1,
            "spare_for_95": 2,
            "first_calf": date(2027, 1, 17),  # 283 days
            "last_calf": date(2027, 3, 21),  # nine weeks later
        }
    ]


def test_covered_before_the_slow_bull_is_ready() -> None:
    told = [*ready_bull("T 1"), *slow_bull("T 2")]
    short = cover(group(SOON, females=36), told)
    assert (short["short"], short["capacity_forecast"]) == (1, 35)
    assert (short["covered_from"], short["chance"]) == (day("04-22"), 0)
    assert cover(group(SOON, females=35), told)["covered_from"] == day("04-03")
    assert cover(group(SOON, females=71), told)["covered_from"] is None
    # turnout on the very day on which he is ready, and a day sooner
    assert cover(group("2026-04-22", females=70), told)["short"] == 0
    assert cover(group("2026-04-21", females=70), told)["short"] == 35


def test_bull_whom_a_person_must_judge_is_counted_on() -> None:
    row = cover(group(SOON, females=10), hopeless_bull("T 1"))
    assert (row["workers"], row["capacity_forecast"], row["short"]) == (1, 0, 10)
    assert row["covered_from"] is None


def test_reserve_or_bull_that_left_is_counted_as_a_worker() -> None:
    told = [*ready_bull("T 1", role="reserve"), *ready_bull("T 2")]
    row = cover(group(SOON, females=30), told, said("moved", "T 2", "2026-04-02", act="left"))
    assert (row["workers"], row["capacity_go"], row["short"]) == (0, 0, 30)


def test_bull_at_work_is_not_counted_by_whether_he_is_sound() -> None:
    # went out with all done, and is GO
    at_work = [*ready_bull("T 1"), out("T 1")]
    assert cover(group("2026-04-03", females=30), at_work)["capacity_go"] == 35
    # lame since: he may be fit again soon, but who is out has no day on which he is ready
    lame = said("mobility", "T 1", "2026-04-05", scale="gb0-3", score=2)
    row = cover(group("2026-04-03", females=30), at_work, lame, on=day("04-06"))
    assert (row["workers"], row["capacity_forecast"], row["short"]) == (1, 0, 30)
    assert row["covered_from"] is None


def test_bull_unsafe_with_heifers_is_counted_among_them() -> None:
    told = ready_bull("T 1", "Heifers", heifer_safe=False)
    row = cover(heifers(SOON, females=30), told)
    assert (row["class"], row["capacity_forecast"], row["covered_from"]) == ("heifers", 0, None)
    # nobody says that he is unsafe
    assert cover(heifers(SOON, females=30), ready_bull("T 1", "Heifers"))["capacity_go"] == 35


WANTS_FEMALES = ("short", "covered_from", "chance", "spare_for_90", "spare_for_95")


def test_females_not_said_are_taken_for_none() -> None:
    told = ready_bull("T 1")
    unsaid = cover(group(SOON), told)
    assert [unsaid[name] for name in ("females", *WANTS_FEMALES)] == [None] * 6
    assert (unsaid["capacity_go"], unsaid["capacity_forecast"]) == (35, 35)
    assert unsaid["first_calf"] == date(2027, 1, 17)
    none = cover(group(SOON, females=0), told)
    assert [none[name] for name in WANTS_FEMALES] == [0, day("04-03"), 1, 0, 0]
    # said once and taken away
    taken = group(SOON, females=None) | {"on": "2026-04-01"}
    assert cover(group(SOON, females=40), taken, told)["short"] is None
    assert cover(group(SOON), told, females=40)["short"] == 5


def test_group_without_bulls_is_left_out_or_covered() -> None:
    row = cover(group(SOON, females=30))
    assert (row["workers"], row["capacity_forecast"], row["short"]) == (0, 0, 30)
    assert (row["covered_from"], row["chance"]) == (None, 0)
    assert (row["spare_for_90"], row["spare_for_95"]) == (1, 2)  # of 30 each: 0.9, 0.99
    assert cover(group(SOON, females=0))["chance"] == 1


def test_season_is_a_day_too_long_or_too_short() -> None:
    # 2026-01-09 and 84 days is 3 April
    assert len(brute_cover([group("2026-01-09")], ON)) == 1
    assert brute_cover([group("2026-01-08")], ON) == []
    assert len(brute_cover([group("2026-01-08", weeks=13)], ON)) == 1
    assert brute_cover([group("2026-01-09", weeks=11)], ON) == []
    # what if they were turned out then: their season is another, too
    assert len(brute_cover([group("2025-06-01")], ON, turnout=day("04-09"))) == 1


def test_group_said_later_or_struck_counts_today() -> None:
    later = group(SOON, females=10) | {"on": "2026-04-04"}
    assert brute_cover([later], ON) == []
    struck = group(SOON, females=10) | {"id": "a"}
    strike: Entry = {"kind": "strike", "on": "2026-04-09", "entry": "a"}
    assert brute_cover([struck, strike], ON) == []


def test_turnout_passed_and_only_go_bulls_are_in_time() -> None:
    # turned out on 1 April, yet never let out: by turnout only who is GO can count, though another
    # could be seen and go today
    told = [*ready_bull("T 1"), *standing("T 2"), *slow_bull("T 3")]
    row = cover(group("2026-04-01", females=105), told)
    assert (row["capacity_go"], row["capacity_forecast"], row["short"]) == (35, 35, 70)
    assert row["covered_from"] == day("04-22")
    # his age is still that of the turnout: 23 months on 1 April, 24 today
    young = cover(group("2026-04-01", females=30), ready_bull("T 1", born="2024-04-02"))
    assert young["capacity_go"] == 20


def test_two_groups_of_one_name_are_mixed_up() -> None:
    told = flat(
        group(SOON, farm="High Farm", females=40),
        group("2026-04-12", farm="Low Farm", females=60),
        ready_bull("T 1", farm="High Farm"),
        ready_bull("T 2", farm="Low Farm"),
        ready_bull("T 3", farm="Low Farm"),
        ready_bull("T 4"),  # of no farm: of neither group
    )
    rows = [
        (row["farm"], row["turnout"], row["workers"], row["short"]) for row in brute_cover(told, ON)
    ]
    assert rows == [("High Farm", day("04-09"), 1, 5), ("Low Farm", day("04-12"), 2, 0)]


def test_over_new_year_by_hand() -> None:
    # 1 January 2027, seen on New Year's Eve; born 1 October 2025 he is 15 months, 2 October 14
    told = [group("2027-01-01", females=20), *standing("T 1", born="2025-10-01")]
    row = cover(told, standing("T 2", born="2025-10-02"), on=date(2026, 12, 31))
    assert (row["capacity_go"], row["capacity_forecast"]) == (0, 25)
    assert row["covered_from"] == date(2026, 12, 31)
    assert (row["first_calf"], row["last_calf"]) == (date(2027, 10, 11), date(2028, 1, 3))


def test_farms_own_values_change_nothing() -> None:
    told = [group(SOON, females=30), *standing("T 1", born=None)]
    assert cover(told)["capacity_forecast"] == 20
    own = cover(told, rules={"cover.females_unknown": 30, "cover.fails": Fraction(1, 4)})
    assert (own["capacity_forecast"], own["chance"]) == (30, Fraction(3, 4))
    # those of the assessment as well: he must be two years old
    young = [group(SOON, females=15), *standing("T 1", born="2025-01-09")]
    assert cover(young)["capacity_forecast"] == 15
    assert cover(young, rules={"age.least": 24})["capacity_forecast"] == 0


# ---- random farms --------------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(12))
def test_random_farm_has_an_invalid_entry_or_its_groups_do_not_agree_with_its_bulls(
    seed: int,
) -> None:
    book = cover_book(seed, ON)
    assert [(entry, problems) for entry in book if (problems := validate(entry)[1])] == []
    assert book == cover_book(seed, ON)
    rules: dict[str, Any] = {"checks": OWN_CHECKS[1:2]}
    board = brute_board(book, ON, rules)
    for row in brute_cover(book, ON, rules):
        place, role = (row["farm"], row["group"]), "worker"
        mine = [b for b in board if ((b["farm"], b["group"]), b["role"]) == (place, role)]
        assert row["workers"] == len(mine)
        assert (row["capacity_go"] > 0) == any(bull["status"] == "GO" for bull in mine)
        assert row["capacity_go"] <= row["capacity_forecast"]
        assert {bull["turnout"] for bull in mine} <= {row["turnout"]}
