"""The figures as CSV: RFC 4180, UTF-8, and safe to open in a spreadsheet."""

from __future__ import annotations

import csv
import io

from readiness.herd.stats.results import Figures, Row
from readiness.report.board_csv import guarded

HEAD = ("by", "value", "n", "of", "share", "low", "high", "unit", "bulls", "few")
DIGITS = 6


def stats_csv(figures: Figures) -> str:
    """A record for each row, with CRLF line ends, the head first; shares from 0 to 1."""
    made = io.StringIO(newline="")
    writer = csv.writer(made, lineterminator="\r\n")
    writer.writerow(HEAD)
    writer.writerows([[guarded(cell) for cell in _cells(row)] for row in figures.rows])
    return made.getvalue()


def _cells(row: Row) -> tuple[object, ...]:
    part = row.part
    shares = (round(share, DIGITS) for share in (part.share, part.low, part.high))
    few = "yes" if part.few else "no"
    return (row.by, row.value, part.n, part.of, *shares, row.unit, part.bulls, few)
