"""The days of the outstanding checks: from when and until when each can be done, and the first day
that fits as turnout with the steps that lead to it.

The days follow from a temporal network, in which "today", the entries and turnout are given days.
Checks are listed in the order in which their days follow each other, so that one pass over them
gives what the network finds by trying. Where a list is in another order, or where turnout would
move a check that another one waits for, the network itself is asked: every pass is held to it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from readiness.engine.network import FAR, Network
from readiness.engine.plan import TODAY, TURNOUT, VISIT, Case, Plan
from readiness.engine.results import Link
from readiness.trade.checks import CHECKS

NOT_BEFORE_TODAY, PLANNED = "not before today", "planned"
_PLACE = {check: place for place, check in enumerate(CHECKS)}


class Days(NamedTuple):
    """Check's id → its first day; → its last, where turnout is promised and bounds it."""

    first: Mapping[str, int]
    last: Mapping[str, int]


class Fact(NamedTuple):
    """Turnout is not before the ``day`` of an entry and ``days``."""

    entry: str
    day: int
    days: int
    rule: str
    text: str


Ready = tuple[int, tuple[Link, ...]]
"""The first day that fits as turnout, and why not sooner."""


def in_order(plans: Iterable[Plan]) -> list[Plan]:
    """The order in which they are told: a farm's own after the built-in ones, then by id."""
    return sorted(plans, key=_order)


def _order(plan: Plan) -> tuple[int, str]:
    return _PLACE.get(plan.check, len(_PLACE)), plan.id


def days_of(plans: Sequence[Plan], case: Case) -> Days:
    """The days of each check against the case's turnout."""
    first = _first(plans, case)
    if first is None:
        return days_by_network(plans, case)
    return Days(first, {} if _unbounded(case) else _last(plans, case))


def ready_of(plans: Sequence[Plan], case: Case, facts: Sequence[Fact] = ()) -> Ready:
    """The first day that fits as turnout with every check done on its first day."""
    found = _ready(plans, case, facts)
    return ready_by_network(plans, case, facts) if found is None else found


def _unbounded(case: Case) -> bool:
    """Whether no turnout says until when a check can be done."""
    return case.promised is None or case.turnout is None


# ---- in one pass ---------------------------------------------------------------------------------


def _first(plans: Sequence[Plan], case: Case) -> dict[str, int] | None:
    """None where the checks are not in the order of their days."""
    on, turnout, planned = case.on, case.turnout, case.planned
    first: dict[str, int] = {}
    for plan in plans:
        day = on
        for wait in plan.waits:
            start = first.get(wait.frm) if wait.day is None else wait.day
            if start is None:
                return None
            day = max(day, start + wait.days)
        if planned:
            day = max(day, planned.get(plan.id, on))
        if turnout is not None and plan.oldest is not None:
            day = max(day, turnout - plan.oldest)
        first[plan.id] = day
    return first if len(first) == len(plans) else None


def _last(plans: Sequence[Plan], case: Case) -> dict[str, int]:
    assert case.turnout is not None
    last: dict[str, int] = {}
    for plan in reversed(plans):
        day = last[plan.id] = min(case.turnout - plan.tail, last.get(plan.id, FAR))
        for frm, at, days, _, _ in plan.waits:
            if at is None and day - days < last.get(frm, FAR):
                last[frm] = day - days
    return last


class _Step(NamedTuple):
    """What gives an event its ``day``."""

    day: int
    frm: str
    days: int
    rule: str
    text: str


def _ready(plans: Sequence[Plan], case: Case, facts: Sequence[Fact]) -> Ready | None:
    """None where one pass does not do. Of what comes to the same day the first is told: what a
    check waits for, then today; of checks the first in the order in which they are told."""
    steps: dict[str, _Step] = {}
    for plan in plans:
        step = _step(plan, case, steps)
        if step is None:
            return None
        steps[plan.id] = step
    last = None
    for plan in in_order(plans):
        day = steps[plan.id].day + plan.tail
        if last is None or day > last.day:
            last = _Step(day, plan.id, plan.tail, plan.rule, plan.text)
    if last is None or case.on > last.day:
        last = _Step(case.on, TODAY, 0, TODAY, NOT_BEFORE_TODAY)
    for fact in facts:
        if fact.day + fact.days > last.day:
            last = _Step(fact.day + fact.days, fact.entry, fact.days, fact.rule, fact.text)
    if len(steps) < len(plans) or _moves(plans, steps, last.day):
        return None
    steps[TURNOUT] = last
    return last.day, _chain(steps)


def _step(plan: Plan, case: Case, steps: Mapping[str, _Step]) -> _Step | None:
    """What gives a check its first day; None where it waits for one that has none yet."""
    latest, by = case.on, None
    for wait in plan.waits:
        start = wait.day
        if start is None:
            if wait.frm not in steps:
                return None
            start = steps[wait.frm].day
        if start + wait.days > latest or (by is None and start + wait.days == latest):
            latest, by = start + wait.days, wait
    meant = case.planned.get(plan.id, latest) if case.planned else latest
    if meant > latest:
        return _Step(meant, TODAY, meant - case.on, VISIT, PLANNED)
    if by is None:
        return _Step(latest, TODAY, 0, plan.rule, NOT_BEFORE_TODAY)
    return _Step(latest, by.frm, by.days, by.rule, by.text)


def _moves(plans: Sequence[Plan], steps: Mapping[str, _Step], turnout: int) -> bool:
    """Whether turnout would move a check that another one waits for, or by which it is moved."""
    moved = [
        plan
        for plan in plans
        if plan.oldest is not None and turnout - plan.oldest > steps[plan.id].day
    ]
    if not moved:
        return False
    waited = {wait.frm for plan in plans for wait in plan.waits}
    return any(plan.id in waited or plan.tail > (plan.oldest or 0) for plan in moved)


def _chain(steps: Mapping[str, _Step]) -> tuple[Link, ...]:
    """The steps that lead to turnout, from the first on."""
    found = []
    event = TURNOUT
    while event in steps:
        step = steps[event]
        found.append(Link(step.frm, event, step.days, step.rule, step.text))
        event = step.frm
    return tuple(reversed(found))


# ---- by the network ------------------------------------------------------------------------------


def days_by_network(plans: Sequence[Plan], case: Case) -> Days:
    """As ``days_of``, by the network of all bounds."""
    network = _network(plans, case)
    if case.turnout is not None:
        network.anchor(TURNOUT, case.turnout)
        _turnout_bounds(network, plans)
    return Days(network.earliest().day, {} if _unbounded(case) else network.latest())


def ready_by_network(plans: Sequence[Plan], case: Case, facts: Sequence[Fact] = ()) -> Ready:
    """As ``ready_of``, by the network of all bounds, in which turnout itself is to be placed."""
    network = _network(plans, case)
    _turnout_bounds(network, plans)
    network.add(TODAY, TURNOUT, lower=0, rule=TODAY, text=NOT_BEFORE_TODAY)
    for fact in facts:
        frm = _fact(network, fact.entry, fact.day)
        network.add(frm, TURNOUT, lower=fact.days, rule=fact.rule, text=fact.text)
    found = network.earliest()
    ids = {plan.id for plan in plans}
    return found.day[TURNOUT], tuple(
        Link(_named(s.frm, ids), s.to, s.days, s.bound.rule, s.bound.text)
        for s in found.path(TURNOUT)
    )


def _network(plans: Iterable[Plan], case: Case) -> Network:
    """Every check's waits, today, and the day on which somebody means to do it."""
    network, on = Network(), case.on
    network.anchor(TODAY, on)
    for plan in plans:
        name = plan.id
        for wait in plan.waits:
            frm = wait.frm if wait.day is None else _fact(network, wait.frm, wait.day)
            network.add(frm, name, lower=wait.days, rule=wait.rule, text=wait.text)
        network.add(TODAY, name, lower=0, rule=plan.rule, text=NOT_BEFORE_TODAY)
        if name in case.planned:
            network.add(TODAY, name, lower=case.planned[name] - on, rule=VISIT, text=PLANNED)
    return network


def _fact(network: Network, entry: str, day: int) -> str:
    """The event that an entry speaks of: one entry may speak of several days."""
    name = f"{entry}@{day}"
    network.anchor(name, day)
    return name


def _named(event: str, ids: set[str]) -> str:
    """The check, or the entry that an event is of."""
    return event if event in ids else event.rpartition("@")[0] or event


def _turnout_bounds(network: Network, plans: Iterable[Plan]) -> None:
    for plan in in_order(plans):
        network.add(plan.id, TURNOUT, lower=plan.tail, rule=plan.rule, text=plan.text)
        if plan.oldest is not None:
            network.add(TURNOUT, plan.id, lower=-plan.oldest, rule=plan.rule, text="not too old")
