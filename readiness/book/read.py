"""Entries out of the book."""

from __future__ import annotations

import json
from collections.abc import Collection, Iterable
from operator import itemgetter
from typing import Any, NamedTuple

from duckdb import DuckDBPyConnection

from readiness.book.faults import Damaged
from readiness.entries.entry import Entry, entry_order

# In the order of Entry's fields.
_ENTRIES = """
    SELECT
        (entry.day - DATE '0001-01-01') + 1 AS ordinal, receipt.recorded, receipt.position,
        entry.id, entry.kind, entry.bull, entry.body, receipt.batch, receipt.device
    FROM entry JOIN receipt USING (id)
"""
_ID, _RECEIPT = 3, itemgetter(1, 2, 7, 8)

_OF_IDS = "WHERE entry.id IN (SELECT unnest($ids))"

# What a strike is asked about: every strike, and all of the bulls whose entries it withdraws.
_ABOUT = (
    _ENTRIES
    + """ WHERE entry.kind = 'strike' OR entry.bull IN (
        SELECT struck.bull FROM entry AS struck WHERE struck.id IN (SELECT unnest($targets))
    )"""
)

_COUNTS = "SELECT (SELECT count(*) FROM entry), count(*), bit_xor(hash(id, batch)) FROM receipt"


class Counts(NamedTuple):
    """How many rows the tables of a book hold, and a mark over its receipts.

    Both tables only grow, so two equal ``Counts`` mean equal content; the mark tells books of
    equal length apart, as when a copy with other entries was put in the file's place.
    """

    entries: int = 0
    receipts: int = 0
    mark: int = 0


class Snapshot(NamedTuple):
    """All entries, strikes and struck ones too, in ``entry_order``, and how many rows they are."""

    entries: list[Entry]
    counts: Counts


def counts(con: DuckDBPyConnection) -> Counts:
    """How much the book holds now."""
    row = con.execute(_COUNTS).fetchone()
    return Counts(row[0], row[1], row[2] or 0) if row else Counts()


def all_entries(con: DuckDBPyConnection, name: str) -> list[Entry]:
    """Every entry, strikes and struck ones too, in ``entry_order``; its earliest receipt counts."""
    return _as_entries(con.execute(_ENTRIES).fetchall(), name)


def entries_of(con: DuckDBPyConnection, name: str, ids: Collection[str]) -> list[Entry]:
    """The entries of these ids."""
    rows = con.execute(_ENTRIES + _OF_IDS, {"ids": list(ids)}).fetchall()
    return _as_entries(rows, name)


def entries_about(con: DuckDBPyConnection, name: str, targets: Collection[str]) -> list[Entry]:
    """Every strike, and all entries of the bulls that the entries of these ids are about."""
    rows = con.execute(_ABOUT, {"targets": list(targets)}).fetchall()
    return _as_entries(rows, name)


def _as_entries(rows: list[tuple[Any, ...]], name: str) -> list[Entry]:
    if not rows:
        return []
    rows = _first_receipts(rows)
    *columns, texts, batches, devices = zip(*rows, strict=True)
    # Column by column: half the time of building entries row by row.
    entries = list(map(Entry, *columns, _bodies(texts, name), batches, devices))
    entries.sort(key=entry_order)
    return entries


def _first_receipts(rows: list[tuple[Any, ...]]) -> list[tuple[Any, ...]]:
    """One row an entry: that of its earliest receipt, the same one that the views show.

    Hardly an entry has two, and to group all of them in SQL doubles the time of a reading.
    """
    if len({row[_ID] for row in rows}) == len(rows):
        return rows
    first: dict[str, tuple[Any, ...]] = {}
    for row in sorted(rows, key=_RECEIPT):
        first.setdefault(row[_ID], row)
    return list(first.values())


def _bodies(texts: Iterable[str], name: str) -> list[dict[str, Any]]:
    """The bodies parsed in one go: twice as quick as one by one."""
    try:
        bodies: list[dict[str, Any]] = json.loads(f"[{','.join(texts)}]")
    except ValueError as error:
        raise Damaged(
            f"The book {name} holds an entry whose text is damaged. Verify it, and restore a "
            "backup to a new place.",
            "It holds an entry whose text is damaged.",
        ) from error
    return bodies
