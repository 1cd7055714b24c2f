"""A roster as it was read, with what is wrong or odd in it at its place in the spreadsheet: what is
so in many rows is said once, with the rows."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import NamedTuple, TypeVar

from readiness.roster.cells import Cell, rows_words
from readiness.roster.headings import Head, Heading
from readiness.system.grouped import grouped
from readiness.trade.ages import Birth
from readiness.trade.words import list_words

BULLS_MOST = 12

Value = str | float | bool | date | Birth
Read = TypeVar("Read")


class Refused(Exception):
    """A cell that cannot be taken; the text says what is wrong and what to write."""


class CellProblem(NamedTuple):
    """``row`` 0: of the column as a whole. ``at``: the column, from 0. ``place``: the column in
    words, or a field's name where the roster has no column for it. Sorts by row, then column."""

    row: int
    at: int
    place: str
    text: str

    def __str__(self) -> str:
        return _with_place({self.row}, self.place, self.text)


class Odd(NamedTuple):
    """A warning: ``row`` 0 where it is of none, ``entry`` "" where it is about none."""

    row: int
    entry: str
    text: str


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
        column = self.head.by_field.get(name)
        return CellProblem(row, column.at if column else -1, column.place if column else name, text)

    def wrong(self, column: Heading, row: int, text: str) -> None:
        """Something is wrong in a cell; ``row`` 0: in the column as a whole."""
        self.problems.append(CellProblem(row, column.at, column.place, text))

    def odd(self, column: Heading, rows: Collection[int], text: str) -> None:
        """Something is odd in these rows of a column, and said once."""
        if rows:
            self.warnings.append((0, f"{column.place}, {rows_words(rows)}: {text}"))

    def read(
        self, column: Heading, cells: Mapping[int, Cell], reader: Callable[[Cell], Read]
    ) -> dict[int, Read]:
        """Row → the value of its cell. ``reader`` raises ``Refused`` for what it cannot take."""
        found = {}
        for row, cell in cells.items():
            try:
                found[row] = reader(cell)
            except Refused as refused:
                self.wrong(column, row, str(refused))
        return found


def problems_once(problems: Iterable[CellProblem]) -> list[str]:
    """The problems in words, in the order of their first rows."""
    alike = grouped(sorted(problems), lambda one: (one.at, one.place, one.text))
    return [
        _with_place({one.row for one in same}, place, text)
        for (_, place, text), same in alike.items()
    ]


def warnings_once(odd: Iterable[Odd]) -> list[tuple[str, str]]:
    """(id of the entry where it is about one, text with its rows), in the order of the first rows;
    those of no row first."""
    alike = grouped(sorted(odd, key=lambda one: one.row), lambda one: one.text)
    return [
        (same[0].entry if len(same) == 1 else "", _with_place({one.row for one in same}, "", text))
        for text, same in alike.items()
    ]


def _with_place(rows: set[int], place: str, text: str) -> str:
    """``rows``: 0 for none of them."""
    told = rows_words(rows - {0}) if rows - {0} else ""
    where = ", ".join(filter(None, (told, place)))
    return f"{where}: {text}" if where else text


def bulls_words(bulls: Iterable[tuple[str, str]]) -> str:
    """Tags with their names: "00417 Rowan, 00418 and 3 more"."""
    named = [f"{tag} {name}".strip() for tag, name in bulls]
    more = len(named) - BULLS_MOST
    return list_words([*named[:BULLS_MOST], f"{more} more"] if more > 0 else named)
