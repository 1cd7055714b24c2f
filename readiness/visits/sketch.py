"""A coarse plan for several farms: on which days to go where, the bulls left aside.

It asks only that somebody comes within each window, and minds minutes and single days for overdue
jobs alone. So it is small; what it needs at least, every plan needs; and a plan on its days is
mostly as good as any.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace

from readiness.visits.problem import Problem, Visited
from readiness.visits.program import NO_END, Columns


class Sketch(Columns):
    """Columns: visits; how many of the jobs that are alike have no day; how many overdue ones are
    done on a day."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem)
        self.left = {alike: self.column(most=alike.count) for alike in self.alike}
        for alike, left in self.left.items():
            farm = alike.first.farm
            visits = [(self.visits[farm, day], alike.count) for day in alike.days]
            self.row(alike.count, NO_END, [*visits, (left, 1.0)])
            if alike.first.overdue:
                for day in alike.days:
                    self.done[alike, day] = self.column(most=alike.count)
                    self.only_on_a_visit(alike, day)
                terms = [(self.done[alike, day], 1.0) for day in alike.days]
                self.row(alike.count, NO_END, [*terms, (left, 1.0)])
        self._minutes()
        self.one_farm_a_day()

    def _minutes(self) -> None:
        here: dict[Visited, list[tuple[int, float]]] = defaultdict(list)
        everywhere: dict[int, list[tuple[int, float]]] = defaultdict(list)
        for (alike, day), column in self.done.items():
            first = alike.first
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
        return self.objective((column, 1.0) for column in self.left.values())

    def narrowed(self, values: list[float]) -> Problem:
        """The problem on the days of these columns, overdue jobs each on its own day."""
        visited = {visit for visit, column in self.visits.items() if values[column] > 0.5}
        on = self.placed(values)
        return replace(
            self.problem,
            farms=tuple(
                replace(farm, days=tuple(day for day in farm.days if (farm.name, day) in visited))
                for farm in self.problem.farms
            ),
            jobs=tuple(
                replace(job, first=on[job.key], last=on[job.key]) if job.key in on else job
                for job in self.problem.jobs
            ),
        )
