"""A log of DuckDB's beside a book. This program leaves none; other programs that open the book do,
and a power cut or a program that syncs folders may leave a torn one.

Torn logs are DuckDB's business as long as it keeps a log of its own. To attach as `session` does
for writing, without one, beside a torn log makes DuckDB 2.0.1 corrupt its memory at the next long
batch. So whatever stands there is first taken in (what of it is whole) by an attach that keeps a
log, and a torn log is kept under another name.
"""

from __future__ import annotations

import os
import stat
from contextlib import suppress
from pathlib import Path

from readiness.book.session import attach, connection, in_own_words
from readiness.system.errors import DataError
from readiness.system.files import copied_aside
from readiness.system.locations import log_beside

_HEADER_MOST = 256  # bytes; the log's first line, that says whose it is, has some 35


def settle(path: Path, patience: float) -> str | None:
    """Nothing stands beside the book any more that a writing would stumble over; what is to be
    said of that. Raises what attaching raises, and DataError where the log is no ordinary file."""
    log = log_beside(path)
    try:
        found = os.stat(log, follow_symlinks=False)
    except OSError:
        return None
    if not stat.S_ISREG(found.st_mode):
        raise DataError(
            f"Where the log of the book {path} would stand, {log.name}, stands a link or a folder. "
            "Move it away; nothing was written."
        )
    aside = None if _whole(log) else copied_aside(log)
    try:
        with in_own_words(path, writing=True), connection() as con:
            attach(con, path, "book", mode="", patience=patience)
            # Where nothing was changed the log would stay: neither DETACH nor CHECKPOINT ends it.
            con.execute("CREATE TABLE book.settling (nothing INTEGER)")
            con.execute("DROP TABLE book.settling")
            con.execute("CHECKPOINT book")
            con.execute("DETACH book")
    except BaseException:
        if aside is not None:  # the log is where it was
            with suppress(OSError):
                aside.unlink()
        raise
    if aside is None:
        return None
    return (
        f"Beside the book stood a log that breaks off, as after a power cut. What is whole in it "
        f"is in the book; the log itself is kept as {aside.name}."
    )


def _whole(log: Path) -> bool:
    """Whether the log ends where its last piece ends: a header, then pieces, each after its length
    and checksum (8 bytes each)."""
    with open(log, "rb") as file:
        size = os.fstat(file.fileno()).st_size
        at = file.read(_HEADER_MOST).find(b"\xff\xff") + 2
        if at < 2:
            return False
        while at < size:
            file.seek(at)
            at += 16 + int.from_bytes(file.read(8), "little")
        return at == size
