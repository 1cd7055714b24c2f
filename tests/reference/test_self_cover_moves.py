"""The best moves, found by trying all, against cases in which a person sees them at once.

Seen on 3 April 2026. Unless said otherwise every bull is worth 35 females.
"""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from typing import Any

import pytest

from .cover import brute_cover
from .cover_books import cover_book
from .cover_moves import brute_moves
from .hand import ON, day
from .state import Entry
from .team import flat, group, heifers, hopeless_bull, out, ready_bull, said, slow_bull, standing

SOON, LATER = "2026-04-09", "2026-04-30"


def moves(*told: list[Entry] | Entry, on: date = ON, **what_if: Any) -> dict[str, Any]:
    """Of the only farm."""
    (farm,) = brute_moves(flat(*told), on, **what_if)
    return farm


def moved(*told: list[Entry] | Entry, **what_if: Any) -> set[tuple[str, str | None, str]]:
    allocation: set[tuple[str, str | None, str]] = moves(*told, **what_if)["allocation"]
    return allocation


def test_reserve_is_not_made_a_worker_of_his_own_group() -> None:
    told = [*ready_bull("T 1"), *ready_bull("T 2", role="reserve")]
    best = moves(group(SOON, females=50), told)
    assert (best["short_before"], best["short"], best["moves"]) == (15, 0, 1)
    assert best["allocation"] == {("T 2", "Cows", "Cows")}
    # before: 35 of 50, never enough; after: both must last
    assert best["groups"] == {"Cows": (15, 0, 0, Fraction(81, 100))}


def test_bull_in_no_group_is_left_standing() -> None:
    assert moved(group(SOON, females=30), ready_bull("T 1", None)) == {("T 1", None, "Cows")}


def test_bull_of_a_group_whose_season_is_over_or_that_nobody_said_is_left_standing() -> None:
    told = [group(SOON, females=70), group("2025-06-01", "Old")]
    bulls = [*ready_bull("T 1", "Old"), *ready_bull("T 2", "Nowhere")]
    assert moved(told, bulls) == {("T 1", None, "Cows"), ("T 2", None, "Cows")}


def test_worker_that_his_group_can_spare_is_not_moved() -> None:
    told = [group(SOON, females=35), group(SOON, "Hill", females=30)]
    bulls = [*ready_bull("T 1"), *ready_bull("T 2")]
    # either would do: the first tag goes
    assert moved(told, bulls) == {("T 1", "Cows", "Hill")}


def test_worker_is_moved_out_of_a_group_whose_shortage_grows() -> None:
    # moved, he would mend all 35 there and leave his own a single one short
    told = [group(SOON, females=1), group(SOON, "Hill", females=35)]
    assert moved(told, ready_bull("T 1")) == set()
    # where another takes his place, nothing grows; one that is no better there is not asked
    both = moves(told, ready_bull("T 1"), ready_bull("T 2", None))
    assert (both["short"], both["moves"]) == (0, 1)
    assert both["allocation"] == {("T 2", None, "Hill")}


def test_two_bulls_are_not_moved_at_once_where_only_that_mends_it() -> None:
    # only T 1 is safe with heifers, and his place is taken by T 2
    told = [group(SOON, females=35), heifers(SOON, females=35)]
    safe = ready_bull("T 1", heifer_safe=True)
    best = moves(told, safe, ready_bull("T 2", None))
    assert best["allocation"] == {("T 1", "Cows", "Heifers"), ("T 2", None, "Cows")}
    assert (best["short"], best["moves"]) == (0, 2)


def test_group_already_short_keeps_nobody_who_is_of_no_use_to_it() -> None:
    # T 1 is too late for the cows, in time for the hill; his going makes the cows no shorter
    told = [group(SOON, females=35), group(LATER, "Hill", females=35)]
    best = moves(told, slow_bull("T 1"))
    assert best["allocation"] == {("T 1", "Cows", "Hill")}
    assert (best["short_before"], best["short"]) == (70, 35)
    # he is ready on 22 April
    in_time = [group(SOON, females=35), group("2026-04-22", "Hill", females=35)]
    assert len(moved(in_time, slow_bull("T 1"))) == 1
    late = [group(SOON, females=35), group("2026-04-21", "Hill", females=35)]
    assert moved(late, slow_bull("T 1")) == set()


@pytest.mark.parametrize(
    "more",
    [
        {"temper": "dangerous"},
        {"born": "2025-06-01"},  # ten months old
    ],
)
def test_bull_is_moved_who_must_not_be(more: dict[str, Any]) -> None:
    assert moved(group(SOON, females=30), ready_bull("T 1", None, **more)) == set()
    # nor is he made a worker of his own group
    reserve = ready_bull("T 1", role="reserve", **more)
    assert moved(group(SOON, females=30), reserve) == set()
    assert len(moved(group(SOON, females=30), ready_bull("T 1", None, temper="watch"))) == 1


def test_bull_at_work_or_judged_by_a_person_is_moved() -> None:
    hill = group(SOON, "Hill", females=30)
    assert moved(group(SOON), hill, ready_bull("T 1"), out("T 1")) == set()
    assert moved(group(SOON), hill, hopeless_bull("T 1")) == set()
    back = said("moved", "T 1", "2026-04-03", act="in", reason="rested")
    # in again, he walks once more before he goes out
    none = group(SOON, females=0)
    assert len(moved(none, hill, ready_bull("T 1"), out("T 1"), back)) == 1


@pytest.mark.parametrize(("safe", "goes"), [(True, True), (False, False), (None, False)])
def test_bull_is_moved_to_heifers_who_is_not_said_to_be_safe(safe: bool | None, goes: bool) -> None:
    known = {} if safe is None else {"heifer_safe": safe}
    told = [heifers(SOON, females=30), *ready_bull("T 1", None, **known)]
    assert bool(moved(told)) is goes
    reserve = ready_bull("T 1", "Heifers", role="reserve", **known)
    assert bool(moved(heifers(SOON, females=30), reserve)) is goes


def test_unsafe_worker_is_not_moved_from_heifers_to_cows() -> None:
    # he holds for the heifers only: assessed as one of the cows, he is GO
    told = [heifers(SOON, females=30), group(SOON, females=30)]
    bull = ready_bull("T 1", "Heifers", heifer_safe=False)
    assert moved(told, bull) == {("T 1", "Heifers", "Cows")}


def test_group_without_said_females_gets_a_bull_or_keeps_one() -> None:
    assert moved(group(SOON), ready_bull("T 1", None)) == set()
    # whether it can spare its worker nobody knows; its reserve it can
    best = moves(group(SOON), group(SOON, "Hill", females=30), ready_bull("T 1"))
    assert best["allocation"] == set()
    assert best["groups"]["Cows"] == (None, None, None, None)
    reserve = ready_bull("T 1", role="reserve")
    assert moved(group(SOON), group(SOON, "Hill", females=30), reserve) == {("T 1", "Cows", "Hill")}
    # what if it had so many: then it is short when he goes
    asked = moved(group(SOON), group(SOON, "Hill"), ready_bull("T 1"), females=30)
    assert asked == set()


def test_turnout_passed_and_a_bull_comes_who_is_not_ready_today() -> None:
    told = [group("2026-04-01", females=35)]
    assert len(moved(told, ready_bull("T 1", None))) == 1
    assert moved(told, standing("T 1", None)) == set()
    assert moved(told, slow_bull("T 1", None)) == set()


def test_windows_do_not_move_with_the_group_he_is_moved_to() -> None:
    # walked on 1 April, GO for 9 April; for 20 April he must be walked again, and can be
    told = [group(SOON, females=0), group("2026-04-20", "Hill", females=35)]
    assert moved(told, ready_bull("T 1")) == {("T 1", "Cows", "Hill")}
    # arrived on 20 March, he stands apart until 17 April
    bought = ready_bull("T 1", origin="bought", arrived="2026-03-20")
    assert moved(told, bought) == {("T 1", "Cows", "Hill")}
    assert moved(group(SOON, "Hill", females=35), group("2026-04-20"), bought) == set()
    # and he grows: 23 months on 9 April, 24 on 20 April
    young = moves(told, ready_bull("T 1", born="2024-04-15"))
    assert young["short"] == 5


def test_more_bulls_are_moved_than_needed() -> None:
    bulls = [
        *ready_bull("T 1", None, born="2024-09-01"),  # 19 months: 20
        *ready_bull("T 2", None, born="2024-09-01"),
        *ready_bull("T 3", None),
    ]
    assert moved(group(SOON, females=35), bulls) == {("T 3", None, "Cows")}
    # nobody is moved for the chance alone
    assert moved(group(SOON, females=35), ready_bull("T 4"), bulls) == set()
    # as good as it gets, though short
    best = moves(group(SOON, females=80), bulls)
    assert (best["short"], best["moves"]) == (5, 3)


def test_least_shortage_of_all_groups_together_is_not_found() -> None:
    # 10 short on the hill, 30 among the cows: one bull of 35 goes where he mends more
    told = [group(SOON, "Hill", females=10), group(SOON, females=30)]
    best = moves(told, ready_bull("T 1", None))
    assert (best["short_before"], best["short"]) == (40, 10)
    assert best["allocation"] == {("T 1", None, "Cows")}


def test_bulls_of_one_pen_are_parted() -> None:
    told = [group(SOON, females=70), *ready_bull("T 1", pen="South pen")]
    bulls = [*ready_bull("T 2", None, pen="North pen"), *ready_bull("T 3", None, pen="South pen")]
    best = moves(told, bulls)
    assert (best["allocation"], best["pens"]) == ({("T 3", None, "Cows")}, 1)
    # a pen that is not said parts nobody, and the tag decides only between equals
    unsaid = moves(told, ready_bull("T 2", None), ready_bull("T 3", None, pen="South pen"))
    assert (unsaid["allocation"], unsaid["pens"]) == ({("T 2", None, "Cows")}, 1)
    # nor does the pen of a worker who comes too late
    late = [group(SOON, females=35), *slow_bull("T 1", pen="South pen")]
    assert moved(late, bulls) == {("T 2", None, "Cows")}
    # fewest moves come before the pen
    young = ready_bull("T 4", None, pen="South pen", born="2024-09-01")
    other = ready_bull("T 5", None, pen="South pen", born="2024-09-01")
    few = moves(told, ready_bull("T 2", None, pen="North pen"), young, other)
    assert (few["allocation"], few["pens"]) == ({("T 2", None, "Cows")}, 2)


def test_tags_decide_by_how_they_were_written() -> None:
    told = [group(SOON, females=30), *ready_bull("T 2", None), *ready_bull("t 1", None)]
    assert moved(told) == {("t 1", None, "Cows")}
    # two groups alike, one bull: the group whose name comes first
    both = [group(SOON, "B", females=30), group(SOON, "A", females=30)]
    assert moved(both, ready_bull("T 1", None)) == {("T 1", None, "A")}
    # two bulls: the first tag takes the first group, whoever was booked first
    two = moved(both, ready_bull("T 2", None), ready_bull("T 1", None))
    assert two == {("T 1", None, "A"), ("T 2", None, "B")}


def test_bull_is_moved_to_another_farm() -> None:
    told = flat(
        group(SOON, farm="High Farm", females=30),
        group(SOON, farm="Low Farm", females=30),
        ready_bull("T 1", None, farm="High Farm"),
        ready_bull("T 2", None),
    )
    high, low = brute_moves(told, ON)
    assert (high["farm"], high["allocation"]) == ("High Farm", {("T 1", None, "Cows")})
    assert (low["farm"], low["short"], low["moves"]) == ("Low Farm", 30, 0)


def test_what_if_turnout_moves_nobody_else() -> None:
    told = [group(SOON, females=30), *slow_bull("T 1", None)]
    assert moved(told) == set()
    assert moved(told, turnout=day("04-22")) == {("T 1", None, "Cows")}


def test_herd_too_large_to_try_every_way_is_tried() -> None:
    groups = [group(SOON, name, females=300) for name in ("A", "B", "C")]
    bulls = [entry for number in range(10) for entry in standing(f"T {number}", None)]
    with pytest.raises(ValueError, match="too many ways"):
        moves(groups, bulls)


@pytest.mark.parametrize("seed", range(12))
def test_moves_once_made_do_not_give_the_cover_that_they_promised(seed: int) -> None:
    book = cover_book(seed, ON, most_bulls=5)
    farms = brute_moves(book, ON)
    made = [
        said("join", tag, ON.isoformat(), group=to, role="worker")
        for farm in farms
        for tag, _, to in farm["allocation"]
    ]
    after = {(row["farm"], row["group"]): row for row in brute_cover([*book, *made], ON)}
    for farm in farms:
        assert farm["short"] <= farm["short_before"]
        for name, (_, short, _, chance) in farm["groups"].items():
            row = after[farm["farm"], name]
            assert (row["short"], row["chance"]) == (short, chance)
    # and then there is nothing more to move
    assert [farm["moves"] for farm in brute_moves([*book, *made], ON)] == [0] * len(farms)
