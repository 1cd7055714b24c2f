"""The best answer to a planning problem: exact, or in the time there is the best that was found.

Farms are planned each alone first. What is asked for adds up over farms, so where those answers
can stand side by side they are the best there is; farms that get in each other's way are planned
together.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from itertools import chain

from readiness.visits.greedy import greedy
from readiness.visits.model import Sketch
from readiness.visits.problem import Farm, Job, JobKey, Problem, cost, minutes_on, visits_of
from readiness.visits.program import Budget
from readiness.visits.stages import Answer, Floor, Stages, solver_of

Team = tuple[Farm, ...]
"""Farms that are planned together."""


def solve(problem: Problem, seconds: float) -> Answer:
    """The best answer, or what was found in so many seconds of the solver's time.

    The same problem has the same answer, in whatever order its farms and jobs are given, unless
    the time runs out.
    """
    farms = tuple(sorted(problem.farms, key=lambda farm: farm.name))
    jobs = tuple(sorted(problem.jobs, key=lambda job: job.key))
    problem = replace(problem, farms=farms, jobs=jobs)
    budget = Budget(seconds)
    teams: list[Team] = [(farm,) for farm in problem.farms]
    answers = {team: _together(_part(problem, team), budget) for team in teams}
    while clashing := _clashing(problem, answers):
        team = tuple(sorted(chain(*clashing), key=lambda farm: farm.name))
        floor = _floor(problem, {each: answers.pop(each) for each in clashing})
        answers[team] = _together(_part(problem, team), budget, floor)
    return Answer(
        {key: day for answer in answers.values() for key, day in answer.placed.items()},
        all(answer.exact for answer in answers.values()),
        sum(answer.bound for answer in answers.values()),
        sum(answer.unplaced for answer in answers.values()),
    )


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
        for farm, day in sorted(visits_of(part, answer.placed)):
            teams[day][team] = teams[day].get(team, True) and shares[farm]
            minutes[day] += used.get((farm, day), 0)
    for day, on in sorted(teams.items()):
        if len(on) > 1 and (minutes[day] > problem.minutes_left(day) or not all(on.values())):
            return list(on)
    return []


# ---- farms that are planned together -------------------------------------------------------------


def _together(problem: Problem, budget: Budget, alone: Floor | None = None) -> Answer:
    """The best answer for these farms. ``alone``: what they need where each is planned alone."""
    jobs = _placeable(problem)
    gone = len(problem.jobs) - len(jobs)
    problem = replace(problem, jobs=jobs)
    best = greedy(problem)
    floor = Floor(0, 0, 0)
    if not jobs:
        return Answer({}, True, cost(problem, best).visits, gone)
    if alone is not None:
        alone = alone._replace(unplaced=max(0, alone.unplaced - gone))
        placed, floor = _sketched(problem, budget, alone)
        best = min(best, placed, key=lambda each: cost(problem, each))
    answer = Stages(problem, budget, floor, best).run()
    return replace(answer, unplaced=answer.unplaced + gone)


def _sketched(problem: Problem, budget: Budget, alone: Floor) -> tuple[dict[JobKey, int], Floor]:
    """An answer on the days of a sketch, and what every answer needs."""
    sketch = Sketch(problem)
    solver = solver_of(sketch)
    values: list[float] | None = None
    needs: list[int] = []
    for costs in (sketch.unplaced(), sketch.wait(), sketch.visited()):
        found = solver.least(costs, budget, values)
        values = found.values or values
        if values is None or not found.proven:
            break
        needs.append(round(sum(c * v for c, v in zip(costs, values, strict=True))))
        solver.at_most(costs, needs[-1])
    if values is None:
        return {}, alone
    half = Budget(budget.left / 2)
    budget.left -= half.left
    placed = _one_after_another(sketch.narrowed(values), half)
    budget.left += half.left
    if len(needs) < 3:
        return placed, alone
    return placed, max(Floor(*needs), alone)


def _one_after_another(problem: Problem, budget: Budget) -> dict[JobKey, int]:
    """A quick answer for several farms: each the best that the ones before it leave, those with
    the most to do first."""
    shares = {farm.name: farm.shares for farm in problem.farms}
    jobs = {farm.name: len(_part(problem, (farm,)).jobs) for farm in problem.farms}
    placed: dict[JobKey, int] = {}
    for farm in sorted(problem.farms, key=lambda farm: (-jobs[farm.name], farm.name)):
        away = {
            day
            for name, day in visits_of(problem, placed)
            if name != farm.name and not (farm.shares and shares[name])
        }
        days = tuple(day for day in farm.days if day not in away)
        taken = dict(problem.taken)
        for (_, day), minutes in minutes_on(problem, placed).items():
            taken[day] = taken.get(day, 0) + minutes
        alone = replace(_part(problem, (farm,)), farms=(replace(farm, days=days),), taken=taken)
        placed |= _together(alone, budget).placed
    return placed


def _floor(problem: Problem, answers: dict[Team, Answer]) -> Floor:
    if not all(answer.exact for answer in answers.values()):
        return Floor(0, 0, 0)
    costs = [cost(_part(problem, team), answer.placed) for team, answer in answers.items()]
    return Floor(
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
