"""What a table is: its columns, its key, what it refers to, and where its rows come from."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, NamedTuple

from readiness.system.plain import plain

if TYPE_CHECKING:
    from readiness.desk.reading import Reading
    from readiness.entries.columns import Column

Value = str | int | float | bool | None
"""A cell. Days are ISO dates, moments UTC as ``Entry.recorded`` writes them."""

Said = Iterable[Mapping[str, Any]]
"""What a table's rows say, by column; what a row does not name, it says nothing of."""


class Refer(NamedTuple):
    """Columns whose values stand in ``there`` of another table."""

    here: tuple[str, ...]
    table: str
    there: tuple[str, ...]


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

    def rows(self, reading: Reading) -> Iterator[tuple[Value, ...]]:
        """Its rows, in the order of its columns."""
        for said in self.said(reading):
            yield tuple(_cell(said.get(column.name)) for column in self.columns)


def _cell(value: Any) -> Value:
    """A value as it goes out: somebody's words made plain, empty text as nothing, several words
    parted by spaces."""
    if isinstance(value, list | tuple):
        value = " ".join(value)
    return (plain(value) or None) if isinstance(value, str) else value
