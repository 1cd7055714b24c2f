"""The book: one DuckDB file of entries that only ever grows."""

from readiness.book.copies import restore
from readiness.book.session import PATIENCE
from readiness.book.store import Book
from readiness.book.verify import Report
from readiness.book.write import Written

__all__ = ["PATIENCE", "Book", "Report", "Written", "restore"]
