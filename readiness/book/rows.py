"""The rows of a book's tables, put in by one statement a table, and their lines in the journal."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import date
from functools import reduce
from itertools import islice
from operator import xor
from typing import NamedTuple, TypeVar

from duckdb import DuckDBPyConnection

from readiness.book.journal import Line, TakenIn, entry_line, taken_in_line
from readiness.book.read import MARK, Counts
from readiness.entries.entry import Entry, NewEntry
from readiness.entries.ids import canonical, text_digest
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


Each = TypeVar("Each")
AT_A_TIME = 5_000
"""Rows: more in one statement take memory, and no less time."""


def in_parts(values: Iterable[Each]) -> Iterator[list[Each]]:
    """The values in their order, so many at a time."""
    left = iter(values)
    while part := list(islice(left, AT_A_TIME)):
        yield part


def text_of(entry: NewEntry) -> str:
    """The canonical text of its content."""
    return entry.text or canonical(entry.content)


def row_of(entry: NewEntry) -> Row:
    content, text = entry.content, text_of(entry)
    return Row(
        id=entry.id,
        day=content["on"],
        bull=tag_key(content.get("bull") or ""),
        kind=content["kind"],
        body=text,
        digest=text_digest(text),
    )


def receipt_of(entry: NewEntry) -> Receipt | None:
    """The receipt that an entry brings along out of another copy; None where it brings none."""
    if entry.recorded is None:
        return None
    place = (entry.position or 0, entry.batch or "", entry.device or "", entry.who or "")
    return Receipt(entry.id, entry.recorded, *place)


# Column by column: row by row costs a hundred times as much, and as JSON three times. `ON CONFLICT`
# does not work on a table with triggers: what is held already was left out in the same transaction.
def _adding(table: str, columns: Sequence[str]) -> str:
    """The statement that adds rows, of which each column is a list; it gives the mark of each."""
    values = ", ".join(f"unnest(${column})" for column in columns)
    return f"INSERT INTO {table} SELECT {values} RETURNING {MARK[table]}"


_ADD_ENTRIES = _adding("entry", Row._fields)
_ADD_RECEIPTS = _adding("receipt", Receipt._fields)
_ADD_TAKEN_IN = _adding("taken_in", TakenIn._fields)


def put(
    con: DuckDBPyConnection,
    rows: Iterable[Row],
    receipts: Iterable[Receipt],
    taken_in: Iterable[TakenIn],
) -> Counts:
    """Add these rows, none of which it holds, to the book; how many went in, and their marks.

    The tables are not counted once more for that: whoever reads them next does, and holds it
    against what was said here.
    """
    return Counts(
        *_put(con, _ADD_ENTRIES, Row._fields, rows),
        *_put(con, _ADD_RECEIPTS, Receipt._fields, receipts),
        *_put(con, _ADD_TAKEN_IN, TakenIn._fields, taken_in),
    )


def _put(
    con: DuckDBPyConnection,
    statement: str,
    names: Sequence[str],
    rows: Iterable[Row | Receipt | TakenIn],
) -> tuple[int, int]:
    many, mark = 0, 0
    for part in in_parts(rows):
        columns = map(list, zip(*part, strict=True))
        con.execute(statement, dict(zip(names, columns, strict=True)))
        marks = [of_row for (of_row,) in con.fetchall()]
        many, mark = many + len(marks), reduce(xor, marks, mark)
    return many, mark


_RECEIPTS_OF = f"""
    SELECT {", ".join(Receipt._fields)} FROM receipt
    SEMI JOIN (SELECT unnest($ids) AS id) AS asked USING (id)
"""


def not_here(con: DuckDBPyConnection, receipts: Iterable[Receipt]) -> list[Receipt]:
    """Those of these receipts, out of another copy, that the book does not hold. One that names
    nobody, out of an export of before, is the same one as that which does."""
    told = list(receipts)
    found: list[Receipt] = []
    for part in in_parts(told):
        rows = con.execute(_RECEIPTS_OF, {"ids": [each.id for each in part]}).fetchall()
        held = {*rows, *(row[:5] for row in rows)}
        found += (each for each in part if (each if each.who else each[:5]) not in held)
    return found


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
    body: Callable[[str], str], receipts: Iterable[Receipt], taken_in: Iterable[TakenIn]
) -> Iterator[bytes]:
    """The same in the lines of a journal. ``body``: gives that of a receipt's entry, by id."""
    for receipt in receipts:
        yield entry_line(Line(receipt.id, body(receipt.id), *receipt[1:]))
    yield from map(taken_in_line, taken_in)
