"""Rows that may be of another bull than their tag: births changed, names that other bulls bear.

A column sorted by itself leaves every tag with another bull's name. What is written of a bull
stands under his tag, so that whoever then goes by the names handles the wrong one.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from datetime import date
from typing import NamedTuple

from readiness.history.groups import name_key
from readiness.roster.cells import rows_words
from readiness.roster.dates import day_text
from readiness.roster.known import Known
from readiness.roster.row_entries import Change

TAKE = "--renames takes it"


class Mixed(NamedTuple):
    """``row`` 0: of the column as a whole."""

    row: int
    field: str
    text: str


class Named(NamedTuple):
    """What a row makes of a bull. ``key``: his look-up key; ``changes``: of his fields."""

    row: int
    key: str
    tag: str
    changes: Collection[Change]


def mixed_up(rows: Iterable[Named], book: Known) -> Iterator[Mixed]:
    """Each row that changes a birth, or gives a name that another bull of the book bears; and, of
    several such names, what they look like together."""
    rows = list(rows)
    new_names = {
        row.key: str(one.after) for row in rows for one in row.changes if one.field == "name"
    }
    taken: dict[int, list[str]] = {}
    for row in rows:
        for change in row.changes:
            if change.field == "born" and change.before is not None:
                yield Mixed(row.row, "born", _born(row, change, book))
            if change.field == "name":
                bearers = book.by_name.get(name_key(str(change.after)), [])
                others = [key for key in bearers if key != row.key]
                if others:
                    taken[row.row] = others
                    yield Mixed(row.row, "name", _name(row, change, others[0], new_names, book))
    if len(taken) > 1:
        yield Mixed(0, "name", _together(rows, taken))


def _born(row: Named, change: Change, book: Known) -> str:
    before, after = (day_text(date.fromisoformat(str(day))) for day in change[1:])
    return (
        f"{_who(row.key, book)} was born {before} in the book, and {after} by this row: what is "
        f"written of him would be of a bull of another age. Look whose birth it is; {TAKE}"
    )


def _name(row: Named, change: Change, other: str, new_names: Mapping[str, str], book: Known) -> str:
    bearer = _who(other, book)
    if other in new_names:
        bearer += f" (who would be called {new_names[other]})"
    if change.before is None:
        return f"{row.tag} would be called {change.after}, and so is {bearer}; {TAKE}"
    return (
        f"{_who(row.key, book)} would be called {change.after}, and so is {bearer}: what is "
        f"written of {change.before} would stand under {change.after}; {TAKE}"
    )


def _who(key: str, book: Known) -> str:
    return f"{book.tags[key]} {book.bulls[key].name}".strip()


def _together(rows: list[Named], taken: Mapping[int, list[str]]) -> str:
    at = {row.key: place for place, row in enumerate(rows)}
    steps = {
        number: {at[key] - place for key in taken[number] if key in at}
        for place, number in enumerate(row.row for row in rows)
        if number in taken
    }
    moved = {step: [row for row, all_ in steps.items() if step in all_] for step in (-1, 1)}
    words = "names have moved to other tags"
    for step, where in ((-1, "above"), (1, "below")):
        if len(moved[step]) > 1:
            words = f"each has the name of the bull in the row {where}"
    return (
        f"{rows_words(sorted(taken))}: {words}, as where one column is sorted by itself or moved "
        "by a row. Put names and tags together again"
    )
