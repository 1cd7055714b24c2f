"""What a table is: its columns, its key, what it refers to, and where its rows come from. And how
each kind of column is made."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, NamedTuple

from readiness.entries.columns import Column, columns_of
from readiness.entries.fields import NAME_MOST
from readiness.system.plain import plain

if TYPE_CHECKING:
    from readiness.desk.reading import Reading

Value = str | int | float | bool | None
"""A cell. Days are ISO dates, moments UTC as ``Entry.recorded`` writes them."""

Said = Iterable[Mapping[str, Any]]
"""What a table's rows say, by column; what a row does not name, it says nothing of."""


class Refer(NamedTuple):
    """A column whose values stand in the column of that name of another table."""

    column: str
    table: str


OF_BULL = Refer("bull", "bulls")


@dataclass(frozen=True, slots=True)
class Table:
    """One table. ``said`` gives what its rows say, always in the same order."""

    name: str
    title: str
    text: str
    columns: tuple[Column, ...]
    key: tuple[str, ...]
    said: Callable[[Reading], Said]
    refers: tuple[Refer, ...] = ()

    def rows(self, reading: Reading, **of_all: Value) -> Iterator[tuple[Value, ...]]:
        """Its rows, in the order of its columns. ``of_all``: what every row says, by column."""
        for said in self.said(reading):
            row = {**said, **of_all}
            yield tuple(_cell(row.get(column.name)) for column in self.columns)


def _cell(value: Any) -> Value:
    """A value as it goes out: somebody's words made plain, empty text as nothing, several words
    parted by spaces."""
    if isinstance(value, list | tuple):
        value = " ".join(value)
    return (plain(value) or None) if isinstance(value, str) else value


def text(name: str, what: str, **more: Any) -> Column:
    """A column of somebody's words."""
    return Column(name, "string", what, **{"longest": NAME_MOST, **more})


def word(name: str, what: str, words: Iterable[str], **more: Any) -> Column:
    """A column of fixed words."""
    return Column(name, "string", what, words=tuple(words), **more)


def day(name: str, what: str, **more: Any) -> Column:
    return Column(name, "date", what, **more)


def flag(name: str, what: str, **more: Any) -> Column:
    return Column(name, "boolean", what, **more)


def whole(name: str, what: str, unit: str, least: int, most: int, **more: Any) -> Column:
    return Column(name, "integer", what, unit, least=least, most=most, **more)


def as_in(shape: Any, name: str, what: str = "", *, required: bool = False) -> Column:
    """A field of an entry among what is worked out: its type, range and words are the same."""
    field = columns_of(shape)[name]
    return replace(field, text=what or field.text, required=required, null=False)
