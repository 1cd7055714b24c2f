"""The backups beside a book: one before the first write of each day, old ones thinned out."""

from __future__ import annotations

import re
from datetime import date, datetime, timedelta
from pathlib import Path

from readiness.book.copies import copy_book
from readiness.book.session import session
from readiness.system.errors import CannotWrite
from readiness.system.locations import backups_beside

DAYS = 14
MONTHS = 12

_NAME = re.compile(r"(\d{4}-\d{2}-\d{2})(T\d{6}Z(-\d+)?)?\.duckdb")


def by_hand(book: Path, now: datetime) -> Path:
    """A free name for a backup made at this moment (UTC) on request."""
    stem = now.strftime("%Y-%m-%dT%H%M%SZ")
    path = backups_beside(book) / f"{stem}.duckdb"
    count = 1
    while path.exists():
        count += 1
        path = backups_beside(book) / f"{stem}-{count}.duckdb"
    return path


def daily(book: Path, today: date, patience: float) -> None:
    """Back the book up where that has not been done today, then thin out.

    A book without entries has nothing to lose yet.
    """
    target = backups_beside(book) / f"{today}.duckdb"
    if target.exists():
        return
    with session(book, patience) as con:
        if con.execute("SELECT 1 FROM entry LIMIT 1").fetchone() is None:
            return
    try:
        copy_book(book, target, patience)
    except CannotWrite:
        # Another window may have made it meanwhile, just as well.
        if not target.exists():
            raise
    thin_out(backups_beside(book), today)


def thin_out(folder: Path, today: date) -> None:
    """Keep all backups of the last 14 days and the first of each of the last 12 months."""
    dated = sorted((day, path.name, path) for path in folder.iterdir() if (day := _day(path)))
    firsts: set[tuple[int, int]] = set()
    for day, _, path in dated:
        month = (day.year, day.month)
        age = (today.year - day.year) * 12 + today.month - day.month
        monthly = month not in firsts and age <= MONTHS
        firsts.add(month)
        if today - day >= timedelta(days=DAYS) and not monthly:
            try:
                path.unlink()
            except OSError as error:
                raise CannotWrite(
                    f"The old backup {path} cannot be removed: {error.strerror}."
                ) from error


def _day(path: Path) -> date | None:
    """The day in a backup's name; None for a file that is not ours to remove."""
    found = _NAME.fullmatch(path.name)
    if found is None:
        return None
    try:
        return date.fromisoformat(found[1])
    except ValueError:
        return None
