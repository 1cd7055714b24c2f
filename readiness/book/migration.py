"""A book of a version before, brought up to date: a new file is made beside it and takes its name.

Killed in the middle, the old or the new one stands there, each whole. The old one is held while the
backup and the new one are made, so nobody writes into it meanwhile; who waited for it finds that
its name is another file's (``session.attach``).
"""

from __future__ import annotations

import os
import stat
from datetime import datetime
from pathlib import Path

from duckdb import CatalogException, DuckDBPyConnection

from readiness.book.copies import appearing, backup_by_hand, copy_all, fill
from readiness.book.faults import altered
from readiness.book.read import counts
from readiness.book.schema import (
    FIRST_WITH,
    VERSION,
    check_version,
    make_tables,
    make_triggers,
    make_views,
    say_version,
)
from readiness.book.session import TO_WRITE, attach, connection, in_own_words, look
from readiness.system.errors import CannotWrite, DataError
from readiness.system.files import of_a_copy, reason, sync_folder
from readiness.system.leftovers import draft_folder


def migrate(path: Path, now: datetime, patience: float) -> None:
    """Bring the book at ``path`` up to date, after a backup of it as it was (``now``, UTC, names
    it). One that is up to date by now, another process having done it, is left.

    Raises what reading and writing a book raises; then the old one stands there.
    """
    target = Path(os.path.realpath(path))
    with in_own_words(path, writing=True), connection() as con:
        attach(con, target, "source", mode=TO_WRITE, patience=patience, inode=look(target))
        con.execute("USE source")
        if check_version(con, str(path)) == VERSION:
            return
        mode = stat.S_IMODE(target.stat().st_mode)
        with appearing(backup_by_hand(path, now), of_a_copy(mode)) as draft:
            fill(con, draft, copy_all)
        try:
            with draft_folder(target.parent) as folder:
                draft = folder / "book.duckdb"
                fill(con, draft, lambda con: _renewed(con, path))
                draft.chmod(mode)
                _put_in_place(draft, target)  # while the old one is still held
        except OSError as error:
            raise CannotWrite(
                f"The book {path} is of a version before, and a new one cannot be put in its "
                f"place: {reason(error)}. See to its folder or the disk; nothing was changed."
            ) from error


def _renewed(con: DuckDBPyConnection, path: Path) -> None:
    """All of ``source`` into the empty ``book``, with what this version has and that has not."""
    con.execute("USE source")
    before = counts(con)
    con.execute("USE book")
    con.execute("COPY FROM DATABASE source TO book (SCHEMA)")
    try:
        make_tables(con, FIRST_WITH)
    except CatalogException as error:
        raise DataError(
            f"The book {path} holds a table of your own, named as one that this version of the "
            f"program makes ({', '.join(FIRST_WITH)}). Give yours another name with DuckDB, then "
            "do it again; nothing was written."
        ) from error
    make_views(con)
    make_triggers(con)
    con.execute("COPY FROM DATABASE source TO book (DATA)")
    say_version(con)
    if counts(con) != before:
        raise altered(str(path), "a copy of it holds something else")


def _put_in_place(draft: Path, target: Path) -> None:
    with open(draft, "rb") as handle:
        os.fsync(handle.fileno())
    os.replace(draft, target)
    sync_folder(target.parent)
