"""Entries and lifts for the figures, on invented farms."""

from __future__ import annotations

from datetime import date
from typing import Any

from readiness.herd.stats.figures import figures
from readiness.herd.stats.lifts import FootLift, Listing, foot_lifts
from readiness.herd.stats.results import Figures, Part
from readiness.rules.load import default_rules
from readiness.trade.feet import FEET
from tests.bench.books import entries_of

ON = date(2026, 4, 3)
TAG = "00417"
RULES = default_rules()


def said(kind: str, on: str, bull: str = TAG, **more: Any) -> dict[str, Any]:
    return {"kind": kind, "on": on, "bull": bull, **more}


def booked(bull: str = TAG, on: str = "2025-01-10", **more: Any) -> dict[str, Any]:
    return said("bull", on, bull, **more)


def feet(
    on: str, *findings: dict[str, Any], lifted: tuple[str, ...] = FEET, **more: Any
) -> dict[str, Any]:
    return said("feet", on, lifted=list(lifted), findings=list(findings), **more)


def found(foot: str, claw: str, code: str, zone: int | None = None, **more: Any) -> dict[str, Any]:
    listed = {"foot": foot, "claw": claw, "code": code, **more}
    return listed if zone is None else {**listed, "zone": zone}


def lifts_of(*contents: dict[str, Any], on: date = ON) -> list[FootLift]:
    return foot_lifts(entries_of(list(contents)), RULES, on.toordinal())


def figures_of(*contents: dict[str, Any], on: date = ON, **more: Any) -> Figures:
    few = RULES.common.stats.stats_few
    return figures(lifts_of(*contents, on=on), on=on.toordinal(), **{"few": few, **more})


def row(of: Figures, by: str, value: str) -> Part:
    """The one row of that value."""
    [part] = [row.part for row in of.by(by) if row.value == value]
    return part


def counts(of: Figures, by: str) -> dict[str, tuple[int, int]]:
    """Value → (n, of), of the rows in which something was found or that part what was lifted."""
    return {
        row.value: (row.part.n, row.part.of)
        for row in of.by(by)
        if row.part.n or by not in ("code", "zone")
    }


def listing(claw: str = "outer", code: str = "SU", zone: int | None = 4) -> Listing:
    return Listing(claw, code, zone)
