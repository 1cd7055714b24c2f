"""One thing after another is made least, each without giving up what was won before."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import TYPE_CHECKING, NamedTuple

from readiness.visits.greedy import tidy
from readiness.visits.model import Model
from readiness.visits.problem import Cost, JobKey, Problem, cost
from readiness.visits.program import Budget, Columns

if TYPE_CHECKING:
    from readiness.visits.highs import Solver

MOST_COLUMNS = 15_000
"""In a wider model the solver overruns its time by far: how many visits there are is found out all
the same, the best of their days is not."""


@dataclass(frozen=True, slots=True)
class Answer:
    """``exact``: proven to be the best. ``bound``: no plan that leaves as few jobs without a day,
    and makes overdue ones wait as little, has fewer visits. ``unplaced``: every plan leaves at
    least so many jobs without a day."""

    placed: dict[JobKey, int]
    exact: bool
    bound: int
    unplaced: int


class Floor(NamedTuple):
    """What every answer needs: no fewer jobs without a day; with as few, no less waiting; with as
    little, no fewer visits."""

    unplaced: int
    wait: int
    visits: int


def fewest_days(problem: Problem) -> int:
    """No fewer visits can reach every window, however long the days: the most windows of each farm
    of which no two share a day, found by their ends (interval stabbing)."""
    count = 0
    for farm in problem.farms:
        last = -1
        jobs = (job for job in problem.jobs if job.farm == farm.name)
        windows = ([day for day in farm.days if job.first <= day <= job.last] for job in jobs)
        for end, first in sorted((days[-1], days[0]) for days in windows if days):
            if first > last:
                last = end
                count += 1
    return count


def solver_of(model: Columns) -> Solver:
    from readiness.visits.highs import Solver  # numpy and HiGHS, only where there is a plan

    return Solver(model)


@dataclass
class Stages:
    """One thing after another is made least, each without giving up what was won before. ``best``:
    the best answer so far, at first a quick one."""

    problem: Problem
    budget: Budget
    floor: Floor
    best: dict[JobKey, int]
    exact: bool = True

    def __post_init__(self) -> None:
        self._begin(place_all=True)

    def _begin(self, *, place_all: bool) -> None:
        self.model = Model(self.problem, place_all=place_all)
        self.solver = solver_of(self.model)

    def run(self) -> Answer:
        """The best answer, and fewest visits."""
        unplaced = self._place_most() if self._worth.unplaced else 0
        if any(job.overdue for job in self.problem.jobs):
            self._least(self.model.wait(), self._worth.wait, self._least_wait())
        bound = self._least(self.model.visited(), self._worth.visits, self._least_visits())
        if self.model.width <= MOST_COLUMNS:
            self._least(self.model.late_then_days(), None)
        else:
            self.exact = False
        return Answer(self.best, self.exact, bound, unplaced)

    def _place_most(self) -> int:
        """See whether every job can have a day; where that is not so, give one to the most.
        Returns how many are without one in any answer."""
        no_more = len(self.problem.jobs) - self.floor.unplaced
        if len(self.best) == no_more:
            self._begin(place_all=False)
            self._least(self.model.unplaced(), -no_more, -no_more)
            return self.floor.unplaced
        found = self.solver.least(self.model.objective(()), self.budget, None)
        if found.values is not None:
            self._take(self.model.placed(found.values))
            return 0
        self._begin(place_all=False)
        no_more = min(no_more, len(self.problem.jobs) - (1 if found.impossible else 0))
        most = -self._least(self.model.unplaced(), -len(self.best), -no_more)
        return len(self.problem.jobs) - most

    @property
    def _worth(self) -> Cost:
        return cost(self.problem, self.best)

    def _least_wait(self) -> int:
        """Overdue jobs wait no less than until the first day on which one may come, and than the
        floor says."""
        if self._worth.unplaced != self.floor.unplaced:
            return 0
        if self.floor.unplaced:
            return self.floor.wait
        overdue = [job for job in self.problem.jobs if job.overdue]
        return max(self.floor.wait, sum(self.model.days_of(j)[0] - j.first for j in overdue))

    def _least_visits(self) -> int:
        """No fewer visits than the floor says, nor than the windows ask for."""
        worth, floor = self._worth, self.floor
        fewest = fewest_days(self.problem) if worth.unplaced == 0 else 0
        same = (worth.unplaced, worth.wait) == (floor.unplaced, floor.wait)
        return max(fewest, floor.visits) if same else fewest

    def _least(self, costs: list[float], known: int | None, floor: int = 0) -> int:
        """Make this least. ``known``: what the best answer so far comes to, None where the costs
        are not to be held afterwards. Returns what is proven: it comes to no less."""
        if known is not None and known == floor:
            self.solver.at_most(costs, known)
            return known
        if not self.budget.left:
            self.exact = False
            return floor
        if floor:
            self.solver.at_least(costs, floor)
        start = self.model.values_of(self.best)
        found = self.solver.least(costs, self.budget, start)
        if found.values is not None:
            self._take(self.model.placed(found.values))
        self.exact = self.exact and found.proven
        if known is not None:
            worth = self.model.values_of(self.best)
            self.solver.at_most(
                costs, sum(cost * value for cost, value in zip(costs, worth, strict=True))
            )
        return max(floor, ceil(found.least - 1e-6)) if found.least > -1e15 else floor

    def _take(self, placed: dict[JobKey, int]) -> None:
        """Go on from this answer where it is better. One that gives nobody's visits a thought is
        put in order first: there may be no time to do better."""
        tidied = tidy(self.problem, placed)
        self.best = min(self.best, placed, tidied, key=lambda each: cost(self.problem, each))
