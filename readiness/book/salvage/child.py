"""What can be read of a damaged book: a process of its own, for what is torn may bring DuckDB down.

    python -P -m readiness.book.salvage.child '{"file": COPY, "out": F, "mend": false, "skip": []}'

``file`` is a copy, and may be changed. ``skip``: (table, column, from, to) of what brought an
earlier one down. What is found goes into ``out`` as it is found, a JSON array a line: see the
``say`` of each.
"""

from __future__ import annotations

import json
import os
import re
import sys
from collections import deque
from pathlib import Path
from typing import Any, BinaryIO

import duckdb

from readiness.book.schema import GROWING
from readiness.book.session import quoted

ROWS = 2048  # what DuckDB decompresses at once
LEAST = 128  # of these rows one by one is not tried where it is their whole block that is damaged
TRIES = 200  # that fail, of one column: beyond, what is left of it is taken for lost
MENDED_MOST = 64
MEMORY = "1GB"
ADDRESSES = 8 << 30  # bytes

_SUMS = re.compile(r"computed checksum (\d+) does not match stored checksum (\d+)")
_HEADERS, _BLOCK = (0, 4096, 8192), 262_144
_FIRST_BLOCK = 12_288
_HEADER_FILLED = 128  # bytes, at the most

Skip = tuple[str, str, int, int]


class _Mended(Exception):
    """A block's checksum was made that of what stands in it: begin again."""


class Child:
    """Reads one file. ``mend``: blocks whose checksum is wrong are read all the same, for what in
    them is not what was written shows by the digests."""

    def __init__(self, file: Path, out: int, *, mend: bool, skip: list[Skip]) -> None:
        self._file = file
        self._out = out
        self._mend = mend
        self._skip = set(skip)
        self._of_block = False
        self._con = self._attached()

    def run(self) -> None:
        for table in GROWING:
            self._table(table)
        self.say("done")

    def say(self, *what: Any) -> None:
        os.write(self._out, json.dumps(what).encode("ascii") + b"\n")

    def _attached(self) -> duckdb.DuckDBPyConnection:
        config: dict[str, Any] = {
            "autoinstall_known_extensions": "false",
            "autoload_known_extensions": "false",
            "memory_limit": MEMORY,
            "threads": 1,
        }
        con = duckdb.connect(":memory:", config=config)
        try:
            con.execute(f"ATTACH {quoted(self._file)} AS book (TYPE duckdb, READ_ONLY)")
            con.execute("USE book")
        except Exception as error:
            self._mended(error)
            raise
        return con

    def _rows(self, query: str) -> list[tuple[Any, ...]] | None:
        """None where it cannot be read; then DuckDB begins anew, for it may not be itself, unless
        it only could not load a block. ``_of_block``: it is no single row's fault."""
        self._of_block = False
        try:
            return self._con.execute(query).fetchall()
        except Exception as error:  # of any kind: text that is none, numbers that are none
            self._mended(error)
            checksum = _SUMS.search(str(error))
            if checksum:
                self.say("checksum")
            self._of_block = isinstance(error, duckdb.Error)
            if checksum or isinstance(error, duckdb.IOException):
                return None
            self._con.close()
            self._con = self._attached()
            return None

    def _mended(self, error: Exception) -> None:
        """Raise ``_Mended`` where the error is of a checksum, and that is no more."""
        found = _SUMS.search(str(error))
        if not (self._mend and found):
            return
        computed, stored = (int(sum_).to_bytes(8, "little") for sum_ in found.groups())
        size = self._file.stat().st_size
        with open(self._file, "r+b") as file:
            if _cleared(file):
                raise _Mended
            for at in (*_HEADERS, *range(_FIRST_BLOCK, size, _BLOCK)):
                file.seek(at)
                if file.read(8) == stored:
                    file.seek(at)
                    file.write(computed)
                    self.say("mended", at)
                    raise _Mended

    def _table(self, table: str) -> None:
        """Say its columns and how many rows it has, then all of it, or column by column."""
        columns = self._rows(
            "SELECT column_name FROM duckdb_columns() WHERE database_name = 'book' "
            f"AND table_name = '{table}' ORDER BY column_index"
        )
        if not columns:
            return
        names = [name for (name,) in columns]
        counted = self._rows(f"SELECT count(*) FROM {table}")
        count = counted[0][0] if counted else 0
        self.say("table", table, names, count)
        texts = ", ".join(f'CAST("{name}" AS VARCHAR)' for name in names)
        # All at once is quick, but where it would bring us down the columns are tried one by one.
        whole = (table, "", 0, count)
        if whole not in self._skip:
            self.say("trying", *whole)
            if (rows := self._rows(f"SELECT rowid, {texts} FROM {table}")) is not None:
                for at in range(0, len(rows), ROWS):
                    self.say("rows", table, names, rows[at : at + ROWS])
                return
        for name in names:
            self._column(table, name, count)

    def _column(self, table: str, name: str, count: int) -> None:
        """Every stretch of it that can be read; the smaller ones after all of the greater."""
        left = deque((at, min(at + ROWS, count)) for at in range(0, count, ROWS))
        tries = TRIES
        while left and tries:
            first, end = left.popleft()
            stretch = (table, name, first, end)
            rows = None
            if stretch not in self._skip:
                self.say("trying", *stretch)
                rows = self._rows(
                    f'SELECT rowid, CAST("{name}" AS VARCHAR) FROM {table} '
                    f"WHERE rowid >= {first} AND rowid < {end}"
                )
            if rows is not None:
                self.say("rows", table, [name], rows)
                continue
            tries -= 1
            if end - first > (LEAST if self._of_block else 1):
                half = (first + end) // 2
                left.extend(((first, half), (half, end)))


def _cleared(file: BinaryIO) -> bool:
    """Whether something stood in the empty ends of the pages that say where all is: then they are
    made empty, as they were when their checksum was made."""
    done = False
    for at in _HEADERS[1:]:
        file.seek(at + _HEADER_FILLED)
        if any(file.read(4096 - _HEADER_FILLED)):
            file.seek(at + _HEADER_FILLED)
            file.write(bytes(4096 - _HEADER_FILLED))
            done = True
    return done


def main(request: str) -> None:
    _bound()
    asked = json.loads(request)
    out = os.open(asked["out"], os.O_WRONLY | os.O_APPEND)
    for _ in range(MENDED_MOST):
        try:
            skip = [tuple(each) for each in asked["skip"]]
            Child(Path(asked["file"]), out, mend=asked["mend"], skip=skip).run()
        except _Mended:
            continue
        except Exception as error:
            what = "checksum" if _SUMS.search(str(error)) else "unreadable"
            os.write(out, json.dumps(["failed", what]).encode("ascii") + b"\n")
        return


def _bound() -> None:
    """What is torn may ask for any amount of memory."""
    if sys.platform != "win32":
        import resource

        resource.setrlimit(resource.RLIMIT_AS, (ADDRESSES, ADDRESSES))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))


if __name__ == "__main__":
    main(sys.argv[1])
