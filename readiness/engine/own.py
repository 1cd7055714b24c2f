"""A farm's own checks: which a bull has passed for a turnout, and which are to come."""

from __future__ import annotations

from collections.abc import Iterator

from readiness.engine.plan import Case, Plan
from readiness.history import History
from readiness.history.records import Tested
from readiness.rules.model import OwnCheck


def own_checks(state: History) -> tuple[OwnCheck, ...]:
    """The farm's own checks that apply to this bull."""
    return tuple(own for own in state.rules.checks if own.applies in ("all", *state.origins))


def passes(state: History, name: str) -> list[Tested]:
    """The passes of an own check that no later fail takes back."""
    standing: list[Tested] = []
    for tested in state.checks.get(name.casefold(), ()):
        if tested.passed:
            standing.append(tested)
        else:
            standing.clear()
    return standing


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
            yield Plan(
                own.name,
                f"check.{own.name}",
                own.who,
                (own.text or own.name) + (" again" if _out_of_date(case, own) else ""),
                due=None if case.promised is None else case.promised - own.due,
                oldest=own.oldest,
                tail=own.lag,
            )


def _out_of_date(case: Case, own: OwnCheck) -> bool:
    """Whether his last pass holds, and no longer on turnout."""
    assert case.turnout is not None
    passed = passes(case.state, own.name)
    until = holds_until(passed[-1], own) if passed else None
    return until is not None and until < case.turnout
