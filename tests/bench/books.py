"""A book of a given size for the benchmarks: seeded, invented, of every kind of entry."""

from __future__ import annotations

from datetime import date

from readiness.entries.entry import Entry
from tests.build import entries_of
from tests.reference.books import random_book

ON = date(2026, 4, 3)


def book(bulls: int, entries: int, seed: int = 7) -> list[Entry]:
    return entries_of(random_book(seed, bulls, entries, ON))


def working_book(bulls: int, entries: int) -> list[dict[str, object]]:
    """What some years at the crush look like: most feet sound, now and then an ulcer that heals."""
    told: list[dict[str, object]] = [
        {"kind": "group", "on": _day(900), "group": "Hill cows", "turnout": "2026-05-08"}
    ]
    for number in range(bulls):
        tag = f"B {number:04d}"
        told.append({"kind": "bull", "on": _day(900), "bull": tag, "name": f"Bull {number}"})
        told.append({"kind": "join", "on": _day(899), "bull": tag, "group": "Hill cows"})
        told += [_seen(tag, number, turn, 880 * (entries - turn) // entries)
                 for turn in range(entries - 2)]  # fmt: skip
    return told


def _day(ago: int) -> str:
    return date.fromordinal(ON.toordinal() - ago).isoformat()


def _seen(tag: str, number: int, turn: int, ago: int) -> dict[str, object]:
    said: dict[str, object] = {"on": _day(ago), "bull": tag, "by": "T"}
    ulcer = {"foot": "LH", "claw": "outer", "code": "SU"}
    at = (turn + 7 * number) % 80
    if at == 8:
        found = [{**ulcer, "severity": 2, "zone": 4}]
        return {**said, "kind": "feet", "lifted": ["LH"], "findings": found}
    if at in (16, 24):
        return {**said, "kind": "feet", "lifted": ["LH"], "healed": [ulcer]}
    if turn % 4 == 0:
        work = [{"foot": "LF", "claw": "both", "act": "trim"}] if turn % 16 == 0 else []
        return {**said, "kind": "feet", "lifted": ["LF", "RF", "LH", "RH"], "work": work}
    if turn % 4 == 1:
        score = 2 if at == 9 else 0
        return {**said, "kind": "mobility", "scale": "gb0-3", "score": score}
    if turn % 4 == 2:
        return {**said, "kind": "condition", "scale": "five", "score": 3.25}
    return {**said, "kind": "weight", "kg": 900 + turn}
