"""Small cases written as a trimmer would say them: entries of one bull, a day, what is expected."""

from __future__ import annotations

from datetime import date
from typing import Any

from readiness.engine.results import Assessment, Check
from readiness.herd.board import assess_book
from readiness.rules.load import default_rules
from tests.bench.books import entries_of

BULL = "B 1"
RULES = default_rules()


def day(text: str) -> int:
    return date.fromisoformat(text).toordinal()


def iso(ordinal: int | None) -> str | None:
    return None if ordinal is None else date.fromordinal(ordinal).isoformat()


def said(kind: str, on: str, **fields: Any) -> dict[str, Any]:
    bull = {} if kind == "group" else {"bull": BULL}
    return {"kind": kind, "on": on, **bull, **fields}


def lift(on: str, *feet: str, **fields: Any) -> dict[str, Any]:
    return said("feet", on, lifted=list(feet or ("LF", "RF", "LH", "RH")), **fields)


def ulcer(severity: int, foot: str = "LH") -> list[dict[str, Any]]:
    return [{"foot": foot, "claw": "outer", "code": "SU", "zone": 4, "severity": severity}]


def assessed(on: str, *entries: dict[str, Any], turnout: str | None = None) -> Assessment:
    """The bull on day ``on``, in a group turned out on ``turnout`` where one is given."""
    told = [said("bull", "2025-01-01"), *entries]
    if turnout:
        told.insert(0, said("group", "2025-01-01", group="G", turnout=turnout))
        told.append(said("join", "2025-01-01", group="G"))
    (bull,) = assess_book(entries_of(told), RULES, day(on)).bulls
    return bull


def check(bull: Assessment, name: str) -> Check:
    """The one outstanding check of this name."""
    (found,) = [each for each in bull.outstanding if each.check == name]
    return found


def names(bull: Assessment) -> list[str]:
    return [each.id for each in bull.outstanding]


def sound() -> list[dict[str, Any]]:
    """All that a bull of this book needs to go out in the first days of April 2026."""
    return [
        lift("2026-03-20"),
        said("mobility", "2026-03-30", scale="gb0-3", score=0),
        said("condition", "2026-03-30", scale="five", score=3),
        said("vet-exam", "2026-03-10", outcome="satisfactory"),
    ]
