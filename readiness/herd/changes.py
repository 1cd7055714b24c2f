"""What changes between two boards of the same bulls: another turnout, a visit less."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from readiness.engine.results import Assessment, Board


@dataclass(frozen=True, slots=True)
class Change:
    """One bull before and after. ``missed``: ids of checks that had a day before turnout and have
    none any more. ``open_end``: the day he can be ready is no more than a day before which he is
    not."""

    before: Assessment
    after: Assessment
    missed: tuple[str, ...]
    open_end: bool = False

    @property
    def minor(self) -> bool:
        """Only the days to spare change: he is ready on the day on which he was, and no more nor
        less in time."""
        before, after = _stands(self.before), _stands(self.after)
        return before == after and not self.missed and not self.open_end


def changes(
    before: Board, after: Board, open_end: Collection[str] = frozenset()
) -> tuple[Change, ...]:
    """The bulls for whom something changes that a person decides by, in the order of the board
    after: status, outlook, the day he can be ready, days to spare, checks that have no day.

    ``open_end``: keys of bulls with a check that has no day on the plan.
    """
    was = {bull.key: bull for bull in before.bulls}
    found = []
    for bull in after.bulls:
        old = was.get(bull.key)
        if old is None:
            continue
        missed = tuple(check for check in no_day(bull) if check not in no_day(old))
        if _decides(old) != _decides(bull) or missed:
            found.append(Change(old, bull, missed, bull.key in open_end))
    return tuple(found)


def _stands(bull: Assessment) -> tuple[object, ...]:
    return bull.status, bull.hold, bull.outlook, bull.earliest_ready


def _decides(bull: Assessment) -> tuple[object, ...]:
    return *_stands(bull), bull.slack_days


def no_day(bull: Assessment) -> tuple[str, ...]:
    """The ids of his checks that have no day left before turnout."""
    return tuple(
        check.id
        for check in bull.outstanding
        if check.not_after is not None and check.not_before > check.not_after
    )
