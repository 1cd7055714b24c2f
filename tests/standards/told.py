"""What the tests of published figures say of a bull, and what comes of it.

The bull of ``READY`` has done all that turnout on 1 May 2026 asks for.
"""

from __future__ import annotations

from datetime import UTC, date, datetime
from typing import Any

from readiness.desk.warnings import warnings_of
from readiness.engine.results import Assessment, Remark
from tests.build import (
    RULES,
    Line,
    assessed,
    booked,
    check,
    condition,
    entries_of,
    exam,
    iso,
    lift,
    walk,
)
from tests.build import found as listed

TURNOUT = "2026-05-01"


def found(on: str, code: str, foot: str = "LH", claw: str = "outer", **more: Any) -> Line:
    """A lift of that foot alone which finds this."""
    return lift(on, foot, findings=[listed(foot, claw, code, **more)])


def healed(on: str, code: str, foot: str = "LH", claw: str = "outer") -> Line:
    return lift(on, foot, healed=[listed(foot, claw, code)])


def measured(on: str, foot: str = "LF", **mm: float) -> Line:
    return lift(on, foot, measures=[{"foot": foot, "claw": "outer", **mm}])


FEET = lift("2026-03-02")
WALK = walk("2026-04-24", 0)
CONDITION = condition("2026-04-24", 3.0)
EXAM = exam("2026-03-10")
BORN = booked(on="2025-01-02", born="2022-03-01")
READY = (BORN, FEET, WALK, CONDITION, EXAM)


def ready(on: str, *entries: Line, turnout: str = TURNOUT) -> Assessment:
    """The bull who has done all, with these entries besides."""
    return assessed(on, *READY, *entries, turnout=turnout)


def rules_of(remarks: tuple[Remark, ...]) -> list[str]:
    return [remark.rule for remark in remarks]


def advised(bull: Assessment) -> list[str]:
    return rules_of(bull.advice)


def held_for(bull: Assessment) -> list[str]:
    """The rules of his reasons; of findings their codes."""
    return [reason.code or reason.rule for reason in bull.reasons]


def asked(bull: Assessment) -> list[str]:
    """The names of the checks that are outstanding."""
    return [each.check for each in bull.outstanding]


def first_day(bull: Assessment, name: str) -> str | None:
    """The first day of the one outstanding check of this name."""
    return iso(check(bull, name).not_before)


def last_day(bull: Assessment, name: str) -> str | None:
    """The day by which the one outstanding check of this name is due."""
    return iso(check(bull, name).due)


def warned(entry: Line) -> list[str]:
    """What is said to whoever enters this of a bull that is booked, on the day of the entry."""
    held = entries_of([booked()])
    (coming,) = entries_of([{"id": "new", **entry}])
    today = date.fromisoformat(entry["on"])
    now = datetime(today.year, today.month, today.day, 12, tzinfo=UTC)
    return [text for _, text in warnings_of(held, [coming], RULES, now, today)]
