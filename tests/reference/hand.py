"""Short ways to write a bull's entries and to read what the reference says of him.

The bull is always T 0001, booked on 1 November 2025; unless said otherwise he is assessed on
3 April 2026.
"""

from __future__ import annotations

from datetime import date
from typing import Any

from .books import OWN_CHECKS
from .brute import brute_board
from .state import Entry

ON = date(2026, 4, 3)
OWN = OWN_CHECKS[:2]
Bull = dict[str, Any]


def entry(kind: str, on: str, **fields: Any) -> Entry:
    return {"kind": kind, "on": on, "bull": "T 0001", **fields}


def lift(on: str, *feet: str, **fields: Any) -> Entry:
    return entry("feet", on, lifted=list(feet or ("LF", "RF", "LH", "RH")), **fields)


def ulcer(on: str, code: str = "SU", **fields: Any) -> Entry:
    return lift(on, "LH", findings=[{"foot": "LH", "claw": "outer", "code": code, **fields}])


def healed(on: str, code: str = "SU") -> Entry:
    return lift(on, "LH", healed=[{"foot": "LH", "claw": "outer", "code": code}])


def walk(on: str, score: int, **fields: Any) -> Entry:
    return entry("mobility", on, scale="gb0-3", score=score, **fields)


def with_turnout(day: str) -> list[Entry]:
    group: Entry = {"kind": "group", "on": "2025-11-01", "group": "Cows", "turnout": day}
    return [group, entry("join", "2025-11-01", group="Cows")]


def sound(day: str = "2026-04-09") -> list[Entry]:
    """All that turnout on ``day`` asks for."""
    return [
        *with_turnout(day),
        lift("2026-03-20"),
        walk("2026-04-01", 0),
        entry("condition", "2026-04-01", scale="five", score=3.0),
        entry("vet-exam", "2026-03-10", outcome="satisfactory"),
    ]


def assessed(*entries: Entry, on: str = "2026-04-03", **rules: Any) -> Bull:
    booked = entry("bull", "2025-11-01")
    (bull,) = brute_board([booked, *entries], date.fromisoformat(on), rules)
    return bull


def check(bull: Bull, name: str) -> Bull:
    (found,) = [c for c in bull["outstanding"] if c["id"] == name]
    return dict(found)


def names(bull: Bull) -> list[str]:
    return [c["id"] for c in bull["outstanding"]]


def spot(foot: str, claw: str, code: str, **fields: Any) -> Entry:
    return {"foot": foot, "claw": claw, "code": code, **fields}


def found(on: str, code: str, claw: str = "outer", **fields: Any) -> Entry:
    """Found on the left hind."""
    return lift(on, "LH", findings=[spot("LH", claw, code, **fields)])


def gone(on: str, code: str, claw: str = "outer", **fields: Any) -> Entry:
    """Listed healed on the left hind."""
    return lift(on, "LH", healed=[spot("LH", claw, code, **fields)])


def looked(on: str, about: str, outcome: str = "fit", **fields: Any) -> Entry:
    return entry("vet-look", on, about=about, outcome=outcome, **fields)


def examined(on: str, outcome: str = "satisfactory", **fields: Any) -> Entry:
    return entry("vet-exam", on, outcome=outcome, **fields)


def plain(kind: str) -> tuple[str, None, None, None]:
    return kind, None, None, None


def holds(bull: Bull, code: str, claw: str = "outer") -> bool:
    return ("finding", "LH", claw, code) in bull["reasons"]


def day(text: str) -> date:
    return date.fromisoformat(f"2026-{text}")
