"""A new book of what can be read of a damaged one, completed from its journal and its backups."""

from __future__ import annotations

import os
from collections.abc import Sequence
from datetime import datetime
from itertools import chain
from pathlib import Path
from typing import NamedTuple

from duckdb import DuckDBPyConnection

from readiness.book import journal
from readiness.book.copies import backups_of, make_filled, refuse_for_new
from readiness.book.read import Counts, counts
from readiness.book.rows import Row, journal_lines, put, row_of
from readiness.book.salvage.damaged import Reading, read_damaged
from readiness.book.salvage.source import (
    BACKUP,
    BOOK,
    JOURNAL,
    Source,
    content_of,
    of_journal,
    of_readings,
)
from readiness.book.salvage.together import Lost, Together, put_together
from readiness.book.schema import VERSION, make_book
from readiness.book.session import session
from readiness.book.store import NOT_IN_JOURNAL
from readiness.entries.entry import NewEntry
from readiness.system.errors import CannotWrite, DataError, NotFound
from readiness.system.locations import JOURNAL_SUFFIX, journal_beside
from readiness.system.progress import Progress, nobody


class Came(NamedTuple):
    """``what``: ``book``, ``journal`` or ``backup``; ``entries``: those that none before it had;
    ``whole``: all of it could be read."""

    what: str
    file: Path
    entries: int
    whole: bool


class Salvaged(NamedTuple):
    """``all_there``: nothing is lost; ``sure``: nothing but what is named."""

    book: Path
    entries: int
    receipts: int
    came: list[Came]
    lost: list[Lost]
    more: int
    given: list[str]
    clashing: list[str]
    damaged_lines: list[journal.Unreadable]
    sure: bool
    remarks: list[str]

    @property
    def all_there(self) -> bool:
        return self.sure and not (self.lost or self.more or self.given or self.clashing)


def salvage(file: Path, target: Path, now: datetime, progress: Progress = nobody) -> Salvaged:
    """``file``: the damaged book, or where it was; its journal, or a file of it; or a backup.

    Raises CannotWrite where something stands at ``target``, NotFound where there is nothing to
    read, DataError where nothing can be read; then nothing is made.
    """
    refuse_for_new(target)
    sources, clashing, last = _sources(file, progress)
    found = put_together(sources, last, now)
    if not found.bodies:
        raise DataError(_nothing(file, sources))
    made = make_filled(target, lambda con: _fill(con, found))
    remarks = _begin_journal(target, found, now)
    damaged = [line for source in sources for line in source.damaged_lines]
    return Salvaged(
        book=target,
        entries=made.counts["entry"],
        receipts=made.counts["receipt"],
        came=[Came(s.what, s.file, n, s.whole) for s, n in zip(sources, found.came, strict=True)],
        lost=found.lost,
        more=found.more,
        given=found.given,
        clashing=[*dict.fromkeys([*clashing, *found.clashing])],
        damaged_lines=damaged,
        sure=found.sure,
        remarks=remarks,
    )


# ---- where from ----------------------------------------------------------------------------------


def _sources(file: Path, progress: Progress) -> tuple[list[Source], set[str], Counts | None]:
    """In the order book, journal, backups with the newest first; the ids that stand for two
    contents in the journal; and how much that says the book held."""
    if file.is_dir() and file.name.endswith(JOURNAL_SUFFIX):
        file = file.with_name(file.name.removesuffix(JOURNAL_SUFFIX))
    elif journal.is_one_of(file):
        source, clashing = of_journal(file, [file])
        return [source], clashing, journal.counts_at_end(file)
    written = journal.files(file)
    backups = backups_of(file)
    if file.is_dir():
        raise DataError(f"{file} is a folder, and no book's journal. Give the damaged book itself.")
    there = os.path.lexists(file)
    if not (there or written or backups):
        raise NotFound(
            f"There is no book at {file}, nor a journal or backups of one beside that place. Give "
            "the damaged book's own file, its journal or a backup."
        )
    steps = len(backups) + there
    found: list[Source] = []
    clashing = set()
    if there:
        found.append(_of_file(BOOK, file))
    if written:
        source, clashing = of_journal(journal_beside(file), written)
        found.append(source)
    for done, backup in enumerate(backups, start=steps - len(backups) + 1):
        found.append(_of_file(BACKUP, backup))
        progress(done, steps)
    return found, clashing, journal.last_counts(file)


def _of_file(what: str, file: Path) -> Source:
    if file.is_file() and file.stat().st_size:
        readings = read_damaged(file)
        _refuse_newer(file, readings)
        return of_readings(what, file, readings)
    nothing = Reading({}, {}, whole=False, sure=False)
    return of_readings(what, file, [nothing])


def _refuse_newer(file: Path, readings: Sequence[Reading]) -> None:
    """A newer book may hold what would be lost by reading it as one of ours."""
    for found in readings:
        for row in found.tables.get("meta", {}).values() if found.sure else ():
            version = row.get("value", "")
            if row.get("name") == "version" and version.isdecimal() and int(version) > VERSION:
                raise DataError(
                    f"{file} is a book of version {version}, and this program reads version "
                    f"{VERSION}. Salvage it with a newer version of the program; nothing was made."
                )


def _nothing(file: Path, sources: Sequence[Source]) -> str:
    tried = ", ".join(source.file.name for source in sources)
    return (
        f"Nothing can be read of {file} (tried: {tried}), so no book was made. Copy all of its "
        "folder elsewhere as it is, and look for another copy of the book: a backup on a stick, an "
        "export, another device."
    )


# ---- the new book --------------------------------------------------------------------------------


def _fill(con: DuckDBPyConnection, found: Together) -> None:
    make_book(con)
    con.execute("BEGIN")
    rows = (_row(id_, body) for id_, body in found.bodies.items())
    put(con, rows, found.receipts, found.taken_in)
    con.execute("COMMIT")


def _row(id_: str, body: str) -> Row:
    return row_of(NewEntry(id_, content_of(body) or {}))


def _begin_journal(book: Path, found: Together, now: datetime) -> list[str]:
    """The new book's journal, with all that it holds; what there is to say of that."""
    with session(book, 0) as con:
        held = counts(con)
    try:
        lines = journal_lines(found.bodies.__getitem__, found.receipts, found.taken_in)
        journal.append(book, now, chain(lines, [journal.counts_line(held)]))
    except CannotWrite as error:
        return [NOT_IN_JOURNAL.format(error=error)]
    return []


__all__ = ["BACKUP", "BOOK", "JOURNAL", "Came", "Lost", "Salvaged", "salvage"]
