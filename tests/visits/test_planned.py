"""The planner itself held to the references: brute force, CBC, and the textbooks' greedy.

``test_reference`` holds the references to one another and to examples worked by hand.
"""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from hypothesis import Phase, given, settings

from readiness.visits.greedy import greedy
from readiness.visits.problem import Problem, cost
from readiness.visits.solve import solve
from tests.volume import examples, sampled

from . import instances
from .reference import allowed, best, price
from .second_solver import solve_cbc
from .stabbing import fewest_days
from .worked import WORKED

SECONDS = 60.0  # far more than any problem here takes


def _hold_to_brute_force(problem: Problem, name: object) -> None:
    answer = solve(problem, seconds=SECONDS)
    least, _ = best(problem)
    assert allowed(problem, answer.placed) == [], name
    assert price(problem, problem.jobs, answer.placed) == least, name
    assert answer.exact, name
    assert answer.bound == least.visits, name


@pytest.mark.parametrize("name", WORKED)
def test_the_answer_costs_what_was_worked_by_hand(name: str) -> None:
    """Plans of small problems against what they cost by hand: allowed, exact, and no dearer."""
    problem, least = WORKED[name]
    answer = solve(problem, seconds=SECONDS)
    assert allowed(problem, answer.placed) == []
    assert cost(problem, answer.placed) == least
    assert answer.exact


@sampled("block", range(10), first=2)
def test_the_answer_costs_what_brute_force_finds(block: int) -> None:
    """Plans of 250 random problems against brute force: allowed, exact, and no dearer; the bound is
    the number of visits."""
    for seed in range(25 * block, 25 * block + 25):
        _hold_to_brute_force(instances.small(seed), f"small({seed})")


@settings(
    max_examples=examples(60),
    deadline=None,
    derandomize=True,
    phases=(Phase.generate, Phase.shrink),
)
@given(instances.problems())
def test_the_answer_costs_what_brute_force_finds_made_small(problem: Problem) -> None:
    """Plans of problems chosen by hypothesis against brute force: what fails is made small."""
    _hold_to_brute_force(problem, problem)


@sampled("block", range(4))
def test_windows_alone_need_the_fewest_points_of_the_textbooks(block: int) -> None:
    """Plans of 100 larger problems without lags and end of minutes against interval stabbing: as
    many visits, and nothing left over but what has no day."""
    for seed in range(25 * block, 25 * block + 25):
        problem = instances.intervals(seed)
        (farm,) = problem.farms
        windows = [(job.first, job.last) for job in problem.jobs]
        possible = [one for one in windows if any(one[0] <= day <= one[1] for day in farm.days)]
        answer = solve(problem, seconds=SECONDS)
        found = price(problem, problem.jobs, answer.placed)
        assert allowed(problem, answer.placed) == [], seed
        assert found.visits == len(fewest_days(windows, farm.days, farm.kept)), seed
        assert found.unplaced == len(windows) - len(possible), seed
        assert answer.exact, seed


@sampled("seed", range(35), first=5)
def test_the_answer_costs_what_the_second_solver_finds(seed: int) -> None:
    """Plans of larger problems against CBC: allowed, exact, and no dearer."""
    problem = instances.medium(seed)
    answer = solve(problem, seconds=SECONDS)
    assert allowed(problem, answer.placed) == []
    assert price(problem, problem.jobs, answer.placed) == solve_cbc(problem)
    assert answer.exact


@sampled("block", range(2))
def test_the_same_problem_has_the_same_answer_in_any_order(block: int) -> None:
    """Plans against themselves: found twice, and with jobs and farms in another order."""
    for seed in range(20 * block, 20 * block + 20):
        problem = instances.medium(100 + seed) if seed % 10 == 0 else instances.small(1000 + seed)
        draw = random.Random(seed)
        shuffled = replace(
            problem,
            jobs=tuple(draw.sample(problem.jobs, len(problem.jobs))),
            farms=tuple(draw.sample(problem.farms, len(problem.farms))),
        )
        placed = solve(problem, seconds=SECONDS).placed
        assert solve(problem, seconds=SECONDS).placed == placed, seed
        assert solve(shuffled, seconds=SECONDS).placed == placed, seed


@pytest.mark.long
def test_the_greedy_plan_is_allowed_and_never_better_than_the_best() -> None:
    """The greedy plan against brute force and against every constraint."""
    for seed in range(150):
        problem = instances.small(seed)
        placed = greedy(problem)
        assert allowed(problem, placed) == [], seed
        assert price(problem, problem.jobs, placed) >= best(problem)[0], seed


def test_the_greedy_plan_of_larger_problems_is_allowed() -> None:
    """The greedy plan against every constraint, where jobs stand in each other's way more."""
    for seed in range(100):
        problem = instances.medium(seed)
        assert allowed(problem, greedy(problem)) == [], seed


def test_the_greedy_plan_leaves_nothing_over_where_there_is_room() -> None:
    """The greedy plan against problems in which every job has a day, whatever the others do."""
    for seed in range(100):
        problem = instances.wide(seed)
        placed = greedy(problem)
        assert allowed(problem, placed) == [], seed
        assert len(placed) == len(problem.jobs), seed


@pytest.mark.long
def test_out_of_time_the_answer_is_allowed_and_says_what_it_is() -> None:
    """Plans without time to look against brute force: allowed; exact only where it is so; no bound
    above what the best plan needs, nor above its own visits."""
    for seed in range(100):
        problem = instances.small(seed)
        answer = solve(problem, seconds=0.0)
        found = price(problem, problem.jobs, answer.placed)
        least, _ = best(problem)
        assert allowed(problem, answer.placed) == [], seed
        assert found >= least, seed
        assert found == least or not answer.exact, seed
        if found.unplaced == 0:
            assert answer.bound <= found.visits, seed
        if found[:2] == least[:2]:
            assert answer.bound <= least.visits, seed


def test_out_of_time_larger_answers_are_allowed_too() -> None:
    """Larger plans without time to look against every constraint and against CBC."""
    for seed in range(6):
        problem = instances.medium(seed)
        answer = solve(problem, seconds=0.0)
        found = cost(problem, answer.placed)
        least = solve_cbc(problem)
        assert allowed(problem, answer.placed) == [], seed
        assert found >= least, seed
        assert found == least or not answer.exact, seed
