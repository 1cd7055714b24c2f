"""The references against each other and against examples worked by hand, so that a wrong one shows.

Only when they agree are they fit to judge the planner (``test_planned``).
"""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from readiness.visits.problem import Problem, cost, minutes_on

from . import instances
from .reference import allowed, best, days_of, every_answer, price
from .second_solver import solve_cbc
from .stabbing import fewest_days
from .worked import FARM, HILL, TRIM, VET, WALK, WORKED, plan


@pytest.mark.parametrize("name", WORKED)
def test_brute_force_finds_what_was_worked_by_hand(name: str) -> None:
    """Brute force against examples worked by hand."""
    problem, least = WORKED[name]
    found, placed = best(problem)
    assert found == least
    assert allowed(problem, placed) == []


@pytest.mark.parametrize("name", WORKED)
def test_the_second_solver_finds_what_was_worked_by_hand(name: str) -> None:
    """The program for CBC against examples worked by hand."""
    problem, least = WORKED[name]
    assert solve_cbc(problem) == least


BROKEN = {
    "no day of the farm": (plan(replace(TRIM, last=120)), {TRIM.key: 115}, 1),
    "before its window": (plan(WALK), {WALK.key: 102}, 1),
    "after its window": (plan(TRIM), {TRIM.key: 106}, 1),
    "no day at all of its farm's or its own": (plan(TRIM), {TRIM.key: 110}, 2),
    "a job of nobody": (plan(TRIM), {("bull 9", "trim"): 100}, 1),
    "too soon after": (
        plan(TRIM, replace(WALK, after=(("trim", 4),))),
        {TRIM.key: 100, WALK.key: 103},
        1,
    ),
    "after one that has no day": (
        plan(TRIM, replace(WALK, after=(("trim", 4),))),
        {WALK.key: 108},
        1,
    ),
    "more than the farm's minutes": (
        plan(TRIM, WALK, farms=(replace(FARM, minutes=49),)),
        {TRIM.key: 104, WALK.key: 104},
        1,
    ),
    "not beside it on another day": (
        plan(TRIM, replace(WALK, beside="trim"), farms=(replace(FARM, minutes=19),)),
        {WALK.key: 104},
        1,
    ),
    "more than a person's minutes": (plan(TRIM, minutes=29), {TRIM.key: 100}, 1),
    "more than is left of them": (plan(TRIM, taken=451), {TRIM.key: 100}, 1),
    "a day with a farm that does not share": (
        plan(TRIM, VET, farms=(FARM, replace(HILL, shares=True))),
        {TRIM.key: 100, VET.key: 100},
        1,
    ),
    "a promised day of a farm that does not share": (
        plan(TRIM, farms=(FARM, replace(HILL, kept=(101,)))),
        {TRIM.key: 101},
        1,
    ),
}


@pytest.mark.parametrize("name", BROKEN)
def test_each_broken_constraint_is_seen(name: str) -> None:
    """``allowed`` against answers that each break one sentence (or as many as said), by hand."""
    problem, placed, count = BROKEN[name]
    assert len(allowed(problem, placed)) == count


def test_what_just_keeps_to_the_constraints_is_allowed() -> None:
    """``allowed`` against answers on the very edge of each sentence, by hand."""
    after = replace(WALK, after=(("trim", 4),))
    assert allowed(plan(TRIM, after), {TRIM.key: 100, after.key: 104}) == []
    assert allowed(plan(TRIM, after), {TRIM.key: 105}) == []
    full = (replace(FARM, minutes=50),)
    assert allowed(plan(TRIM, WALK, farms=full), {TRIM.key: 105, WALK.key: 105}) == []
    assert allowed(plan(TRIM, minutes=30), {TRIM.key: 100}) == []
    assert allowed(plan(TRIM, taken=450), {TRIM.key: 100}) == []
    assert allowed(plan(TRIM, VET, farms=(FARM, HILL)), {TRIM.key: 101, VET.key: 100}) == []


def test_brute_force_gives_up_nothing_worth_having() -> None:
    """Brute force, which leaves hopeless beginnings, against going through every answer."""
    for seed in range(300):
        problem = instances.tiny(seed)
        every = (placed for placed in every_answer(problem) if not allowed(problem, placed))
        least = min(price(problem, problem.jobs, placed) for placed in every)
        found, placed = best(problem)
        assert found == least, seed
        assert found == price(problem, problem.jobs, placed), seed
        assert allowed(problem, placed) == [], seed


def test_brute_force_and_the_second_solver_agree() -> None:
    """Brute force against CBC, on random small problems."""
    for seed in range(60):
        problem = instances.small(seed)
        assert best(problem)[0] == solve_cbc(problem), seed


def test_the_fewest_points_are_the_fewest_visits() -> None:
    """The textbooks' greedy against brute force, where there is nothing but windows."""
    for seed in range(200):
        problem = instances.intervals(seed, jobs=(2, 6), horizon=14)
        (farm,) = problem.farms
        windows = [(job.first, job.last) for job in problem.jobs]
        assert len(fewest_days(windows, farm.days, farm.kept)) == best(problem)[0].visits, seed


def test_points_worked_by_hand() -> None:
    """The textbooks' greedy against examples worked by hand."""
    days = range(1, 21)
    assert fewest_days([(1, 4), (2, 6), (5, 9), (8, 12)], days) == {4, 9}
    assert fewest_days([(1, 4), (2, 6), (5, 9), (8, 12)], [3, 8, 12]) == {3, 8}
    assert fewest_days([(1, 4), (5, 9)], days, kept=[6, 15]) == {4, 6, 15}
    assert fewest_days([(1, 4), (30, 40)], days) == {4}
    assert fewest_days([(5, 5), (1, 9), (7, 7)], days) == {5, 7}


def test_the_problems_own_sums_agree_with_the_references() -> None:
    """``cost`` and ``minutes_on`` of the problem against ``price`` and ``allowed``, on answers
    drawn blindly, allowed or not."""
    for seed in range(200):
        draw = random.Random(seed)
        problem = instances.small(seed)
        placed = {
            job.key: draw.choice(days)
            for job in problem.jobs
            if (days := days_of(problem, job)) and draw.random() < 0.7
        }
        assert cost(problem, placed) == price(problem, problem.jobs, placed), seed
        most = {farm.name: farm.minutes for farm in problem.farms}
        used = minutes_on(problem, placed).items()
        too_much = [(farm, day) for (farm, day), minutes in used if minutes > most[farm]]
        said = [line for line in allowed(problem, placed) if "minutes at" in line]
        assert len(said) == len(too_much), seed


def test_the_random_problems_hold_what_they_are_to_hold() -> None:
    """The instances against the list of what they must cover, each at least a few times in 250."""
    every = [instances.small(seed) for seed in range(250)]
    jobs = [(problem, job) for problem in every for job in problem.jobs]
    ids = {(id(problem), job.key) for problem, job in jobs}
    farms = [farm for problem in every for farm in problem.farms]
    covered = {
        "one farm": sum(len(problem.farms) == 1 for problem in every),
        "three farms": sum(len(problem.farms) == 3 for problem in every),
        "six jobs": sum(len(problem.jobs) == 6 for problem in every),
        "sharing": sum(farm.shares for farm in farms),
        "not sharing": sum(not farm.shares for farm in farms),
        "promised": sum(bool(farm.kept) for farm in farms),
        "no day": sum(not farm.days for farm in farms),
        "empty window": sum(not days_of(problem, job) for problem, job in jobs),
        "overdue": sum(job.overdue for _, job in jobs),
        "wanted before first": sum(job.wanted < job.first for _, job in jobs),
        "no lag": sum((0 in dict(job.after).values()) for _, job in jobs),
        "five days": sum((5 in dict(job.after).values()) for _, job in jobs),
        "after two": sum(len(job.after) == 2 for _, job in jobs),
        "beside": sum((id(p), (job.bull, job.beside)) in ids for p, job in jobs),
        "beside nobody": sum(job.beside == "no job" for _, job in jobs),
        "overbooked": sum(any(p.minutes < used for used in p.taken.values()) for p in every),
    }
    assert {name: count for name, count in covered.items() if count < 3} == {}
    binds = [_without_end_of_minutes(problem) for problem in every[:40]]
    dearer = sum(best(one)[0] > best(two)[0] for one, two in zip(every, binds, strict=False))
    assert dearer >= 10


def _without_end_of_minutes(problem: Problem) -> Problem:
    wide = tuple(replace(farm, minutes=instances.WIDE) for farm in problem.farms)
    return replace(problem, minutes=instances.WIDE, farms=wide)
