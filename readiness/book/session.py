"""One operation on a book: attach, one transaction, detach.

Nothing holds the book open between operations, so a second window, the board on another screen
and the command line all work on it at once, and a copied file is whole.
"""

from __future__ import annotations

import os
import random
import stat
import threading
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

import duckdb
from duckdb import DuckDBPyConnection

from readiness.book.faults import HELD, file_not_written, forbidden, in_plain_words, missing, says
from readiness.book.schema import VERSION, OldVersion, check_version
from readiness.system.errors import DataError, NotFound
from readiness.system.locations import log_beside

# DuckDB's lock is a POSIX one, held by the process: a second attach of the same file in one
# process would fail in another way than one of another process, so operations queue here.
_ONE_AT_A_TIME = threading.Lock()

# No extension is ever fetched over the net for a farm's book.
_SETTINGS: dict[str, str | bool | int | float | list[str]] = {
    "autoinstall_known_extensions": "false",
    "autoload_known_extensions": "false",
}

# With no log of its own, a commit reaches the file at the checkpoint of DETACH, in one step: a
# batch is in the book whole, or (killed, disk full) not at all, and no log is left behind that
# would bring back what was reported as not written.
TO_WRITE = ", RECOVERY_MODE no_wal_writes"
TO_READ = ", READ_ONLY"

# Seconds: how long to wait for another process, and the waits between tries.
PATIENCE = 5.0
FIRST_WAIT, LONGEST_WAIT = 0.002, 0.1


def quoted(path: Path) -> str:
    """The path as an SQL string."""
    return "'" + str(path).replace("'", "''") + "'"


def look(path: Path) -> int:
    """Refuse what cannot be a book before the database creates or waits for it; the inode of what
    can.

    By ``os.stat`` alone: opening and closing the file here would drop the lock that this process
    may hold on it, and lose another writer's rows.
    """
    try:
        found = os.stat(path)
    except PermissionError as error:
        raise forbidden(path, writing=False) from error
    except (FileNotFoundError, NotADirectoryError) as error:
        raise missing(path) from error
    except OSError as error:
        raise NotFound(
            f"The book {path} cannot be opened: {error.strerror}. Give the book's own file with "
            "--book."
        ) from error
    if log_beside(path).is_symlink():
        raise DataError(
            f"In the place of the log of the book {path} stands a link, which is not followed. "
            f"Move {log_beside(path)} away; nothing was changed."
        )
    if not stat.S_ISREG(found.st_mode):
        what = "a folder" if stat.S_ISDIR(found.st_mode) else "no ordinary file"
        raise DataError(f"{path} is {what}, not a book. Give the book's own file with --book.")
    if found.st_size == 0:
        raise DataError(
            f"{path} is an empty file, not a book. Remove it to begin a new book there, or give "
            "the book's own file with --book."
        )
    return found.st_ino


@contextmanager
def connection() -> Iterator[DuckDBPyConnection]:
    """An in-memory database of this operation alone, with the process to itself."""
    with _ONE_AT_A_TIME:
        con = _connect()
        try:
            yield con
        finally:
            con.close()


def bound(memory: int, spill: Path) -> None:
    """From now on every database that this process opens has at most so many bytes and one thread,
    and puts what goes beyond that into ``spill``."""
    _SETTINGS.update(memory_limit=f"{memory}B", threads=1, temp_directory=str(spill))


def _connect() -> DuckDBPyConnection:
    con = duckdb.connect(":memory:", config=_SETTINGS)
    con.execute("SET TimeZone = 'UTC'")
    return con


def make_file(
    con: DuckDBPyConnection, target: Path, statement: str, parameters: Mapping[str, str]
) -> None:
    """Run the COPY that writes ``target``, in one order: the same rows, the same bytes. Raises
    CannotWrite."""
    con.execute("SET threads = 1")
    try:
        con.execute(statement, parameters)
    except (duckdb.IOException, duckdb.FatalException) as error:
        raise file_not_written(error, target) from error


# To start the database takes five times as long as to save one entry, so the in-memory one, with
# nothing attached, waits for the next operation of the same process (by its id: a fork has none of
# its threads). Not after the first: a command that only reads once would pay for it at its end.
_IDLE: dict[int, DuckDBPyConnection | None] = {}


@contextmanager
def idle_connection() -> Iterator[DuckDBPyConnection]:
    """As ``connection``, kept for the next if the block leaves it as it was; else closed: after an
    error (a full disk is a fatal one) nothing is built on it."""
    with _ONE_AT_A_TIME:
        con = _IDLE.get(os.getpid()) or _connect()
        try:
            yield con
        except BaseException:
            con.close()
            _IDLE[os.getpid()] = None
            raise
        if os.getpid() in _IDLE:
            _IDLE[os.getpid()] = con
        else:
            con.close()
            _IDLE[os.getpid()] = None


def attach(
    con: DuckDBPyConnection,
    path: Path,
    alias: str,
    *,
    mode: str = TO_READ,
    patience: float,
    inode: int | None = None,
) -> None:
    """Attach ``path``, waiting up to ``patience`` seconds while another process holds it: it is
    tried until it works, with growing waits; the last refusal is raised.

    ``mode``: ``TO_READ``, ``TO_WRITE`` or other options of DuckDB. ``inode``: of the file as it was
    before; where another one took its name while this one was waited for, that one is attached:
    what is written into a file without a name is lost.
    """
    options = f"TYPE duckdb{mode}"
    end = time.monotonic() + patience
    wait = FIRST_WAIT
    while True:
        try:
            con.execute(f"ATTACH {quoted(path)} AS {alias} ({options})")
            if inode is None or (now := look(path)) == inode:
                return
            con.execute(f"DETACH {alias}")
            inode = now
            continue
        except duckdb.IOException as error:
            if not says(error, HELD) or time.monotonic() >= end:
                raise
        # Uneven waits, so that two who wait do not keep meeting.
        time.sleep(min(wait * random.uniform(0.5, 1.0), max(0.0, end - time.monotonic())))
        wait = min(wait * 2, LONGEST_WAIT)


@contextmanager
def in_own_words(path: Path, *, writing: bool) -> Iterator[None]:
    """Every error of the database inside becomes one of ``readiness.system.errors``."""
    try:
        yield
    except duckdb.Error as error:
        raise in_plain_words(error, path, writing=writing) from error


@contextmanager
def session(path: Path, patience: float, *, write: bool = False) -> Iterator[DuckDBPyConnection]:
    """The book as the current database, in one transaction; refused where it is no book of ours.

    Committed and in the file when the block ends; whatever is raised inside undoes all of it.
    Raises NotFound, DataError, CannotWrite or BookBusy; to write, OldVersion.
    """
    inode = look(path)
    with in_own_words(path, writing=write), idle_connection() as con:
        if write:
            attach(con, path, "book", mode=TO_WRITE, patience=patience, inode=inode)
        else:
            attach(con, path, "book", patience=patience)
        con.execute("USE book")
        con.execute("BEGIN")
        if check_version(con, str(path)) < VERSION and write:
            raise OldVersion
        yield con
        commit(con)
        leave(con)


def commit(con: DuckDBPyConnection) -> None:
    """End the operation's transaction."""
    con.execute("COMMIT")


def leave(con: DuckDBPyConnection) -> None:
    """Detach the book: this writes what was committed into its file."""
    con.execute("USE memory")
    con.execute("DETACH book")
