"""How large a roster may be: far above any herd, far below what would stop the machine."""

from __future__ import annotations

BYTES_MOST = 32_000_000
UNPACKED_MOST = 64_000_000
PARTS_MOST = 2_000
ROWS_MOST = 20_000
COLUMNS_MOST = 200
CELLS_MOST = 1_000_000
HEAD_ROWS = 40
"""In so many rows from the top the headings have to be."""


def too_many(what: str, most: int) -> str:
    """A refusal: more rows or cells than a roster has."""
    return (
        f"the file has more than {most:,} {what}, more than a roster can have. Give only the "
        "bulls, in a file of their own."
    )


def too_many_columns(row: int, column: str) -> str:
    """A refusal: a table as wide as no roster is."""
    return (
        f"row {row} goes on to column {column}; a roster has at most {COLUMNS_MOST} columns. "
        "Delete what stands far to the right, or give only the bulls in a file of their own."
    )
