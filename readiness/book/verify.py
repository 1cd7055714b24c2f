"""Is the book whole: triggers there, every column readable, every digest right?"""

from __future__ import annotations

import json
from collections.abc import Sequence
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

from duckdb import DuckDBPyConnection

from readiness.book.faults import Damaged
from readiness.book.held_against import compare
from readiness.book.journal import files
from readiness.book.schema import (
    FIRST_WITH,
    GROWING,
    VERSION,
    check_version,
    make_book,
    views_version,
)
from readiness.book.session import connection, session
from readiness.book.views import VIEWS_VERSION
from readiness.entries.ids import digest
from readiness.system.progress import Progress, nobody, part
from readiness.trade.tags import tag_key

AT_A_TIME = 2000


class Report(NamedTuple):
    """The result of ``verify``.

    ``problems``: what is wrong, one sentence each; ``remarks``: what is odd but may be so;
    ``counts``: rows read in each table.
    """

    ok: bool
    problems: list[str]
    counts: dict[str, int]
    remarks: list[str]


def verify(path: Path, patience: float, progress: Progress = nobody) -> Report:
    """Read all of the book and check it.

    A damaged book is reported, not raised; NotFound, BookBusy and DataError (no book at all) are.
    """
    counts: dict[str, int] = {}
    problems: list[str] = []
    remarks: list[str] = []
    as_made = _as_made()
    try:
        with session(path, patience) as con:
            found = _makeup(con)
            version = check_version(con, str(path))
            if version < VERSION:
                remarks.append(_OF_BEFORE.format(version))
                as_made = {part for part in as_made if not _later(part[1], version)}
            if views_version(con) != VIEWS_VERSION:
                remarks.append(_OTHER_VIEWS)
                views = {part for part in as_made if part[0] == "view"}
                found = {part for part in found if part[0] != "view"} | views
            problems += _altered(as_made, found)
            counts |= _scan(con)
            if not counts.keys() >= {
                t for t in GROWING if not _later(t, version)
            }:  # said above; there is nothing to compare
                return Report(False, problems, counts, remarks)
            problems += _entries(con, counts["entry"], part(progress, 0.0, 0.6))
            problems += _said(con, _WRONG_IDS)
            remarks += _said(con, _ODD)
            lost, odd = _journal(con, path, part(progress, 0.6, 1.0))
            problems += lost
            remarks += odd
    except Damaged as error:
        problems.append(error.why)
    return Report(not problems, problems, counts, remarks)


# What a book is made of: (what, its name, how it was made).
_MAKEUP = """
    SELECT 'trigger', trigger_name, sql FROM duckdb_triggers()
    WHERE database_name = current_database()
    UNION ALL
    SELECT 'view', view_name, sql FROM duckdb_views()
    WHERE database_name = current_database() AND NOT internal
    UNION ALL
    SELECT 'table', table_name, sql FROM duckdb_tables()
    WHERE database_name = current_database() AND NOT internal
"""
_ALTERED = {
    "trigger": "The trigger {name} is missing or not as made: what it guards can be changed.",
    "view": "The view {name} is missing or not as made.",
    "table": "The table {name} is missing or not as made.",
}

_OTHER_VIEWS = (
    "The views are those of another version of this program; the next entry that this one writes "
    "brings older ones up to date."
)

_OF_BEFORE = (
    "It is a book of version {}; the next entry makes a new one of it, and a backup of it before."
)

_Makeup = set[tuple[str, str, str]]


@cache
def _as_made() -> _Makeup:
    """What a new book is made of, by the database that is running now."""
    with connection() as con:
        make_book(con)
        return _makeup(con)


def _makeup(con: DuckDBPyConnection) -> _Makeup:
    return set(con.execute(_MAKEUP).fetchall())


def _later(name: str, version: int) -> bool:
    """Whether a table, or a trigger on one, is of a later version of a book than this."""
    return any(name.startswith(table) and version < at for table, at in FIRST_WITH.items())


def _altered(as_made: _Makeup, found: _Makeup) -> list[str]:
    """Tables and views of someone's own may stand beside ours; foreign triggers may not."""
    foreign = {part for part in found if part[0] == "trigger"}
    differing = {(what, name) for what, name, _ in (as_made - found) | (foreign - as_made)}
    return [_ALTERED[what].format(name=name) for what, name in sorted(differing)]


def _scan(con: DuckDBPyConnection) -> dict[str, int]:
    """Rows of each table, every column of every row read."""
    tables = con.execute(
        "SELECT table_name FROM duckdb_tables() WHERE database_name = current_database()"
    ).fetchall()
    counts: dict[str, int] = {}
    for (table,) in tables:
        quoted = '"' + table.replace('"', '""') + '"'
        row = con.execute(f"SELECT count(*), bit_xor(hash(t)) FROM {quoted} AS t").fetchone()
        counts[table] = row[0] if row else 0
    return counts


def _entries(con: DuckDBPyConnection, total: int, progress: Progress) -> list[str]:
    problems: list[str] = []
    done = 0
    rows = con.execute("SELECT id, CAST(day AS VARCHAR), bull, kind, body, digest FROM entry")
    while chunk := rows.fetchmany(AT_A_TIME):
        problems += [problem for row in chunk if (problem := _entry(row))]
        done += len(chunk)
        progress(done, total)
    return problems


def _entry(row: tuple[Any, ...]) -> str | None:
    """What is wrong with one entry: its text against its digest, its columns against its text."""
    id_, day, bull, kind, body, written = row
    try:
        content: dict[str, Any] = json.loads(body)
        whole = digest(content) == written
    except ValueError:
        whole = False
    if not whole:
        return f"Entry {id_}: its text is not what was written (the digest is another)."
    columns = (content.get("on"), tag_key(content.get("bull") or ""), content.get("kind"))
    if columns != (day, bull, kind):
        return f"Entry {id_}: its day, bull or kind is not what its text says."
    return None


def _journal(
    con: DuckDBPyConnection, book: Path, progress: Progress
) -> tuple[list[str], list[str]]:
    """What is wrong, and what is odd, of the book held against its journal."""
    if not files(book):
        return [], []
    found = compare(con, book, progress)
    ids = {line.id: line.body for line in found.lost}
    lost = [_LOST.format(id_, json.loads(body)["on"]) for id_, body in sorted(ids.items())]
    lost += [_FORGOTTEN.format(row.id, row.recorded[:10]) for row in found.forgotten]
    odd = [_UNREADABLE.format(bad.number, bad.file.name) for bad in found.unreadable]
    if found.lacking:
        odd.append(_LACKING.format(len({receipt[0] for receipt in found.lacking})))
    return lost, odd


_LOST = "Entry {} of {} was written, says the journal, and is not so in the book."
_FORGOTTEN = (
    "That entry {} came in from another copy, or was put out again, on {} stands in the journal "
    "and not in the book."
)
_LACKING = "The journal lacks {} of the book's entries; the next writing brings them into it."
_UNREADABLE = "Line {} of the journal's file {} is damaged."

# What is wrong of an id, or odd: the query that finds it, and the sentence that says so.
_WRONG_IDS = (
    (
        "SELECT id FROM entry GROUP BY id HAVING count(*) > 1 ORDER BY id",
        "Entry {} is in the book more than once.",
    ),
    (
        "SELECT DISTINCT id FROM receipt ANTI JOIN entry USING (id) ORDER BY id",
        "Entry {} is missing: only its receipt is here.",
    ),
    (
        "SELECT id FROM entry ANTI JOIN receipt USING (id) ORDER BY id",
        "Entry {} has no receipt, so it is not read.",
    ),
    (
        "SELECT DISTINCT id FROM receipt WHERE NOT regexp_full_match(recorded, "
        r"'\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{6}Z') ORDER BY id",
        "Entry {}: the time in its receipt is unreadable.",
    ),
)
_ODD = (
    (
        "SELECT id, body->>'$.entry' AS aim FROM entry AS strike WHERE kind = 'strike' "
        "AND NOT EXISTS (FROM entry WHERE entry.id = aim) ORDER BY id",
        "Entry {} takes {} back, which is not in this book.",
    ),
)


def _said(con: DuckDBPyConnection, asked: Sequence[tuple[str, str]]) -> list[str]:
    return [text.format(*row) for query, text in asked for row in con.execute(query).fetchall()]
