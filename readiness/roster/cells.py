"""A table as it stands in a file, before anybody asks what it means."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from itertools import groupby
from typing import NamedTuple

from readiness.entries.problem import shown
from readiness.roster.kinds import too_many
from readiness.system.errors import DataError
from readiness.system.limits import COLUMNS_MOST, ROWS_MOST
from readiness.system.plain import plain
from readiness.trade.words import list_words, number_words

LETTERS = 26
RUNS_MOST = 12
# `="00417"` is how some programs keep a spreadsheet from eating zeros; an apostrophe before a sign
# keeps it from taking a name for a formula.
_QUOTED_FORMULA = re.compile(r'="([^"]*)"')
_GUARDED = re.compile(r"'(?=[=+\-@])")

Moment = datetime | date | time | timedelta


class Broken(NamedTuple):
    """A cell whose value is not there; ``why`` goes on after the place: "holds the error #N/A"."""

    why: str


class Cell(NamedTuple):
    """``value``: as the file gives it. ``format``: how a spreadsheet shows a number."""

    value: str | float | bool | Moment | Broken | None = None
    format: str = "General"

    @property
    def text(self) -> str:
        """What a person reads there, in one line; "" where nothing is said."""
        value = self.value
        if value is None or isinstance(value, Broken):
            return ""
        if isinstance(value, str):
            return one_line(value)
        if isinstance(value, bool):
            return "TRUE" if value else "FALSE"
        if isinstance(value, (int, float)):
            return number_words(value)
        if isinstance(value, datetime) and value.time() == time():
            return value.date().isoformat()
        return str(value)

    @property
    def empty(self) -> bool:
        return not self.text and not isinstance(self.value, Broken)

    @property
    def several_lines(self) -> bool:
        """Whether it is a text that goes over more than one line."""
        return isinstance(self.value, str) and len(self.value.strip().splitlines()) > 1

    @property
    def shown(self) -> str:
        """The text for a message: plain, short, in quotes."""
        return shown(self.text)


def one_line(text: str) -> str:
    """The text without controls, without outer and with single inner spaces, and without what only
    keeps a spreadsheet from changing it."""
    words = " ".join(plain(text).split())
    if match := _QUOTED_FORMULA.fullmatch(words):
        words = match[1].strip()
    return _GUARDED.sub("", words, count=1) if words.startswith("'") else words


class GridRow(NamedTuple):
    """One row that says something; ``number`` as a spreadsheet counts it."""

    number: int
    cells: tuple[Cell, ...]

    def cell(self, index: int) -> Cell:
        """The cell of a column (from 0); rows may be shorter than others."""
        return self.cells[index] if index < len(self.cells) else Cell()


@dataclass(frozen=True, slots=True)
class Grid:
    """One sheet, or one text file.

    ``name``: the sheet's, "" for a text file. ``typed``: its cells have types, so that text there
    is what somebody typed; in a text file a spreadsheet may have changed it before. ``zero``: the
    day that a spreadsheet's number 0 stands for. ``hidden``: the rows and columns (letters) that
    are not shown. ``merged``: (first row, last row, column from 0) where cells are one over
    several rows. ``remarks``: what to say of how it was read.
    """

    name: str
    lines: tuple[GridRow, ...]
    typed: bool = False
    zero: datetime | None = None
    hidden_rows: tuple[int, ...] = ()
    hidden_columns: tuple[str, ...] = ()
    merged: tuple[tuple[int, int, int], ...] = ()
    remarks: tuple[str, ...] = ()


def filled(rows: Iterable[tuple[int, tuple[Cell, ...]]]) -> Iterator[GridRow]:
    """The rows that say something. Raises ``DataError`` where a roster has not so many, or is not
    so wide."""
    count = 0
    for number, cells in rows:
        last = max((at for at, cell in enumerate(cells) if not cell.empty), default=-1)
        if last >= COLUMNS_MOST:
            raise DataError(
                f"row {number} goes on to column {letters(last)}; a roster has at most "
                f"{COLUMNS_MOST} columns. Delete what stands far to the right, or give only the "
                "bulls in a file of their own."
            )
        count += last >= 0
        if count > ROWS_MOST:
            raise too_many("rows", ROWS_MOST)
        if last >= 0:
            yield GridRow(number, cells)


def letters(index: int) -> str:
    """A column's name from its place, from 0: A, B … Z, AA."""
    name = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, LETTERS)
        name = chr(ord("A") + rest) + name
    return name


def rows_words(numbers: Collection[int]) -> str:
    """Rows in words, runs together: "row 4", "rows 4-6 and 9"."""
    counted = enumerate(sorted(numbers))
    # Within a run a number is as far from its place as the one before it.
    runs = [[row for _, row in run] for _, run in groupby(counted, lambda one: one[1] - one[0])]
    words = [f"{run[0]}-{run[-1]}" if len(run) > 1 else f"{run[0]}" for run in runs[:RUNS_MOST]]
    if others := sum(map(len, runs[RUNS_MOST:])):
        words.append(f"{others} more")
    return f"{'row' if len(numbers) == 1 else 'rows'} {list_words(words)}"
