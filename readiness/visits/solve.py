"""The best answer to a planning problem: exact, or in the time there is the best that was found.

Farms are planned each alone first. What is asked for adds up over farms, so where those answers
can stand side by side they are the best there is; farms that get in each other's way are planned
together.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, replace
from math import ceil
from typing import TYPE_CHECKING

from readiness.visits.greedy import greedy, tidy
from readiness.visits.model import Model
from readiness.visits.problem import Cost, Farm, Job, JobKey, Problem, cost, minutes_on

if TYPE_CHECKING:
    from readiness.visits.highs import Solver

MANY = 300
"""From so many jobs on, farms that are planned together are first planned one after another: the
exact way may not come to its end."""

Team = tuple[Farm, ...]
"""Farms that are planned together."""


@dataclass(frozen=True, slots=True)
class Answer:
    """``exact``: proven to be the best. ``bound``: with as few jobs unplaced and overdue ones
    waiting as short, there are no fewer visits than this."""

    placed: dict[JobKey, int]
    exact: bool
    bound: int


class _Budget:
    """The seconds of the solver's own time that are left."""

    def __init__(self, seconds: float) -> None:
        self.left = seconds

    def spend(self, seconds: float) -> None:
        self.left = max(0.0, self.left - seconds)


def solve(problem: Problem, seconds: float) -> Answer:
    """The best answer, or what was found in so many seconds of the solver's time.

    The same problem has the same answer, in whatever order its farms and jobs are given, unless
    the time runs out.
    """
    problem = _in_order(problem)
    budget = _Budget(seconds)
    teams: list[Team] = [(farm,) for farm in problem.farms]
    answers = {team: _together(_part(problem, team), budget) for team in teams}
    while clashing := _clashing(problem, answers):
        team = _merged(clashing)
        floor = _floor(problem, {each: answers.pop(each) for each in clashing})
        answers[team] = _together(_part(problem, team), budget, floor)
    return Answer(
        {key: day for answer in answers.values() for key, day in answer.placed.items()},
        all(answer.exact for answer in answers.values()),
        sum(answer.bound for answer in answers.values()),
    )


def _merged(teams: Iterable[Team]) -> Team:
    return tuple(sorted((farm for team in teams for farm in team), key=lambda farm: farm.name))


def _in_order(problem: Problem) -> Problem:
    farms = tuple(sorted(problem.farms, key=lambda farm: farm.name))
    return replace(problem, farms=farms, jobs=tuple(sorted(problem.jobs, key=lambda j: j.key)))


def _part(problem: Problem, team: Team) -> Problem:
    names = {farm.name for farm in team}
    jobs = tuple(job for job in problem.jobs if job.farm in names)
    return replace(problem, farms=team, jobs=jobs)


def _clashing(problem: Problem, answers: dict[Team, Answer]) -> list[Team]:
    """Teams of farms whose answers cannot stand side by side: some that get in each other's way
    on one day. Empty where all can."""
    shares = {farm.name: farm.shares for farm in problem.farms}
    teams: dict[int, dict[Team, bool]] = defaultdict(dict)
    minutes: dict[int, int] = defaultdict(int)
    for team, answer in answers.items():
        part = _part(problem, team)
        used = minutes_on(part, answer.placed)
        for farm, day in sorted(_visits(part, answer.placed)):
            teams[day][team] = teams[day].get(team, True) and shares[farm]
            minutes[day] += used.get((farm, day), 0)
    for day, on in sorted(teams.items()):
        if len(on) > 1 and (minutes[day] > problem.minutes_left(day) or not all(on.values())):
            return list(on)
    return []


def _visits(problem: Problem, placed: dict[JobKey, int]) -> set[tuple[str, int]]:
    kept = {(farm.name, day) for farm in problem.farms for day in farm.kept}
    return kept | {(job.farm, placed[job.key]) for job in problem.jobs if job.key in placed}


# ---- farms that are planned together -------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Floor:
    """What the farms of a team need when each is planned alone: together they need no less."""

    unplaced: int
    wait: int
    visits: int


def _together(problem: Problem, budget: _Budget, floor: _Floor | None = None) -> Answer:
    """The best answer for these farms. ``floor``: where each was planned alone before."""
    jobs = _placeable(problem)
    if floor is not None:
        floor = replace(floor, unplaced=floor.unplaced - len(problem.jobs) + len(jobs))
    problem = replace(problem, jobs=jobs)
    best = greedy(problem)
    if not problem.jobs:
        return Answer({}, True, cost(problem, best).visits)
    if floor is not None and len(jobs) > MANY:
        half = _Budget(budget.left / 2)
        budget.spend(half.left)
        quick = _one_after_another(problem, half)
        budget.left += half.left
        best = min(best, quick, key=lambda placed: cost(problem, placed))
    return _Stages(problem, budget, floor, best).run()


def _one_after_another(problem: Problem, budget: _Budget) -> dict[JobKey, int]:
    """A quick answer for several farms: each the best that the ones before it leave, those with
    the most to do first."""
    jobs = {farm.name: len(_part(problem, (farm,)).jobs) for farm in problem.farms}
    placed: dict[JobKey, int] = {}
    for farm in sorted(problem.farms, key=lambda farm: (-jobs[farm.name], farm.name)):
        others = [other for other in problem.farms if other is not farm]
        away = {
            day
            for name, day in _visits(problem, placed)
            if name != farm.name
            and not (farm.shares and next(o.shares for o in others if o.name == name))
        }
        days = tuple(day for day in farm.days if day not in away)
        taken = dict(problem.taken)
        for (_, day), minutes in minutes_on(problem, placed).items():
            taken[day] = taken.get(day, 0) + minutes
        alone = replace(_part(problem, (farm,)), farms=(replace(farm, days=days),), taken=taken)
        placed |= _together(alone, budget).placed
    return placed


def _floor(problem: Problem, answers: dict[Team, Answer]) -> _Floor:
    costs = [cost(_part(problem, team), answer.placed) for team, answer in answers.items()]
    return _Floor(
        sum(worth.unplaced for worth in costs),
        sum(worth.wait for worth in costs),
        sum(answer.bound for answer in answers.values()),
    )


def _placeable(problem: Problem) -> tuple[Job, ...]:
    """The jobs that could have a day if there were no others but those they wait for."""
    farms = {farm.name: farm for farm in problem.farms}
    kept = {
        job.key: job
        for job in problem.jobs
        if any(job.first <= day <= job.last for day in farms[job.farm].days)
        and (job.beside or job.minutes <= min(farms[job.farm].minutes, problem.minutes))
    }
    while gone := [
        key
        for key, job in kept.items()
        if any((job.bull, other) not in kept for other, _ in job.after)
    ]:
        for key in gone:
            del kept[key]
    return tuple(kept.values())


def fewest_days(problem: Problem) -> int:
    """No fewer visits can reach every window, however long the days: the most windows of each farm
    of which no two share a day, found by their ends (interval stabbing)."""
    count = 0
    for farm in problem.farms:
        last = -1
        windows = []
        for job in problem.jobs:
            days = [day for day in farm.days if job.first <= day <= job.last]
            if job.farm == farm.name and days:
                windows.append((days[-1], days[0]))
        for end, first in sorted(windows):
            if first > last:
                last = end
                count += 1
    return count


def _solver(model: Model) -> Solver:
    from readiness.visits.highs import Solver  # numpy and HiGHS, only where there is a plan

    return Solver(model)


class _Stages:
    """One thing after another is made least, each without giving up what was won before."""

    def __init__(
        self, problem: Problem, budget: _Budget, floor: _Floor | None, quick: dict[JobKey, int]
    ) -> None:
        self.problem = problem
        self.budget = budget
        self.floor = floor
        self.best = quick
        self.exact = True
        self.model = Model(problem, place_all=True)
        self.solver = _solver(self.model)

    def run(self) -> Answer:
        if len(self.best) < len(self.problem.jobs):
            self._place_most()
        if any(job.overdue for job in self.problem.jobs):
            self._least(self.model.wait(), self._worth.wait, self._least_wait())
        bound = self._least(self.model.visited(), self._worth.visits, self._least_visits())
        self._least(self.model.late_then_days(), None)
        return Answer(self.best, self.exact, bound)

    def _place_most(self) -> None:
        """See whether every job can have a day; where that is not so, give one to the most."""
        found = self.solver.least([0.0] * self.model.width, self.budget.left, None)
        self.budget.spend(found.seconds)
        if found.values is not None:
            self._take(self.model.placed(found.values))
            return
        self.model = Model(self.problem, place_all=False)
        self.solver = _solver(self.model)
        no_more = len(self.problem.jobs) - (1 if found.impossible else 0)
        self._least(self.model.unplaced(), -len(self.best), -no_more)

    @property
    def _worth(self) -> Cost:
        return cost(self.problem, self.best)

    def _least_wait(self) -> int:
        """Overdue jobs wait no less than until the first day on which one may come."""
        if len(self.best) < len(self.problem.jobs):
            return 0
        return sum(
            self.model.days_of(job)[0] - job.first for job in self.problem.jobs if job.overdue
        )

    def _least_visits(self) -> int:
        """No fewer visits than these; as many as each farm needs alone, where nobody gives way."""
        worth, floor = self._worth, self.floor
        if floor and (worth.unplaced, worth.wait) == (floor.unplaced, floor.wait):
            return floor.visits
        return fewest_days(self.problem) if worth.unplaced == 0 else 0

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
        found = self.solver.least(costs, self.budget.left, start)
        self.budget.spend(found.seconds)
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
