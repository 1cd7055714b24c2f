"""The planning problem in plain values, and what makes one answer better than another."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

JobKey = tuple[str, str]
"""(bull's key, check's id)."""

Visited = tuple[str, int]
"""(farm, day) on which somebody comes."""

Placed = Mapping[JobKey, int]
"""Job → the day on which it is done; a job that has no day is not in it."""


@dataclass(frozen=True, slots=True)
class Job:
    """One check to be done on a visit, on a day from ``first`` to ``last``.

    ``wanted``: the last day on which it is in time; on a later day it is late by the difference
    (``wanted`` may lie before ``first``). ``overdue``: its own clock ran out, it is not made to
    wait. ``after``: (id of another job of this bull, days): not before that day and so many days,
    and without a day where that one has none. ``beside``: the id of another job of this bull, on
    whose day it takes no minutes.
    """

    bull: str
    id: str
    farm: str
    first: int
    last: int
    wanted: int
    minutes: int
    overdue: bool = False
    after: tuple[tuple[str, int], ...] = ()
    beside: str | None = None

    @property
    def key(self) -> JobKey:
        return self.bull, self.id


@dataclass(frozen=True, slots=True)
class Farm:
    """Where one drives to. ``days``: those on which one may, rising. ``minutes``: the most that is
    done there on a day. ``shares``: another farm that shares may be visited on the same day.
    ``kept``: promised days, of ``days``: visits that take place whatever is planned. ``holidays``:
    working days on which nobody comes all the same → why, by its name."""

    name: str
    days: tuple[int, ...]
    minutes: int
    shares: bool = False
    kept: tuple[int, ...] = ()
    holidays: Mapping[int, str] = field(default_factory=dict, compare=False)


@dataclass(frozen=True, slots=True)
class Problem:
    """Every job of every farm; ``minutes``: of one person's day, over all farms; ``taken``:
    those of a day that are spoken for already."""

    start: int
    minutes: int
    farms: tuple[Farm, ...]
    jobs: tuple[Job, ...]
    taken: Mapping[int, int] = field(default_factory=dict)

    def minutes_left(self, day: int) -> int:
        """The minutes of a day (an ordinal) that nobody has spoken for."""
        return max(0, self.minutes - self.taken.get(day, 0))

    @property
    def promised(self) -> set[Visited]:
        """The visits that take place whatever is planned."""
        return {(farm.name, day) for farm in self.farms for day in farm.kept}


class Cost(NamedTuple):
    """What a plan costs, the most important first: plans are compared field by field.

    ``unplaced`` jobs; ``wait``: days that overdue jobs are done after their first day; ``visits``,
    each a farm and a day, promised ones too; ``late``: days after ``wanted``; ``days`` from the
    start to each job, added up.
    """

    unplaced: int
    wait: int
    visits: int
    late: int
    days: int


def cost(problem: Problem, placed: Placed) -> Cost:
    """What an answer costs."""
    done = [(job, placed[job.key]) for job in problem.jobs if job.key in placed]
    return Cost(
        unplaced=len(problem.jobs) - len(done),
        wait=sum(day - job.first for job, day in done if job.overdue),
        visits=len(visits_of(problem, placed)),
        late=sum(max(0, day - job.wanted) for job, day in done),
        days=sum(day - problem.start for _, day in done),
    )


def visits_of(problem: Problem, placed: Placed) -> set[Visited]:
    """The visits that an answer takes, promised ones too."""
    done = {(job.farm, placed[job.key]) for job in problem.jobs if job.key in placed}
    return problem.promised | done


def first_day(job: Job, placed: Placed) -> int | None:
    """The first day that those it waits for leave; None where one of them has no day."""
    first = job.first
    for other, lag in job.after:
        day = placed.get((job.bull, other))
        if day is None:
            return None
        first = max(first, day + lag)
    return first


def minutes_on(problem: Problem, placed: Placed) -> dict[Visited, int]:
    """The minutes of what is done on each visit."""
    used: dict[Visited, int] = defaultdict(int)
    for job in problem.jobs:
        day = placed.get(job.key)
        if day is not None:
            used[job.farm, day] += minutes_of(job, placed)
    return used


def minutes_of(job: Job, placed: Placed) -> int:
    """The minutes that a placed job takes on its day."""
    beside = job.beside is not None and placed.get((job.bull, job.beside)) == placed[job.key]
    return 0 if beside else job.minutes
