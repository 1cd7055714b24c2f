"""The checks on the bull as a whole: how he walks, his condition, his examination, quarantine and
the farm's own."""

from __future__ import annotations

from collections.abc import Iterator

from readiness.engine.plan import Case, Plan
from readiness.engine.vet import open_vet_asks
from readiness.findings import Finding
from readiness.history import History
from readiness.records import Mark
from readiness.rules.model import OwnCheck


def bull_plans(case: Case, feet: list[Plan]) -> list[Plan]:
    """Every outstanding check after those on the feet; ``feet`` are those."""
    plans = [*_walk_again(case, feet)]
    if case.turnout is not None:
        plans += [*_mobility(case, feet), *_condition(case), *_vet_exam(case)]
    plans += _vet_look(case)
    if case.turnout is not None:
        plans += [*_quarantine(case), *_own(case)]
    return plans


def _walk_again(case: Case, feet: list[Plan]) -> Iterator[Plan]:
    run, limits = case.state.run, case.limits
    if run is None:
        return
    first = run.last + limits.mobility_again
    if case.turnout is not None and first >= case.turnout - limits.mobility_oldest:
        return
    plan = Plan(
        "walk-again", "mobility.again", "farmer", "walk him again",
        since=run.first, due=first + limits.mobility_late,
    )  # fmt: skip
    _behind(plan, feet, ("lift",))
    plan.after(Mark(run.last, run.last_entry), limits.mobility_again, plan.rule, "last lame")
    yield plan


def _behind(plan: Plan, others: list[Plan], checks: tuple[str, ...]) -> None:
    for other in sorted((o for o in others if o.check in checks), key=lambda o: o.id):
        plan.behind(other, 0, other.rule, _BEHIND[other.check])


_BEHIND = {
    "lift": "walks after the lift",
    "clear": "walks once it is seen clear",
    "block-look": "walks once the foot was looked at",
}


def _mobility(case: Case, feet: list[Plan]) -> Iterator[Plan]:
    """The walk that counts: sound, and after everything that could still change how he walks."""
    state, limits, turnout = case.state, case.limits, case.turnout
    assert turnout is not None
    plan = Plan(
        "mobility", "mobility.oldest", "farmer", "score his walk", oldest=limits.mobility_oldest
    )
    _behind(plan, feet, ("lift", "clear"))
    for off in feet:
        if off.check == "block-off":
            plan.behind(off, limits.block_settle, "block.settle", "settles after the block")
    _behind(plan, feet, ("block-look",))
    waiting = bool(plan.waits)
    for mark, days, rule, text in _settling(state):
        plan.after(mark, days, rule, text)
    walk = state.walk
    if (
        walk is None
        or walk.lame
        or not walk.counts
        or waiting
        or state.run is not None
        or walk.day < turnout - limits.mobility_oldest
        or any(wait.day is not None and walk.day < wait.day + wait.days for wait in plan.waits)
    ):
        yield plan


def _settling(state: History) -> Iterator[tuple[Mark, int, str, str]]:
    """(what happened, days, rule, words): the walk that counts comes no sooner after each."""
    limits = state.rules.limits
    for block in state.block_off.values():
        off = Mark(block.day, block.entry)
        yield off, limits.block_settle, "block.settle", "settles after the block"
        looked = state.first_lift(block.foot, block.day)
        yield looked, 0, "block.look", "the foot was looked at"
    yield state.hurt, limits.incident_settle, "incident.settle", "settles after the knock"
    yield state.trim, limits.trim_settle, "trim.settle", "settles after trimming"
    yield state.pain, limits.pain_settle, "pain.settle", "pain relief wears off"
    yield state.last_in, 0, "mobility.oldest", "came in"
    clear = Mark(state.feet.clear_day, state.feet.clear_entry)
    yield clear, 0, "clear.after_open", "seen clear"
    if state.run is not None:
        last = Mark(state.run.last, state.run.last_entry)
        yield (
            last,
            limits.mobility_again,
            "mobility.again",
            "sound this long after he was last lame",
        )


def _condition(case: Case) -> Iterator[Plan]:
    state, limits, turnout = case.state, case.limits, case.turnout
    assert turnout is not None
    last = state.condition
    plan = Plan(
        "condition", "condition.oldest", "farmer", "score his condition",
        oldest=limits.condition_oldest,
    )  # fmt: skip
    again = state.outside.day + limits.condition_again if state.outside else 0
    if last is not None and last.outside and again < turnout - limits.condition_oldest:
        first = Plan(
            "condition-again", "condition.again", "farmer", "score his condition again",
            since=last.day, due=again + limits.condition_late,
        )  # fmt: skip
        first.after(state.outside, limits.condition_again, first.rule, "scored again after this")
        plan.behind(first, 0, first.rule, "scored again before the score that counts")
        yield first
    plan.after(state.outside, limits.condition_again, "condition.again", "time to change condition")
    if (
        last is None
        or last.outside
        or last.day < turnout - limits.condition_oldest
        or last.day < again
    ):
        yield plan


def _vet_exam(case: Case) -> Iterator[Plan]:
    state, limits, turnout = case.state, case.limits, case.turnout
    assert turnout is not None
    exam = state.exam
    if exam is not None:
        if exam.outcome == "unsatisfactory":
            return
        fresh = exam.day >= turnout - limits.vet_oldest and exam.day > state.illness.day
        if exam.outcome == "satisfactory" and fresh:
            return
    deferred = exam is not None and exam.outcome == "deferred"
    if not limits.vet_required and not deferred:
        return
    plan = Plan(
        "vet-exam", "vet.oldest", "vet", "breeding examination by the vet",
        oldest=limits.vet_oldest,
        advised_by=None if case.promised is None else case.promised - limits.vet_advised_last,
    )  # fmt: skip
    if exam is not None and deferred:
        again = exam.again_on - exam.day if exam.again_on is not None else limits.vet_again
        plan.after(Mark(exam.day, exam.entry), again, "vet.again", "the vet deferred him")
        plan.since = exam.day
    plan.after(state.illness, 1, "vet.oldest", "after his illness")
    yield plan


def _vet_look(case: Case) -> Iterator[Plan]:
    asks = sorted(open_vet_asks(case.state, case.on), key=lambda ask: ask.day)
    if asks:
        why = "; ".join(dict.fromkeys(ask.text for ask in asks))
        yield Plan(
            "vet-look", asks[0].rule, "vet", f"vet to look: {why}",
            since=asks[0].day, due=asks[0].day + case.limits.vet_look,
        )  # fmt: skip


def _quarantine(case: Case) -> Iterator[Plan]:
    state, limits = case.state, case.limits
    if in_quarantine(state, case.on):
        plan = Plan(
            "quarantine", "quarantine.days", "farmer", "quarantine ends", since=state.arrived.day
        )
        plan.after(state.arrived, limits.quarantine_days, plan.rule, "in quarantine since arrival")
        yield plan


def in_quarantine(state: History, on: int) -> bool:
    """Whether a bought-in bull is still apart."""
    bought = state.profile.get("origin") == "bought" and bool(state.arrived)
    return bought and on < state.arrived.day + state.rules.limits.quarantine_days


def own_checks(state: History) -> tuple[OwnCheck, ...]:
    """The farm's own checks that apply to this bull."""
    bought = state.profile.get("origin") == "bought"
    return tuple(own for own in state.rules.checks if bought or not own.bought_only)


def passes(state: History, name: str) -> list[Mark]:
    """The passes of an own check that no later fail takes back."""
    standing: list[Mark] = []
    for day, passed, entry in state.checks.get(name, ()):
        if passed:
            standing.append(Mark(day, entry))
        else:
            standing.clear()
    return standing


def _own(case: Case) -> Iterator[Plan]:
    assert case.turnout is not None
    for own in own_checks(case.state):
        first, last = case.turnout - own.first, case.turnout - own.last
        if not any(first <= mark.day <= last for mark in passes(case.state, own.name)):
            yield Plan(
                own.name,
                f"check.{own.name}",
                own.who,
                own.text or own.name,
                oldest=own.first,
                tail=own.last,
            )


def holding(state: History) -> list[Finding]:
    """The open findings that keep him back."""
    return [finding for finding in state.feet.open.values() if finding.holds]
