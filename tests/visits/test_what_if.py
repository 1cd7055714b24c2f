"""What if a visit is moved or dropped, or turnout is another day: which bulls change, by hand."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from readiness.engine.results import Board
from readiness.herd.board import assess_book, assess_herd
from readiness.herd.changes import Change, changes, no_day
from readiness.visits.asked import Wishes
from readiness.visits.plan import VisitPlan, days_of_visits, with_moved, without_visits
from tests.build import FEET, RULES, Line, day, entries_of, said
from tests.visits.herds import (
    SECONDS,
    TODAY,
    block,
    bull,
    found,
    grouped,
    herd_of,
    iso,
    lame,
    plan_of,
    rules_of,
    visited,
)

ASH, BECK = "Ash Farm", "Beck Farm"
LATER = "2026-04-11"


def ulcer(tag: str = "B 1", farm: str | None = None) -> list[Line]:
    """A moderate ulcer of 4 Mar and a block of 14 Mar, turned out on 8 May: the look by 8 Apr; the
    block from 11 Apr, and what waits for it. Two visits: today and on the 11th."""
    return grouped(tag, "2026-05-08", found(tag, "2026-03-04"), block(tag, "2026-03-14"), farm=farm)


@pytest.fixture
def plan() -> VisitPlan:
    made = plan_of(herd_of(ulcer()))
    assert visited(made) == [
        ("", TODAY, [("B 1", ["look:LH:outer:SU"])]),
        ("", LATER, [("B 1", ["block-off:LH:inner", "clear:LH:outer:SU", "block-look:LH:inner"])]),
    ]
    return made


def late(plan: VisitPlan) -> dict[str, int]:
    return {
        check: days
        for visit in plan.visits
        for stop in visit.stops
        for check, days in stop.late.items()
    }


def ready(board: Board) -> list[str | None]:
    return [None if b.earliest_ready is None else iso(b.earliest_ready) for b in board.bulls]


# ---- the board as it would be --------------------------------------------------------------------


def test_the_board_then_has_each_check_on_its_day(plan: VisitPlan) -> None:
    """Today: block off on the 11th, the walk a week later: ready on the 18th; so he is then."""
    assert ready(plan.board) == ready(plan.then) == ["2026-04-18"]
    assert changes(plan.board, plan.then) == ()


def test_what_has_no_day_counts_as_done_the_day_after_the_plan(tmp_path: Path) -> None:
    """Five days ahead is the 8th, the block may come off from the 11th: so he is ready as before.
    Forty ahead with nobody coming after the 10th: 13 May and a week, the 20th."""
    near = plan_of(herd_of(ulcer()), Wishes(days=5))
    assert [each.check.id for each in near.unplaced] == [
        "block-off:LH:inner", "clear:LH:outer:SU", "block-look:LH:inner",
    ]  # fmt: skip
    assert ready(near.then) == ["2026-04-18"]
    rules = rules_of(tmp_path, '[rules]\nvisits.except = ["2026-04-11/2026-06-30"]\n')
    far = plan_of(herd_of(ulcer(), rules=rules), Wishes(days=39))
    assert len(far.unplaced) == 3
    assert ready(far.then) == ["2026-05-20"]


# ---- a visit is dropped --------------------------------------------------------------------------


def test_dropping_a_visit_leaves_its_checks_to_the_others(plan: VisitPlan) -> None:
    """The look of 8 Apr is made on the 11th, three days late; he is ready on the 18th as before."""
    after = without_visits(plan, [("", day(TODAY))], SECONDS)
    assert visited(after) == [
        ("", LATER, [("B 1", ["look:LH:outer:SU", "block-off:LH:inner", "clear:LH:outer:SU",
                              "block-look:LH:inner"])]),
    ]  # fmt: skip
    assert late(after) == {"look:LH:outer:SU": 3}
    assert after.unplaced == ()
    assert changes(plan.then, after.then) == ()


def test_dropping_the_last_visit_leaves_no_day_for_what_waited_for_it(plan: VisitPlan) -> None:
    """Nothing in its place, and the plan ends on 2 Jul: off on the 3rd at the soonest, the walk a
    week later is 10 Jul, 63 days after 8 May; before it there were 20 to spare."""
    after = without_visits(plan, [("", day(LATER))], SECONDS)
    assert visited(after) == [("", TODAY, [("B 1", ["look:LH:outer:SU"])])]
    gone = ("block-off:LH:inner", "clear:LH:outer:SU", "block-look:LH:inner")
    assert tuple(each.check.id for each in after.unplaced) == gone
    (change,) = changes(plan.then, after.then)
    assert (change.before.slack_days, change.after.slack_days) == (20, -63)
    assert (change.before.outlook, change.after.outlook) == ("on-track", "too-late")
    assert set(change.missed) == {*gone, "mobility"}


def test_dropping_every_visit_leaves_nothing(plan: VisitPlan) -> None:
    after = without_visits(plan, [("", day(TODAY)), ("", day(LATER))], SECONDS)
    assert after.visits == ()
    assert len(after.unplaced) == 4


def test_dropping_none_changes_nothing(plan: VisitPlan) -> None:
    after = without_visits(plan, [], SECONDS)
    assert visited(after) == visited(plan)
    assert changes(plan.then, after.then) == ()
    assert ready(after.then) == ready(plan.then)


def test_one_farm_s_visit_is_dropped_and_the_other_s_stay() -> None:
    """The same bull at two farms: their visits are on four days."""
    both = plan_of(herd_of(ulcer("B 1", ASH), ulcer("B 2", BECK)))
    days = days_of_visits(both)
    assert [len(days[farm]) for farm in (ASH, BECK)] == [2, 2]
    assert not set(days[ASH]) & set(days[BECK])
    after = without_visits(both, [(ASH, days[ASH][1])], SECONDS)
    assert days_of_visits(after) == {ASH: days[ASH][:1], BECK: days[BECK]}
    assert [change.after.bull for change in changes(both.then, after.then)] == ["B 1"]


# ---- a visit is moved ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("to", "by", "spare"),
    [
        ("2026-04-20", {}, 11),
        # off from 28 to 42 days after 14 Mar, so until the 25th; a week's walk after 5 May is the
        # 12th, four days after turnout
        ("2026-04-27", {"block-off:LH:inner": 2}, 4),
        ("2026-05-05", {"block-off:LH:inner": 10}, -4),
        ("2026-05-20", {"block-off:LH:inner": 25, "clear:LH:outer:SU": 12,
                        "block-look:LH:inner": 12}, -19),
    ],
)  # fmt: skip
def test_moving_the_second_visit_later(
    plan: VisitPlan, to: str, by: dict[str, int], spare: int
) -> None:
    """He loses a day for each: 20 to spare on the 11th."""
    after = with_moved(plan, "", day(LATER), day(to), SECONDS)
    assert [on for _, on, _ in visited(after)] == [TODAY, to]
    assert late(after) == by
    assert after.unplaced == ()
    (change,) = changes(plan.then, after.then)
    assert (change.before.slack_days, change.after.slack_days) == (20, spare)
    assert 20 - spare == day(to) - day(LATER)


def test_moving_within_the_window_changes_nobody(plan: VisitPlan) -> None:
    after = with_moved(plan, "", day(TODAY), day("2026-04-08"), SECONDS)
    assert [on for _, on, _ in visited(after)] == ["2026-04-08", LATER]
    assert late(after) == {}
    assert changes(plan.then, after.then) == ()


def test_moving_on_to_another_visit_makes_one_of_two(plan: VisitPlan) -> None:
    after = with_moved(plan, "", day(TODAY), day(LATER), SECONDS)
    assert [on for _, on, _ in visited(after)] == [LATER]
    assert late(after) == {"look:LH:outer:SU": 3}


def test_a_visit_may_be_moved_to_a_sunday(plan: VisitPlan) -> None:
    after = with_moved(plan, "", day(TODAY), day("2026-04-05"), SECONDS)
    assert [on for _, on, _ in visited(after)] == ["2026-04-05", LATER]
    assert late(after) == {}


def test_moved_too_soon_the_checks_go_where_they_can(plan: VisitPlan) -> None:
    """On the 4th the block may not come off yet, and nobody comes later."""
    after = with_moved(plan, "", day(LATER), day("2026-04-04"), SECONDS)
    assert [each.check.id for each in after.unplaced] == [
        "block-off:LH:inner", "clear:LH:outer:SU", "block-look:LH:inner",
    ]  # fmt: skip
    (change,) = changes(plan.then, after.then)
    assert change.after.outlook == "too-late"


def test_what_is_moved_is_worked_out_from_the_same_board_again(plan: VisitPlan) -> None:
    there = with_moved(plan, "", day(LATER), day("2026-04-20"), SECONDS)
    back = with_moved(there, "", day("2026-04-20"), day(LATER), SECONDS)
    assert visited(back) == visited(plan)
    assert changes(plan.then, back.then) == ()


# ---- between two boards --------------------------------------------------------------------------


def two(turnout: int | None = None) -> Board:
    """B 1, turned out on 8 May, with the ulcer and the block, ready on 18 Apr; B 2, turned out on
    the 7th, with a foul of 1 Apr that can be seen healed from the 8th."""
    foul = {"foot": "RH", "claw": "skin", "code": "IP", "severity": 2}
    lines = [
        *ulcer("B 1"),
        *grouped("B 2", "2026-04-07",
                 said("feet", "2026-04-01", "B 2", lifted=FEET, findings=[foul])),
    ]  # fmt: skip
    return assess_book(entries_of(lines), RULES, day(TODAY), turnout=turnout)


def by_tag(found: tuple[Change, ...]) -> dict[str, Change]:
    return {change.after.bull: change for change in found}


def test_another_turnout_one_gains_and_one_loses() -> None:
    """All out on 15 Apr: B 1, ready on the 18th, has 3 days too few instead of 20 to spare; B 2,
    ready on the 8th, was a day too late for the 7th and has 7 to spare."""
    moved = by_tag(changes(two(), two(day("2026-04-15"))))
    assert {tag: (c.before.slack_days, c.after.slack_days) for tag, c in moved.items()} == {
        "B 1": (20, -3),
        "B 2": (-1, 7),
    }
    assert (moved["B 1"].before.outlook, moved["B 1"].after.outlook) == ("on-track", "too-late")
    assert (moved["B 2"].before.outlook, moved["B 2"].after.outlook) == ("too-late", "on-track")
    assert {"mobility", "block-off:LH:inner"} <= set(moved["B 1"].missed)
    assert moved["B 2"].missed == ()


def test_they_stand_in_the_order_of_the_board_after() -> None:
    after = two(day("2026-04-15"))
    found = changes(two(), after)
    assert [change.after for change in found] == list(after.bulls)


def test_the_same_board_twice_changes_nobody() -> None:
    assert changes(two(), two()) == ()


def test_a_bull_that_is_on_one_board_alone_is_no_change() -> None:
    board = two()
    fewer = replace(board, bulls=board.bulls[:1])
    assert changes(fewer, board) == ()
    assert changes(board, fewer) == ()


def test_checks_that_have_no_day_before_turnout() -> None:
    """B 2: turned out on the 7th, seen healed from the 8th; the walk comes after."""
    late_one = next(bull for bull in two().bulls if bull.bull == "B 2")
    assert set(no_day(late_one)) == {"clear:RH:skin:IP", "mobility"}
    without = next(iter(assess_herd(herd_of(bull("B 1", lame("B 1", TODAY)))).bulls))
    assert no_day(without) == ()


def test_more_reasons_to_hold_alone_are_no_change_of_standing() -> None:
    """Held already and ready on the same day: nobody decides anything else."""
    board = two()
    (first, *others) = board.bulls
    same = replace(board, bulls=(first._replace(reasons=()), *others))
    assert changes(board, same) == ()
    other = replace(board, bulls=(first._replace(outlook="vet-decides"), *others))
    assert [change.after.bull for change in changes(board, other)] == [first.bull]
