"""Short ways to say entries and books in tests. Farms, tags and days are invented."""

from __future__ import annotations

import uuid
from collections.abc import Iterable, Mapping
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import duckdb

from readiness.book import Book
from readiness.entries.entry import Entry, NewEntry
from readiness.system.clock import FixedClock

MORNING = datetime(2026, 4, 3, 7, 30, tzinfo=UTC)


def book_at(path: Path, moment: datetime = MORNING, device: str = "shed") -> Book:
    """A handle on the book, at a fixed moment; it is made where it is not there."""
    book = Book(path, FixedClock(moment), device)
    if not book.exists():
        book.create()
    return book


def later(**distance: float) -> datetime:
    return MORNING + timedelta(**distance)


def entry_id(number: int) -> str:
    """A fixed id, so that a test can name an entry."""
    return str(uuid.UUID(int=0x7000_8000_0000_0000_0000 << 48 | number))


def said(number: int, content: Mapping[str, Any], **receipt: Any) -> NewEntry:
    return NewEntry(entry_id(number), content, **receipt)


def bull(number: int, tag: str = "00417", on: str = "2026-03-01") -> NewEntry:
    return said(number, {"kind": "bull", "on": on, "bull": tag, "name": "Corran"})


def walk(number: int, score: int = 0, on: str = "2026-04-01", tag: str = "00417") -> NewEntry:
    return said(
        number, {"kind": "mobility", "on": on, "bull": tag, "scale": "gb0-3", "score": score}
    )


def strike(number: int, target: int, on: str = "2026-04-02", **receipt: Any) -> NewEntry:
    return said(number, {"kind": "strike", "on": on, "entry": entry_id(target)}, **receipt)


def ids(*numbers: int) -> list[str]:
    return [entry_id(number) for number in numbers]


def ids_of(entries: Iterable[Entry]) -> list[str]:
    return [entry.id for entry in entries]


def ask(path: Path, *statements: str) -> list[tuple[Any, ...]]:
    """What anyone can do with DuckDB and the file: the rows of the last statement."""
    with duckdb.connect(str(path)) as con:
        for statement in statements[:-1]:
            con.execute(statement)
        return con.execute(statements[-1]).fetchall()
