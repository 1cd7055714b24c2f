"""Lines of a file, as a trimmer's program would write them."""

from __future__ import annotations

from typing import Any

Line = dict[str, Any]
FEET = ["LF", "RF", "LH", "RH"]
TAG = "B 1"


def bull(tag: str = TAG, on: str = "2026-01-01", **fields: Any) -> Line:
    return {"kind": "bull", "on": on, "bull": tag, **fields}


def group(turnout: str, name: str = "Hill", on: str = "2026-01-01", **fields: Any) -> Line:
    return {"kind": "group", "on": on, "group": name, "turnout": turnout, **fields}


def said(kind: str, on: str, tag: str = TAG, **fields: Any) -> Line:
    return {"kind": kind, "on": on, "bull": tag, **fields}


def join(tag: str = TAG, name: str | None = "Hill", on: str = "2026-01-01", **more: Any) -> Line:
    return said("join", on, tag, group=name, **more)


def lift(on: str, *feet: str, tag: str = TAG, **fields: Any) -> Line:
    return said("feet", on, tag, lifted=list(feet) or FEET, **fields)


def found(foot: str, claw: str, code: str, **more: Any) -> Line:
    return {"foot": foot, "claw": claw, "code": code, **more}


def walk(on: str, score: int, tag: str = TAG, scale: str = "gb0-3", **more: Any) -> Line:
    return said("mobility", on, tag, scale=scale, score=score, **more)


def condition(on: str, score: float, tag: str = TAG, scale: str = "five") -> Line:
    return said("condition", on, tag, scale=scale, score=score)


def exam(on: str, outcome: str = "satisfactory", tag: str = TAG, **more: Any) -> Line:
    return said("vet-exam", on, tag, outcome=outcome, **more)


def ready(day: str = "2026-04-28", tag: str = TAG) -> list[Line]:
    """All that a turnout up to 14 days later asks for."""
    return [
        lift("2026-03-20", tag=tag),
        walk(day, 0, tag),
        condition(day, 3.25, tag),
        exam("2026-04-01", tag=tag),
    ]
