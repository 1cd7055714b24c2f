"""A mixed-integer program for the solver to read: its bare bones, and what every one of a plan is
made of: visits, jobs that are alike."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from readiness.visits.problem import Farm, Job, JobKey, Problem

Row = tuple[float, float, list[int], list[float]]
NO_END = float("inf")


@dataclass(slots=True)
class Budget:
    """The seconds of the solver's own time that are ``left``."""

    left: float


class Program:
    """Columns 0 … ``width`` - 1 of whole numbers from ``lower`` to ``upper``, and ``rows`` of
    (least, most, columns, factors)."""

    def __init__(self) -> None:
        self.rows: list[Row] = []
        self.width = 0
        self.upper: list[float] = []
        self.lower: list[float] = []

    def column(self, *, must: bool = False, most: float = 1.0) -> int:
        """A new column, up to ``most``; ``must``: it is 1."""
        self.lower.append(1.0 if must else 0.0)
        self.upper.append(most)
        self.width += 1
        return self.width - 1

    def row(self, least: float, most: float, terms: Iterable[tuple[int, float]]) -> None:
        """``least`` ≤ the sum of (column, factor) ≤ ``most``."""
        pairs = list(terms)
        self.rows.append((least, most, [c for c, _ in pairs], [f for _, f in pairs]))

    def objective(self, terms: Iterable[tuple[int, float]]) -> list[float]:
        """What each column costs."""
        costs = [0.0] * self.width
        for column, factor in terms:
            costs[column] = factor
        return costs


@dataclass(frozen=True, slots=True, eq=False)
class Alike:
    """Jobs between which nothing tells: one column counts how many of them are done on a day.

    Jobs that wait for others, or for which others wait, stand alone.
    """

    jobs: tuple[Job, ...]
    days: tuple[int, ...]

    @property
    def first(self) -> Job:
        return self.jobs[0]

    @property
    def count(self) -> float:
        return float(len(self.jobs))


class Columns(Program):
    """The columns of a plan.

    ``visits``: (farm, day) → the column that says whether it is visited then. ``done``: (jobs
    that are alike, day) → the column that says how many of them are done then.
    """

    def __init__(self, problem: Problem) -> None:
        super().__init__()
        self.problem = problem
        self.visits = {
            (farm.name, day): self.column(must=day in farm.kept)
            for farm in problem.farms
            for day in farm.days
        }
        self.alike = alike_of(problem)
        self.done: dict[tuple[Alike, int], int] = {}

    def only_on_a_visit(self, alike: Alike, day: int) -> None:
        """Nothing is done on a day on which nobody comes."""
        visit = self.visits[alike.first.farm, day]
        self.row(-NO_END, 0.0, [(self.done[alike, day], 1.0), (visit, -alike.count)])

    def one_farm_a_day(self) -> None:
        """Of the farms visited on a day all must share it, or there is one."""
        alone = [farm for farm in self.problem.farms if not farm.shares]
        shared: list[Farm | None] = [farm for farm in self.problem.farms if farm.shares]
        if not alone or len(self.problem.farms) < 2:
            return
        for day in sorted({day for farm in self.problem.farms for day in farm.days}):
            for guest in shared or [None]:
                names = [farm.name for farm in (*alone, guest) if farm]
                terms = [
                    (self.visits[name, day], 1.0) for name in names if (name, day) in self.visits
                ]
                if len(terms) > 1:
                    self.row(0.0, 1.0, terms)

    # ---- what is to be least, and the answer -----------------------------------------------------

    def wait(self) -> list[float]:
        return self.objective(
            (column, float(day - alike.first.first))
            for (alike, day), column in self.done.items()
            if alike.first.overdue
        )

    def visited(self) -> list[float]:
        return self.objective((column, 1.0) for column in self.visits.values())

    def placed(self, values: list[float]) -> dict[JobKey, int]:
        """The answer that the columns' values give; of jobs that are alike the first go first."""
        days: dict[Alike, list[int]] = defaultdict(list)
        for (alike, day), column in self.done.items():
            days[alike] += [day] * round(values[column])
        return {
            job.key: day
            for alike, on in days.items()
            for job, day in zip(alike.jobs, on, strict=False)
        }


def alike_of(problem: Problem) -> tuple[Alike, ...]:
    """Every job of a problem with its like. Each has a day on which it could be done."""
    days_of = {farm.name: farm.days for farm in problem.farms}
    chained = {(job.bull, other) for job in problem.jobs for other, _ in job.after}
    found: dict[object, list[Job]] = defaultdict(list)
    days: dict[object, tuple[int, ...]] = {}
    for job in problem.jobs:
        own = tuple(day for day in days_of[job.farm] if job.first <= day <= job.last)
        alone = job.key if job.after or job.beside or job.key in chained else None
        wanted = min(job.wanted, own[-1])
        since = job.first if job.overdue else None
        like = (alone, job.farm, own, job.minutes, wanted, since)
        found[like].append(job)
        days[like] = own
    return tuple(Alike(tuple(jobs), days[like]) for like, jobs in found.items())
