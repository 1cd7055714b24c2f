"""Planned visits as appointments: what a calendar shows of each."""

from __future__ import annotations

from datetime import date

from readiness.report.ics import Appointment, Span
from readiness.report.rows import short_tags
from readiness.report.visits_text import load_words, stop_words
from readiness.system.plain import plain
from readiness.trade.cautions import HANDLING
from readiness.trade.words import FARM_LESS, plural
from readiness.visits.plan import Visit, VisitPlan


def appointments(plan: VisitPlan) -> list[Appointment]:
    """Each visit of the plan, with its bulls in order and what to bring."""
    names = short_tags(bull.bull for bull in plan.board.bulls)
    return [_appointment(visit, names) for visit in plan.visits]


def _appointment(visit: Visit, names: dict[str, str]) -> Appointment:
    where = plain(visit.farm) or FARM_LESS
    bulls = [plain(stop_words(stop, names)) for stop in visit.stops]
    lines = [load_words(visit).capitalize(), *bulls, HANDLING]
    return Appointment(
        farm=visit.farm,
        day=date.fromordinal(visit.on),
        summary=f"Bulls' feet at {where}: {plural(len(visit.stops), 'bull')}",
        description="\n".join(lines),
        promised=visit.promised,
    )


def span_of(plan: VisitPlan) -> Span:
    """What the plan speaks of: its days, and its farms; every farm where it was not narrowed.

    Not today: a visit that was made this morning is off the plan, and not cancelled.
    """
    first, last = max(plan.asked.first, plan.board.on + 1), plan.asked.last
    farms = None if plan.farm is None else frozenset({plan.farm})
    return Span(date.fromordinal(first), date.fromordinal(last), farms)
