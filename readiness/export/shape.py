"""What a table is: its columns, its key, what it refers to, and where its rows come from."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from readiness.desk.reading import Reading

Value = str | int | float | bool | None
"""A cell. Days are ISO dates, moments UTC as ``Entry.recorded`` writes them."""

Row = tuple[Value, ...]

# The type of a column → the type that DuckDB, and with it Parquet, gives it. The names are those
# of Table Schema.
TYPES = {
    "string": "VARCHAR",
    "integer": "INTEGER",
    "number": "DOUBLE",
    "boolean": "BOOLEAN",
    "date": "DATE",
    "datetime": "TIMESTAMP",
}


@dataclass(frozen=True, slots=True)
class Column:
    """One column. ``words``: the only ones it may hold; ``longest``: in characters."""

    name: str
    type: str
    text: str
    unit: str = ""
    required: bool = False
    words: tuple[str, ...] = ()
    least: float | None = None
    most: float | None = None
    longest: int | None = None


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
