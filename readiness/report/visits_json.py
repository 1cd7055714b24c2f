"""``visits --json``: its keys are promised in DEVELOPERS.md."""

from __future__ import annotations

from typing import Any

from readiness.report.as_json import day
from readiness.visits.plan import Stop, Visit, VisitPlan

Json = dict[str, Any]


def visits_json(plan: VisitPlan) -> Json:
    """The plan: days as ISO dates. ``bound``: there are no fewer visits than that."""
    return {
        "on": day(plan.board.on),
        "from": day(plan.asked.first),
        "to": day(plan.asked.last),
        "exact": plan.exact,
        "bound": plan.bound,
        "least_unplaced": plan.least_unplaced,
        "visits": [visit_json(visit) for visit in plan.visits],
        "unplaced": [
            {
                "bull": each.bull.bull,
                "farm": each.bull.farm,
                "check": each.check.id,
                "why": each.why,
                "rule": each.rule or None,
            }
            for each in plan.unplaced
        ],
    }


def visit_json(visit: Visit) -> Json:
    """One visit, with its checks in the order to take the bulls."""
    return {
        "on": day(visit.on),
        "farm": visit.farm or None,
        "minutes": visit.minutes,
        "promised": visit.promised,
        "bring": visit.bring._asdict(),
        "pen": [
            {"bull": stop.bull.bull, "pen": stop.pen, "temper": stop.bull.temper}
            for stop in visit.stops
        ],
        "checks": [check for stop in visit.stops for check in _checks(stop)],
    }


def _checks(stop: Stop) -> list[Json]:
    return [
        {
            "bull": stop.bull.bull,
            "id": check.id,
            "check": check.check,
            "foot": check.foot,
            "claw": check.claw,
            "code": check.code,
            "feet": list(check.feet),
            "not_before": day(check.not_before),
            "not_after": day(check.not_after),
            "due": day(check.due),
            "late": stop.late.get(check.id, 0),
        }
        for check in stop.checks
    ]
