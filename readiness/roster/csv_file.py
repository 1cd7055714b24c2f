"""Rosters in text files: which encoding, which delimiter, which rows."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator
from contextlib import suppress
from itertools import islice

from readiness.roster.cells import Cell, Grid, filled, letters, one_line
from readiness.roster.headings import HEAD_ROWS, known
from readiness.roster.kinds import too_many
from readiness.system.errors import DataError
from readiness.system.limits import COLUMNS_MOST, ROW_CELLS_MOST, ROWS_MOST
from readiness.system.plain import cut

# In this order: where two part the headings equally well, the first.
DELIMITERS = (",", ";", "\t", "|")
HEAD_LETTERS = 400_000  # in so many from the top the headings are looked for
_NAMED_DELIMITER = re.compile(r"\ufeff?sep=(.)\r?\n", re.IGNORECASE)
_BOM = b"\xef\xbb\xbf"
_UTF16 = {b"\xff\xfe": "utf-16-le", b"\xfe\xff": "utf-16-be"}
_NOT_UTF8 = (
    "the file is not UTF-8: read as Windows-1252, the older coding of Western Europe; see that "
    "names with accents are right"
)


def read_text(data: bytes) -> Grid:
    """The table of a text file. The delimiter is the one by which most headings are known.

    Raises ``DataError`` (without the file's name) where it is no text, its quotes do not close, or
    two stray ones may have swallowed rows.
    """
    text, remarks = _decoded(data)
    if match := _NAMED_DELIMITER.match(text):
        delimiter, text = match[1], text[match.end() :]
    else:
        delimiter = max(DELIMITERS, key=lambda mark: _headings(text, mark))
    return Grid("", tuple(filled(_rows(text, delimiter))), remarks=remarks)


def _decoded(data: bytes) -> tuple[str, tuple[str, ...]]:
    """The text, and what to say of its coding."""
    utf16 = _UTF16.get(data[:2]) or _utf16_without_mark(data)
    for coding in (utf16,) if utf16 else ("utf-8", "cp1252"):
        with suppress(UnicodeDecodeError):
            text = data.removeprefix(_BOM).decode(coding).removeprefix("\ufeff")
            if "\0" in text:
                raise DataError("the file is not text. Save the roster as .csv or .xlsx.")
            return text, (_NOT_UTF8,) if coding == "cp1252" else ()
    raise DataError(
        "the file is not text in UTF-8, UTF-16 or Windows-1252. Save it as CSV in UTF-8."
    )


def _utf16_without_mark(data: bytes) -> str:
    """UTF-16 that lost its mark: every other byte of plain letters is zero."""
    head = data[:400]
    even, odd = head[0::2].count(0), head[1::2].count(0)
    if max(even, odd) * 3 < len(head):
        return ""
    return "utf-16-le" if odd > even else "utf-16-be"


def _headings(text: str, delimiter: str) -> int:
    """The most headings that one row near the top has with this delimiter."""
    best = 0
    with suppress(csv.Error):
        for row in islice(_records(text[:HEAD_LETTERS], delimiter), HEAD_ROWS):
            best = max(best, known(row[:COLUMNS_MOST]))
    return best


def _records(text: str, delimiter: str) -> Iterator[list[str]]:
    return csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)


def _rows(text: str, delimiter: str) -> Iterator[tuple[int, tuple[Cell, ...]]]:
    number = 0
    try:
        for number, row in enumerate(_records(text, delimiter), start=1):
            if number > ROWS_MOST:
                raise too_many("rows", ROWS_MOST)
            if len(row) > ROW_CELLS_MOST:
                raise DataError(
                    f"row {number} has {len(row):,} cells, and a spreadsheet at most "
                    f"{ROW_CELLS_MOST:,}. Give only the bulls, in a file of their own."
                )
            _swallowed(number, row, delimiter)
            yield number, tuple(map(Cell, row))
    except csv.Error as problem:
        raise DataError(f"row {number + 1}: {_not_csv(problem)}") from None


def _swallowed(number: int, row: list[str], delimiter: str) -> None:
    """Two stray quotes make one cell of all that stands between them, whole rows too: nothing tells
    that cell from a long note on several lines with the delimiter in it."""
    for index, text in enumerate(row):
        if delimiter in text and len(text.splitlines()) > 1:
            first, second = (cut(one_line(part)) for part in text.splitlines()[:2])
            raise DataError(
                f'row {number}, column {letters(index)}: one cell goes over several lines, "{first}'
                f'", then "{second}", with "{delimiter}" in it: a stray double quote does that, '
                "and rows within it would be lost. Take the quote away, or write the cell in one "
                "line."
            )


def _not_csv(problem: csv.Error) -> str:
    if "field larger" in str(problem):
        return (
            f"a cell is longer than {csv.field_size_limit():,} characters, more than a roster can "
            "have. Shorten it; or, if the cell is short, see whether a double quote opens there "
            "that does not belong."
        )
    return (
        f"cannot be read as CSV ({problem}); a double quote opens there and does not close. Write "
        'a quote inside a cell twice (""), or save it as .xlsx.'
    )
