"""Whose feet are to be lifted within the week: nobody hides behind a nearer check of another."""

from __future__ import annotations

from dataclasses import replace

from readiness.engine.results import Assessment, Check
from readiness.herd.selection import WEEK, lifts
from readiness.report.rows import rows
from tests.report.awkward import DAY, board, named


def bull_with(*checks: Check, name: str = "Corran") -> Assessment:
    return named("Corran")._replace(name=name, outstanding=checks, overdue=0)


def a_check(name: str, last_day: int, foot: str | None = None, *feet: str) -> Check:
    return named("Corran").outstanding[0]._replace(
        check=name, foot=foot, feet=feet, claw=None, code=None, not_before=DAY, not_after=None,
        due=last_day, overdue=last_day < DAY,
    )  # fmt: skip


def test_a_look_behind_a_nearer_check_of_the_vet_is_still_a_foot_to_lift() -> None:
    hidden = bull_with(a_check("vet-look", DAY + 1), a_check("look", DAY + 3, "RH"))
    [lift] = lifts(replace(board(), bulls=(hidden,)))
    assert (lift.words, lift.plan_by, lift.overdue) == ("Corran RH", DAY + 3, False)
    [row] = rows(replace(board(), bulls=(hidden,)), lifting=True)
    assert (row.next, row.by, row.soon) == ("look RH", "6 Apr", ())


def test_the_week_ends_after_seven_days_and_each_foot_is_named_once_in_order() -> None:
    inside = bull_with(
        a_check("clear", DAY + WEEK, "RH"),
        a_check("block-off", DAY + WEEK, "RH"),
        a_check("look", DAY + 2, "LF"),
        a_check("look", DAY + WEEK + 1, "RF"),
    )
    outside = bull_with(a_check("look", DAY + WEEK + 1, "RF"), name="Later")
    found = lifts(replace(board(), bulls=(outside, inside)))
    assert [lift.words for lift in found] == ["Corran LF RH"]


def test_no_walk_no_vet_and_no_own_check_lifts_a_foot() -> None:
    others = [a_check(name, DAY) for name in ("mobility", "vet-exam", "condition", "tb-test")]
    assert lifts(replace(board(), bulls=(bull_with(*others),))) == []


def test_the_overdue_come_first_and_two_of_one_name_are_told_apart() -> None:
    soon = bull_with(a_check("feet", DAY + 1, None, "LF", "RF", "LH", "RH"))
    late = soon._replace(
        bull="00999", key="00999", outstanding=(a_check("lift", DAY - 1, None, "RF"),)
    )
    late = late._replace(outstanding=(late.outstanding[0]._replace(not_before=DAY),))
    found = lifts(replace(board(), bulls=(soon, late)))
    assert [lift.words for lift in found] == ["00999 Corran RF", f"{soon.bull} Corran all four"]
    assert [lift.overdue for lift in found] == [True, False]
