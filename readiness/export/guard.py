"""Text that a spreadsheet might take for a formula: kept from it, and given back.

A cell that begins with one of ``BEGINS`` gets an apostrophe before it, and so does one that begins
with an apostrophe: whoever reads the file takes the first apostrophe of a text away and has what
was written, always. The schema of every table says so.

Which characters begin a formula: OWASP, "CSV Injection" (equals, plus, minus, at, tab, carriage
return, line feed and the full-width forms of the first four).
"""

from __future__ import annotations

MARK = "'"
BEGINS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠", MARK)

RULE = (
    "Text that begins with one of = + - @ (also full-width) or an apostrophe has one more "
    "apostrophe before it, so that no spreadsheet takes it for a formula. Take the first "
    "apostrophe of a text away to have what was written. Parquet and JSON hold it as written."
)


def guarded(text: str) -> str:
    """The text as a cell of a CSV file."""
    return MARK + text if text.startswith(BEGINS) else text


def unguarded(cell: str) -> str:
    """What was written: undoes ``guarded``."""
    return cell.removeprefix(MARK)
