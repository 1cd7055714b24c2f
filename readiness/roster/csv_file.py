"""Rosters in text files: which encoding, which delimiter, which rows."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable, Iterator

from readiness.entries.problem import cut
from readiness.roster.cells import Cell, Grid, GridRow, letters, one_line
from readiness.roster.limits import COLUMNS_MOST, HEAD_ROWS, ROWS_MOST, too_many, too_many_columns
from readiness.system.errors import DataError

# In this order: where two part the headings equally well, the first.
DELIMITERS = (",", ";", "\t", "|")
_NAMED_DELIMITER = re.compile(r"\ufeff?sep=(.)\r?\n", re.IGNORECASE)
_BOM = b"\xef\xbb\xbf"
_UTF16 = {b"\xff\xfe": "utf-16-le", b"\xfe\xff": "utf-16-be"}
_NOT_UTF8 = (
    "the file is not UTF-8: read as Windows-1252, the older coding of Western Europe; see that "
    "names with accents are right"
)

Known = Callable[[list[str]], int]
"""How many of a row's cells are headings that a roster may have."""


def read_text(data: bytes, known: Known) -> Grid:
    """The table of a text file. The delimiter is the one by which most headings are known.

    Raises ``DataError`` (without the file's name) where it is no text, its quotes do not close, or
    two stray ones may have swallowed rows.
    """
    text, remarks = _decoded(data)
    delimiter = ""
    if match := _NAMED_DELIMITER.match(text):
        delimiter, text = match[1], text[match.end() :]
    delimiter = delimiter or max(DELIMITERS, key=lambda mark: _headings(text, mark, known))
    lines = tuple(_lines(text, delimiter))
    return Grid("", lines, remarks=remarks)


def _decoded(data: bytes) -> tuple[str, tuple[str, ...]]:
    """The text, and what to say of its coding."""
    coding = _UTF16.get(data[:2], "") or _utf16_without_mark(data)
    remarks: tuple[str, ...] = ()
    try:
        if coding:
            text = data.decode(coding).removeprefix("\ufeff")
        else:
            text, remarks = _decoded_bytes(data.removeprefix(_BOM))
    except UnicodeDecodeError:
        raise DataError(
            "the file is not text in UTF-8, UTF-16 or Windows-1252. Save it as CSV in UTF-8."
        ) from None
    if "\0" in text:
        raise DataError("the file is not text. Save the roster as .csv or .xlsx.")
    return text, remarks


def _decoded_bytes(data: bytes) -> tuple[str, tuple[str, ...]]:
    try:
        return data.decode("utf-8"), ()
    except UnicodeDecodeError:
        return data.decode("cp1252"), (_NOT_UTF8,)


def _utf16_without_mark(data: bytes) -> str:
    """UTF-16 that lost its mark: every other byte of plain letters is zero."""
    head = data[:400]
    even, odd = head[0::2].count(0), head[1::2].count(0)
    if max(even, odd) * 3 < len(head):
        return ""
    return "utf-16-le" if odd > even else "utf-16-be"


def _headings(text: str, delimiter: str, known: Known) -> int:
    """The most headings that one row near the top has with this delimiter."""
    best = 0
    try:
        for row, _ in zip(_records(text, delimiter), range(HEAD_ROWS), strict=False):
            best = max(best, known(row))
    except csv.Error:
        return best
    return best


def _records(text: str, delimiter: str) -> Iterator[list[str]]:
    return csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)


def _lines(text: str, delimiter: str) -> Iterator[GridRow]:
    number = 0
    try:
        for number, row in enumerate(_records(text, delimiter), start=1):
            if number > ROWS_MOST:
                raise DataError(too_many("rows", ROWS_MOST))
            _swallowed(number, row, delimiter)
            line = GridRow(number, tuple(Cell(text) for text in row))
            filled = [index for index, cell in enumerate(line.cells) if not cell.empty]
            if filled and filled[-1] >= COLUMNS_MOST:
                raise DataError(too_many_columns(number, letters(filled[-1])))
            if filled:
                yield line
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
