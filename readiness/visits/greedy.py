"""A quick answer without a solver: good, always allowed, not always the best.

Jobs are taken by the last day that their own window and those that wait for them leave; each goes
on a visit that there is already, else a new one is put as late as it may be, so that it catches
as many of the next ones as it can. Visits that the others can do without are then given up.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from readiness.visits.problem import Farm, Job, JobKey, Problem, cost, first_day, minutes_of


def greedy(problem: Problem) -> dict[JobKey, int]:
    """An allowed answer."""
    trial = _Trial(problem)
    for job in trial.order:
        trial.place(job, trial.days(job))
    trial.give_up_visits()
    trial.pull_forward()
    return trial.placed


def tidy(problem: Problem, placed: dict[JobKey, int]) -> dict[JobKey, int]:
    """An allowed answer that does without the visits that can be spared."""
    trial = _Trial(problem)
    trial.restore(placed)
    trial.give_up_visits()
    trial.pull_forward()
    return trial.placed


class _Trial:
    """An answer that grows: what is placed, and the minutes and visits of each day."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.placed: dict[JobKey, int] = {}
        self.farms = {farm.name: farm for farm in problem.farms}
        self.jobs = {job.key: job for job in problem.jobs}
        self.on: dict[tuple[str, int], set[JobKey]] = defaultdict(set)
        self.waiting: dict[JobKey, list[tuple[Job, int]]] = defaultdict(list)
        for job in problem.jobs:
            for other, lag in job.after:
                self.waiting[job.bull, other].append((job, lag))
        self.wanted = {job.key: self._wanted(job) for job in problem.jobs}
        self.end = {job.key: self._end(job) for job in problem.jobs}
        self.order = sorted(problem.jobs, key=self._turn)

    def _wanted(self, job: Job) -> int:
        """The last day in time that those who wait for it leave a job."""
        later = (self._wanted(other) - lag for other, lag in self.waiting[job.key])
        return job.first if job.overdue else min([job.wanted, *later])

    def _end(self, job: Job) -> int:
        """The last day at all that they leave it."""
        return min([job.last, *(self._end(other) - lag for other, lag in self.waiting[job.key])])

    def _depth(self, job: Job) -> int:
        return 1 + max(
            (self._depth(self.jobs[job.bull, other]) for other, _ in job.after), default=0
        )

    def _urgent(self, job: Job) -> bool:
        """Overdue, or one that is waits for it."""
        return job.overdue or any(self._urgent(other) for other, _ in self.waiting[job.key])

    def _turn(self, job: Job) -> tuple[bool, int, int, JobKey]:
        return not self._urgent(job), self.end[job.key], self._depth(job), job.key

    # ---- what is allowed -----------------------------------------------------------------------

    def _last(self, job: Job) -> int:
        ends = [
            self.placed[other.key] - lag
            for other, lag in self.waiting[job.key]
            if other.key in self.placed
        ]
        return min([job.last, *ends])

    def _visited(self, farm: Farm, day: int) -> bool:
        return day in farm.kept or bool(self.on.get((farm.name, day)))

    def _open(self, farm: Farm, day: int) -> bool:
        """Whether this farm may be visited on this day, as the others stand."""
        return all(
            other.shares and farm.shares
            for other in self.problem.farms
            if other is not farm and self._visited(other, day)
        )

    def _minutes(self, farm: str, day: int) -> int:
        here = self.on.get((farm, day), ())
        return sum(minutes_of(self.jobs[key], self.placed) for key in here)

    def _room(self, job: Job, day: int) -> bool:
        """Whether the day has the minutes for one more job."""
        self._set(job, day)
        fits = self._fits(job.farm, day)
        self._unset(job)
        return fits

    def _fits(self, farm: str, day: int) -> bool:
        everywhere = sum(self._minutes(other, day) for other in self.farms)
        here = self._minutes(farm, day)
        return here <= self.farms[farm].minutes and everywhere <= self.problem.minutes_left(day)

    def _set(self, job: Job, day: int) -> None:
        self.placed[job.key] = day
        self.on[job.farm, day].add(job.key)

    def _unset(self, job: Job) -> None:
        self.on[job.farm, self.placed.pop(job.key)].discard(job.key)

    # ---- steps -----------------------------------------------------------------------------------

    def days(self, job: Job) -> list[int]:
        """The days on which a job could be done, the best first: a visit there is, in time and
        early; then a new one, in time and late; then whatever is left."""
        first, last = first_day(job, self.placed), self._last(job)
        if first is None:
            return []
        farm = self.farms[job.farm]
        days = [day for day in farm.days if first <= day <= last and self._open(farm, day)]
        if job.overdue:
            return days
        wanted = self.wanted[job.key]
        there = [day for day in days if self._visited(farm, day) and day <= wanted]
        new = [day for day in days if day <= wanted and day not in there]
        late = [day for day in days if day > wanted]
        return [*there, *reversed(new), *late]

    def place(self, job: Job, days: Iterable[int]) -> None:
        """On the first of these days that has room; on none where none has."""
        day = next((day for day in days if self._room(job, day)), None)
        if day is not None:
            self._set(job, day)

    def give_up_visits(self) -> None:
        """Try to do without each visit, the smallest first."""
        for visit in sorted(self.on, key=lambda visit: (len(self.on[visit]), visit)):
            farm, day = visit
            jobs = sorted((self.jobs[key] for key in self.on[visit]), key=self._turn)
            if not jobs or day in self.farms[farm].kept:
                continue
            before, worth = dict(self.placed), cost(self.problem, self.placed)
            self._move(jobs, day)
            if cost(self.problem, self.placed) >= worth:
                self.restore(before)

    def _move(self, jobs: list[Job], away: int) -> None:
        for job in jobs:
            self._unset(job)
        for job in jobs:
            farm = self.farms[job.farm]
            self.place(job, [d for d in self.days(job) if d != away and self._visited(farm, d)])

    def restore(self, placed: dict[JobKey, int]) -> None:
        """Back to an answer from before."""
        for visit in self.on.values():
            visit.clear()
        self.placed = {}
        for key, day in placed.items():
            self._set(self.jobs[key], day)

    def pull_forward(self) -> None:
        """Do each job on the first visit that there is."""
        for job in self.order:
            day = self.placed.get(job.key)
            if day is None:
                continue
            self._unset(job)
            farm = self.farms[job.farm]
            # Where it goes, another that took no minutes beside it may now take some.
            earlier = (
                d for d in self.days(job)
                if d < day and self._visited(farm, d) and self._fits(job.farm, day)
            )  # fmt: skip
            self._set(job, next((d for d in sorted(earlier) if self._room(job, d)), day))
