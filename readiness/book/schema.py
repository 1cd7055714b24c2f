"""The tables of a book, the triggers that let them only grow, and its version."""

from __future__ import annotations

from collections.abc import Collection

from duckdb import BinderException, CatalogException, DuckDBPyConnection

from readiness.book.views import VIEWS_VERSION, views
from readiness.system.errors import DataError

VERSION = 1

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
    "refusal": "why VARCHAR CHECK (false)",
}
GROWING = ("meta", "entry", "receipt")
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


def _make_views(con: DuckDBPyConnection, but: Collection[str] = ()) -> None:
    for name, query in views().items():
        if name not in but:
            con.execute(f'CREATE OR REPLACE VIEW "{name}" AS {query}')


def views_version(con: DuckDBPyConnection) -> int:
    """Which version the current database's views are of; 1 for those made before it was said."""
    row = con.execute(
        r"SELECT regexp_extract(sql, 'SELECT (\d{1,9}) ', 1) FROM duckdb_views() "
        "WHERE database_name = current_database() AND view_name = 'view_version'"
    ).fetchone()
    return int(row[0]) if row and row[0] else 1


def renew_views(con: DuckDBPyConnection) -> None:
    """The views of this program in a book of before; those of a later program are left.

    A table of someone's own that has the name of a view stays, and the view is not made.
    """
    if views_version(con) >= VIEWS_VERSION:
        return
    tables = con.execute(
        "SELECT table_name FROM duckdb_tables() WHERE database_name = current_database()"
    ).fetchall()
    _make_views(con, but=[name for (name,) in tables])


def make_triggers(con: DuckDBPyConnection) -> None:
    """The triggers in the current database; its tables stand already."""
    for table in GROWING:
        for event in ("UPDATE", "DELETE"):
            con.execute(trigger(table, event))


def make_book(con: DuckDBPyConnection) -> None:
    """All of an empty book in the current database."""
    for table, columns in TABLES.items():
        con.execute(f"CREATE TABLE {table} ({columns})")
    _make_views(con)
    make_triggers(con)
    con.execute("INSERT INTO meta VALUES ('version', ?)", [str(VERSION)])


def check_version(con: DuckDBPyConnection, name: str) -> None:
    """Raise DataError unless the current database is a book of the one version there is."""
    try:
        row = con.execute("SELECT value FROM meta WHERE name = 'version'").fetchone()
    except (CatalogException, BinderException) as error:
        raise DataError(_NO_BOOK.format(name=name)) from error
    if row is None or not row[0].isdecimal():
        raise DataError(_NO_BOOK.format(name=name))
    if int(row[0]) > VERSION:
        raise DataError(
            f"{name} is a book of version {row[0]}, and this program reads version {VERSION}. "
            "Install a newer version of the program; the book has not been changed."
        )


_NO_BOOK = (
    "{name} is a DuckDB file, but not a book of this program. Give the book's own file with "
    "--book; the file has not been changed."
)
