"""The table of the entries that were withdrawn."""

from __future__ import annotations

from collections.abc import Iterable

from readiness.desk.reading import Reading
from readiness.entries.tables import STRIKE_COLUMNS
from readiness.export.columns import row_of
from readiness.export.shape import Row, Table


def _strikes(reading: Reading) -> Iterable[Row]:
    by_id = {entry.id: entry for entry in reading.shelf.everything}
    for entry in reading.shelf.everything:
        if entry.kind == "strike":
            target = by_id.get(entry.body["entry"])
            struck = target.kind if target else None
            aim = {"struck": entry.body["entry"], "struck_kind": struck}
            yield row_of(entry, STRIKE_COLUMNS, {**entry.body, **aim})


STRIKES = Table(
    "strikes",
    "Entries withdrawn",
    "What was struck stands in no other table; entries.jsonl has it whole.",
    STRIKE_COLUMNS,
    ("entry",),
    _strikes,
)
