"""A coarse plan for several farms: on which days to go where, the bulls left aside.

It asks only that somebody comes within each window, and minds minutes and single days for overdue
jobs alone. So it is small; what it needs at least, every plan needs; and a plan on its days is
mostly as good as any.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import replace

from readiness.visits.columns import NO_END, Columns
from readiness.visits.model import alike_of
from readiness.visits.problem import Job, JobKey, Problem


class Sketch(Columns):
    """Columns: visits; how many of the jobs that are alike have no day; how many overdue ones are
    done on a day."""

    def __init__(self, problem: Problem) -> None:
        super().__init__()
        self.problem = problem
        self.alike = alike_of(problem)
        self.visits = {
            (farm.name, day): self.column(must=day in farm.kept)
            for farm in problem.farms
            for day in farm.days
        }
        self.left = [self.column(most=alike.count) for alike in self.alike]
        self.done: dict[tuple[int, int], int] = {}
        for at, alike in enumerate(self.alike):
            farm = alike.first.farm
            visits = [(self.visits[farm, day], alike.count) for day in alike.days]
            self.row(alike.count, NO_END, [*visits, (self.left[at], 1.0)])
            if alike.first.overdue:
                self._overdue(at)
        self._minutes()
        self.one_farm_a_day(problem, self.visits)

    def _overdue(self, at: int) -> None:
        alike = self.alike[at]
        for day in alike.days:
            self.done[at, day] = done = self.column(most=alike.count)
            self.row(
                -NO_END, 0.0, [(done, 1.0), (self.visits[alike.first.farm, day], -alike.count)]
            )
        terms = [(self.done[at, day], 1.0) for day in alike.days]
        self.row(alike.count, NO_END, [*terms, (self.left[at], 1.0)])

    def _minutes(self) -> None:
        here: dict[tuple[str, int], list[tuple[int, float]]] = defaultdict(list)
        everywhere: dict[int, list[tuple[int, float]]] = defaultdict(list)
        for (at, day), column in self.done.items():
            first = self.alike[at].first
            # Beside another it may take none: then nothing is said of it here.
            term = (column, 0.0 if first.beside else float(first.minutes))
            here[first.farm, day].append(term)
            everywhere[day].append(term)
        most = {farm.name: farm.minutes for farm in self.problem.farms}
        for (farm, _), terms in here.items():
            self.row(-NO_END, float(most[farm]), terms)
        for day, terms in everywhere.items():
            self.row(-NO_END, float(self.problem.minutes_left(day)), terms)

    def unplaced(self) -> list[float]:
        return self.objective((column, 1.0) for column in self.left)

    def wait(self) -> list[float]:
        return self.objective(
            (column, float(day - self.alike[at].first.first))
            for (at, day), column in self.done.items()
        )

    def visited(self) -> list[float]:
        return self.objective((column, 1.0) for column in self.visits.values())

    def narrowed(self, values: list[float]) -> Problem:
        """The problem on the days of these columns, overdue jobs each on its own day."""
        days = {
            farm.name: tuple(d for d in farm.days if values[self.visits[farm.name, d]] > 0.5)
            for farm in self.problem.farms
        }
        fixed: dict[JobKey, int] = {}
        for at, alike in enumerate(self.alike):
            on = [
                day
                for day in alike.days
                for _ in range(round(values[self.done[at, day]]) if (at, day) in self.done else 0)
            ]
            fixed |= {job.key: day for job, day in zip(alike.jobs, on, strict=False)}
        return replace(
            self.problem,
            farms=tuple(replace(farm, days=days[farm.name]) for farm in self.problem.farms),
            jobs=_fixed(self.problem, fixed),
        )


def _fixed(problem: Problem, days: Mapping[JobKey, int]) -> tuple[Job, ...]:
    return tuple(
        replace(job, first=days[job.key], last=days[job.key]) if job.key in days else job
        for job in problem.jobs
    )
