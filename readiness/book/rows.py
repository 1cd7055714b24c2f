"""The rows of a book's tables, put in by one statement a table, and their lines in the journal."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date
from typing import NamedTuple

from duckdb import DuckDBPyConnection

from readiness.book.journal import Line, TakenIn, entry_line, taken_in_line
from readiness.entries.entry import Entry, NewEntry
from readiness.entries.ids import canonical, digest
from readiness.trade.tags import tag_key


class Row(NamedTuple):
    """A row of the table of entries."""

    id: str
    day: str
    bull: str
    kind: str
    body: str
    digest: str


class Receipt(NamedTuple):
    """A row of the table of receipts."""

    id: str
    recorded: str
    position: int
    batch: str
    device: str
    who: str = ""


def row_of(entry: NewEntry) -> Row:
    content = entry.content
    return Row(
        id=entry.id,
        day=content["on"],
        bull=tag_key(content.get("bull") or ""),
        kind=content["kind"],
        body=canonical(content),
        digest=digest(content),
    )


def receipt_of(entry: NewEntry) -> Receipt | None:
    """The receipt that an entry brings along out of another copy; None where it brings none."""
    if entry.recorded is None:
        return None
    place = (entry.position or 0, entry.batch or "", entry.device or "", entry.who or "")
    return Receipt(entry.id, entry.recorded, *place)


# One statement for the whole batch: row by row costs a hundred times as much. `ON CONFLICT` does
# not work on a table with triggers. What is held already was left out in the same transaction.
def _adding(table: str, columns: Sequence[str], **types: str) -> str:
    """The statement that adds ``$rows``, a JSON list of objects. ``types``: of what is no text."""
    shape = json.dumps([dict.fromkeys(columns, "VARCHAR") | types])
    rows = f"SELECT unnest(from_json($rows::JSON, '{shape}'), recursive := true)"
    return f"INSERT INTO {table} SELECT {', '.join(columns)} FROM ({rows}) AS new"


_ADD_ENTRIES = _adding("entry", Row._fields, day="DATE")
_ADD_OWN_RECEIPTS = _adding("receipt", Receipt._fields, position="INTEGER")
# Out of another copy of the book the same receipt may come again, and is no new one. One out of an
# export of before names nobody, and is the same one.
_ADD_RECEIPTS = f"""{_ADD_OWN_RECEIPTS}
    WHERE NOT EXISTS (
        FROM receipt AS old WHERE old.id = new.id AND old.recorded = new.recorded
        AND old.position = new.position AND old.batch = new.batch AND old.device = new.device
        AND (old.who = new.who OR new.who = '')
    )
"""
_ADD_TAKEN_IN = _adding("taken_in", TakenIn._fields, here="BOOLEAN", receipts="BIGINT")


def put(
    con: DuckDBPyConnection,
    rows: Iterable[Row],
    receipts: Sequence[Receipt],
    taken_in: Sequence[TakenIn],
    *,
    foreign: bool,
) -> None:
    """Add these rows to the book. ``foreign``: some of the receipts may be there already."""
    con.execute(_ADD_ENTRIES, {"rows": _as_json(rows)})
    statement = _ADD_RECEIPTS if foreign else _ADD_OWN_RECEIPTS
    con.execute(statement, {"rows": _as_json(receipts)})
    if taken_in:
        con.execute(_ADD_TAKEN_IN, {"rows": _as_json(taken_in)})


def as_read(new: Iterable[Row], receipts: Iterable[Receipt]) -> list[Entry]:
    """The new entries as a reading gives them: each with its earliest receipt, in their order."""
    first = earliest(receipts)
    return sorted(
        Entry(
            date.fromisoformat(row.day).toordinal(), of.recorded, of.position, row.id, row.kind,
            row.bull, json.loads(row.body), of.batch, of.device, of.who,
        )
        for row in new
        for of in (first[row.id],)
    )  # fmt: skip


def earliest(receipts: Iterable[Receipt]) -> dict[str, Receipt]:
    """Of each id the receipt that counts. One out of an export of before names nobody, and is the
    same one as that which does."""
    first: dict[str, Receipt] = {}
    for receipt in sorted(receipts, key=lambda each: (each[1:5], not each.who, each.who)):
        first.setdefault(receipt.id, receipt)
    return first


def journal_lines(
    bodies: Mapping[str, str], receipts: Iterable[Receipt], taken_in: Iterable[TakenIn]
) -> Iterator[bytes]:
    """The same in the lines of a journal. ``bodies``: of the receipts' entries, by id."""
    for receipt in receipts:
        yield entry_line(Line(receipt.id, bodies[receipt.id], *receipt[1:]))
    yield from map(taken_in_line, taken_in)


def _as_json(rows: Iterable[Row] | Iterable[Receipt] | Iterable[TakenIn]) -> str:
    return json.dumps([row._asdict() for row in rows])
