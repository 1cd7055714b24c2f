"""The book: one DuckDB file of entries that only ever grows."""

from readiness.book.read import Counts, Snapshot
from readiness.book.shelf import Shelf
from readiness.book.store import Book, Cache, Held

__all__ = [
    "Book",
    "Cache",
    "Counts",
    "Held",
    "Shelf",
    "Snapshot",
]
