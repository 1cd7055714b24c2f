"""The planning problem as a mixed-integer program: columns, rows, and the answer read back.

A column is 1 where a job is done on a day (``x``), where a farm is visited on a day (``y``), and
where a job is done beside another and takes no minutes (``z``). The rows are those of the strong
form: ``x ≤ y`` for each job and day, and a job that waits for another is summed up day by day, so
that the relaxation lies close to the whole numbers.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from readiness.visits.problem import Farm, Job, JobKey, Placed, Problem

Row = tuple[float, float, list[int], list[float]]
NO_END = float("inf")


class Model:
    """Columns 0 … ``width`` - 1, all 0 or 1, and ``rows`` of (least, most, columns, factors).

    ``place_all``: every job gets a day; else as many as the rows leave room for.
    """

    def __init__(self, problem: Problem, *, place_all: bool) -> None:
        self.problem = problem
        self.rows: list[Row] = []
        self.width = 0
        self.upper: list[float] = []
        self.lower: list[float] = []
        self.visits = {
            (farm.name, day): self._column(day in farm.kept)
            for farm in problem.farms
            for day in farm.days
        }
        days_of = {farm.name: farm.days for farm in problem.farms}
        self.days = {
            job.key: [day for day in days_of[job.farm] if job.first <= day <= job.last]
            for job in problem.jobs
        }
        self.done = {
            (job.key, day): self._column() for job in problem.jobs for day in self.days[job.key]
        }
        self._each_job_once(place_all)
        self._only_on_visits()
        self._waits()
        self._minutes()
        self._one_farm_a_day()

    def _column(self, must: bool = False) -> int:
        self.lower.append(1.0 if must else 0.0)
        self.upper.append(1.0)
        self.width += 1
        return self.width - 1

    def _row(self, least: float, most: float, terms: Iterable[tuple[int, float]]) -> None:
        pairs = list(terms)
        self.rows.append((least, most, [c for c, _ in pairs], [f for _, f in pairs]))

    def _each_job_once(self, place_all: bool) -> None:
        for key, days in self.days.items():
            terms = ((self.done[key, day], 1.0) for day in days)
            self._row(1.0 if place_all else 0.0, 1.0, terms)

    def _only_on_visits(self) -> None:
        for job in self.problem.jobs:
            for day in self.days[job.key]:
                visit = self.visits[job.farm, day]
                self._row(-NO_END, 0.0, [(self.done[job.key, day], 1.0), (visit, -1.0)])

    def _waits(self) -> None:
        for job in self.problem.jobs:
            for other, lag in job.after:
                before = (job.bull, other)
                for until in self.days[job.key]:
                    terms = [(self.done[job.key, d], 1.0) for d in self.days[job.key] if d <= until]
                    terms += [
                        (self.done[before, d], -1.0)
                        for d in self.days.get(before, ())
                        if d <= until - lag
                    ]
                    self._row(-NO_END, 0.0, terms)

    def _minutes(self) -> None:
        """Rows only where the minutes that could come together are more than there are."""
        by_visit: dict[tuple[str, int], list[Job]] = defaultdict(list)
        for job in self.problem.jobs:
            for day in self.days[job.key]:
                by_visit[job.farm, day].append(job)
        most_on: dict[int, int] = defaultdict(int)
        for (_, day), jobs in by_visit.items():
            most_on[day] += sum(job.minutes for job in jobs)
        left = self.problem.minutes_left
        day_is_short = {day for day, most in most_on.items() if most > left(day)}
        by_day: dict[int, list[tuple[int, float]]] = defaultdict(list)
        for farm in self.problem.farms:
            for day in farm.days:
                jobs = by_visit.get((farm.name, day), [])
                most = sum(job.minutes for job in jobs)
                if most <= farm.minutes and day not in day_is_short:
                    continue
                terms = self._minutes_of(jobs, day)
                visit = self.visits[farm.name, day]
                self._row(-NO_END, 0.0, [*terms, (visit, -float(farm.minutes))])
                by_day[day] += terms
        for day, terms in by_day.items():
            if day in day_is_short:
                self._row(-NO_END, float(left(day)), terms)

    def _minutes_of(self, jobs: list[Job], day: int) -> list[tuple[int, float]]:
        terms = []
        for job in jobs:
            column = self.done[job.key, day]
            terms.append((column, float(job.minutes)))
            beside = None if job.beside is None else self.done.get(((job.bull, job.beside), day))
            if beside is not None and job.minutes:
                free = self._column()
                self._row(-NO_END, 0.0, [(free, 1.0), (column, -1.0)])
                self._row(-NO_END, 0.0, [(free, 1.0), (beside, -1.0)])
                terms.append((free, -float(job.minutes)))
        return terms

    def _one_farm_a_day(self) -> None:
        """Of the farms visited on a day all must share it, or there is one."""
        alone = [farm for farm in self.problem.farms if not farm.shares]
        shared: list[Farm | None] = [farm for farm in self.problem.farms if farm.shares]
        if not alone or len(self.problem.farms) < 2:
            return
        for day in sorted({day for farm in self.problem.farms for day in farm.days}):
            for guest in shared or [None]:
                farms = [*alone, *([guest] if guest else [])]
                terms = [
                    (self.visits[farm.name, day], 1.0)
                    for farm in farms
                    if (farm.name, day) in self.visits
                ]
                if len(terms) > 1:
                    self._row(0.0, 1.0, terms)

    # ---- what is to be least, and the answer -----------------------------------------------------

    def unplaced(self) -> list[float]:
        """Least where most jobs have a day."""
        return self._objective((column, -1.0) for column in self.done.values())

    def wait(self) -> list[float]:
        return self._objective(
            (self.done[job.key, day], float(day - job.first))
            for job in self.problem.jobs
            if job.overdue
            for day in self.days[job.key]
        )

    def visited(self) -> list[float]:
        return self._objective((column, 1.0) for column in self.visits.values())

    def late_then_days(self) -> list[float]:
        """Days late, and under them the days to each job: one objective, so weighed that a day
        late outweighs all that could be won elsewhere."""
        start = self.problem.start
        weight = 1 + sum(max(days, default=start) - start for days in self.days.values())
        return self._objective(
            (self.done[job.key, day], float(weight * max(0, day - job.wanted) + day - start))
            for job in self.problem.jobs
            for day in self.days[job.key]
        )

    def _objective(self, terms: Iterable[tuple[int, float]]) -> list[float]:
        costs = [0.0] * self.width
        for column, factor in terms:
            costs[column] = factor
        return costs

    def values_of(self, placed: Placed) -> list[float]:
        """The columns of an answer, for a solver to begin from."""
        values = list(self.lower)
        for key, day in placed.items():
            if (key, day) in self.done:
                values[self.done[key, day]] = 1.0
        for job in self.problem.jobs:
            if job.key in placed:
                values[self.visits[job.farm, placed[job.key]]] = 1.0
        return values

    def placed(self, values: list[float]) -> dict[JobKey, int]:
        """The answer that the columns' values give."""
        return {key: day for (key, day), column in self.done.items() if values[column] > 0.5}
