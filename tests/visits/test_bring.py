"""What to bring, counted by hand from what is open; and the order in which to take the bulls."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from readiness.herd.board import assess_herd
from readiness.rules.model import RuleBook
from readiness.visits.bring import Bring, bring_for
from readiness.visits.plan import VisitPlan
from readiness.visits.windows import trimmer_checks
from tests.build import FEET, RULES, Line, said
from tests.visits.herds import block, bull, found, herd_of, lame, plan_of, rules_of

B = "B 1"


def all_at_once(*lines: list[Line], rules: RuleBook = RULES) -> Bring:
    """What to bring where everything of the trimmer's that is outstanding is done on one visit."""
    herd = herd_of(*lines, rules=rules)
    checks = {each.key: trimmer_checks(each) for each in assess_herd(herd).bulls}
    return bring_for([(state, checks[state.key]) for state in herd.states])


def worked(on: str, *acts: str, foot: str = "LH", claw: str = "outer", **more: Any) -> Line:
    """All four lifted and one foot worked on."""
    work = [{"foot": foot, "claw": claw, "act": act} for act in acts]
    return said("feet", on, B, lifted=FEET, work=work, **more)


def spot(code: str = "SU", foot: str = "LH", claw: str = "outer", severity: int = 2) -> Line:
    return {"foot": foot, "claw": claw, "code": code, "severity": severity}


# ---- blocks --------------------------------------------------------------------------------------


def test_a_claw_with_an_ulcer_may_want_a_block() -> None:
    assert all_at_once(bull(B, found(B, "2026-03-04"))) == Bring(blocks=1, wraps=0, dressings=0)


def test_with_a_block_beside_it_wants_none() -> None:
    lines = bull(B, found(B, "2026-03-04"), block(B, "2026-03-04", claw="inner"))
    assert all_at_once(lines) == Bring(0, 0, 0)


def test_a_block_on_the_claw_itself_or_on_another_foot_helps_it_not() -> None:
    for place in (("LH", "outer"), ("RH", "inner"), ("LF", "inner")):
        lines = bull(B, found(B, "2026-03-04"), block(B, "2026-03-04", *place))
        assert all_at_once(lines).blocks == 1, place


def test_two_findings_on_one_claw_want_one_block_and_two_claws_two() -> None:
    one = said("feet", "2026-03-20", B, lifted=FEET, findings=[spot(), spot("WLA")])
    two = said("feet", "2026-03-20", B, lifted=FEET, findings=[spot(), spot("WLA", "RH")])
    assert all_at_once(bull(B, one)).blocks == 1
    assert all_at_once(bull(B, two)).blocks == 2


def test_each_foot_of_a_lame_bull_may_want_a_block() -> None:
    lifted = said("feet", "2026-02-10", B, lifted=FEET)
    assert all_at_once(bull(B, lifted, lame(B, "2026-04-03"))) == Bring(1, 0, 0)
    nobody_knows_which = said("mobility", "2026-04-03", B, scale="gb0-3", score=2)
    assert all_at_once(bull(B, lifted, nobody_knows_which)) == Bring(1, 0, 0)


def test_a_lame_foot_with_an_ulcer_wants_one_block_and_not_two() -> None:
    ulcer = found(B, "2026-03-04")
    assert all_at_once(bull(B, ulcer, lame(B, "2026-04-03", "LH"))).blocks == 1
    assert all_at_once(bull(B, ulcer, lame(B, "2026-04-03", "RF"))).blocks == 2


def test_what_does_not_hold_him_is_not_looked_at_and_wants_nothing() -> None:
    """A slight bruise holds nobody; a routine trim uses nothing up."""
    assert all_at_once(bull(B, found(B, "2026-03-04", "SH", severity=1))) == Bring(0, 0, 0)
    assert all_at_once(bull(B)) == Bring(0, 0, 0)


def test_what_is_healed_wants_nothing() -> None:
    healed = said("feet", "2026-04-02", B, lifted=FEET, healed=[
        {"foot": "LH", "claw": "outer", "code": "SU"}
    ])  # fmt: skip
    assert all_at_once(bull(B, found(B, "2026-02-04"), healed)) == Bring(0, 0, 0)


# ---- wraps and dressings -------------------------------------------------------------------------


def test_what_was_wrapped_last_time_may_want_a_wrap_again() -> None:
    lines = bull(B, worked("2026-03-20", "pare", "dress", "wrap", findings=[spot()]))
    assert all_at_once(lines) == Bring(blocks=1, wraps=1, dressings=1)


def test_only_the_last_work_on_that_foot_counts() -> None:
    """Wrapped on the 6th; pared and no more on the 20th. Another foot's work changes nothing."""
    first = worked("2026-03-06", "dress", "wrap", findings=[spot()])
    bare = worked("2026-03-20", "pare", findings=[spot()])
    elsewhere = worked("2026-03-20", "pare", foot="RF", findings=[spot()])
    assert all_at_once(bull(B, first, bare)) == Bring(1, 0, 0)
    assert all_at_once(bull(B, first, elsewhere)) == Bring(1, 1, 1)


def test_every_finding_of_the_skin_may_want_a_dressing_and_no_block() -> None:
    skin = found(B, "2026-03-25", "DD", claw="skin", stage="M2")
    assert all_at_once(bull(B, skin)) == Bring(blocks=0, wraps=0, dressings=1)


def test_one_finding_of_the_skin_that_was_dressed_wants_one_dressing() -> None:
    foul = spot("IP", claw="skin")
    lines = bull(B, worked("2026-04-01", "dress", "wrap", claw="skin", findings=[foul]))
    assert all_at_once(lines) == Bring(0, 1, 1)


def test_another_finding_counts_by_where_it_is() -> None:
    """XX may be anywhere: on the skin it wants a dressing, on the horn a block."""
    note = {"note": "a wire cut"}
    assert all_at_once(bull(B, {**found(B, "2026-03-25", "XX", claw="skin"), **note})) == (
        Bring(0, 0, 1)
    )
    assert all_at_once(bull(B, {**found(B, "2026-03-25", "XX"), **note})) == Bring(1, 0, 0)


def test_a_finding_that_is_looked_at_and_seen_healed_at_once_counts_once() -> None:
    """Both checks are outstanding on one bull, and one block is brought."""
    herd = herd_of(bull(B, found(B, "2026-03-04")))
    (seen,) = assess_herd(herd).bulls
    assert {"look", "clear"} <= {check.check for check in seen.outstanding}
    assert all_at_once(bull(B, found(B, "2026-03-04"))).blocks == 1


# ---- whose rules, which visit --------------------------------------------------------------------

TWICE = "bring.block = 2\nbring.wrap = 3\nbring.dressing = 4\n"


def test_a_farm_may_want_more_of_everything(tmp_path: Path) -> None:
    rules = rules_of(tmp_path, f'[farm."Low Farm".rules]\n{TWICE}')
    told_of = worked("2026-03-20", "dress", "wrap", findings=[spot()])
    low = bull(B, told_of, farm="Low Farm")
    other = [{**line, "bull": "B 2"} for line in bull(B, told_of, farm="Hill Farm")]
    assert all_at_once(low, rules=rules) == Bring(2, 3, 4)
    assert all_at_once(other, rules=rules) == Bring(1, 1, 1)
    assert all_at_once(low, other, rules=rules) == Bring(3, 4, 5)


def test_a_visit_brings_for_what_is_done_on_it_alone() -> None:
    """The ulcer is looked at and seen healed by 15 Apr; the other's block may come off from the
    28th: that visit uses up nothing."""
    plan = plan_of(
        herd_of(
            bull(B, found(B, "2026-02-20")),
            bull("B 2", said("feet", "2026-03-31", "B 2", lifted=FEET), block("B 2", "2026-03-31")),
        )
    )
    brought = {
        tuple(check.check for stop in visit.stops for check in stop.checks): visit.bring
        for visit in plan.visits
    }
    assert brought == {
        ("look", "clear"): Bring(1, 0, 0),
        ("block-off", "block-look"): Bring(0, 0, 0),
    }


# ---- the order of the bulls ----------------------------------------------------------------------


def order(plan: VisitPlan) -> list[str]:
    (visit,) = plan.visits
    return [stop.bull.bull for stop in visit.stops]


def test_the_lame_first_then_pen_by_pen_and_in_a_pen_by_tag() -> None:
    plan = plan_of(
        herd_of(
            bull("B 1", pen="2"),
            bull("B 5", pen="1"),
            bull("B 3", pen="1"),
            bull("B 4"),
            bull("B 9", said("feet", "2026-02-10", "B 9", lifted=FEET), lame("B 9", "2026-04-03"),
                 pen="3"),
        )
    )  # fmt: skip
    assert order(plan) == ["B 9", "B 4", "B 3", "B 5", "B 1"]


@pytest.mark.parametrize("code", ["DD", "ID", "IP"])
def test_what_may_spread_comes_last_after_the_dangerous(code: str) -> None:
    """ID holds nobody, and goes from foot to foot all the same: he is there for his trim. The lame
    one is dangerous, so he comes after the quiet, before the one who is not lame."""
    stage = {"stage": "M2"} if code == "DD" else {}
    spreads = said("feet", "2026-04-01", "B 1", lifted=["LH"], findings=[
        {**spot(code, claw="skin", severity=1), **stage}
    ])  # fmt: skip
    plan = plan_of(
        herd_of(
            bull("B 1", spreads, pen="1"),
            bull("B 2", pen="2", temper="dangerous"),
            bull("B 3", pen="3", temper="watch"),
            bull("B 4", pen="4", temper="quiet"),
            bull("B 5", lame("B 5", "2026-04-03"), pen="5", temper="dangerous"),
        )
    )
    stops = [stop.bull.bull for stop in plan.visits[0].stops]
    assert stops == ["B 3", "B 4", "B 5", "B 2", "B 1"]


def test_a_stop_knows_his_pen_and_his_temper() -> None:
    plan = plan_of(herd_of(bull("B 1", pen="north yard", temper="dangerous"), bull("B 2")))
    (visit,) = plan.visits
    assert [(s.bull.bull, s.pen, s.bull.temper) for s in visit.stops] == [
        ("B 2", None, None),
        ("B 1", "north yard", "dangerous"),
    ]


def test_the_pen_is_the_one_last_said() -> None:
    moved = said("bull", "2026-03-01", "B 1", pen="south yard")
    plan = plan_of(herd_of(bull("B 1", moved, pen="north yard")))
    assert [stop.pen for visit in plan.visits for stop in visit.stops] == ["south yard"]
