"""A roster out of a file: its rows as fields of entries, or every cell that stands in the way."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import NamedTuple

from readiness.roster import values
from readiness.roster.cells import Broken, Cell, Grid, GridRow, letters, rows_words
from readiness.roster.dates import day_text
from readiness.roster.day_column import read_days
from readiness.roster.headings import (
    BOUGHT_ON,
    DATES,
    HIRED_ON,
    IS_HOMEBRED,
    Column,
    Head,
    find_head,
    fold,
    has_head,
    known,
)
from readiness.roster.kinds import SPREADSHEETS, roster_bytes
from readiness.roster.problems import CellProblem
from readiness.roster.remarks import remarks
from readiness.roster.tags import Tags, made_by_spreadsheet, read_tags
from readiness.system.errors import DataError
from readiness.system.plain import plain
from readiness.trade.words import list_words

Value = str | float | bool | date


@dataclass(slots=True)
class Row:
    """One bull: his tag, and field → value as an entry has it (days as ``date``). ``bad``: the
    fields whose cells are problems. ``bare``: his tag may have lost zeros in front."""

    number: int
    tag: str
    fields: dict[str, Value] = field(default_factory=dict)
    bad: set[str] = field(default_factory=set)
    bare: bool = False


@dataclass(slots=True)
class Roster:
    """``sheet``: its name, "" in a text file; ``head``: as the headings were understood; ``how``: a
    column's place from 0 → which way it was read. ``problems`` bar the whole file; ``warnings``:
    (row or 0, text); ``notes``: of what was read from where."""

    sheet: str
    head: Head
    rows: list[Row] = field(default_factory=list)
    how: dict[int, str] = field(default_factory=dict)
    problems: list[CellProblem] = field(default_factory=list)
    warnings: list[tuple[int, str]] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    def problem(self, row: int, name: str, text: str) -> CellProblem:
        """A problem of a field of an entry, at the cell that the field came from."""
        for column in self.head.columns:
            if column.field == name:
                return CellProblem(row, column.at, column.place, text)
        return CellProblem(row, -1, name, text)


class Asked(NamedTuple):
    """``on``: the day of the import; ``dates``: "dmy" or "mdy", the order that the person says;
    ``year``: a year of two digits is the last such one up to it."""

    on: date
    dates: str | None
    year: int


def read_roster(
    path: Path, on: date, dates: str | None = None, today: date | None = None
) -> Roster:
    """The roster in a file. ``on``: the day of the import; ``dates``: "dmy" or "mdy", the order
    that the person says; ``today``: the real day, where it is another than ``on``.

    Raises ``DataError`` where the file as a whole cannot be taken, ``NotFound`` where it cannot be
    read; what is wrong in its cells is in ``problems``.
    """
    data = roster_bytes(path)
    try:
        return roster_of(data, path.suffix.lower(), on, dates, today)
    except DataError as problem:
        raise DataError(f"{path}: {plain(str(problem))}") from problem


def roster_of(
    data: bytes, suffix: str, on: date, dates: str | None = None, today: date | None = None
) -> Roster:
    """As ``read_roster``, of a file's bytes; its name is not in what is raised."""
    notes: list[str] = []
    if suffix in SPREADSHEETS:
        from readiness.roster.xlsx_file import read_xlsx

        sheets = read_xlsx(data)
        grid = _choose(sheets.visible, notes)
        if sheets.hidden:
            notes.append(f"hidden and not read: {list_words(sheets.hidden)}")
    else:
        from readiness.roster.csv_file import read_text

        grid = read_text(data, known)
    if not grid.lines:
        raise DataError("the file is empty. Write a row of headings and a row for each bull.")
    roster = Roster(grid.name, find_head(grid), notes=notes)
    _read_rows(roster, grid, Asked(on, dates, max(on, today or on).year))
    return roster


def _choose(grids: list[Grid], notes: list[str]) -> Grid:
    """The first sheet with the headings of a roster; the first that says something where none
    has them, for the message."""
    fitting = [grid for grid in grids if grid.lines and has_head(grid)]
    filled = [grid for grid in grids if grid.lines]
    if not filled:
        raise DataError("the file is empty. Write a row of headings and a row for each bull.")
    chosen = fitting[0] if fitting else filled[0]
    others = [grid.name for grid in filled if grid is not chosen]
    if others:
        also = [grid.name for grid in fitting if grid is not chosen]
        more = f"; {list_words(also)} could be a roster too: give it a file of its own"
        notes.append(f"other sheets, not read: {list_words(others)}{more if also else ''}")
    return chosen


def _read_rows(roster: Roster, grid: Grid, asked: Asked) -> None:
    lines = [line for line in grid.lines if line.number > roster.head.row]
    lines = _without_repeats(lines, roster)
    roster.problems += [] if grid.typed else _run_together(lines, roster.head)
    columns = {column.field: column for column in roster.head.columns if column.field}
    tag_column = columns.pop("bull")
    tags = _tags(lines, tag_column, grid, roster)
    rows = {row: Row(row, tag, bare=row in tags.bare) for row, tag in tags.tags.items()}
    for name, column in columns.items():
        cells = _cells(lines, column, roster)
        bad_before = len(roster.problems)
        found = _read_column(name or "", column, cells, grid, asked, roster)
        for row in found.keys() & rows.keys():
            rows[row].fields[name or ""] = found[row]
            if name == "origin" and values.came_from(cells[row].text):
                rows[row].fields.setdefault("bought_from", cells[row].text)
        _mark_bad(rows, name or "", roster.problems[bad_before:])
    if "kg" in columns and "weighed_on" not in columns:
        roster.how[columns["kg"].at] = f"as weighed on {day_text(asked.on)}, the day of the import"
    roster.rows = list(rows.values())
    roster.warnings += [(0, text) for text in remarks(roster.head, grid, lines)]
    if not roster.rows and not roster.problems:
        raise DataError(
            f"there is no bull under the headings in row {roster.head.row}. Write a row for each."
        )


def _run_together(lines: list[GridRow], head: Head) -> Iterator[CellProblem]:
    """Two stray quotes from one row's last cell to the next row's first make one row of both: a
    cell on two lines, and cells beyond the headings."""
    width = 1 + max(column.at for column in head.columns if column.heading)
    for line in lines:
        if all(cell.empty for cell in line.cells[width:]):
            continue
        for at, cell in enumerate(line.cells):
            if isinstance(cell.value, str) and len(cell.value.strip().splitlines()) > 1:
                text = (
                    f"{cell.shown} goes over several lines, and the row on beyond the headings: a "
                    "stray double quote has made one row of two. Take it away"
                )
                yield CellProblem(line.number, at, f"column {letters(at)}", text)


def _mark_bad(rows: Mapping[int, Row], name: str, problems: list[CellProblem]) -> None:
    """A problem of the whole column spoils it for every row."""
    for problem in problems:
        spoilt = [rows[problem.row]] if problem.row in rows else []
        for row in spoilt if problem.row else rows.values():
            row.bad.add(name)


def _without_repeats(lines: list[GridRow], roster: Roster) -> list[GridRow]:
    """The rows without headings that stand there again, as on each page of a print."""
    head = [fold(column.heading) for column in roster.head.columns]
    kept: list[GridRow] = []
    again: list[GridRow] = []
    for line in lines:
        same = [fold(cell.text) for cell in line.cells]
        repeated = same + [""] * (len(head) - len(same)) == head
        (again if repeated else kept).append(line)
    if again:
        numbers = [line.number for line in again]
        roster.notes.append(f"headings again, passed over: {rows_words(numbers)}")
    return kept


def _cells(lines: list[GridRow], column: Column, roster: Roster) -> dict[int, Cell]:
    """Row → the cell, where it says something; broken ones become problems."""
    found: dict[int, Cell] = {}
    for line in lines:
        cell = line.cell(column.at)
        if isinstance(cell.value, Broken):
            roster.problems.append(_at(column, line.number, cell.value.why))
        elif not values.says_nothing(cell):
            found[line.number] = cell
    return found


def _at(column: Column, row: int, text: str) -> CellProblem:
    return CellProblem(row, column.at, column.place, text)


def _tags(lines: list[GridRow], column: Column, grid: Grid, roster: Roster) -> Tags:
    broken = {problem.row for problem in roster.problems}
    cells = _cells(lines, column, roster)
    broken = {problem.row for problem in roster.problems} - broken
    tags = read_tags(cells, typed=grid.typed, uk=fold(column.heading).startswith("uk"))
    roster.problems += [_at(column, row, text) for row, text in tags.problems]
    roster.warnings += [
        (0, f"{column.place}, {rows_words(rows)}: {text}") for rows, text in tags.warnings
    ]
    for line in lines:
        if line.number not in cells and line.number not in broken:
            text = "is empty, and the row says more; write his tag, or empty the row"
            roster.problems.append(_at(column, line.number, text))
    return tags


def _read_column(
    name: str,
    column: Column,
    cells: Mapping[int, Cell],
    grid: Grid,
    asked: Asked,
    roster: Roster,
) -> Mapping[int, Value]:
    """Row → value of one field."""
    if name in DATES:
        days = read_days(cells, grid.zero, asked.year, column.order, asked.dates)
        roster.problems += [_at(column, row or 0, text) for row, text in days.problems]
        roster.warnings += [(row, f"{column.place}: {text}") for row, text in days.warnings]
        ways = {"bought": BOUGHT_ON, "hired": HIRED_ON}
        meant = "".join(f"a day here means {way}" for way in ways if column.says(ways[way]))
        if how := "; ".join(filter(None, (days.how, meant))):
            roster.how[column.at] = how
        return days.days
    found: dict[int, Value] = {}
    for row, cell in cells.items():
        try:
            found[row] = _reader(name, column)(cell)
        except values.Refused as refused:
            roster.problems.append(_at(column, row, str(refused)))
        if name in ("name", "pen") and not grid.typed and made_by_spreadsheet(cell.text):
            text = (
                f"{column.place}: {cell.shown} is taken as it is, and looks like what a "
                "spreadsheet makes of 1-2 or 1E5: look at it"
            )
            roster.warnings.append((row, text))
    return found


def _reader(name: str, column: Column) -> Callable[[Cell], Value]:
    if name == "kg":
        return values.kilograms
    if name == "origin":
        return lambda cell: values.origin(cell, asks_homebred=column.says(IS_HOMEBRED))
    if name == "note":
        return lambda cell: cell.text  # a day may be all there is to note
    if name in values.WORDS:
        return lambda cell: values.word(name, cell)
    return values.text
