"""Entries out of the book."""

from __future__ import annotations

import json
from collections.abc import Collection, Iterable, Sequence
from datetime import date
from hashlib import sha256
from typing import Any, NamedTuple

from duckdb import DuckDBPyConnection

from readiness.book.faults import altered
from readiness.book.schema import FIRST_WITH, found_version
from readiness.book.views import WITHHELD
from readiness.entries.entry import Entry, entry_order
from readiness.trade.tags import tag_key

# In the order of Entry's fields.
_ENTRIES = """
    SELECT
        (entry.day - DATE '0001-01-01') + 1 AS ordinal, receipt.recorded, receipt.position,
        entry.id, entry.kind, entry.bull, entry.body, receipt.batch, receipt.device, receipt.who,
        entry.digest
    FROM entry JOIN receipt USING (id)
"""
_ID = 3

# What a strike is asked about: every strike, and all of the bulls whose entries it withdraws.
_ABOUT = (
    _ENTRIES
    + """ WHERE entry.kind = 'strike' OR entry.bull IN (
        SELECT struck.bull FROM entry AS struck WHERE struck.id IN (SELECT unnest($targets))
    )"""
)

# Bull by bull, what is of none first; of many processes each reads those of its part.
IN_PART = "(entry.bull = '' OR hash(entry.bull) % $parts = $part)"
BY_BULL = f"""{_ENTRIES} WHERE {IN_PART}
    ORDER BY entry.bull, entry.day, receipt.recorded, receipt.position, entry.id"""

_OF_IDS = _ENTRIES + " WHERE entry.id IN (SELECT unnest($ids))"
_OF_BULLS = _ENTRIES + " WHERE entry.bull IN (SELECT unnest($ids))"
_STRIKES_OF = (
    _ENTRIES
    + """ WHERE entry.kind = 'strike' AND entry.body->>'$.entry' IN (SELECT unnest($ids))"""
)

MARK = {
    "entry": "hash(id, day, bull, kind, digest)",
    "receipt": "hash(id, recorded, position, batch, device, who)",
    "taken_in": "hash(id, batch, here, receipts)",
}
"""Table → the mark of a row of it; a table's is that of all its rows, by exclusive or."""


class Counts(NamedTuple):
    """How many rows the tables of a book hold, and a mark over each, in the order of ``MARK``.

    The tables only grow, so two equal ``Counts`` mean equal content; the marks tell books of
    equal length apart, as when a copy with other entries was put in the file's place.
    """

    entries: int = 0
    mark: int = 0
    receipts: int = 0
    receipts_mark: int = 0
    taken_in: int = 0
    taken_in_mark: int = 0

    def after(self, added: Counts) -> Counts:
        """Those of a book that held ``self``, once rows of these counts were added to it."""
        return Counts(
            self.entries + added.entries,
            self.mark ^ added.mark,
            self.receipts + added.receipts,
            self.receipts_mark ^ added.receipts_mark,
            self.taken_in + added.taken_in,
            self.taken_in_mark ^ added.taken_in_mark,
        )


class Snapshot(NamedTuple):
    """All entries, strikes and struck ones too, in ``entry_order``, and how many rows they are."""

    entries: list[Entry]
    counts: Counts


def counts(con: DuckDBPyConnection) -> Counts:
    """How much the book holds now."""
    there = [table for table in MARK if table != "taken_in" or notes_what_came_in(con)]
    # A row a table: as scalar subqueries of one row it takes half as long again.
    each = (f"SELECT {n}, count(*), bit_xor({MARK[of]}) FROM {of}" for n, of in enumerate(there))
    found = sorted(con.execute(" UNION ALL ".join(each)).fetchall())
    return Counts(*(value or 0 for _, *row in found for value in row))


def notes_what_came_in(con: DuckDBPyConnection) -> bool:
    """Whether the book has the table for that: books of before do not."""
    return found_version(con) >= FIRST_WITH["taken_in"]


def withheld(con: DuckDBPyConnection) -> set[str]:
    """The ids of what came in out of another copy and was put out again."""
    if not notes_what_came_in(con):
        return set()
    return {id_ for (id_,) in con.execute(WITHHELD).fetchall()}


def all_entries(con: DuckDBPyConnection, name: str) -> list[Entry]:
    """Every entry that is not withheld, strikes and struck ones too, in ``entry_order``; its
    earliest receipt counts.

    Raises ``Damaged`` where an entry is not what was written, or where there is not one of each:
    blocks of a file that were changed against each other are each whole, and read without a word.
    """
    entries = as_entries(con.execute(_ENTRIES).fetchall(), name)
    row = con.execute("SELECT count(*), (SELECT count(DISTINCT id) FROM receipt) FROM entry")
    if row.fetchone() != (len(entries), len(entries)):
        raise altered(name, "not each of its entries has its receipt")
    return _shown(con, entries)


def entries_about(con: DuckDBPyConnection, name: str, targets: Collection[str]) -> list[Entry]:
    """Every strike, and all entries of the bulls that the entries of these ids are about."""
    rows = con.execute(_ABOUT, {"targets": list(targets)}).fetchall()
    return _shown(con, as_entries(rows, name))


def entries_of(con: DuckDBPyConnection, name: str, ids: Collection[str]) -> list[Entry]:
    """The entries of these ids, in ``entry_order``."""
    return _found(con, name, _OF_IDS, ids)


def strikes_of(con: DuckDBPyConnection, name: str, ids: Collection[str]) -> list[Entry]:
    """The strikes that aim at these ids, in ``entry_order``."""
    return _found(con, name, _STRIKES_OF, ids)


def entries_of_bulls(con: DuckDBPyConnection, name: str, keys: Collection[str]) -> list[Entry]:
    """The entries of the bulls of these keys, in ``entry_order``."""
    return _found(con, name, _OF_BULLS, keys)


def _found(con: DuckDBPyConnection, name: str, query: str, ids: Collection[str]) -> list[Entry]:
    if not ids:
        return []
    return _shown(con, as_entries(con.execute(query, {"ids": list(ids)}).fetchall(), name))


def _shown(con: DuckDBPyConnection, entries: list[Entry]) -> list[Entry]:
    out = withheld(con)
    return [entry for entry in entries if entry.id not in out] if out else entries


def as_entries(rows: list[tuple[Any, ...]], name: str) -> list[Entry]:
    """Rows as entries in ``entry_order``; raises ``Damaged`` where one is not what was written."""
    if not rows:
        return []
    rows = _first_receipts(rows)
    *columns, texts, batches, devices, people, digests = zip(*rows, strict=True)
    bodies = _bodies(texts, name)
    # Column by column: half the time of building entries row by row.
    if not _as_written(columns, texts, bodies, digests):
        raise altered(name, "an entry in it is not what was written")
    entries = list(map(Entry, *columns, bodies, batches, devices, people))
    entries.sort(key=entry_order)
    return entries


def _as_written(
    columns: list[tuple[Any, ...]],
    texts: Sequence[str],
    bodies: list[dict[str, Any]],
    digests: Sequence[str],
) -> bool:
    """Whether each text has its digest, and day, kind and bull of the row are those of the text."""
    days, kinds, bulls = columns[0], columns[4], columns[5]
    if any(
        sha256(text.encode("utf-8")).hexdigest() != digest
        for text, digest in zip(texts, digests, strict=True)
    ):
        return False
    if any(body["kind"] != kind for body, kind in zip(bodies, kinds, strict=True)):
        return False
    iso = {day: date.fromordinal(day).isoformat() for day in set(days)}
    if any(body["on"] != iso[day] for body, day in zip(bodies, days, strict=True)):
        return False
    said = [body.get("bull") or "" for body in bodies]
    keys = {tag: tag_key(tag) for tag in set(said)}
    return all(keys[tag] == bull for tag, bull in zip(said, bulls, strict=True))


def _first_receipts(rows: list[tuple[Any, ...]]) -> list[tuple[Any, ...]]:
    """One row an entry: that of its earliest receipt, the same one that the views show.

    Hardly an entry has two, and to group all of them in SQL doubles the time of a reading.
    """
    if len({row[_ID] for row in rows}) == len(rows):
        return rows
    first: dict[str, tuple[Any, ...]] = {}
    for row in sorted(rows, key=_receipt):
        first.setdefault(row[_ID], row)
    return list(first.values())


def _receipt(row: tuple[Any, ...]) -> tuple[Any, ...]:
    """The order of receipts: one out of an export of before names nobody, and is the same one."""
    _, recorded, position, *_, batch, device, who, _ = row
    return recorded, position, batch, device, not who, who


def _bodies(texts: Iterable[str], name: str) -> list[dict[str, Any]]:
    """The bodies parsed in one go: twice as quick as one by one."""
    try:
        bodies: list[dict[str, Any]] = json.loads(f"[{','.join(texts)}]")
    except ValueError as error:
        raise altered(name, "an entry in it is no text any more") from error
    return bodies
