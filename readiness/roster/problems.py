"""What is wrong or odd in a roster, with its place as a spreadsheet shows it: what is so in many
rows is said once, with the rows."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from readiness.roster.cells import rows_words

BULLS_MOST = 12


class CellProblem(NamedTuple):
    """``row`` 0: of the column as a whole. ``at``: the column, from 0. ``place``: the column in
    words, or a field's name where the roster has no column for it. Sorts by row, then column."""

    row: int
    at: int
    place: str
    text: str

    def __str__(self) -> str:
        where = [f"row {self.row}"] if self.row else []
        where += [self.place] if self.place else []
        return f"{', '.join(where)}: {self.text}" if where else self.text


def problems_once(problems: Iterable[CellProblem]) -> list[str]:
    """The problems in words, in the order of their first rows."""
    rows: dict[tuple[int, str, str], set[int]] = {}
    for problem in sorted(problems):
        rows.setdefault((problem.at, problem.place, problem.text), set()).add(problem.row)
    return [
        str(CellProblem(0, at, _where(numbers - {0}, place), text))
        for (at, place, text), numbers in rows.items()
    ]


def _where(rows: set[int], place: str) -> str:
    return ", ".join(part for part in (rows_words(rows) if rows else "", place) if part)


class Odd(NamedTuple):
    """A warning: ``row`` 0 where it is of none, ``entry`` "" where it is about none."""

    row: int
    entry: str
    text: str


def warnings_once(odd: Iterable[Odd]) -> list[tuple[str, str]]:
    """(id of the entry where it is about one, text with its rows), in the order of the first rows;
    those of no row first."""
    alike: dict[str, list[Odd]] = {}
    for one in sorted(odd, key=lambda one: one.row):
        alike.setdefault(one.text, []).append(one)
    return [
        (same[0].entry if len(same) == 1 else "", _with_rows({one.row for one in same} - {0}, text))
        for text, same in alike.items()
    ]


def _with_rows(rows: set[int], text: str) -> str:
    return f"{rows_words(rows)}: {text}" if rows else text


def bulls_words(bulls: Iterable[tuple[str, str]]) -> str:
    """Tags with their names: "00417 Rowan, 00418 and 3 others"."""
    named = [f"{tag} {name}".strip() for tag, name in bulls]
    more = len(named) - BULLS_MOST
    named = [*named[:BULLS_MOST], f"{more} more"] if more > 0 else named
    *first, last = named
    return f"{', '.join(first)} and {last}" if first else last
