"""A table as it stands in a file, before anybody asks what it means."""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import NamedTuple

from readiness.entries.problem import shown
from readiness.system.plain import plain
from readiness.trade.words import number_words

LETTERS = 26
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
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and number == runs[-1][-1] + 1:
            runs[-1][1:] = [number]
        else:
            runs.append([number])
    words = [f"{run[0]}-{run[-1]}" if len(run) > 1 else f"{run[0]}" for run in runs]
    others = sum(run[-1] - run[0] + 1 for run in runs[RUNS_MOST:])
    shown_runs = [*words[:RUNS_MOST], f"{others} more"] if others else words
    many = "row" if len(numbers) == 1 else "rows"
    *first, last = shown_runs
    return f"{many} {', '.join(first)} and {last}" if first else f"{many} {last}"


RUNS_MOST = 12
