"""The table of the entries that were withdrawn."""

from __future__ import annotations

from collections.abc import Iterable

from readiness.desk.reading import Reading
from readiness.export.columns import (
    BY,
    ENTRY,
    ID_LENGTH,
    NOTE,
    NOTE_MOST,
    ON,
    RECORDED,
    cell,
    iso,
    tail,
    text,
)
from readiness.export.shape import Column, Row, Table


def _strikes(reading: Reading) -> Iterable[Row]:
    by_id = {entry.id: entry for entry in reading.shelf.everything}
    for entry in reading.shelf.everything:
        if entry.kind == "strike":
            target = by_id.get(entry.body["entry"])
            struck = target.kind if target else None
            aim, why = cell(entry.body["entry"]), cell(entry.body.get("why"))
            yield entry.id, iso(entry.day), aim, struck, why, *tail(entry)


STRIKES = Table(
    "strikes",
    "Entries withdrawn",
    "What was struck stands in no other table; entries.jsonl has it whole.",
    (
        ENTRY,
        ON,
        Column("struck", "string", "Id of the entry withdrawn", required=True, longest=ID_LENGTH),
        text("struck_kind", "What kind of entry that is; empty where the book does not hold it"),
        text("why", "Why", longest=NOTE_MOST),
        BY,
        NOTE,
        RECORDED,
    ),
    ("entry",),
    _strikes,
)
