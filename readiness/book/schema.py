"""The tables of a book, the triggers that let them only grow, and its version."""

from __future__ import annotations

from collections.abc import Iterable
from weakref import WeakKeyDictionary

from duckdb import BinderException, CatalogException, DuckDBPyConnection

from readiness.book.views import VIEWS_VERSION, views
from readiness.system.errors import DataError

VERSION = 2
NEEDS = "0.2.0"
"""The first version of this program that reads books of ``VERSION``: it stands in the book, so that
an older one can say which is needed."""

# No primary key: its index would be one more thing in the file that can be damaged, and then whole
# rows cannot be read. An id is in the book once because entries are inserted only where their id is
# not there yet, by one process at a time; `verify` checks it.
# `refusal` is where the triggers' bodies point: DuckDB wants an insert into another table there.
# It can hold no row, so there is nothing in it to guard.
TABLES = {
    "meta": "name VARCHAR NOT NULL, value VARCHAR NOT NULL",
    "entry": (
        "id VARCHAR NOT NULL, day DATE NOT NULL, bull VARCHAR NOT NULL, "
        "kind VARCHAR NOT NULL, body JSON NOT NULL, digest VARCHAR NOT NULL"
    ),
    "receipt": (
        "id VARCHAR NOT NULL, recorded VARCHAR NOT NULL, position INTEGER NOT NULL, "
        "batch VARCHAR NOT NULL, device VARCHAR NOT NULL, who VARCHAR NOT NULL"
    ),
    # What came in out of another copy of the book (`here`), or was put out again: the last row of
    # an id counts. It is of this copy alone: no merge, export or import carries it to another.
    # `receipts`: how many the book held then, which tells what was written before it and after.
    "taken_in": (
        "id VARCHAR NOT NULL, batch VARCHAR NOT NULL, recorded VARCHAR NOT NULL, "
        "device VARCHAR NOT NULL, who VARCHAR NOT NULL, source VARCHAR NOT NULL, "
        "here BOOLEAN NOT NULL, receipts BIGINT NOT NULL"
    ),
    "refusal": "why VARCHAR CHECK (false)",
}
GROWING = ("meta", "entry", "receipt", "taken_in")
FIRST_WITH = {"taken_in": 2}
"""Table → the first version of a book that has it, where that is not the first of all."""
REFUSAL = "a book only grows: nothing in it is changed or deleted, an entry is struck by another"


def trigger(table: str, event: str) -> str:
    """The statement that makes ``table`` refuse ``event`` (the one on DELETE, TRUNCATE too).

    The names in it are bare, as the database keeps them as written: with the book as the current
    database, here or in anyone's DuckDB, the refusal is in words; attached under some other name
    it is refused all the same, for want of the table.
    """
    return (
        f"CREATE TRIGGER {table}_no_{event.lower()} BEFORE {event} ON {table} "
        f"FOR EACH STATEMENT INSERT INTO refusal SELECT error('{REFUSAL}')"
    )


def _tables(con: DuckDBPyConnection) -> set[str]:
    query = "SELECT table_name FROM duckdb_tables() WHERE database_name = current_database()"
    return {name for (name,) in con.execute(query).fetchall()}


def make_views(con: DuckDBPyConnection) -> None:
    """The views of this program in the current database. A table of someone's own that has the name
    of a view stays, and the view is not made."""
    tables = _tables(con)
    for name, query in views().items():
        if name not in tables:
            con.execute(f'CREATE OR REPLACE VIEW "{name}" AS {query}')


def views_version(con: DuckDBPyConnection) -> int:
    """Which version the current database's views are of; 1 for those made before it was said."""
    row = con.execute(
        r"SELECT regexp_extract(sql, 'SELECT (\d{1,9}) ', 1) FROM duckdb_views() "
        "WHERE database_name = current_database() AND view_name = 'view_version'"
    ).fetchone()
    return int(row[0]) if row and row[0] else 1


def renew_views(con: DuckDBPyConnection) -> None:
    """The views of this program in a book of before; those of a later program are left."""
    if views_version(con) < VIEWS_VERSION:
        make_views(con)


def make_triggers(con: DuckDBPyConnection) -> None:
    """The triggers in the current database; those of its tables that it has stand already."""
    has = _tables(con)
    for table in (name for name in GROWING if name in has):
        for event in ("UPDATE", "DELETE"):
            con.execute(trigger(table, event))


def make_book(con: DuckDBPyConnection) -> None:
    """All of an empty book in the current database."""
    make_tables(con)
    make_views(con)
    make_triggers(con)
    say_version(con)
    _FOUND[con] = VERSION


def make_tables(con: DuckDBPyConnection, names: Iterable[str] = TABLES) -> None:
    """These tables in the current database, empty."""
    for table in names:
        con.execute(f"CREATE TABLE {table} ({TABLES[table]})")


def say_version(con: DuckDBPyConnection) -> None:
    """The version of the current database, beside those it had before: ``meta`` only grows."""
    con.execute("INSERT INTO meta VALUES ('version', ?), ('needs', ?)", [str(VERSION), NEEDS])


class OldVersion(Exception):
    """The book is of a version before, and is to be written to: for the caller, who brings it up
    to date and tries again. Never shown to people."""


def version_of(con: DuckDBPyConnection) -> int | None:
    """The version of the book that is the current database; None where it is no book."""
    try:
        rows = con.execute("SELECT value FROM meta WHERE name = 'version'").fetchall()
    except (CatalogException, BinderException):
        return None
    said = [value for (value,) in rows]
    known = said and all(value.isdecimal() and len(value) < 10 for value in said)
    return max(map(int, said)) if known else None


def check_version(con: DuckDBPyConnection, name: str) -> int:
    """The version of the current database; DataError unless it is a book that can be read."""
    version = version_of(con)
    if version is None:
        raise DataError(_NO_BOOK.format(name=name))
    if version > VERSION:
        row = con.execute("SELECT max(value) FROM meta WHERE name = 'needs'").fetchone()
        needed = f"version {row[0]} of the program, or a newer one" if row and row[0] else _NEWER
        raise DataError(
            f"{name} is a book of version {version}, and this program reads books up to version "
            f"{VERSION}. Install {needed}; the book has not been changed."
        )
    _FOUND[con] = version
    return version


# The version of the book that a connection attached or made last, for what an operation asks of it
# several times: whoever attaches one checks it first.
_FOUND: WeakKeyDictionary[DuckDBPyConnection, int] = WeakKeyDictionary()


def found_version(con: DuckDBPyConnection) -> int:
    """That of the book which this connection checked or made last."""
    return _FOUND[con]


_NEWER = "a newer version of the program"
_NO_BOOK = (
    "{name} is a DuckDB file, but not a book of this program. Give the book's own file with "
    "--book; the file has not been changed."
)
