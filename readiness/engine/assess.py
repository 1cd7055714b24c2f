"""One bull, one day: GO or HOLD, what is outstanding and when, how early he can be ready and why.

``earliest_ready`` is the first day that fits as turnout; what is outstanding is worked out anew
for each day asked about, since what is done ages in and out of its windows.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType

from readiness.engine.advice import advice
from readiness.engine.bull_checks import (
    Lasting,
    exam_plan,
    lasting,
    outstanding,
    person_decides,
)
from readiness.engine.days import Fact, Ready, days_of, in_order, ready_of
from readiness.engine.network import FAR
from readiness.engine.own import own_checks, passed_for
from readiness.engine.plan import Case, Plan
from readiness.engine.reasons import at_odds, not_booked, not_for_heifers, reasons, sourced
from readiness.engine.results import Assessment, Check
from readiness.history import History
from readiness.rules.model import OwnCheck


def owed_plans(state: History, on: int) -> list[Plan]:
    """The checks that a bull went out without and still lacks: to be made up for from today."""
    if not state.owed:
        return []
    today = Case(state, on, on, None)
    owed = [plan for plan in outstanding(today) if plan.check in state.owed]
    if "vet-exam" in state.owed and person_decides(state):
        owed.append(exam_plan(today))
    for plan in owed:
        plan.due, plan.since, plan.waits, plan.oldest = state.out.day, state.out.day, [], None
    return owed


def assess(
    state: History, on: int, *, turnout: int | None, group: str | None, role: str | None,
    heifers: bool = False, planned: Mapping[str, int] = MappingProxyType({}),
) -> Assessment:  # fmt: skip
    """Assess one bull on day ``on``; days are ordinals.

    ``turnout`` is his group's, None where he has no group (then ``group`` is None, too).
    ``heifers``: whether it is a group of heifers. ``planned``: check's id → the day before which it
    will not be done, whatever could be.
    """
    case = _case(state, on, turnout, heifers, planned)
    fixed = lasting(case)
    plans = [*outstanding(case, fixed), *owed_plans(state, on)]
    why, checks = reasons(case, plans), _checks(case, plans)
    go = not why and not plans
    decided = person_decides(state) or at_odds(state) or not_booked(state) or not_for_heifers(case)
    never = bool(state.out) or decided
    ready, chain = (None, ()) if never else earliest_ready(case, plans, fixed)
    slack = turnout - ready if turnout is not None and ready is not None else None
    return Assessment(
        bull=str(state.profile.get("bull", state.key)),
        key=state.key,
        name=_text(state.profile.get("name")),
        farm=state.farm,
        group=group,
        role=role if group is not None else None,
        turnout=turnout,
        status="GO" if go else "HOLD",
        hold=None if go else ("reason" if why else "checks"),
        outlook=_outlook(case, turnout, go, slack),
        earliest_ready=ready,
        slack_days=slack,
        overdue=sum(check.overdue for check in checks),
        reasons=why,
        outstanding=checks,
        advice=advice(case, plans),
        chain=chain,
        temper=_text(state.profile.get("temper")),
    )


def _case(
    state: History, on: int, turnout: int | None, heifers: bool, planned: Mapping[str, int]
) -> Case:
    """Once turnout has passed he is measured against today, and nothing is bounded by turnout any
    more; a bull that is out is measured against no day."""
    promised = turnout if turnout is not None and turnout >= on else None
    against = promised if promised is not None else on
    return Case(state, on, None if state.out else against, promised, heifers, planned)


def _text(value: object) -> str | None:
    return str(value) if value else None


def _outlook(case: Case, turnout: int | None, go: bool, slack: int | None) -> str:
    """The first that applies."""
    state = case.state
    if state.out:
        return "working"
    if person_decides(state):
        return "vet-decides"
    if not_booked(state):
        return "not-booked"
    if at_odds(state):
        return "at-odds"
    if not_for_heifers(case):
        return "wrong-group"
    if turnout is None or slack is None:
        return "no-turnout"
    if go:
        return "ready"
    if slack < 0:
        return "too-late"
    return "tight" if slack < state.rules.limits.tight_days else "on-track"


def _checks(case: Case, plans: list[Plan]) -> tuple[Check, ...]:
    first, last = days_of(plans, case)
    return tuple(
        _check(case, plan, first[plan.id], last.get(plan.id, FAR)) for plan in in_order(plans)
    )


def _check(case: Case, plan: Plan, first: int, last: int) -> Check:
    standing, source = sourced(case.state.rules, plan.rule)
    return Check(
        id=plan.id,
        check=plan.check,
        rule=plan.rule,
        foot=plan.foot,
        claw=plan.claw,
        code=plan.code,
        feet=plan.feet,
        not_before=first,
        not_after=last if last < FAR else None,
        due=plan.due,
        advised_by=plan.advised_by,
        overdue=plan.due is not None and plan.due < case.on,
        lags=tuple((wait.frm, wait.days) for wait in plan.waits if wait.day is None),
        since=plan.since,
        who=plan.who,
        text=plan.text,
        standing=standing,
        source=source,
    )


def earliest_ready(case: Case, plans: list[Plan], fixed: Lasting) -> Ready:
    """The first day that fits as turnout, every outstanding check passing, and why not sooner.

    A check that can be done today never stands in the way, and the days of all others hang on no
    turnout, save a farm's own checks: those must lie so long before it, or lie there already. So
    one longest path, over what is outstanding were turnout today, gives the day and its chain;
    only own checks are then tried day by day. ``plans``: what is outstanding against
    ``case.turnout``, ``fixed`` what is whatever the turnout.
    """
    state, on = case.state, case.on
    if case.turnout != on:
        plans = outstanding(Case(state, on, on, None), fixed)
    own = own_checks(state)
    found = ready_of([plan for plan in plans if not plan.tail] if own else plans, case)
    if not own:
        return found
    day, _ = found
    while not all(_own_fits(state, check, on, day) for check in own):
        day += 1
    plans = outstanding(Case(state, on, day, None), fixed)
    return ready_of(plans, case, _passed(state, own, day))


def _own_fits(state: History, own: OwnCheck, on: int, day: int) -> bool:
    """Whether an own check has a day, or was passed in its window, with ``day`` as turnout."""
    return on <= day - own.lag or bool(passed_for(state, own, day))


def _passed(state: History, checks: Iterable[OwnCheck], turnout: int) -> list[Fact]:
    """Own checks passed in their window bind turnout, too: it comes no sooner after them."""
    passed = ((own, passed_for(state, own, turnout)) for own in checks)
    return [
        Fact(first.entry, first.day, own.lag, f"check.{own.name}", f"{own.name} passed")
        for own, (first, *_) in ((own, found) for own, found in passed if found)
    ]
