"""How large what is read may be: far above any herd, far below what would stop the machine."""

from __future__ import annotations

MEGABYTE = 1_000_000

BIG_BOOK = 16 * MEGABYTE
"""Of a book's file: some 150,000 entries. Below it is read quicker in one go than bull by bull."""
ENTRIES_MOST = 100 * MEGABYTE
"""Of a file of entries: some 300,000 of them."""
LINE_MOST = MEGABYTE
"""Of one line in it: an entry is some hundred bytes, a picture pasted in is millions."""
ROSTER_MOST = 32 * MEGABYTE
UNPACKED_MOST = 64 * MEGABYTE
"""Of a spreadsheet, as its parts stand in it, unpacked."""
PARTS_MOST = 2_000
ROWS_MOST = 20_000
"""Of a roster: rows that say something."""
SHEET_ROWS_MOST = 100_000
"""Of a sheet: rows that stand in it, empty ones with a format counted."""
COLUMNS_MOST = 200
ROW_CELLS_MOST = 16_384
"""Of a row of a text file, empty ones too: spreadsheet programs have no more columns."""
CELLS_MOST = 100_000
"""Of a spreadsheet, empty ones with a format counted."""
CELL_MOST = 32_767
"""Letters of one cell: spreadsheet programs keep no more."""
OTHERS_MOST = 100_000
"""Of one part of a spreadsheet: what is no row and no cell, as formats, rules and merged cells."""
DEPTH_MOST = 100
TAG_MOST = 65_536
"""Letters of one tag there."""
RULES_MOST = 100_000
"""Of a file of rules or of settings."""
RULES_LINE_MOST = 10_000
"""Letters of a line in it: a key of very many parts takes memory by the square of them."""
CALENDAR_MOST = 16 * MEGABYTE
"""Of a calendar file that is updated: some 40,000 events."""
PAGE_MOST = 64 * MEGABYTE
"""Of a page that is written over."""
TYPED_MOST = 10_000
"""Letters of a line of shorthand: a long day of one bull has some hundred."""
RECEIPT_MOST = 16 * MEGABYTE
"""Of what a fleet keeps of a farm that is done: it holds a line for each of its groups."""
SMALL_MOST = MEGABYTE
"""Of what the program keeps for itself: a device's id, half-entered bulls, an export's manifest."""
