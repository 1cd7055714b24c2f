"""Why a check has no day on the plan: the bound that is to blame, in words and as a rule."""

from __future__ import annotations

from collections.abc import Mapping

from readiness.trade.words import full_day_words as _day
from readiness.trade.words import list_words
from readiness.visits.problem import Farm, Job, Placed, Problem, first_day, visits_of
from readiness.visits.windows import Asked


def why_not(
    job: Job, texts: Mapping[str, str], problem: Problem, placed: Placed, asked: Asked
) -> tuple[str, str]:
    """(words, rule) for a job that is not placed; ``texts``: the bull's checks in words, by id;
    no rule is to blame where the visits themselves were given."""
    farm = next(farm for farm in problem.farms if farm.name == job.farm)
    days = [day for day in farm.days if job.first <= day <= job.last]
    most = min(farm.minutes, problem.minutes)
    if job.first > asked.last:
        words = f"may first be done on {_day(job.first)}, after the last day of the plan"
        return words, "visits.ahead"
    if not days and asked.late is not None:
        return f"nobody comes from {_day(job.first)} on", ""
    if not days:
        last = min(job.last, asked.last)
        words = f"nobody can come from {_day(job.first)} to {_day(last)}"
        off = {day: name for day, name in farm.holidays.items() if job.first <= day <= last}
        if off:
            named = list_words(f"{_day(day)} is {name}" for day, name in off.items())
            return f"{words}: {named}", "visits.holidays"
        return words, "visits.workdays"
    if job.minutes > most:
        return f"it takes {job.minutes} minutes, and a day has {most}", "minutes.day"
    first = first_day(job, placed)
    if first is None:
        waits = next(o for o, _ in job.after if (job.bull, o) not in placed)
        return f"it waits for another that has no day: {texts[waits]}", "visits.late"
    days = [day for day in days if day >= first]
    if not days:
        return f"what it waits for leaves it no day up to {_day(job.last)}", "visits.late"
    if not any(_farm_alone(farm, day, problem, placed) for day in days):
        words = f"other farms are visited on each of its days, {_span(days)}"
        return words, "visits.share_day"
    return f"its days are full, {_span(days)}: {most} minutes each", "minutes.day"


def _farm_alone(farm: Farm, day: int, problem: Problem, placed: Placed) -> bool:
    """Whether no other farm that cannot share is visited on this day."""
    visited = {name for name, on in visits_of(problem, placed) if on == day}
    return all(
        farm.shares and other.shares
        for other in problem.farms
        if other.name in visited and other is not farm
    )


def _span(days: list[int]) -> str:
    return _day(days[0]) if len(days) == 1 else f"{_day(days[0])} to {_day(days[-1])}"
