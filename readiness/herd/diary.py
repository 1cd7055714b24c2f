"""What is due, by day and by whom: one list that the command, the screen and the day's sheet share.

Pure: a board in, a diary out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from readiness.engine.care import Running, running
from readiness.engine.results import Assessment, Board, Check


@dataclass(frozen=True, slots=True)
class Due:
    """One outstanding check of one bull, under ``day``: the day by which to do it."""

    check: Check
    bull: str
    name: str | None
    key: str
    farm: str | None
    group: str | None
    day: int
    temper: str | None


@dataclass(frozen=True, slots=True)
class Diary:
    """``overdue``: past their own last day. ``days``: the others, by the day they stand under.
    ``undated``: those of which nothing says by when, where they are kept apart. ``running``: the
    withdrawals that run."""

    on: int
    overdue: tuple[Due, ...]
    days: tuple[tuple[int, tuple[Due, ...]], ...]
    undated: tuple[Due, ...] = ()
    running: tuple[Running, ...] = ()


def diary(board: Board, days: int | None = None) -> Diary:
    """What is due from the board's day on, ``days`` days ahead at most (None: no end): each check
    once, overdue or under its last day. What programs read; people plan by ``planned``.

    Within a day: by who does it, the vet first, then farm, then bull.
    """
    dues = [_due(bull, check, check.last_day) for bull, check in _checks(board)]
    return _diary(board, dues, days)


def planned(board: Board, days: int | None = None) -> Diary:
    """The same as people plan it: each check under its advised day while that is to come, and what
    nothing says a day for (a bull without a turnout) apart, not under today."""
    dues = [_due(bull, check, check.plan_by) for bull, check in _checks(board)]
    found = _diary(board, [due for due in dues if due.check.has_last_day], days)
    undated = (
        due
        for due in dues
        if not due.check.has_last_day and (days is None or due.day <= board.on + days)
    )
    return replace(found, undated=tuple(sorted(undated, key=_order)), running=running(board))


def only(found: Diary, who: str) -> Diary:
    """What this person does."""

    def own(dues: Iterable[Due]) -> tuple[Due, ...]:
        return tuple(due for due in dues if due.check.who == who)

    kept = ((day, own(dues)) for day, dues in found.days)
    return replace(
        found,
        overdue=own(found.overdue),
        days=tuple((day, dues) for day, dues in kept if dues),
        undated=own(found.undated),
    )


def _checks(board: Board) -> Iterator[tuple[Assessment, Check]]:
    return ((bull, check) for bull in board.bulls for check in bull.outstanding)


def _diary(board: Board, dues: Iterable[Due], days: int | None) -> Diary:
    overdue: list[Due] = []
    ahead: dict[int, list[Due]] = {}
    for due in dues:
        if due.check.overdue:
            overdue.append(due)
        elif days is None or due.day <= board.on + days:
            ahead.setdefault(due.day, []).append(due)
    overdue.sort(key=lambda due: (due.check.due or due.day, *_order(due)))
    return Diary(
        board.on,
        tuple(overdue),
        tuple((day, tuple(sorted(ahead[day], key=_order))) for day in sorted(ahead)),
    )


def _due(bull: Assessment, check: Check, day: int) -> Due:
    return Due(check, bull.bull, bull.name, bull.key, bull.farm, bull.group, day, bull.temper)


WHO = ("trimmer", "farmer", "vet")
IN_A_DAY = ("vet", "trimmer", "farmer")
"""The same in the order of a day: the vet is the hardest to get."""


def _order(due: Due) -> tuple[int, str, str, str]:
    return IN_A_DAY.index(due.check.who), due.farm or "", due.key, due.check.id
