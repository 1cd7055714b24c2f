"""A farm's own checks: which a bull has passed for a turnout, and which are to come."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from readiness.engine.plan import Case, Plan
from readiness.history import History
from readiness.history.records import NEVER, Mark, Tested
from readiness.rules.model import OwnCheck


def own_checks(state: History) -> tuple[OwnCheck, ...]:
    """The farm's own checks that apply to this bull."""
    return tuple(own for own in state.rules.checks if own.applies in ("all", *state.origins))


def passes(state: History, name: str) -> list[Tested]:
    """The passes of an own check that no fail of their day, or of a later one, takes back."""
    standing: list[Tested] = []
    failed = NEVER
    for tested in state.checks.get(name.casefold(), ()):
        if not tested.passed:
            standing.clear()
            failed = tested.day
        elif tested.day > failed:
            standing.append(tested)
    return standing


def last_of(tests: Sequence[Tested]) -> Tested:
    """How a check went last: of one day the worse, in whatever order they were written."""
    last = tests[-1]
    return next((each for each in tests if each.day == last.day and not each.passed), last)


def failed(state: History, name: str) -> Tested | None:
    """How an own check went last, where he failed it."""
    tests = state.checks.get(name.casefold())
    last = last_of(tests) if tests else None
    return None if last is None or last.passed else last


def passed_for(state: History, own: OwnCheck, turnout: int) -> list[Tested]:
    """The passes of an own check that count for this turnout."""
    return [
        tested
        for tested in passes(state, own.name)
        if tested.day <= turnout - own.lag
        and (own.oldest is None or tested.day >= turnout - own.oldest)
        and (tested.until is None or turnout <= tested.until)
    ]


def holds_until(tested: Tested, own: OwnCheck | None) -> int | None:
    """The last day on which a pass holds, by what it says itself and by the rules; None where
    neither says."""
    by_rule = None if own is None or own.valid is None else tested.day + own.valid
    return min((day for day in (tested.until, by_rule) if day is not None), default=None)


def own_plans(case: Case) -> Iterator[Plan]:
    assert case.turnout is not None
    for own in own_checks(case.state):
        if not passed_for(case.state, own, case.turnout):
            plan = Plan(
                own.name,
                f"check.{own.name}",
                own.who,
                (own.text or own.name) + (" again" if _out_of_date(case, own) else ""),
                due=None if case.promised is None else case.promised - own.due,
                oldest=own.oldest,
                tail=own.lag,
            )
            if last := failed(case.state, own.name):
                plan.after(Mark(last.day, last.entry), 1, plan.rule, "the day after he failed")
            yield plan


def _out_of_date(case: Case, own: OwnCheck) -> bool:
    """Whether his last pass holds, and no longer on turnout."""
    assert case.turnout is not None
    passed = passes(case.state, own.name)
    until = holds_until(passed[-1], own) if passed else None
    return until is not None and until < case.turnout
