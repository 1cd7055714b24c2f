"""Planning return visits: seeded, invented herds with windows as long as the rules make them.

50 bulls at one farm and at two, and 500 bulls over ten farms that may and that may not share a day:
from problem to answer, the solver loaded already, beside the quick answer without a solver.
"""

from __future__ import annotations

import random
import time
from collections.abc import Iterator
from functools import partial
from pathlib import Path
from typing import NamedTuple

from readiness.trade.words import plural
from readiness.visits.greedy import greedy
from readiness.visits.problem import Farm, Job, Problem, cost
from readiness.visits.solve import solve
from tests.bench.measure import Row, of_times, timed

DAYS = 90
START = 739709  # a Friday
SECONDS = 20.0


class Size(NamedTuple):
    bulls: int
    farms: int
    shares: bool = False


SIZES = (Size(50, 1), Size(50, 2), Size(500, 10, shares=True), Size(500, 10))


def problem(size: Size, seed: int) -> Problem:
    """Per bull a routine lift, a block, looks at a finding, or something overdue."""
    chance = random.Random(seed)
    days = tuple(START + day for day in range(DAYS + 1) if (START + day) % 7 != 0)
    farms = tuple(Farm(f"F{number}", days, 480, size.shares) for number in range(size.farms))
    jobs = [
        job
        for number in range(size.bulls)
        for job in _jobs(f"B{number:03}", f"F{number % size.farms}", chance)
    ]
    return Problem(START, 480, farms, tuple(_with_a_day(job, days) for job in jobs))


def _jobs(bull: str, farm: str, chance: random.Random) -> Iterator[Job]:
    turnout = START + chance.choice([60, 75, 90])
    if chance.random() < 0.6:
        yield Job(bull, "feet", farm, START, turnout - 7, turnout - 7, 15)
    for number in range(chance.choice([0, 1, 1, 2])):
        first = START + chance.randint(0, 50)
        kind = chance.choice(["look", "clear", "block"])
        if kind == "look":
            last = first + chance.choice([2, 4, 14])
            yield Job(bull, f"look{number}", farm, first, last, last, 6)
        elif kind == "clear":
            yield Job(bull, f"clear{number}", farm, first, turnout, turnout, 6)
        else:
            off = f"off{number}"
            yield Job(bull, off, farm, first, first + 14, first + 14, 6)
            yield Job(
                bull, f"under{number}", farm, first, turnout, turnout, 6,
                after=((off, 0),), beside=off,
            )  # fmt: skip
    if chance.random() < 0.1:
        yield Job(bull, "lift", farm, START, START + 7, START - 3, 10, overdue=True)


def _with_a_day(job: Job, days: tuple[int, ...]) -> Job:
    if any(job.first <= day <= job.last for day in days):
        return job
    return Job(
        job.bull, job.id, job.farm, job.first, job.first + 7, job.wanted, job.minutes,
        job.overdue, job.after, job.beside,
    )  # fmt: skip


def rows(folder: Path, most: int) -> Iterator[Row]:
    solve(problem(Size(5, 1), 0), SECONDS)  # the solver is loaded
    for size in SIZES:
        given = problem(size, 1)
        quick = timed(partial(greedy, given), 1)
        start = time.perf_counter()
        answer = solve(given, SECONDS)
        took = of_times([time.perf_counter() - start])
        worth = cost(given, answer.placed)
        how = "exact" if answer.exact else f"at least {answer.bound}"
        farms = f"{plural(size.farms, 'farm')}{' shared' if size.shares else ''}"
        what = f"visits, {size.bulls} bulls, {farms}: {worth.visits}, {how}"
        yield Row(what, took, "a quick plan", quick.ms)
