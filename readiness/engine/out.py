"""What a bull went out without. Going out clears nothing: only what is seen and done since does."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from readiness.engine.bull_checks import lacks_exam, outstanding
from readiness.engine.own import own_checks
from readiness.engine.plan import Case
from readiness.entries.entry import Entry
from readiness.history import History, advance, ordinal
from readiness.history.records import Mark
from readiness.rules.model import Rules
from readiness.trade.ages import BORN, birth_in

LASTING = frozenset(("feet", "mobility", "condition", "vet-exam"))
"""With a farm's own checks, those that a bull must have had when he goes out."""


def went_out_without(entries: Sequence[Entry], rules: Rules, went: int, on: int) -> frozenset[str]:
    """The checks that were outstanding on the day he went out, with that day as turnout, and were
    on no day since, up to ``on``, with that day as turnout.

    ``entries``: all of one bull, in ``entry_order``. An entry of the day he went out counts
    whether it stands before that or after.
    """
    owed: frozenset[str] | None = None
    born = [entry for entry in entries if BORN in entry.body and entry.day <= on]
    for day, state in _days(entries, rules, went, on):
        if born:  # his age by what is known of his birth now
            state.birth = birth_in(born[-1].body)
            state.born = Mark(ordinal(born[-1].body[BORN]), born[-1].id)
        lacks = _lacks(state, day)
        if owed is None:
            failed = state.exam is not None and state.exam.outcome == "unsatisfactory"
            owed = lacks - {"vet-exam"} if failed else lacks  # he had one, and it is a reason
        owed &= lacks
        if not owed:
            break
    return owed or frozenset()


def _lacks(state: History, day: int) -> frozenset[str]:
    own = {check.name for check in own_checks(state)}
    lacks = {
        plan.check
        for plan in outstanding(Case(state, day, day, None))
        if plan.check in LASTING or plan.check in own
    }
    # A vet's word that he is unfit puts no examination in the place of the one that he lacks.
    if lacks_exam(state, day):
        lacks.add("vet-exam")
    return frozenset(lacks)


def _days(
    entries: Sequence[Entry], rules: Rules, went: int, on: int
) -> Iterator[tuple[int, History]]:
    """His state at the end of the day he went out, and of each day since on which anything may
    have been made up for: those of his entries, and those from which a pass counts."""
    state = History(rules)
    lags = {own.lag for own in rules.checks}
    wanted = {went}
    for day, told in groupby(entries, key=lambda entry: entry.day):
        if day > on:
            break
        for wait in sorted(d for d in wanted if d < day):
            yield wait, state
        wanted = {d for d in wanted if d >= day}
        for entry in told:
            advance(state, entry)
        if day >= went:
            wanted.add(day)
        wanted |= {day + lag for lag in lags if went < day + lag <= on}
    for wait in sorted(wanted):
        yield wait, state
