"""An export: a folder with the book's entries, the tables (each as CSV and as Parquet) and the
messages, an array for each type of resource."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING

from readiness.book.session import connection, make_file, quoted
from readiness.book.views import TYPES
from readiness.desk.reading import Reading
from readiness.entries.columns import Column
from readiness.entries.validate import json_schema
from readiness.export.folder import Counted, Folder, array_pieces, entry_pieces, new_in_place_of
from readiness.export.icar import animals, events, feet
from readiness.export.icar.common import Json
from readiness.export.icar.covered import not_covered
from readiness.export.package import MANIFEST, Written, csv_path, indented, manifest, parquet_path
from readiness.export.shape import Table
from readiness.export.tables import TABLES
from readiness.report.as_json import day
from readiness.report.csv_table import LINE_END, MARK, csv_pieces
from readiness.system.progress import Progress, nobody

if TYPE_CHECKING:
    from readiness.desk.desk import Desk

# resourceType (resources/resourceTypeCatalog.md, 8ccda44) → its messages.
MESSAGES: dict[str, Callable[[Reading], Iterator[Json]]] = {
    animals.ANIMAL: animals.animals,
    animals.SET: animals.sets,
    animals.DO_NOT_BREED: animals.do_not_breed,
    events.SCORE: events.scores,
    events.WEIGHT: events.weights,
    feet.DIAGNOSIS: feet.diagnoses,
    events.TREATMENT: lambda book: chain(events.treatments(book), feet.procedures(book)),
    events.ARRIVAL: events.arrivals,
    events.DEPARTURE: events.departures,
    events.DEATH: events.deaths,
}
ENTRIES, SCHEMA = "entries.jsonl", "entries.schema.json"
NOT_COVERED = "icar/not-covered.json"


def export(
    desk: Desk, target: Path, *, known: str | None = None, progress: Progress = nobody
) -> tuple[Written, ...]:
    """Write the folder ``target`` anew; its files, the manifest last.

    ``known``: as the book was then (``recorded_text``); by default all of it. What is worked out is
    of the desk's day. ``progress``: told how many files are written. Raises NotFound without a
    book, CannotWrite and DataError for a place that cannot or may not be written; then what was
    there is whole. The same book, day and rules give the same bytes.
    """
    reading = desk.reading(known)
    with new_in_place_of(target) as root:
        folder = Folder(root)
        total = 2 + 2 * len(TABLES) + len(MESSAGES) + 2
        for done, _ in enumerate(_files(folder, reading), start=1):
            progress(done, total)
        about = {"on": day(reading.on), "known": known, "entries": len(reading.shelf.everything)}
        last = folder.write(MANIFEST, [manifest(TABLES, folder.files, about)])
        progress(total, total)
    return (*(written for written in folder.files.values() if written is not last), last)


def _files(folder: Folder, reading: Reading) -> Iterator[Written]:
    # As they were written down: what a later export adds stands at the end.
    entries = sorted(
        reading.shelf.everything, key=lambda each: (each.recorded, each.position, each.id)
    )
    yield folder.write(ENTRIES, entry_pieces(entries), len(entries))
    for table in TABLES:
        rows = Counted(table.rows(reading))
        pieces = csv_pieces([column.name for column in table.columns], rows)
        yield folder.write(csv_path(table), (piece.encode() for piece in pieces), rows)
    with connection() as con:
        for table in TABLES:
            source, path = folder.files[csv_path(table)], parquet_path(table)
            target = folder.room_for(path)
            statement = _as_parquet(table, folder.root / source.path, target)
            make_file(con, target, statement, {"mark": MARK})
            yield folder.took(path, source.rows)
    for kind, make in MESSAGES.items():
        messages = Counted(make(reading))
        yield folder.write(f"icar/{kind}.json", array_pieces(messages), messages)
    left_out = not_covered(reading)
    yield folder.write(NOT_COVERED, [indented(left_out)], len(left_out["fields"]))
    yield folder.write(SCHEMA, [indented(json_schema())])


# As text first, so that the guard's apostrophe is taken away before a column has its type.
_COPY = """
    COPY (
        SELECT {columns} FROM read_csv({source}, auto_detect = false, header = true,
            delim = ',', quote = '"', escape = '"', new_line = '{line_end}', nullstr = '',
            columns = {{{types}}})
    ) TO {target} (FORMAT parquet, COMPRESSION zstd)
"""


def _as_parquet(table: Table, source: Path, target: Path) -> str:
    """The statement by which the database makes the new file of a table's CSV, with the types of
    its columns."""
    return _COPY.format(
        columns=", ".join(_plain(column) for column in table.columns),
        source=quoted(source),
        line_end=LINE_END.replace("\r", "\\r").replace("\n", "\\n"),
        types=", ".join(f"'{column.name}': 'VARCHAR'" for column in table.columns),
        target=quoted(target),
    )


def _plain(column: Column) -> str:
    name = f'"{column.name}"'
    if column.type != "string":
        return f"CAST({name} AS {TYPES[column.type]}) AS {name}"
    return f"CASE WHEN starts_with({name}, $mark) THEN substr({name}, 2) ELSE {name} END AS {name}"
