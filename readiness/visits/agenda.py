"""Days and weeks to come: what is due, who is turned out, and when the trimmer comes.

Pure: a diary, the groups of its board and the planned visits in; days and weeks out.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby

from readiness.engine.results import GroupLine
from readiness.herd.diary import WHO, Diary, Due
from readiness.herd.selection import WEEK
from readiness.system.grouped import grouped
from readiness.visits.plan import Visit


@dataclass(frozen=True, slots=True)
class AgendaDay:
    """One day: the groups turned out, the visits planned, and the checks to be done by it."""

    on: int
    turnouts: tuple[GroupLine, ...] = ()
    visits: tuple[Visit, ...] = ()
    due: tuple[Due, ...] = ()

    @property
    def empty(self) -> bool:
        return not (self.turnouts or self.visits or self.due)


@dataclass(frozen=True, slots=True)
class Week:
    """A week from Monday: how many checks are to be done in it, by who does them; turnouts and
    visits. What is overdue counts in the week of the diary's own day. ``noted``: one of its days
    holds something else."""

    monday: int
    due: tuple[int, ...]
    turnouts: tuple[GroupLine, ...]
    visits: tuple[Visit, ...]
    noted: bool = False

    @property
    def empty(self) -> bool:
        return not (any(self.due) or self.turnouts or self.visits or self.noted)


def days(
    diary: Diary,
    groups: Iterable[GroupLine],
    visits: Sequence[Visit],
    first: int,
    last: int | None = None,
) -> tuple[AgendaDay, ...]:
    """Every day from ``first`` to ``last``, empty ones too; without ``last`` up to the last that
    holds something, and only those that do."""
    due = dict(diary.days)
    turnouts = grouped(groups, lambda group: group.turnout)
    coming = grouped(visits, lambda visit: visit.on)
    end = max([first, *due, *turnouts, *coming]) if last is None else last
    found = (
        AgendaDay(on, tuple(turnouts.get(on, ())), tuple(coming.get(on, ())), due.get(on, ()))
        for on in range(first, end + 1)
    )
    return tuple(day for day in found if last is not None or not day.empty)


def weeks(
    diary: Diary, groups: Sequence[GroupLine], visits: Sequence[Visit], noted: Collection[int] = ()
) -> tuple[Week, ...]:
    """Every week from the diary's own to the last that holds something. ``noted``: the days of
    something else."""
    found = days(diary, groups, visits, diary.on)
    end = max([diary.on, *(day.on for day in found), *noted])
    return tuple(
        _week(monday, found, diary.overdue if monday <= diary.on else (), noted)
        for monday in range(monday_of(diary.on), end + 1, WEEK)
    )


def without_gaps(found: Sequence[Week]) -> list[Week | int]:
    """The weeks, and in place of more than two in a row that hold nothing: how many they are."""
    shown: list[Week | int] = []
    for empty, run in groupby(found, lambda week: week.empty):
        together = list(run)
        shown += [len(together)] if empty and len(together) > 2 else together
    return shown


def monday_of(on: int) -> int:
    """The Monday of that day's week."""
    return on - date.fromordinal(on).weekday()


def _week(
    monday: int, found: Sequence[AgendaDay], overdue: Sequence[Due], noted: Collection[int]
) -> Week:
    here = [day for day in found if monday <= day.on < monday + WEEK]
    due = [*overdue, *(due for day in here for due in day.due)]
    return Week(
        monday,
        tuple(sum(each.check.who == who for each in due) for who in WHO),
        tuple(group for day in here for group in day.turnouts),
        tuple(visit for day in here for visit in day.visits),
        any(monday <= on < monday + WEEK for on in noted),
    )
