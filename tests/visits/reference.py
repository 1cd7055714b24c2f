"""The planner's problem solved by trying everything: slow, obvious, and written apart from it.

Only the types of ``readiness.visits.problem`` are used, none of its sums: what an answer costs and
whether it is allowed is worked out here a second time, from the four sentences of the problem:

1. A job's day is one of its farm's days, from its first to its last.
2. A job that comes after another so many days has a day only where the other has one, and not
   before that day and so many days.
3. On a farm's day the minutes of its jobs are at most the farm's; on a day the minutes of all
   farms are at most one person's, less those spoken for already. A job beside another takes no
   minutes on that one's day.
4. Where a day has visits (jobs or a promise) to more than one farm, every one of them shares.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from readiness.visits.problem import Cost, Farm, Job, JobKey, Placed, Problem


def best(problem: Problem) -> tuple[Cost, dict[JobKey, int]]:
    """The least cost of all allowed answers, and one that has it.

    Every job in turn is given every one of its days and none. What is begun is given up only where
    no ending can save it: a constraint is broken that further jobs cannot mend, or it costs as much
    as the best so far already (every part of the cost only grows with the jobs decided). For about
    six jobs of eight days. ValueError when not even the empty answer is allowed.
    """
    found: tuple[Cost, dict[JobKey, int]] | None = None

    def decide(number: int, placed: dict[JobKey, int]) -> None:
        nonlocal found
        decided = problem.jobs[:number]
        so_far = price(problem, decided, placed)
        if (found is not None and so_far >= found[0]) or _hopeless(problem, decided, placed):
            return
        if number == len(problem.jobs):
            if not allowed(problem, placed):
                found = so_far, dict(placed)
            return
        job = problem.jobs[number]
        for day in days_of(problem, job):
            decide(number + 1, {**placed, job.key: day})
        decide(number + 1, placed)

    decide(0, {})
    if found is None:
        raise ValueError("no answer is allowed, not even one without any job")
    return found


def every_answer(problem: Problem) -> Iterator[dict[JobKey, int]]:
    """Every answer that keeps to the jobs' days, allowed or not: for about four jobs."""
    answers: list[dict[JobKey, int]] = [{}]
    for job in problem.jobs:
        answers += [{**one, job.key: day} for one in answers for day in days_of(problem, job)]
    yield from answers


def days_of(problem: Problem, job: Job) -> list[int]:
    """The days of the job's farm that lie in its window."""
    return [day for day in farm_of(problem, job).days if job.first <= day <= job.last]


def farm_of(problem: Problem, job: Job) -> Farm:
    (farm,) = [farm for farm in problem.farms if farm.name == job.farm]
    return farm


def price(problem: Problem, jobs: tuple[Job, ...], placed: Placed) -> Cost:
    """What an answer costs that says of these jobs, and of no other, whether they have a day."""
    unplaced = wait = late = days = 0
    visits = _visits(problem, jobs, placed)
    for job in jobs:
        if job.key not in placed:
            unplaced += 1
            continue
        day = placed[job.key]
        days += day - problem.start
        if day > job.wanted:
            late += day - job.wanted
        if job.overdue:
            wait += day - job.first
    return Cost(unplaced, wait, len(visits), late, days)


def allowed(problem: Problem, placed: Placed) -> list[str]:
    """What the answer breaks, in words; empty when it is allowed. For answers of any size."""
    strange = set(placed) - {job.key for job in problem.jobs}
    return [
        *(f"{key} is no job of the problem" for key in sorted(strange)),
        *_out_of_window(problem, placed),
        *_out_of_order(problem, placed),
        *_overfull(problem, problem.jobs, placed),
        *_not_sharing(problem, problem.jobs, placed),
    ]


def _hopeless(problem: Problem, decided: tuple[Job, ...], placed: Placed) -> bool:
    """Is something broken that no further job can mend? Visits stay visits, and minutes minutes but
    for jobs beside another, which may still come to that one's day."""
    alone = [job for job in decided if job.beside is None]
    return any(_overfull(problem, alone, placed)) or any(_not_sharing(problem, decided, placed))


def _visits(problem: Problem, jobs: tuple[Job, ...], placed: Placed) -> set[tuple[str, int]]:
    kept = {(farm.name, day) for farm in problem.farms for day in farm.kept}
    return kept | {(job.farm, placed[job.key]) for job in jobs if job.key in placed}


def _out_of_window(problem: Problem, placed: Placed) -> Iterator[str]:
    for job in problem.jobs:
        if job.key not in placed:
            continue
        day = placed[job.key]
        if day not in farm_of(problem, job).days:
            yield f"{job.key} on day {day}, which is no day of {job.farm}"
        if not job.first <= day <= job.last:
            yield f"{job.key} on day {day}, not from {job.first} to {job.last}"


def _out_of_order(problem: Problem, placed: Placed) -> Iterator[str]:
    for job in problem.jobs:
        for id_, lag in job.after:
            if job.key not in placed:
                continue
            earlier = placed.get((job.bull, id_))
            if earlier is None:
                yield f"{job.key} has a day, {id_} before it has none"
            elif placed[job.key] < earlier + lag:
                yield f"{job.key} on day {placed[job.key]}, not {lag} days after {earlier}"


def _minutes_taken(job: Job, placed: Placed) -> int:
    if job.beside is not None and placed.get((job.bull, job.beside)) == placed[job.key]:
        return 0
    return job.minutes


def _overfull(problem: Problem, jobs: Iterable[Job], placed: Placed) -> Iterator[str]:
    at_farm: dict[tuple[str, int], int] = {}
    in_all: dict[int, int] = {}
    for job in jobs:
        if job.key in placed:
            day, minutes = placed[job.key], _minutes_taken(job, placed)
            at_farm[job.farm, day] = at_farm.get((job.farm, day), 0) + minutes
            in_all[day] = in_all.get(day, 0) + minutes
    most = {farm.name: farm.minutes for farm in problem.farms}
    for (farm, day), minutes in at_farm.items():
        if minutes > most[farm]:
            yield f"{minutes} minutes at {farm} on day {day}, at most {most[farm]}"
    for day, minutes in in_all.items():
        spoken_for = problem.taken.get(day, 0)
        if minutes > 0 and minutes + spoken_for > problem.minutes:
            yield f"{minutes} minutes on day {day} beside {spoken_for}, at most {problem.minutes}"


def _not_sharing(problem: Problem, jobs: tuple[Job, ...], placed: Placed) -> list[str]:
    shares = {farm.name: farm.shares for farm in problem.farms}
    farms_on: dict[int, set[str]] = {}
    for farm, day in _visits(problem, jobs, placed):
        farms_on.setdefault(day, set()).add(farm)
    return [
        f"{' and '.join(sorted(farms))} on day {day}, not all of them share"
        for day, farms in sorted(farms_on.items())
        if len(farms) > 1 and not all(shares[farm] for farm in farms)
    ]
