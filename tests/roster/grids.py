"""Rosters for tests: as bytes of a file, read, and taken into a book that is a list of entries."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterable, Sequence
from datetime import date
from typing import Any

from openpyxl import Workbook

from readiness.book.admission import as_entry
from readiness.entries.entry import Entry
from readiness.roster import Changes, Importer, Roster, changes_of
from readiness.roster.read import roster_of

ON = date(2026, 4, 3)
Rows = Sequence[Sequence[object]]


def csv_bytes(rows: Rows, delimiter: str = ",", coding: str = "utf-8") -> bytes:
    made = io.StringIO(newline="")
    csv.writer(made, delimiter=delimiter).writerows(rows)
    return made.getvalue().encode(coding)


def xlsx_bytes(rows: Rows, change: Callable[[Any], None] | None = None) -> bytes:
    """``change``: what else is done to the sheet before it is saved."""
    book = Workbook()
    for row in rows:
        book.active.append(list(row))
    if change:
        change(book.active)
    made = io.BytesIO()
    book.save(made)
    return made.getvalue()


def read(rows: Rows, dates: str | None = None) -> Roster:
    """The roster of a CSV file."""
    return roster_of(csv_bytes(rows), ".csv", ON, dates)


def read_xlsx(rows: Rows, change: Callable[[Any], None] | None = None) -> Roster:
    return roster_of(xlsx_bytes(rows, change), ".xlsx", ON)


def take(roster: Roster, book: list[Entry], on: date = ON, *, renames: bool = False) -> Changes:
    """What the roster changes in a book, which it is then added to where nothing is wrong."""
    importer = Importer(on, "Ines", renames=renames)
    changes = changes_of(roster, sorted(book), {entry.id for entry in book}, importer)
    if not changes.problems:
        now = f"2026-04-03T10:{len(book):02}:00.000000Z"
        book += [as_entry(entry, now, place) for place, entry in enumerate(changes.entries)]
    return changes


def said(problems: Iterable[object]) -> list[str]:
    return [str(problem) for problem in problems]


def fields(roster: Roster) -> list[dict[str, Any]]:
    """Each row's tag and fields."""
    return [{"bull": row.tag, **row.fields} for row in roster.rows]
