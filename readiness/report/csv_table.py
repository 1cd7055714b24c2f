"""Tables as CSV: RFC 4180, CRLF, the head first, safe to open in a spreadsheet.

A day is an ISO date, a flag true or false, a number has a point; nothing is an empty cell. Text is
made plain, and gets an apostrophe before it where it begins with one of ``BEGINS``, an apostrophe
among them: whoever reads the file takes the first apostrophe of a text away and has what was
written, always. The schema of every exported table says so.

Which characters begin a formula: OWASP, "CSV Injection" (equals, plus, minus, at, tab, carriage
return, line feed and the full-width forms of the first four).
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Mapping, Sequence

from readiness.system.plain import plain

LINE_END = "\r\n"
MARK = "'"
BEGINS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠", MARK)
RULE = (
    "Text that begins with one of = + - @ (also full-width) or an apostrophe has one more "
    "apostrophe before it, so that no spreadsheet takes it for a formula. Take the first "
    "apostrophe of a text away to have what was written. Parquet and JSON hold it as written."
)
_TOGETHER = 500  # rows handed on at once


def csv_text(head: Sequence[str], records: Iterable[Mapping[str, object]]) -> str:
    """The whole table; of each record what the head names."""
    return "".join(csv_pieces(head, ([record[name] for name in head] for record in records)))


def csv_pieces(head: Sequence[str], rows: Iterable[Sequence[object]]) -> Iterator[str]:
    """The table in pieces, so that a large one is never whole in memory."""
    made = io.StringIO(newline="")
    writer = csv.writer(made, lineterminator=LINE_END)
    writer.writerow(head)
    for count, row in enumerate(rows, start=1):
        writer.writerow(map(_cell, row))
        if count % _TOGETHER == 0:
            yield _taken(made)
    yield _taken(made)


def _taken(made: io.StringIO) -> str:
    piece = made.getvalue()
    made.seek(0)
    made.truncate()
    return piece


def _cell(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    return guarded(plain(value)) if isinstance(value, str) else str(value)


def guarded(text: str) -> str:
    """The text as a cell of a CSV file; a number of ours does not need it."""
    return MARK + text if text.startswith(BEGINS) else text
