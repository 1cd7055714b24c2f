"""Entries and lifts for the figures, on invented farms."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from readiness.herd.stats.figures import figures
from readiness.herd.stats.lifts import FootLift, Listing, foot_lifts
from readiness.herd.stats.results import Figures, Part
from tests.build import FEET, RULES, Line, entries_of, lift

ON = date(2026, 4, 3)


def feet(on: str, *findings: Line, lifted: Sequence[str] = FEET, **more: Any) -> Line:
    return lift(on, *lifted, findings=list(findings), **more)


def lifts_of(*contents: Line, on: date = ON) -> list[FootLift]:
    return foot_lifts(entries_of(list(contents)), RULES, on.toordinal())


def figures_of(*contents: Line, on: date = ON, **more: Any) -> Figures:
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
