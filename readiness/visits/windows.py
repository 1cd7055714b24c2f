"""From the board to the planning problem: each check of the trimmer's with its window.

The window is from the check's first day to the earlier of its own clock's last day and turnout's.
Where that is past, empty or without a day on which one may come, it is from the first day on for
``visits.late`` days: late, but not left alone.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from readiness.engine.results import Assessment, Board, Check
from readiness.rules.model import RuleBook, VisitRules
from readiness.visits.problem import Farm, Job, Problem

TRIMMER = "trimmer"


@dataclass(frozen=True, slots=True)
class Asked:
    """What is planned for: ``first`` and ``last`` day; the farms one drives to, with their days;
    the minutes of one day. ``late``: instead of ``visits.late``, where no day may be added."""

    first: int
    last: int
    farms: tuple[Farm, ...]
    minutes: int
    late: int | None = None


def problem_of(board: Board, rulebook: RuleBook, asked: Asked) -> Problem:
    """The planning problem of a board."""
    farms = {farm.name: farm for farm in asked.farms}
    jobs: list[Job] = []
    for bull in board.bulls:
        farm = farms.get(bull.farm or "")
        if farm is not None:
            rules = rulebook.for_farm(bull.farm).visits
            jobs += _jobs(bull, farm, rules, asked)
    return Problem(asked.first, asked.minutes, asked.farms, tuple(jobs))


def trimmer_checks(bull: Assessment) -> list[Check]:
    """The checks of his that the trimmer does, each after those that it waits for."""
    mine = {check.id: check for check in bull.outstanding if check.who == TRIMMER}
    ordered: dict[str, Check] = {}

    def put(check: Check) -> None:
        for other, _ in check.lags:
            if other in mine and other not in ordered:
                put(mine[other])
        ordered.setdefault(check.id, check)

    for check in mine.values():
        put(check)
    return list(ordered.values())


def _jobs(bull: Assessment, farm: Farm, rules: VisitRules, asked: Asked) -> Iterable[Job]:
    checks = trimmer_checks(bull)
    ids = {check.id for check in checks}
    firsts: dict[str, int] = {}
    for check in checks:
        lags = tuple((other, days) for other, days in check.lags if other in ids)
        waited = [firsts[other] + days for other, days in lags]
        first = max([check.not_before, asked.first, *waited])
        wanted = last = wanted_by(check)
        if not any(first <= day <= last for day in farm.days):
            last = first + (rules.visits_late if asked.late is None else asked.late)
        firsts[check.id] = next((day for day in farm.days if day >= first), first)
        yield Job(
            bull=bull.key,
            id=check.id,
            farm=farm.name,
            first=first,
            last=last,
            wanted=wanted,
            minutes=rules.minutes_for(check.check),
            overdue=check.overdue,
            after=lags,
            beside=_beside(check, checks),
        )


def wanted_by(check: Check) -> int:
    """The last day on which it is in time: by its own clock and by turnout, whichever is first;
    without either, any day is."""
    return min((day for day in (check.due, check.not_after) if day is not None), default=_NO_END)


_NO_END = 1 << 40


def _beside(check: Check, checks: list[Check]) -> str | None:
    """Looking under a block takes no minutes where the foot is lifted anyhow: when the block comes
    off, or for the first of the other checks on that foot."""
    if check.check != "block-look":
        return None
    off = f"block-off:{check.foot}:{check.claw}"
    lifts = [
        other.id
        for other in checks
        if other is not check
        and other.check != "block-look"
        and (other.foot == check.foot or check.foot in other.feet)
    ]
    return off if off in lifts else next(iter(lifts), None)
