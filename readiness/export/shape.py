"""What a table is: its columns, its key, what it refers to, and where its rows come from."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from readiness.desk.reading import Reading
    from readiness.entries.columns import Column

Value = str | int | float | bool | None
"""A cell. Days are ISO dates, moments UTC as ``Entry.recorded`` writes them."""

Row = tuple[Value, ...]


class Refer(NamedTuple):
    """Columns whose values stand in ``there`` of another table."""

    here: tuple[str, ...]
    table: str
    there: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """One table. ``rows`` gives its rows, in the order of its columns, always the same way."""

    name: str
    title: str
    text: str
    columns: tuple[Column, ...]
    key: tuple[str, ...]
    rows: Callable[[Reading], Iterable[Row]]
    refers: tuple[Refer, ...] = ()
