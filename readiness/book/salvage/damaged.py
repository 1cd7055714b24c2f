"""A damaged book read as far as it goes: a copy of it, by a process of its own (``child.py``) that
may crash or hang, in bounded time. The file itself and its folder are never written to."""

from __future__ import annotations

import json
import os
import shutil
import stat
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, NamedTuple

from readiness.book.faults import in_use
from readiness.book.session import LONGEST_WAIT, PATIENCE
from readiness.system.errors import CannotWrite, DataError, NotFound
from readiness.system.locations import log_beside

SECONDS, PER_MEGABYTE = 20.0, 2.0
"""For one file, with all that it is tried again: one in which DuckDB hangs keeps nobody waiting for
minutes."""
RESTARTS = 12

Table = dict[int, dict[str, str]]
"""Row → column → its text, of what can be read."""


class Reading(NamedTuple):
    """``tables``: by name; ``counts``: how many rows each says it has; ``whole``: every column of
    every row was read, of a file with nothing wrong in it; ``sure``: what was read is of blocks
    with the right checksum, else only what has a digest of its own can be trusted; ``mendable``:
    some could not be read for their checksum alone."""

    tables: dict[str, Table]
    counts: dict[str, int]
    whole: bool
    sure: bool
    mendable: bool = False


def read_damaged(file: Path) -> list[Reading]:
    """What can be read of it: as it is; if that is not all, without the log beside it; and with
    what stands in blocks whose checksum is wrong.

    Raises NotFound, DataError (no file that could be a book), BookBusy and CannotWrite.
    """
    end = time.monotonic() + _seconds(file)
    log = log_beside(file)
    with _copied(file, log) as copy:
        found = [_read(copy, end, mend=False)]
    if os.path.lexists(log):
        with _copied(file, None) as copy:
            found.append(_read(copy, end, mend=False))
    if found[-1].mendable:
        with _copied(file, None) as copy:
            found.append(_read(copy, end, mend=True))
    return found


def _seconds(file: Path) -> float:
    try:
        return SECONDS + PER_MEGABYTE * file.stat().st_size / 1e6
    except OSError:  # told where it is copied
        return SECONDS


@contextmanager
def _copied(file: Path, log: Path | None) -> Iterator[Path]:
    """A copy in a folder of our own, with the log."""
    try:
        with tempfile.TemporaryDirectory(prefix="readiness-salvage-") as folder:
            copy = Path(folder) / "book.duckdb"
            _copy(file, copy)
            if log is not None and log.is_file() and not log.is_symlink():
                _copy(log, log_beside(copy))
            yield copy
    except OSError as problem:
        raise CannotWrite(
            f"{file} cannot be copied to be read: {problem.strerror or problem}. Make room in "
            f"{tempfile.gettempdir()}, or name another place by TMPDIR."
        ) from problem


def _copy(file: Path, copy: Path) -> None:
    """Byte by byte; a book while nobody writes it."""
    try:
        handle = os.open(file, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0))
    except OSError as problem:
        raise NotFound(f"{file} cannot be opened: {problem.strerror or problem}.") from problem
    with os.fdopen(handle, "rb") as source:
        if not stat.S_ISREG(os.fstat(handle).st_mode):
            raise DataError(f"{file} is no ordinary file. Give the damaged book's own file.")
        _wait_for(handle, file)
        with open(copy, "xb") as target:
            shutil.copyfileobj(source, target)


def _wait_for(handle: int, file: Path) -> None:
    """Until no other process writes it (DuckDB locks a book while it does)."""
    if sys.platform == "win32":
        return
    import fcntl

    end = time.monotonic() + PATIENCE
    while True:
        try:
            fcntl.lockf(handle, fcntl.LOCK_SH | fcntl.LOCK_NB)
            return
        except (BlockingIOError, PermissionError):
            if time.monotonic() >= end:
                raise in_use(file) from None
        except OSError:
            return  # a file system without locks
        time.sleep(LONGEST_WAIT)


def _read(copy: Path, end: float, *, mend: bool) -> Reading:
    out = copy.with_name("found")
    out.touch()
    skip: list[list[Any]] = []
    for _ in range(RESTARTS):
        if (left := end - time.monotonic()) <= 0:
            break
        request = {"file": str(copy), "out": str(out), "mend": mend, "skip": skip}
        begun = out.stat().st_size
        _run(json.dumps(request), left / 4)
        said = _said(out, begun)
        if said and said[-1][0] in ("done", "failed"):
            break
        trying = [what for what in said if what[0] == "trying"]
        if not trying:  # down before it had anything: so it would be again
            break
        skip.append(trying[-1][1:])
    return _put_together(copy, _said(out, 0), skipped=bool(skip))


def _run(request: str, seconds: float) -> None:
    command = [sys.executable, "-P", "-m", "readiness.book.salvage.child", request]
    quiet = subprocess.DEVNULL
    try:
        subprocess.run(
            command, stdin=quiet, stdout=quiet, stderr=quiet, timeout=seconds, check=False
        )
    except subprocess.TimeoutExpired:
        return


def _said(out: Path, begun: int) -> list[list[Any]]:
    """Each line that was finished."""
    with open(out, "rb") as file:
        file.seek(begun)
        return [json.loads(line) for line in file if line.endswith(b"\n")]


def _put_together(copy: Path, said: list[list[Any]], *, skipped: bool) -> Reading:
    tables: dict[str, Table] = {}
    counts: dict[str, int] = {}
    names_of: dict[str, list[str]] = {}
    mended: set[int] = set()
    for what, *rest in said:
        if what == "table":
            tables.setdefault(rest[0], {})
            counts[rest[0]] = rest[2]
            if rest[0] != "meta":  # in it is nothing that anybody wrote
                names_of[rest[0]] = rest[1]
        elif what == "rows":
            table, names, rows = rest
            for row, *values in rows:
                known = zip(names, values, strict=True)
                told = {name: value for name, value in known if value is not None}
                tables[table].setdefault(row, {}).update(told)
        elif what == "mended":
            mended.add(rest[0])
    whole = not (mended or skipped) and all(
        len(tables.get(name, {})) == counts.get(name) and _every_column(tables[name], columns)
        for name, columns in names_of.items()
    )
    mendable = ["checksum"] in said or ["failed", "checksum"] in said
    return Reading(tables, counts, whole and bool(counts), _harmless(copy, mended), mendable)


def _every_column(table: Table, names: list[str]) -> bool:
    return all(len(row) == len(names) for row in table.values())


_HEADERS = (4096, 8192)


def _harmless(copy: Path, mended: set[int]) -> bool:
    """Whether the mended blocks lead nowhere: the first page, and of the two that take turns in
    saying where all is, the one whose turn it is not."""
    if not mended & set(_HEADERS):
        return mended <= {0}
    turns = {}
    with open(copy, "rb") as file:
        for at in _HEADERS:
            file.seek(at + 8)
            turns[at] = int.from_bytes(file.read(8), "little")
    idle, active = sorted(_HEADERS, key=turns.__getitem__)
    return mended <= {0, idle} and turns[active] == turns[idle] + 1
