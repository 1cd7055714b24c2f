"""A table as Parquet, by the database itself: read from its CSV with the types of its columns."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from readiness.book.session import connection, make_file, quoted
from readiness.book.views import TYPES
from readiness.entries.columns import Column
from readiness.export.shape import Table
from readiness.report.csv_table import LINE_END, MARK

# As text first, so that the guard's apostrophe is taken away before a column has its type.
_COPY = """
    COPY (
        SELECT {columns} FROM read_csv({source}, auto_detect = false, header = true,
            delim = ',', quote = '"', escape = '"', new_line = '{line_end}', nullstr = '',
            columns = {{{types}}})
    ) TO {target} (FORMAT parquet, COMPRESSION zstd)
"""


Writer = Callable[[Table, Path, Path], None]


@contextmanager
def parquet_writer() -> Iterator[Writer]:
    """What writes a table: (table, its CSV, the new file). It raises CannotWrite."""
    with connection() as con:

        def write(table: Table, source: Path, target: Path) -> None:
            statement = _COPY.format(
                columns=", ".join(_plain(column) for column in table.columns),
                source=quoted(source),
                line_end=LINE_END.replace("\r", "\\r").replace("\n", "\\n"),
                types=", ".join(f"'{column.name}': 'VARCHAR'" for column in table.columns),
                target=quoted(target),
            )
            make_file(con, target, statement, {"mark": MARK})

        yield write


def _plain(column: Column) -> str:
    name = f'"{column.name}"'
    if column.type != "string":
        return f"CAST({name} AS {TYPES[column.type]}) AS {name}"
    return f"CASE WHEN starts_with({name}, $mark) THEN substr({name}, 2) ELSE {name} END AS {name}"
