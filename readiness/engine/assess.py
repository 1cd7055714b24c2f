"""One bull, one day: GO or HOLD, what is outstanding and when, how early he can be ready and why.

The days come from a temporal network in which "today", the entries and turnout are given days.
``earliest_ready`` is the first day that fits as turnout; what is outstanding is worked out anew
for each day asked about, since what is done ages in and out of its windows.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from readiness.engine.advice import advice
from readiness.engine.bull_checks import (
    bull_plans,
    exam_plan,
    own_checks,
    passed_for,
    person_decides,
)
from readiness.engine.feet_checks import feet_plans
from readiness.engine.network import FAR, Network
from readiness.engine.plan import TODAY, TURNOUT, VISIT, Case, Plan
from readiness.engine.reasons import not_booked, not_for_heifers, reasons, sourced
from readiness.engine.results import Assessment, Check, Link
from readiness.history import History
from readiness.rules.model import OwnCheck
from readiness.trade.checks import CHECKS


def outstanding(case: Case) -> list[Plan]:
    """The checks that are outstanding, in the order in which their days follow each other."""
    feet = feet_plans(case)
    return [*feet, *bull_plans(case, feet)]


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
    plans = [*outstanding(case), *owed_plans(state, on)]
    why, checks = reasons(case, plans), _checks(case, plans)
    go = not why and not plans
    decided = person_decides(state) or not_booked(state) or not_for_heifers(case)
    never = bool(state.out) or decided
    ready, chain = (None, ()) if never else earliest_ready(case, plans)
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
    if not_for_heifers(case):
        return "wrong-group"
    if turnout is None or slack is None:
        return "no-turnout"
    if go:
        return "ready"
    if slack < 0:
        return "too-late"
    return "tight" if slack < state.rules.limits.tight_days else "on-track"


def _bounds(network: Network, plans: list[Plan], case: Case) -> None:
    """Every plan's waits, today, and the day on which somebody means to do it."""
    on = case.on
    network.anchor(TODAY, on)
    for plan in plans:
        name = plan.id
        for wait in plan.waits:
            frm = wait.frm if wait.day is None else _fact(network, wait.frm, wait.day)
            network.add(frm, name, lower=wait.days, rule=wait.rule, text=wait.text)
        network.add(TODAY, name, lower=0, rule=plan.rule, text="not before today")
        if name in case.planned:
            network.add(TODAY, name, lower=case.planned[name] - on, rule=VISIT, text="planned")


def _fact(network: Network, entry: str, day: int) -> str:
    """The event that an entry speaks of: one entry may speak of several days."""
    name = f"{entry}@{day}"
    network.anchor(name, day)
    return name


def _order(plan: Plan) -> tuple[int, str]:
    """The order of the checks, a farm's own after the built-in ones, then by id."""
    return (CHECKS.index(plan.check) if plan.check in CHECKS else len(CHECKS), plan.id)


def _turnout_bounds(network: Network, plans: list[Plan]) -> None:
    for plan in sorted(plans, key=_order):
        network.add(plan.id, TURNOUT, lower=plan.tail, rule=plan.rule, text=plan.text)
        if plan.oldest is not None:
            network.add(TURNOUT, plan.id, lower=-plan.oldest, rule=plan.rule, text="not too old")


def _checks(case: Case, plans: list[Plan]) -> tuple[Check, ...]:
    network = Network()
    _bounds(network, plans, case)
    if case.turnout is not None:
        network.anchor(TURNOUT, case.turnout)
        _turnout_bounds(network, plans)
    first = network.earliest().day
    last = network.latest() if case.promised is not None else {}
    return tuple(
        _check(case, plan, first[plan.id], last.get(plan.id, FAR))
        for plan in sorted(plans, key=_order)
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


def earliest_ready(case: Case, plans: list[Plan]) -> tuple[int, tuple[Link, ...]]:
    """The first day that fits as turnout, every outstanding check passing, and why not sooner.

    A check that can be done today never stands in the way, and the days of all others hang on no
    turnout, save a farm's own checks: those must lie so long before it, or lie there already. So
    one longest path, over what is outstanding were turnout today, gives the day and its chain;
    only own checks are then tried day by day. ``plans``: what is outstanding against
    ``case.turnout``.
    """
    state, on = case.state, case.on
    if case.turnout != on:
        plans = outstanding(Case(state, on, on, None))
    own = own_checks(state)
    network = _free_turnout([plan for plan in plans if not plan.tail], case)
    day = network.earliest().day[TURNOUT]
    if own:
        while not all(_own_fits(state, check, on, day) for check in own):
            day += 1
        network = _free_turnout(outstanding(Case(state, on, day, None)), case)
        _passed(network, state, day)
    path = network.earliest().path(TURNOUT)
    return day, tuple(
        Link(s.frm.partition("@")[0], s.to, s.days, s.bound.rule, s.bound.text) for s in path
    )


def _own_fits(state: History, own: OwnCheck, on: int, day: int) -> bool:
    """Whether an own check has a day, or was passed in its window, with ``day`` as turnout."""
    return on <= day - own.lag or bool(passed_for(state, own, day))


def _free_turnout(plans: list[Plan], case: Case) -> Network:
    """The network in which turnout itself is to be placed."""
    network = Network()
    _bounds(network, plans, case)
    _turnout_bounds(network, plans)
    network.add(TODAY, TURNOUT, lower=0, rule=TODAY, text="not before today")
    return network


def _passed(network: Network, state: History, turnout: int) -> None:
    """Own checks passed in their window bind turnout, too: it comes no sooner after them."""
    for own in own_checks(state):
        if passed := passed_for(state, own, turnout):
            rule, text = f"check.{own.name}", f"{own.name} passed"
            frm = _fact(network, passed[0].entry, passed[0].day)
            network.add(frm, TURNOUT, lower=own.lag, rule=rule, text=text)
