"""The book: one DuckDB file of entries that only ever grows."""

from readiness.book.cache import Cache, Held
from readiness.book.read import Counts, Snapshot
from readiness.book.shelf import Shelf
from readiness.book.store import Book

__all__ = [
    "Book",
    "Cache",
    "Counts",
    "Held",
    "Shelf",
    "Snapshot",
]
