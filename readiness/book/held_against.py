"""A book held against its journal."""

from __future__ import annotations

import json
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path
from typing import NamedTuple

from duckdb import DuckDBPyConnection

from readiness.book.faults import behind
from readiness.book.journal import (
    Line,
    TakenIn,
    Unreadable,
    entry_line,
    files,
    lines,
    taken_in_line,
)
from readiness.book.read import Counts, notes_what_came_in
from readiness.system.progress import Progress, counted, nobody

_Receipt = tuple[str, str, int, str, str]

_RECEIPTS = "SELECT id, recorded, position, batch, device FROM receipt"
_LACKING = """
    SELECT id, entry.body, recorded, position, batch, device, who
    FROM receipt JOIN entry USING (id) ORDER BY recorded, position, id
"""


_TAKEN_IN = f"SELECT {', '.join(TakenIn._fields)} FROM taken_in ORDER BY rowid"


class Compared(NamedTuple):
    """``lost``: what the journal says was written and the book does not hold, or holds otherwise;
    ``lacking``: the receipts that the journal does not have; ``unreadable``: lines of the journal.
    Of what came in and what was put out again, ``untold`` the journal does not have, ``forgotten``
    the book.
    """

    lost: list[Line]
    lacking: set[_Receipt]
    unreadable: list[Unreadable]
    untold: list[TakenIn]
    forgotten: list[TakenIn]


def compare(con: DuckDBPyConnection, book: Path, progress: Progress = nobody) -> Compared:
    """The current database, which is ``book``, and the journal beside it, read in full."""
    held: dict[str, str] = dict(con.execute("SELECT id, digest FROM entry").fetchall())
    lacking: set[_Receipt] = set(con.execute(_RECEIPTS).fetchall())
    receipts = frozenset(lacking)
    came = taken_in_of(con)
    noted, told = frozenset(came), set[TakenIn]()
    lost, unreadable = [], []
    for line in counted(lines(files(book)), len(receipts) + len(came), progress):
        if isinstance(line, Unreadable):
            unreadable.append(line)
        elif isinstance(line, TakenIn):
            told.add(line)
        elif line.receipt in receipts and held.get(line.id) == _digest(line):
            lacking.discard(line.receipt)
        else:
            lost.append(line)
    untold = [row for row in came if row not in told]
    return Compared(lost, lacking, unreadable, untold, [row for row in told if row not in noted])


def taken_in_of(con: DuckDBPyConnection) -> list[TakenIn]:
    """What came in out of another copy and what was put out again, in the order of it."""
    if not notes_what_came_in(con):
        return []
    return [TakenIn(*row) for row in con.execute(_TAKEN_IN).fetchall()]


def _digest(line: Line) -> str:
    return sha256(line.body.encode("utf-8")).hexdigest()


def hold_against(con: DuckDBPyConnection, book: Path, known: Counts | None, now: Counts) -> None:
    """Raise ``Damaged`` where the book, that holds ``now``, lacks what was written into it.
    ``known``: what its journal said before it was attached: it is never behind that."""
    if known != now and files(book):
        refuse_behind(compare(con, book), book)


def refuse_behind(found: Compared, book: Path) -> None:
    """Raise ``Damaged`` where the book lacks what was written into it."""
    if found.lost or found.forgotten:
        ids = {line.id for line in found.lost} | {row.id for row in found.forgotten}
        days = [json.loads(line.body)["on"] for line in found.lost]
        days += [row.recorded[:10] for row in found.forgotten]
        raise behind(book, len(ids), max(days))


def missing_lines(con: DuckDBPyConnection, found: Compared) -> Iterator[bytes]:
    """What the journal does not have of the current database, in its lines."""
    if found.lacking:
        for row in con.execute(_LACKING).fetchall():
            line = Line(*row)
            if line.receipt in found.lacking:
                yield entry_line(line)
    yield from map(taken_in_line, found.untold)
