"""Problems for the planner: seeded ones, the same on every machine, and hypothesis's.

Both are built by the same words from a source of whole numbers: a seeded generator, or hypothesis,
which then makes a failing problem small. Bulls, farms and days are invented.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass, replace

from hypothesis import strategies as st

from readiness.visits.problem import Farm, Job, Problem

Pick = Callable[[int, int], int]
"""A whole number from the first to the second, both possible."""

START = 100
WIDE = 100_000  # minutes that never run out


@dataclass(frozen=True, slots=True)
class Size:
    """How large a problem: days ahead; the fewest and most jobs; the most farms; the longest window
    in days; the most days of a farm."""

    horizon: int
    jobs: tuple[int, int]
    farms: int
    window: int
    candidates: int


SMALL = Size(horizon=13, jobs=(1, 6), farms=3, window=13, candidates=8)
MEDIUM = Size(horizon=30, jobs=(10, 25), farms=3, window=21, candidates=20)


def small(seed: int) -> Problem:
    """At most six jobs of three farms with eight days each: for brute force."""
    return build(random.Random(seed).randint, SMALL)


def tiny(seed: int) -> Problem:
    """At most four jobs in six days: for going through every answer there is."""
    size = Size(horizon=5, jobs=(1, 4), farms=3, window=4, candidates=6)
    return build(random.Random(4_000_000 + seed).randint, size)


def medium(seed: int) -> Problem:
    """Ten to 25 jobs in 30 days: for the second solver."""
    return build(random.Random(1_000_000 + seed).randint, MEDIUM)


def intervals(seed: int, jobs: tuple[int, int] = (20, 60), horizon: int = 60) -> Problem:
    """One farm, no lags, no end of minutes, nothing overdue: nothing but windows to be hit. Every
    other one has promised days."""
    pick = random.Random(2_000_000 + seed).randint
    size = Size(horizon, jobs, farms=1, window=horizon // 4, candidates=horizon)
    problem = build(pick, size)
    return replace(
        problem,
        minutes=WIDE,
        taken={},
        farms=tuple(
            replace(farm, minutes=WIDE, kept=farm.kept if seed % 2 else ())
            for farm in problem.farms
        ),
        jobs=tuple(replace(job, overdue=False, after=(), beside=None) for job in problem.jobs),
    )


def wide(seed: int) -> Problem:
    """Every farm may be visited on every day, with no end of minutes, and every window is open for
    a month after the last turn has come: no job need be left over."""
    pick = random.Random(3_000_000 + seed).randint
    problem = build(pick, Size(horizon=20, jobs=(1, 25), farms=3, window=9, candidates=9))
    days = tuple(range(START, START + 61))
    return replace(
        problem,
        minutes=WIDE,
        taken={},
        farms=tuple(replace(one, days=days, minutes=WIDE, shares=True) for one in problem.farms),
        jobs=tuple(replace(job, last=START + 60 - 10 * (not job.after)) for job in problem.jobs),
    )


@st.composite
def problems(draw: st.DrawFn) -> Problem:
    """A problem as small as ``small``'s, found and made smaller by hypothesis."""
    return build(lambda low, high: draw(st.integers(low, high)), SMALL)


def build(pick: Pick, size: Size) -> Problem:
    """Anything that can come: see the module's functions for how each part of it is chosen."""
    farms = _farms(pick, size)
    jobs: list[Job] = []
    count = max(pick(*size.jobs), pick(*size.jobs))
    while len(jobs) < count:
        farm = farms[pick(0, len(farms) - 1)]
        jobs += _jobs_of_bull(pick, size, f"bull {len(jobs)}", farm)[: count - len(jobs)]
    for place in range(len(jobs)):  # a job may stand before the one that it comes after
        other = pick(place, len(jobs) - 1)
        jobs[place], jobs[other] = jobs[other], jobs[place]
    minutes = (WIDE, 90, 60, 40)[pick(0, 3)]
    return Problem(
        start=START,
        minutes=minutes,
        farms=farms,
        jobs=tuple(jobs),
        taken=_taken(pick, size, minutes),
    )


def _taken(pick: Pick, size: Size, minutes: int) -> dict[int, int]:
    """On up to three days something is spoken for; now and then more than there is."""
    if minutes == WIDE:
        return {}
    days = [START + pick(0, size.horizon) for _ in range(pick(0, 3))]
    return {day: pick(5, minutes + 5) for day in days}


def _farms(pick: Pick, size: Size) -> tuple[Farm, ...]:
    """One or more farms; promised days only where no other farm stands in their way."""
    farms: list[Farm] = []
    for number in range(pick(1, size.farms)):
        dense = pick(0, 7) > 0  # now and then a farm has next to no day
        fewest = size.candidates * 3 // 4 if dense else 0
        days = {START + pick(0, size.horizon) for _ in range(pick(fewest, size.candidates))}
        shares = pick(0, 2) > 0
        kept = {day for day in sorted(days) if pick(0, 7) == 7}
        for other in farms:
            if not (shares and other.shares):
                kept -= set(other.kept)
        farms.append(
            Farm(
                name=f"farm {number}",
                days=tuple(sorted(days)),
                minutes=(WIDE, 60, 45, 30)[pick(0, 3)],
                shares=shares,
                kept=tuple(sorted(kept)),
            )
        )
    return tuple(farms)


def _jobs_of_bull(pick: Pick, size: Size, bull: str, farm: Farm) -> list[Job]:
    """One to three jobs, each after none, one or all of those before it."""
    jobs: list[Job] = []
    for id_ in "abc"[: pick(1, 3)]:
        earlier = [job.id for job in jobs]
        after = tuple((one, pick(0, 5)) for one in earlier if pick(0, 2) > 0)
        beside = (*earlier, "no job")[pick(0, len(earlier))] if pick(0, 2) == 2 else None
        first = START + pick(-3, size.horizon * 2 // 3)
        jobs.append(
            Job(
                bull=bull,
                id=id_,
                farm=farm.name,
                first=first,
                last=first + max(pick(-1, size.window), pick(-1, size.window)),
                wanted=first + pick(-4, size.window // 2),
                minutes=5 * pick(1, 7),
                overdue=pick(0, 3) == 3,
                after=after,
                beside=beside,
            )
        )
    return jobs
