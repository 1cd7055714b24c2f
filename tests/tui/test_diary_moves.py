"""Visits moved, dropped and promised, without a screen: days counted on the calendar of 2026."""

from __future__ import annotations

from pathlib import Path

import pytest

from readiness.tui.diary.moves import Moves
from readiness.visits.asked import Wishes
from readiness.visits.plan import VisitPlan, with_moved, without_visits
from tests.build import FEET, day, said
from tests.visits.herds import (
    SECONDS,
    block,
    bull,
    found,
    grouped,
    herd_of,
    iso,
    keep,
    plan_of,
    rules_of,
)

ASH, BECK = "Ash Farm", "Beck Farm"
FRIDAY, SATURDAY, MONDAY, LATER = "2026-04-03", "2026-04-04", "2026-04-06", "2026-04-11"
TRIM = [{"foot": foot, "act": "trim"} for foot in FEET]
FIRST, SECOND = ("", day(FRIDAY)), ("", day(LATER))


@pytest.fixture(scope="module")
def plan() -> VisitPlan:
    """An ulcer to look at by 8 Apr and a block that may come off from the 11th: two visits."""
    herd = herd_of(
        grouped("B 1", "2026-05-08", found("B 1", "2026-03-04"), block("B 1", "2026-03-14"))
    )
    made = plan_of(herd)
    assert [(visit.farm, visit.on) for visit in made.visits] == [FIRST, SECOND]
    return made


def two_farms(rules: Path, shares: tuple[str, ...]) -> VisitPlan:
    """A trimmed bull at each farm; the one's visit is promised today, the other's on Monday."""
    text = "".join(f'[farm."{farm}".rules]\nvisits.share_day = true\n' for farm in shares)
    herd = herd_of(
        *(bull(tag, said("feet", FRIDAY, tag, lifted=FEET, work=TRIM), farm=farm)
          for tag, farm in (("B 1", ASH), ("B 2", BECK))),
        rules=rules_of(rules, text),
    )  # fmt: skip
    made = plan_of(herd, Wishes(kept=(keep(FRIDAY, ASH), keep(MONDAY, BECK))))
    assert [(each.farm, iso(each.on)) for each in made.visits] == [(ASH, FRIDAY), (BECK, MONDAY)]
    return made


def stepped(moves: Moves, visit: tuple[str, int], *steps: int) -> str:
    for step in steps:
        moves = moves.step(visit, step)
    on = moves.day_of(visit)
    assert on is not None
    return iso(on)


def test_a_visit_goes_from_working_day_to_working_day_over_a_sunday(plan: VisitPlan) -> None:
    assert [stepped(Moves(plan), FIRST, *[1] * steps) for steps in (1, 2, 3)] == [
        SATURDAY, MONDAY, "2026-04-07",
    ]  # fmt: skip
    assert stepped(Moves(plan), FIRST, 1, 1, -1) == SATURDAY


def test_a_visit_is_never_moved_out_of_the_days_planned(plan: VisitPlan) -> None:
    """Ninety days ahead of 3 Apr is Thursday 2 Jul."""
    assert Moves(plan).step(FIRST, -1) == Moves(plan)
    assert stepped(Moves(plan), SECOND, *[1] * 90) == "2026-07-02"


def test_a_visit_is_not_moved_onto_a_day_on_which_its_farm_is_visited(plan: VisitPlan) -> None:
    """From Friday the 10th past Saturday the 11th and the Sunday to Monday; and back over it."""
    friday = stepped(Moves(plan), FIRST, *[1] * 6)
    assert friday == "2026-04-10"
    assert stepped(Moves(plan), FIRST, *[1] * 7) == "2026-04-13"
    assert stepped(Moves(plan), FIRST, *[1] * 7, -1) == "2026-04-10"


def test_a_day_that_was_left_by_a_move_or_a_drop_is_free(plan: VisitPlan) -> None:
    moved = Moves(plan).step(SECOND, 1)
    assert stepped(moved, FIRST, *[1] * 7) == LATER
    assert stepped(Moves(plan).drop(SECOND), FIRST, *[1] * 7) == LATER


@pytest.mark.parametrize(
    ("shares", "to"), [((), "2026-04-07"), ((ASH,), "2026-04-07"), ((ASH, BECK), MONDAY)]
)
def test_another_farm_s_day_is_taken_unless_both_share(
    tmp_path: Path, shares: tuple[str, ...], to: str
) -> None:
    moves = Moves(two_farms(tmp_path, shares))
    assert stepped(moves, (ASH, day(FRIDAY)), 1) == SATURDAY
    assert stepped(moves, (ASH, day(FRIDAY)), 1, 1) == to


def test_a_visit_put_back_by_hand_is_not_moved_at_all(plan: VisitPlan) -> None:
    assert not Moves(plan).any
    assert Moves(plan).step(FIRST, 1).any
    assert not Moves(plan).step(FIRST, 1).step(FIRST, -1).any
    assert not Moves(plan).drop(FIRST).drop(FIRST).any
    assert not Moves(plan).drop(FIRST).step(SECOND, 1).back().any


def test_a_dropped_visit_that_is_moved_takes_place_again(plan: VisitPlan) -> None:
    assert Moves(plan).drop(FIRST).day_of(FIRST) is None
    assert stepped(Moves(plan).drop(FIRST), FIRST, 1) == SATURDAY


def test_what_comes_of_it_is_the_plan_on_those_days(plan: VisitPlan) -> None:
    """The block waits for the 13th; without the first visit all is done on the 11th."""
    moved = Moves(plan).step(SECOND, 1).outcome()
    assert moved.placed == with_moved(plan, *SECOND, day("2026-04-13"), SECONDS).placed
    assert {iso(on) for on in moved.placed.values()} == {FRIDAY, "2026-04-13"}
    dropped = Moves(plan).drop(FIRST).outcome()
    assert dropped.placed == without_visits(plan, [FIRST], SECONDS).placed
    assert {iso(on) for on in dropped.placed.values()} == {LATER}
    both = Moves(plan).drop(FIRST).step(SECOND, 1).outcome()
    assert {iso(on) for on in both.placed.values()} == {"2026-04-13"}


def test_each_visit_keeps_its_place_and_says_what_was_done_to_it(plan: VisitPlan) -> None:
    moves = Moves(plan).step(SECOND, 1).drop(FIRST)
    shown = moves.shown(moves.outcome())
    assert [(key, iso(visit.on), mark) for key, visit, mark in shown] == [
        (FIRST, FRIDAY, "dropped"),
        (SECOND, "2026-04-13", "was 11 Apr"),
    ]
    assert [len(visit.stops[0].checks) for _, visit, _ in shown] == [1, 4]


def test_a_promise_is_made_for_the_day_on_which_the_visit_stands(plan: VisitPlan) -> None:
    """Made, withdrawn by asking again, and let go for the new day where it was moved since."""
    moves = Moves(plan)
    planned, moved = keep(LATER, ""), keep("2026-04-13", "")
    other = keep(FRIDAY, "")
    assert moves.promise(SECOND, (other,)) == (other, planned)
    assert moves.promise(SECOND, (planned, other)) == (other,)
    later = moves.step(SECOND, 1)
    assert later.promise(SECOND, ()) == (moved,)
    assert later.promise(SECOND, (planned, other)) == (other, moved)
    assert later.promise(SECOND, (other, moved)) == (other,)
