"""The tables of what was said: one or more for each kind of entry, a row for each thing said.

They hold the entries that stand, whatever their day; what was struck is in ``entries.jsonl``, and
the table of strikes says what it was. The book's views show the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from readiness.desk.reading import Reading
from readiness.entries.entry import Entry
from readiness.entries.tables import TABLES, EntryTable
from readiness.export.columns import OF_BULL, row_of
from readiness.export.shape import Row, Table


def _table(made: EntryTable) -> Table:
    def rows(reading: Reading) -> Iterable[Row]:
        for entry in reading.of(made.kinds):
            bull = reading.tags.get(entry.bull)
            for line, part in enumerate(_parts(made, entry), start=1):
                yield row_of(entry, made.columns, {**part, "bull": bull, "line": line})

    refers = (OF_BULL,) if made.of_bull else ()
    key = tuple(column.name for column in made.key)
    return Table(made.name, made.title, made.text, made.columns, key, rows, refers)


def _parts(made: EntryTable, entry: Entry) -> Iterable[Mapping[str, Any]]:
    """What an entry says in each row, by column."""
    body, told = entry.body, made.told.name if made.told else ""
    for name in made.lists:
        for item in body.get(name, ()):
            yield {made.item: item, told: name} if told else item
    if not made.lists:
        gone = (name for name in made.may_be_taken_away if body.get(name, "") is None)
        yield {**body, told: entry.kind.rpartition("-")[2], "taken_away": " ".join(gone)}


SAID: tuple[Table, ...] = tuple(_table(made) for made in TABLES)
