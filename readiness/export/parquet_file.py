"""A table as Parquet, by the database itself: read from its CSV with the types of its columns."""

from __future__ import annotations

from pathlib import Path

import duckdb
from duckdb import DuckDBPyConnection

from readiness.book.session import quoted
from readiness.export.shape import TYPES, Column, Table
from readiness.report.csv_table import LINE_END, MARK
from readiness.system.errors import CannotWrite

# As text first, so that the guard's apostrophe is taken away before a column has its type.
_COPY = """
    COPY (
        SELECT {columns} FROM read_csv({source}, auto_detect = false, header = true,
            delim = ',', quote = '"', escape = '"', new_line = '{line_end}', nullstr = '',
            columns = {{{types}}})
    ) TO {target} (FORMAT parquet, COMPRESSION zstd)
"""


def write_parquet(con: DuckDBPyConnection, table: Table, source: Path, target: Path) -> None:
    """Write ``target`` from the table's CSV. Raises CannotWrite."""
    # In one order and one thread, so that the same book gives the same bytes.
    con.execute("SET threads = 1")
    try:
        con.execute(
            _COPY.format(
                columns=", ".join(_plain(column) for column in table.columns),
                source=quoted(source),
                line_end=LINE_END.replace("\r", "\\r").replace("\n", "\\n"),
                types=", ".join(f"'{column.name}': 'VARCHAR'" for column in table.columns),
                target=quoted(target),
            ),
            {"mark": MARK},
        )
    except (duckdb.IOException, duckdb.FatalException) as error:
        raise CannotWrite(
            f"{target.name} cannot be written: {str(error).splitlines()[0]} What was there before "
            "is whole: see to the disk, or name another folder."
        ) from error


def _plain(column: Column) -> str:
    name = f'"{column.name}"'
    if column.type != "string":
        return f"CAST({name} AS {TYPES[column.type]}) AS {name}"
    return f"CASE WHEN starts_with({name}, $mark) THEN substr({name}, 2) ELSE {name} END AS {name}"
