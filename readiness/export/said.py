"""The tables of what was said: one or more for each kind of entry, a row for each thing said.

They hold the entries that stand, whatever their day; what was struck is in ``entries.jsonl``, and
the table of strikes says what it was. The book's views show the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from readiness.desk.reading import Reading
from readiness.entries.entry import Entry
from readiness.entries.tables import STRIKE_COLUMNS, TABLES, EntryTable
from readiness.export.shape import OF_BULL, Said, Table


def _table(made: EntryTable) -> Table:
    def said(reading: Reading) -> Said:
        for entry in reading.of(made.kinds):
            bull = reading.tags.get(entry.bull)
            for line, part in enumerate(_parts(made, entry), start=1):
                yield _row(entry, {**part, "bull": bull, "line": line})

    refers = (OF_BULL,) if made.of_bull else ()
    key = tuple(column.name for column in made.key)
    return Table(made.name, made.title, made.text, made.columns, key, said, refers)


def _parts(made: EntryTable, entry: Entry) -> Iterable[Mapping[str, Any]]:
    """What an entry says in each row, by column."""
    body, told = entry.body, made.told.name if made.told else ""
    for name in made.lists:
        for item in body.get(name, ()):
            yield {made.item: item, told: name} if told else item
    if not made.lists:
        gone = [name for name in made.may_be_taken_away if body.get(name, "") is None]
        yield {**body, told: entry.kind.rpartition("-")[2], "taken_away": gone}


def _row(entry: Entry, said: Mapping[str, Any]) -> dict[str, Any]:
    """What is said in a row, with what every row tells of its entry."""
    body = entry.body
    of_all = {"entry": entry.id, "on": body["on"], "recorded": entry.recorded}
    return {"by": body.get("by"), "note": body.get("note"), **said, **of_all}


def _strikes(reading: Reading) -> Said:
    by_id = {entry.id: entry for entry in reading.shelf.everything}
    for entry in reading.shelf.everything:
        if entry.kind == "strike":
            target = by_id.get(entry.body["entry"])
            struck = target.kind if target else None
            aim = {"struck": entry.body["entry"], "struck_kind": struck}
            yield _row(entry, {**entry.body, **aim})


SAID: tuple[Table, ...] = tuple(_table(made) for made in TABLES)

STRIKES = Table(
    "strikes",
    "Entries withdrawn",
    "What was struck stands in no other table; entries.jsonl has it whole.",
    STRIKE_COLUMNS,
    ("entry",),
    _strikes,
)
