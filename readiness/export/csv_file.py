"""A table as CSV: RFC 4180, UTF-8 without a mark, CRLF, the head first.

A day is an ISO date, a moment UTC, a flag true or false, a number has a point; nothing is an
empty cell.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator

from readiness.export.guard import guarded
from readiness.export.shape import Row, Table, Value

LINE_END = "\r\n"
_TOGETHER = 500  # rows handed on at once


def csv_pieces(table: Table, rows: Iterable[Row]) -> Iterator[bytes]:
    """The file in pieces, the head first."""
    made = io.StringIO(newline="")
    writer = csv.writer(made, lineterminator=LINE_END)
    writer.writerow([column.name for column in table.columns])
    for count, row in enumerate(rows, start=1):
        writer.writerow([_cell(value) for value in row])
        if count % _TOGETHER == 0:
            yield _taken(made)
    yield _taken(made)


def _taken(made: io.StringIO) -> bytes:
    piece = made.getvalue().encode("utf-8")
    made.seek(0)
    made.truncate()
    return piece


def _cell(value: Value) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    return guarded(value) if isinstance(value, str) else str(value)
