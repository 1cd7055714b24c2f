"""A book of a given size for the benchmarks: seeded, invented, of every kind of entry."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import duckdb

from readiness.book.copies import new_book
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


def many_times(source: Path, target: Path, times: int) -> None:
    """The new book ``target`` holds every bull of ``source`` so many times, under other tags: what
    is written into it is what an import would write, without the hours that it would take."""
    new_book(target)
    with duckdb.connect() as con:
        con.execute(f"ATTACH '{source}' AS source (READ_ONLY)")
        con.execute(f"ATTACH '{target}' AS target")
        con.execute("CREATE TEMP TABLE turn AS SELECT range AS turn FROM range($1)", [times])
        con.execute(_AGAIN)
        con.execute("INSERT INTO target.entry SELECT id, day, bull, kind, body, digest FROM again")
        con.execute(
            "INSERT INTO target.receipt SELECT again.id, recorded, position + turn * 1000000, "
            "batch, device, who FROM again JOIN source.receipt ON receipt.id = again.was"
        )


# A tag "B 0001" becomes "B 70001": its text and its look-up key alike.
_AGAIN = """
    CREATE TEMP TABLE again AS
    SELECT
        entry.id AS was, turn,
        CASE WHEN turn = 0 THEN entry.id ELSE CAST(CAST(md5(entry.id || turn) AS UUID) AS VARCHAR)
        END AS id,
        day, CASE WHEN turn = 0 THEN bull ELSE 'B' || turn || bull[2:] END AS bull, kind,
        CASE WHEN turn = 0 THEN CAST(entry.body AS VARCHAR)
        ELSE replace(CAST(entry.body AS VARCHAR), '"B ', '"B ' || turn) END AS text,
        text AS body, sha256(text) AS digest
    FROM source.entry, turn WHERE entry.bull <> '' OR turn = 0
"""
