"""What the tests of published figures say of a bull, and what comes of it.

The bull of ``READY`` has done all that turnout on 1 May 2026 asks for.
"""

from __future__ import annotations

from datetime import UTC, date, datetime
from typing import Any

from readiness.desk.warnings import warnings_of
from readiness.engine.results import Assessment, Remark
from tests.bench.books import entries_of
from tests.engine.cases import RULES, assessed, iso, lift, said

TURNOUT = "2026-05-01"
Entry = dict[str, Any]


def walk(on: str, score: int, scale: str = "gb0-3", **more: Any) -> Entry:
    return said("mobility", on, scale=scale, score=score, **more)


def condition(on: str, score: float, scale: str = "five") -> Entry:
    return said("condition", on, scale=scale, score=score)


def exam(on: str, outcome: str = "satisfactory", **form: Any) -> Entry:
    return said("vet-exam", on, outcome=outcome, **form)


def found(on: str, code: str, foot: str = "LH", claw: str = "outer", **more: Any) -> Entry:
    """A lift of that foot alone which finds this."""
    return lift(on, foot, findings=[{"foot": foot, "claw": claw, "code": code, **more}])


def healed(on: str, code: str, foot: str = "LH", claw: str = "outer") -> Entry:
    return lift(on, foot, healed=[{"foot": foot, "claw": claw, "code": code}])


def measured(on: str, foot: str = "LF", **mm: float) -> Entry:
    return lift(on, foot, measures=[{"foot": foot, "claw": "outer", **mm}])


FEET = lift("2026-03-02")
WALK = walk("2026-04-24", 0)
CONDITION = condition("2026-04-24", 3.0)
EXAM = exam("2026-03-10")
READY = (FEET, WALK, CONDITION, EXAM)


def ready(on: str, *entries: Entry, turnout: str = TURNOUT) -> Assessment:
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
    return [check.check for check in bull.outstanding]


def first_day(bull: Assessment, name: str) -> str | None:
    """The first day of the one outstanding check of this name."""
    (found,) = [check for check in bull.outstanding if check.check == name]
    return iso(found.not_before)


def last_day(bull: Assessment, name: str) -> str | None:
    """The day by which the one outstanding check of this name is due."""
    (found,) = [check for check in bull.outstanding if check.check == name]
    return iso(found.due)


def warned(entry: Entry) -> list[str]:
    """What is said to whoever enters this of a bull that is booked, on the day of the entry."""
    held = entries_of([said("bull", "2025-01-01")])
    (coming,) = entries_of([{"id": "new", **entry}])
    today = date.fromisoformat(entry["on"])
    now = datetime(today.year, today.month, today.day, 12, tzinfo=UTC)
    return [text for _, text in warnings_of(held, [coming], RULES, now, today)]
