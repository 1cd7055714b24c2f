"""``stats --json``: its keys are promised in DEVELOPERS.md."""

from __future__ import annotations

from typing import Any

from readiness.herd.stats.results import Cell, Figures, Part, Row
from readiness.report.as_json import day

Json = dict[str, Any]


def stats_json(figures: Figures) -> Json:
    """The figures: days as ISO dates, shares from 0 to 1.

    ``few``: the rule; a row says whether it rests on fewer feet lifted. ``cells``: the places on
    each foot where anything was found, of the lifts of that foot.
    """
    return {
        "on": day(figures.on),
        "since": day(figures.since),
        "farm": figures.farm,
        "lifted": {"feet": figures.feet, "bulls": figures.bulls},
        "few": figures.few,
        "rows": [row_json(row) for row in figures.rows],
        "cells": [_cell(cell) for cell in figures.cells],
    }


def row_json(row: Row) -> Json:
    """One row. ``unit``: what ``n`` and ``of`` count, feet or claws."""
    return {"by": row.by, "value": row.value, **_part(row.part), "unit": row.unit}


def _cell(cell: Cell) -> Json:
    return {"foot": cell.foot, "claw": cell.claw, "zone": cell.zone, **_part(cell.part)}


def _part(part: Part) -> Json:
    return {
        "n": part.n,
        "of": part.of,
        "share": part.share,
        "low": part.low,
        "high": part.high,
        "bulls": part.bulls,
        "few": part.few,
    }
