"""The references against each other and against examples worked by hand, so that a wrong one shows.

Only when they agree are they fit to judge the planner (``test_planned``).
"""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from readiness.visits.problem import Farm, Job, Problem, cost, minutes_on

from . import instances
from .reference import allowed, best, days_of, every_answer, price
from .second_solver import solve_cbc
from .stabbing import fewest_days

DAYS = tuple(range(100, 110))
FARM = Farm("Low Farm", DAYS, minutes=60)
HILL = Farm("Hill Farm", DAYS, minutes=60)
TRIM = Job("bull 1", "trim", "Low Farm", first=100, last=105, wanted=105, minutes=30)
WALK = Job("bull 1", "walk", "Low Farm", first=103, last=108, wanted=108, minutes=20)
VET = Job("bull 2", "vet", "Hill Farm", first=100, last=100, wanted=100, minutes=40)


def _problem(
    *jobs: Job, farms: tuple[Farm, ...] = (FARM,), minutes: int = 480, taken: int = 0
) -> Problem:
    return Problem(100, minutes, farms, jobs, {100: taken})


# What is to be decided, and its least (unplaced, wait, visits, late, days), worked by hand.
WORKED = {
    "one visit on 103 for both": (_problem(TRIM, WALK), (0, 0, 1, 0, 3 + 3)),
    "an overdue job is not made to wait for the other": (
        _problem(replace(TRIM, overdue=True), WALK),
        (0, 0, 2, 0, 0 + 3),
    ),
    "one visit and two days late, sooner than two visits": (
        _problem(replace(TRIM, wanted=101), WALK),
        (0, 0, 1, 2, 3 + 3),
    ),
    "wanted before the first day: late whenever": (
        _problem(replace(TRIM, first=102, wanted=99)),
        (0, 0, 1, 3, 2),
    ),
    "five days apart are two visits, 100 and 105": (
        _problem(TRIM, replace(WALK, after=(("trim", 5),))),
        (0, 0, 2, 0, 0 + 5),
    ),
    "no lag: both on 103": (
        _problem(TRIM, replace(WALK, after=(("trim", 0),))),
        (0, 0, 1, 0, 3 + 3),
    ),
    "nine days apart there is no day for the second": (
        _problem(TRIM, replace(WALK, after=(("trim", 9),))),
        (1, 0, 1, 0, 0),
    ),
    "the first has no day, so the second has none": (
        _problem(replace(TRIM, first=90, last=99), replace(WALK, after=(("trim", 0),))),
        (2, 0, 0, 0, 0),
    ),
    "45 minutes hold only one of them: 100 and 103": (
        _problem(TRIM, WALK, farms=(replace(FARM, minutes=45),)),
        (0, 0, 2, 0, 0 + 3),
    ),
    "beside the other it takes no minutes": (
        _problem(TRIM, replace(WALK, beside="trim"), farms=(replace(FARM, minutes=30),)),
        (0, 0, 1, 0, 3 + 3),
    ),
    "alone it takes its own": (
        _problem(replace(WALK, beside="trim"), farms=(replace(FARM, minutes=19),)),
        (1, 0, 0, 0, 0),
    ),
    "a promised day takes the job, days later": (
        _problem(TRIM, farms=(replace(FARM, kept=(104,)),)),
        (0, 0, 1, 0, 4),
    ),
    "a promise is a visit without a job": (
        _problem(farms=(replace(FARM, kept=(104, 106)),)),
        (0, 0, 2, 0, 0),
    ),
    "the farms do not share 100: the trim waits a day": (
        _problem(TRIM, VET, farms=(FARM, replace(HILL, shares=True))),
        (0, 0, 2, 0, 1 + 0),
    ),
    "both share: both on 100": (
        _problem(TRIM, VET, farms=(replace(FARM, shares=True), replace(HILL, shares=True))),
        (0, 0, 2, 0, 0),
    ),
    "a promise to a farm that does not share keeps the vet away": (
        _problem(VET, farms=(replace(FARM, kept=(100,)), HILL)),
        (1, 0, 1, 0, 0),
    ),
    "70 minutes in one day are one too many for 69": (
        _problem(
            TRIM,
            VET,
            farms=(replace(FARM, shares=True), replace(HILL, shares=True)),
            minutes=69,
        ),
        (0, 0, 2, 0, 1 + 0),
    ),
    "30 minutes of 100 are left, and enough": (_problem(TRIM, taken=450), (0, 0, 1, 0, 0)),
    "29 minutes of 100 are left: 101": (_problem(TRIM, taken=451), (0, 0, 1, 0, 1)),
    "100 is spoken for twice over": (_problem(TRIM, taken=960), (0, 0, 1, 0, 1)),
    "one that is late on 104 goes first, though two others wait four days": (
        _problem(
            replace(TRIM, wanted=100),
            replace(WALK, first=100, minutes=15),
            replace(WALK, id="look", first=100, minutes=15),
            farms=(replace(FARM, days=(100, 104), minutes=30),),
        ),
        (0, 0, 2, 0, 0 + 4 + 4),
    ),
    "two placed are better than one overdue placed at once": (
        _problem(
            replace(TRIM, overdue=True, minutes=60),
            replace(WALK, first=100, last=100, minutes=10),
        ),
        (0, 1, 2, 0, 1 + 0),
    ),
}


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
    "no day of the farm": (_problem(replace(TRIM, last=120)), {TRIM.key: 115}, 1),
    "before its window": (_problem(WALK), {WALK.key: 102}, 1),
    "after its window": (_problem(TRIM), {TRIM.key: 106}, 1),
    "no day at all of its farm's or its own": (_problem(TRIM), {TRIM.key: 110}, 2),
    "a job of nobody": (_problem(TRIM), {("bull 9", "trim"): 100}, 1),
    "too soon after": (
        _problem(TRIM, replace(WALK, after=(("trim", 4),))),
        {TRIM.key: 100, WALK.key: 103},
        1,
    ),
    "after one that has no day": (
        _problem(TRIM, replace(WALK, after=(("trim", 4),))),
        {WALK.key: 108},
        1,
    ),
    "more than the farm's minutes": (
        _problem(TRIM, WALK, farms=(replace(FARM, minutes=49),)),
        {TRIM.key: 104, WALK.key: 104},
        1,
    ),
    "not beside it on another day": (
        _problem(TRIM, replace(WALK, beside="trim"), farms=(replace(FARM, minutes=19),)),
        {WALK.key: 104},
        1,
    ),
    "more than a person's minutes": (_problem(TRIM, minutes=29), {TRIM.key: 100}, 1),
    "more than is left of them": (_problem(TRIM, taken=451), {TRIM.key: 100}, 1),
    "a day with a farm that does not share": (
        _problem(TRIM, VET, farms=(FARM, replace(HILL, shares=True))),
        {TRIM.key: 100, VET.key: 100},
        1,
    ),
    "a promised day of a farm that does not share": (
        _problem(TRIM, farms=(FARM, replace(HILL, kept=(101,)))),
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
    assert allowed(_problem(TRIM, after), {TRIM.key: 100, after.key: 104}) == []
    assert allowed(_problem(TRIM, after), {TRIM.key: 105}) == []
    full = (replace(FARM, minutes=50),)
    assert allowed(_problem(TRIM, WALK, farms=full), {TRIM.key: 105, WALK.key: 105}) == []
    assert allowed(_problem(TRIM, minutes=30), {TRIM.key: 100}) == []
    assert allowed(_problem(TRIM, taken=450), {TRIM.key: 100}) == []
    assert allowed(_problem(TRIM, VET, farms=(FARM, HILL)), {TRIM.key: 101, VET.key: 100}) == []


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
        "overbooked": sum(any(p.minutes_left(day) < 0 for day in p.taken) for p in every),
    }
    assert {name: count for name, count in covered.items() if count < 3} == {}
    binds = [_without_end_of_minutes(problem) for problem in every[:40]]
    dearer = sum(best(one)[0] > best(two)[0] for one, two in zip(every, binds, strict=False))
    assert dearer >= 10


def _without_end_of_minutes(problem: Problem) -> Problem:
    wide = tuple(replace(farm, minutes=instances.WIDE) for farm in problem.farms)
    return replace(problem, minutes=instances.WIDE, farms=wide)
