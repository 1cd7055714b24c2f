"""The book: one DuckDB file of entries that only ever grows."""

from readiness.book.copies import restore
from readiness.book.kept import Kept
from readiness.book.read import Counts, Snapshot
from readiness.book.session import PATIENCE
from readiness.book.shelf import Shelf
from readiness.book.store import Book
from readiness.book.verify import Report
from readiness.book.write import Moved, Written

__all__ = [
    "PATIENCE",
    "Book",
    "Counts",
    "Kept",
    "Moved",
    "Report",
    "Shelf",
    "Snapshot",
    "Written",
    "restore",
]
