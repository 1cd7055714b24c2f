"""The plan of return visits: which bulls on which day at which farm, and what cannot be placed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from readiness.engine.results import Assessment, Board, Check
from readiness.herd.board import Herd, assess_herd
from readiness.herd.changes import Change, changes
from readiness.history import History
from readiness.system.errors import UsageError
from readiness.system.grouped import grouped
from readiness.trade.words import full_day_words as _day
from readiness.trade.words import list_words
from readiness.visits.asked import Wishes, asked_of
from readiness.visits.bring import Bring, bring_for
from readiness.visits.problem import (
    Farm,
    Job,
    JobKey,
    Placed,
    Problem,
    Visited,
    first_day,
    minutes_on,
    visits_of,
)
from readiness.visits.solve import solve
from readiness.visits.stages import Answer
from readiness.visits.windows import Asked, problem_of, trimmer_checks


@dataclass(frozen=True, slots=True)
class Stop:
    """One bull on a visit: what is done on him, where he stands, and what is late by how many days.

    ``bull`` is he as he is today; ``late``: check's id → days.
    """

    bull: Assessment
    pen: str | None
    checks: tuple[Check, ...]
    late: Mapping[str, int]


@dataclass(frozen=True, slots=True)
class Visit:
    """One journey: the bulls in the order in which to take them. ``promised``: it takes place
    whatever is planned."""

    farm: str
    on: int
    minutes: int
    promised: bool
    stops: tuple[Stop, ...]
    bring: Bring


@dataclass(frozen=True, slots=True)
class Unplaced:
    """A check that has no day, and the bound that is to blame."""

    bull: Assessment
    check: Check
    why: str
    rule: str


@dataclass(frozen=True, slots=True)
class VisitPlan:
    """``exact``: no plan is better; else there may be one with as few visits as ``bound``, or with
    as few checks without a day as ``least_unplaced``.

    ``herd`` and ``board``: the bulls as they are today. ``then``: the same, if each check is done
    on the day planned, and what has no day after ``asked.last``.
    """

    herd: Herd
    asked: Asked
    exact: bool
    bound: int
    least_unplaced: int
    visits: tuple[Visit, ...]
    unplaced: tuple[Unplaced, ...]
    board: Board
    then: Board
    placed: Mapping[JobKey, int]
    farm: str | None = None
    """The one farm that was asked for; None: every farm."""


def plan_herd(herd: Herd, wishes: Wishes, seconds: float, *, farm: str | None = None) -> VisitPlan:
    """The fewest visits for the trimmer's checks of a herd, or of one farm of it.

    Raises ``UsageError``, in one sentence, for wishes that nobody can meet.
    """
    board = assess_herd(herd, farm=farm)
    here = {bull.farm or "" for bull in board.bulls}
    if wishes.kept and not here:
        raise UsageError("There is no bull to visit: take --keep away.")
    asked_for = {bull.farm or "" for bull in board.bulls if trimmer_checks(bull)}
    promised = {promise.farm for promise in wishes.kept if promise.farm in here}
    if wishes.kept and not asked_for:
        asked_for = here
    farms = sorted(asked_for | {name for name in promised if name is not None})
    asked = asked_of(wishes, farms, herd.rulebook, herd.on)
    return replace(plan_asked(herd, board, asked, seconds), farm=farm)


def plan_asked(herd: Herd, board: Board, asked: Asked, seconds: float) -> VisitPlan:
    """The fewest visits for the trimmer's checks on this board of the herd."""
    problem = problem_of(board, herd.rulebook, asked)
    answer = solve(problem, seconds)
    return VisitPlan(
        herd=herd,
        asked=asked,
        exact=answer.exact,
        bound=answer.bound,
        least_unplaced=answer.unplaced,
        visits=_visits(herd, board, problem, answer),
        unplaced=_unplaced(board, problem, answer, asked),
        board=board,
        then=_board_then(herd, board, problem, answer, asked.last),
        placed=answer.placed,
    )


def _visits(herd: Herd, board: Board, problem: Problem, answer: Answer) -> tuple[Visit, ...]:
    states = {state.key: state for state in herd.states}
    wanted = {job.key: job.wanted for job in problem.jobs}
    minutes = minutes_on(problem, answer.placed)
    promised = problem.promised
    stops: dict[Visited, list[Stop]] = {visit: [] for visit in promised}
    for bull in board.bulls:
        days: dict[int, list[Check]] = {}
        for check in trimmer_checks(bull):
            day = answer.placed.get((bull.key, check.id))
            if day is not None:
                days.setdefault(day, []).append(check)
        for day, checks in days.items():
            late = {c.id: day - wanted[bull.key, c.id] for c in checks}
            late = {check: by for check, by in late.items() if by > 0}
            pen = states[bull.key].profile.get("pen")
            stop = Stop(bull, str(pen) if pen else None, tuple(checks), late)
            stops.setdefault((bull.farm or "", day), []).append(stop)
    return tuple(
        Visit(
            farm, day, minutes.get((farm, day), 0), (farm, day) in promised,
            tuple(sorted(here, key=lambda stop: _turn(stop, states[stop.bull.key]))),
            bring_for([(states[stop.bull.key], stop.checks) for stop in here]),
        )
        for (farm, day), here in sorted(stops.items(), key=lambda item: (item[0][1], item[0][0]))
    )  # fmt: skip


SPREADS = ("DD", "ID", "IP")
"""Findings of the skin that may go from foot to foot on a knife."""


def _turn(stop: Stop, state: History) -> tuple[bool, bool, bool, str, str]:
    """The order in which to take the bulls (ours, no source): what may spread last, then who is
    dangerous, so that he finds everyone awake and nobody waits behind him; the lame stand least;
    else pen by pen."""
    spreads = any(finding.code in SPREADS for finding in state.feet.open.values())
    dangerous = stop.bull.temper == "dangerous"
    return spreads, dangerous, state.run is None, stop.pen or "", stop.bull.key


def _unplaced(board: Board, problem: Problem, answer: Answer, asked: Asked) -> tuple[Unplaced, ...]:
    jobs = {job.key: job for job in problem.jobs if job.key not in answer.placed}
    found = []
    for bull in board.bulls:
        for check in trimmer_checks(bull):
            job = jobs.get((bull.key, check.id))
            if job is not None:
                texts = {each.id: each.text for each in bull.outstanding}
                why, rule = why_not(job, texts, problem, answer.placed, asked)
                found.append(Unplaced(bull, check, why, rule))
    return tuple(found)


def _board_then(herd: Herd, board: Board, problem: Problem, answer: Answer, last: int) -> Board:
    planned: dict[str, dict[str, int]] = {}
    for job in problem.jobs:
        planned.setdefault(job.bull, {})[job.id] = answer.placed.get(job.key, last + 1)
    then = assess_herd(herd, planned=planned)
    shown = {bull.key for bull in board.bulls}
    return replace(then, bulls=tuple(bull for bull in then.bulls if bull.key in shown))


def on_days(plan: VisitPlan, days: Mapping[str, Iterable[int]], seconds: float) -> VisitPlan:
    """The same checks if one came on these days and on no other: farm → days."""
    farms = []
    for farm in plan.asked.farms:
        own = tuple(sorted(set(days.get(farm.name, ()))))
        farms.append(replace(farm, days=own, kept=own))
    long = plan.asked.last - plan.asked.first
    asked = replace(plan.asked, farms=tuple(farms), late=long)
    found = plan_asked(plan.herd, plan.board, asked, seconds)
    promised = {(visit.farm, visit.on) for visit in plan.visits if visit.promised}
    visits = (replace(v, promised=(v.farm, v.on) in promised) for v in found.visits)
    return replace(found, visits=tuple(visits), farm=plan.farm)


def what_changes(plan: VisitPlan, after: VisitPlan) -> tuple[Change, ...]:
    """The bulls for whom something changes where one plan is carried out and not the other."""
    return changes(plan.then, after.then, {each.bull.key for each in after.unplaced})


def days_of_visits(plan: VisitPlan) -> dict[str, list[int]]:
    """Farm → the days of its visits."""
    own = grouped(plan.visits, lambda visit: visit.farm)
    return {farm: [visit.on for visit in visits] for farm, visits in own.items()}


def without_visits(
    plan: VisitPlan, dropped: Iterable[tuple[str, int]], seconds: float
) -> VisitPlan:
    """What is left of a plan when nobody comes on some of its (farm, day), nor on another day in
    their place."""
    gone = set(dropped)
    days = {
        farm: [day for day in on if (farm, day) not in gone]
        for farm, on in days_of_visits(plan).items()
    }
    return on_days(plan, days, seconds)


def with_moved(plan: VisitPlan, farm: str, day: int, to: int, seconds: float) -> VisitPlan:
    """The plan if one came to this farm on another day, and on all others as planned."""
    days = days_of_visits(plan)
    days[farm] = sorted({to, *(on for on in days[farm] if on != day)})
    return on_days(plan, days, seconds)


def days_to_move(plan: VisitPlan, farm: str, days: Mapping[str, Iterable[int]]) -> tuple[int, ...]:
    """The days on which a visit of this farm may be beside those (farm → days) that stand: working
    days, on which it is not visited, nor another farm that does not share its day."""
    shares = {each.name: each.shares for each in plan.asked.farms}
    taken = {
        on
        for other, here in days.items()
        for on in here
        if other == farm or not (shares[other] and shares[farm])
    }
    free = next(each.days for each in plan.asked.farms if each.name == farm)
    return tuple(day for day in free if day not in taken)


# ---- why a check has no day: the bound that is to blame, in words and as a rule ------------------


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
