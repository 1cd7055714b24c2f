"""Short ways to write groups and bulls of different readiness for the cases of cover.

Seen on 3 April 2026. Ages of bulls, unless said: born on 1 January 2022, so 35 females each.
"""

from __future__ import annotations

from typing import Any

from .state import Entry

LONG_AGO = "2020-01-01"
FEET = ["LF", "RF", "LH", "RH"]


def said(kind: str, tag: str, on: str, **fields: Any) -> Entry:
    return {"kind": kind, "bull": tag, "on": on, **fields}


def group(turnout: str, name: str = "Cows", **fields: Any) -> Entry:
    return {"kind": "group", "on": LONG_AGO, "group": name, "turnout": turnout, **fields}


def heifers(turnout: str, name: str = "Heifers", **fields: Any) -> Entry:
    return group(turnout, name, **{"class": "heifers"}, **fields)


def standing(
    tag: str,
    name: str | None = "Cows",
    role: str | None = None,
    born: str | None = "2022-01-01",
    **booking: Any,
) -> list[Entry]:
    """Booked and in a group; nothing is known of him, and all could be seen today."""
    known = {"born": born} if born else {}
    booked = said("bull", tag, LONG_AGO, **known, **booking)
    joined = said("join", tag, LONG_AGO, group=name, **({"role": role} if role else {}))
    return [booked, joined] if name else [booked]


def ready_bull(tag: str, name: str | None = "Cows", **fields: Any) -> list[Entry]:
    """GO for turnouts up to 15 April 2026; for later ones he must be walked again."""
    return [
        *standing(tag, name, **fields),
        said("feet", tag, "2026-03-20", lifted=FEET),
        *walked_and_examined(tag),
    ]


def slow_bull(tag: str, name: str | None = "Cows", **fields: Any) -> list[Entry]:
    """With a moderate ulcer of 20 March 2026: not before 22 April, 33 days on."""
    ulcer = {"foot": "LH", "claw": "outer", "code": "SU", "severity": 2}
    return [
        *standing(tag, name, **fields),
        said("feet", tag, "2026-03-20", lifted=FEET, findings=[ulcer]),
        *walked_and_examined(tag),
    ]


def hopeless_bull(tag: str, name: str | None = "Cows", **fields: Any) -> list[Entry]:
    """Failed by the vet: a person decides."""
    failed = said("vet-exam", tag, "2026-04-02", outcome="unsatisfactory")
    return [*ready_bull(tag, name, **fields), failed]


def walked_and_examined(tag: str) -> list[Entry]:
    return [
        said("mobility", tag, "2026-04-01", scale="gb0-3", score=0),
        said("condition", tag, "2026-04-01", scale="five", score=3.0),
        said("vet-exam", tag, "2026-03-10", outcome="satisfactory"),
    ]


def out(tag: str, on: str = "2026-04-03") -> Entry:
    return said("moved", tag, on, act="out")


def flat(*told: list[Entry] | Entry) -> list[Entry]:
    """Entries and lists of entries as one list."""
    return [entry for some in told for entry in (some if isinstance(some, list) else [some])]
