"""Rows as Parquet: whatever table of ours is given, and a farm's entries as a partition.

A partition holds a row an entry, strikes and struck ones too, in the columns of the book's own two
tables, each entry with its earliest receipt: what is true of a book that is read is checked here.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any

import duckdb

from readiness.book.faults import NO_MEMORY as OUT_OF_MEMORY
from readiness.book.faults import Damaged, says
from readiness.book.read import as_entries
from readiness.book.rows import Receipt, Row
from readiness.book.session import idle_connection, make_file, quoted
from readiness.entries.entry import Entry
from readiness.entries.ids import canonical, digest
from readiness.system.errors import DataError, NoMemory

PARTITION: Mapping[str, str] = {
    **dict.fromkeys((*Row._fields, *Receipt._fields[1:]), "VARCHAR"),
    "day": "DATE",
    "position": "INTEGER",
}
"""Column of a partition → its type."""

_READ = """
    SELECT (day - DATE '0001-01-01') + 1, recorded, position, id, kind, bull, body, batch, device,
        who, digest
    FROM read_parquet([{files}], hive_partitioning = false)
"""


def write_parquet(target: Path, types: Mapping[str, str], rows: Iterable[Sequence[Any]]) -> int:
    """These rows as a new file, in the database's ``types`` by column; how many they are. Raises
    CannotWrite, NoMemory."""
    import numpy as np

    columns = list(zip(*rows, strict=True)) or [()] * len(types)
    given = {name: np.array(of, dtype=object) for name, of in zip(types, columns, strict=True)}
    cast = ", ".join(f'CAST("{name}" AS {kind}) AS "{name}"' for name, kind in types.items())
    with idle_connection() as con:
        try:
            con.register("given", given)
            copy = f"COPY (SELECT {cast} FROM given) TO {quoted(target)}"
            make_file(con, target, f"{copy} (FORMAT parquet, COMPRESSION zstd)", {})
            con.unregister("given")
        except duckdb.OutOfMemoryException as error:
            raise NoMemory(f"There is not memory enough to write {target.name}.") from error
    return len(columns[0])


def write_partition(target: Path, entries: Iterable[Entry]) -> int:
    """Entries, in ``entry_order``, as a partition; how many they are. Raises as
    ``write_parquet``."""
    return write_parquet(target, PARTITION, map(_row, entries))


def _row(entry: Entry) -> Sequence[Any]:
    day, body = date.fromordinal(entry.day).isoformat(), canonical(entry.body)
    row = Row(entry.id, day, entry.bull, entry.kind, body, digest(entry.body))
    place = (entry.recorded, entry.position, entry.batch, entry.device, entry.who)
    return (*row, *place)


def read_partition(files: Sequence[Path], name: str) -> list[Entry]:
    """All its entries, in ``entry_order``. Raises DataError where the files are no partition, or it
    is not what was written; NoMemory."""
    statement = _READ.format(files=", ".join(map(quoted, files)))
    columns = f"it has the columns {', '.join(PARTITION)}"
    anew = f"Write it anew with `readiness fleet DIR --partitions`: {columns}."
    rows = asked(statement, {}, name, anew)
    try:
        entries = as_entries(rows, name)
    except (
        Damaged,
        ValueError,
        TypeError,
        KeyError,
        AttributeError,
        json.JSONDecodeError,
    ) as error:
        why = error.why if isinstance(error, Damaged) else "A row in it is no entry."
        raise DataError(f"{name}: {why} Write the partition anew.") from error
    if len(entries) != len(rows):
        raise DataError(f"{name} holds an entry twice. Write the partition anew.")
    return entries


def asked(
    statement: str, parameters: Mapping[str, Any], name: str, remedy: str
) -> list[tuple[Any, ...]]:
    """What a query over Parquet files gives. Raises DataError where they cannot be read, with what
    to do; NoMemory."""
    with idle_connection() as con:
        try:
            return con.execute(statement, dict(parameters)).fetchall()
        except duckdb.Error as error:
            if says(error, OUT_OF_MEMORY):
                raise NoMemory(f"There is not memory enough to read {name}.") from error
            why = str(error).strip().splitlines()[0][:200]
            raise DataError(f"{name} cannot be read ({why}). {remedy}") from error
