"""A book of a given size for the benchmarks: seeded, invented, of every kind of entry."""

from __future__ import annotations

from datetime import date

from readiness.entry import Entry, entry_order, tag_key
from tests.reference.books import random_book

ON = date(2026, 4, 3)


def entries_of(contents: list[dict[str, object]]) -> list[Entry]:
    """Contract entries, in the order recorded, as the book would give them: struck ones gone."""
    struck = {said["entry"] for said in contents if said["kind"] == "strike"}
    told = [
        Entry(
            date.fromisoformat(str(said["on"])).toordinal(),
            "2026-01-01T00:00:00.000000Z",
            position,
            str(said.get("id") or f"entry-{position}"),
            str(said["kind"]),
            tag_key(str(said.get("bull", ""))),
            said,
        )
        for position, said in enumerate(contents)
        if said["kind"] != "strike" and said.get("id") not in struck
    ]
    return sorted(told, key=entry_order)


def book(bulls: int, entries: int, seed: int = 7) -> list[Entry]:
    return entries_of(random_book(seed, bulls, entries, ON))
