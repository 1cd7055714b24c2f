"""The planning problem as a mixed-integer program: columns, rows, and the answer read back.

A column says whether a farm is visited on a day, how many of some jobs that are alike are done on
a day, and whether a job is done beside another and takes no minutes. The rows are those of the
strong form: nothing is done where no visit is, job by job, and a job that waits for another is
summed up day by day, so that the relaxation lies close to the whole numbers.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace

from readiness.visits.problem import Job, Placed, Problem, Visited
from readiness.visits.program import NO_END, Alike, Columns


class Model(Columns):
    """``place_all``: every job gets a day; else as many as the rows leave room for."""

    def __init__(self, problem: Problem, *, place_all: bool) -> None:
        super().__init__(problem)
        self.of = {job.key: alike for alike in self.alike for job in alike.jobs}
        self.done = {
            (alike, day): self.column(most=alike.count)
            for alike in self.alike
            for day in alike.days
        }
        for alike in self.alike:
            terms = ((self.done[alike, day], 1.0) for day in alike.days)
            self.row(alike.count if place_all else 0.0, alike.count, terms)
        for alike, day in self.done:
            self.only_on_a_visit(alike, day)
        self._waits()
        self._minutes()
        self.one_farm_a_day()

    def days_of(self, job: Job) -> tuple[int, ...]:
        """The days on which a job could be done."""
        return self.of[job.key].days

    def _waits(self) -> None:
        for alike in self.alike:
            for other, lag in alike.first.after:
                before = self.of[alike.first.bull, other]
                for until in alike.days:
                    terms = [(self.done[alike, d], 1.0) for d in alike.days if d <= until]
                    earlier = (d for d in before.days if d <= until - lag)
                    terms += [(self.done[before, d], -1.0) for d in earlier]
                    self.row(-NO_END, 0.0, terms)

    def _minutes(self) -> None:
        """Rows only where the minutes that could come together are more than there are."""
        by_visit: dict[Visited, list[Alike]] = defaultdict(list)
        most_at: dict[Visited, float] = defaultdict(float)
        most_on: dict[int, float] = defaultdict(float)
        for alike, day in self.done:
            by_visit[alike.first.farm, day].append(alike)
            most_at[alike.first.farm, day] += alike.count * alike.first.minutes
            most_on[day] += alike.count * alike.first.minutes
        left = self.problem.minutes_left
        short = {day for day, most in most_on.items() if most > left(day)}
        by_day: dict[int, list[tuple[int, float]]] = defaultdict(list)
        for farm in self.problem.farms:
            for day in farm.days:
                if most_at[farm.name, day] <= farm.minutes and day not in short:
                    continue
                terms = self._minutes_of(by_visit[farm.name, day], day)
                visit = self.visits[farm.name, day]
                self.row(-NO_END, 0.0, [*terms, (visit, -float(farm.minutes))])
                by_day[day] += terms
        for day, terms in by_day.items():
            if day in short:
                self.row(-NO_END, float(left(day)), terms)

    def _minutes_of(self, here: list[Alike], day: int) -> list[tuple[int, float]]:
        terms = []
        for alike in here:
            job, column = alike.first, self.done[alike, day]
            terms.append((column, float(job.minutes)))
            other = self.of.get((job.bull, job.beside)) if job.beside else None
            beside = None if other is None else self.done.get((other, day))
            if beside is not None and job.minutes:
                free = self.column()
                self.row(-NO_END, 0.0, [(free, 1.0), (column, -1.0)])
                self.row(-NO_END, 0.0, [(free, 1.0), (beside, -1.0)])
                terms.append((free, -float(job.minutes)))
        return terms

    # ---- what is to be least, and the answer -----------------------------------------------------

    def unplaced(self) -> list[float]:
        """Least where most jobs have a day."""
        return self.objective((column, -1.0) for column in self.done.values())

    def late_then_days(self) -> list[float]:
        """Days late, and under them the days to each job: one objective, so weighed that a day
        late outweighs all that could be won elsewhere."""
        start = self.problem.start
        weight = 1 + sum(len(alike.jobs) * (alike.days[-1] - start) for alike in self.alike)
        return self.objective(
            (column, float(weight * max(0, day - alike.first.wanted) + day - start))
            for (alike, day), column in self.done.items()
        )

    def values_of(self, placed: Placed) -> list[float]:
        """The columns of an answer, for a solver to begin from."""
        values = list(self.lower)
        for job in self.problem.jobs:
            day = placed.get(job.key)
            if day is not None:
                values[self.done[self.of[job.key], day]] += 1.0
                values[self.visits[job.farm, day]] = 1.0
        return values


class Sketch(Columns):
    """A coarse plan for several farms: on which days to go where, the bulls left aside.

    It asks only that somebody comes within each window, and minds minutes and single days for
    overdue jobs alone. So it is small; what it needs at least, every plan needs; and a plan on its
    days is mostly as good as any.

    Columns: visits; how many of the jobs that are alike have no day; how many overdue ones are done
    on a day.
    """

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
