"""A book held against its journal."""

from __future__ import annotations

import json
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path
from typing import NamedTuple

from duckdb import DuckDBPyConnection

from readiness.book.faults import behind
from readiness.book.journal import Line, Unreadable, entry_line, files, lines

_Receipt = tuple[str, str, int, str, str]

_RECEIPTS = "SELECT id, recorded, position, batch, device FROM receipt"
_LACKING = """
    SELECT id, entry.body, recorded, position, batch, device, who
    FROM receipt JOIN entry USING (id) ORDER BY recorded, position, id
"""


class Compared(NamedTuple):
    """``lost``: what the journal says was written and the book does not hold, or holds otherwise;
    ``lacking``: the receipts that the journal does not have; ``unreadable``: lines of the journal.
    """

    lost: list[Line]
    lacking: set[_Receipt]
    unreadable: list[Unreadable]


def compare(con: DuckDBPyConnection, book: Path) -> Compared:
    """The current database, which is ``book``, and the journal beside it, read in full."""
    held: dict[str, str] = dict(con.execute("SELECT id, digest FROM entry").fetchall())
    lacking: set[_Receipt] = set(con.execute(_RECEIPTS).fetchall())
    receipts = frozenset(lacking)
    lost, unreadable = [], []
    for line in lines(files(book)):
        if isinstance(line, Unreadable):
            unreadable.append(line)
        elif line.receipt in receipts and held.get(line.id) == _digest(line):
            lacking.discard(line.receipt)
        else:
            lost.append(line)
    return Compared(lost, lacking, unreadable)


def _digest(line: Line) -> str:
    return sha256(line.body.encode("utf-8")).hexdigest()


def refuse_behind(found: Compared, book: Path) -> None:
    """Raise ``Damaged`` where the book lacks what was written into it."""
    if found.lost:
        ids = {line.id for line in found.lost}
        last = max(json.loads(line.body)["on"] for line in found.lost)
        raise behind(book, len(ids), last)


def missing_lines(con: DuckDBPyConnection, lacking: set[_Receipt]) -> Iterator[bytes]:
    """The journal's lines for these receipts."""
    if lacking:
        for row in con.execute(_LACKING).fetchall():
            line = Line(*row)
            if line.receipt in lacking:
                yield entry_line(line)
