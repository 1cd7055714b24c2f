"""What changes between two boards of the same bulls: another turnout, a visit less."""

from __future__ import annotations

from dataclasses import dataclass

from readiness.engine.results import Assessment, Board


@dataclass(frozen=True, slots=True)
class Change:
    """One bull before and after. ``missed``: ids of checks that had a day before turnout and have
    none any more."""

    before: Assessment
    after: Assessment
    missed: tuple[str, ...]


def changes(before: Board, after: Board) -> tuple[Change, ...]:
    """The bulls for whom something changes that a person decides by, in the order of the board
    after: status, outlook, the day he can be ready, days to spare, checks that have no day."""
    was = {bull.key: bull for bull in before.bulls}
    found = []
    for bull in after.bulls:
        old = was.get(bull.key)
        if old is None:
            continue
        missed = tuple(check for check in no_day(bull) if check not in no_day(old))
        if _decides(old) != _decides(bull) or missed:
            found.append(Change(old, bull, missed))
    return tuple(found)


def _decides(bull: Assessment) -> tuple[object, ...]:
    return bull.status, bull.hold, bull.outlook, bull.earliest_ready, bull.slack_days


def no_day(bull: Assessment) -> tuple[str, ...]:
    """The ids of his checks that have no day left before turnout."""
    return tuple(
        check.id
        for check in bull.outstanding
        if check.not_after is not None and check.not_before > check.not_after
    )
