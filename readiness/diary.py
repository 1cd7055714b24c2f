"""What is due, by day and by whom: one list that the command, the screen and the day's sheet share.

Pure: a board in, a diary out.
"""

from __future__ import annotations

from dataclasses import dataclass

from readiness.engine.results import Assessment, Board, Check


@dataclass(frozen=True, slots=True)
class Due:
    """One outstanding check of one bull, under ``day``: the last day on which to do it."""

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
    """``overdue``: past their own last day. ``days``: the others, by the day they are due."""

    on: int
    overdue: tuple[Due, ...]
    days: tuple[tuple[int, tuple[Due, ...]], ...]


def diary(board: Board, days: int | None = None) -> Diary:
    """What is due from the board's day on, ``days`` days ahead at most (None: no end).

    Each check stands once: overdue, or under its last day. Within a day: by who does it, then farm,
    then bull.
    """
    overdue: list[Due] = []
    ahead: dict[int, list[Due]] = {}
    for bull in board.bulls:
        for check in bull.outstanding:
            due = _due(bull, check)
            if check.overdue:
                overdue.append(due)
            elif days is None or due.day <= board.on + days:
                ahead.setdefault(due.day, []).append(due)
    overdue.sort(key=lambda due: (due.check.due or due.day, *_order(due)))
    return Diary(
        board.on,
        tuple(overdue),
        tuple((day, tuple(sorted(ahead[day], key=_order))) for day in sorted(ahead)),
    )


def _due(bull: Assessment, check: Check) -> Due:
    return Due(
        check, bull.bull, bull.name, bull.key, bull.farm, bull.group, check.last_day, bull.temper
    )


WHO = ("trimmer", "farmer", "vet")


def _order(due: Due) -> tuple[int, str, str, str]:
    return WHO.index(due.check.who), due.farm or "", due.key, due.check.id
