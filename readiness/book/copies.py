"""Copies of a book: new, backup, restored. A copy appears whole or not at all.

The backups beside a book: one before the first write of each day, old ones thinned out.
"""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from datetime import date, datetime, timedelta
from pathlib import Path

import duckdb
from duckdb import DuckDBPyConnection

from readiness.book.faults import in_plain_words, is_about_writing
from readiness.book.journal import files
from readiness.book.schema import check_version, make_book, make_triggers
from readiness.book.session import (
    PATIENCE,
    TO_WRITE,
    attach,
    connection,
    in_own_words,
    leave,
    look,
    session,
)
from readiness.book.verify import Report, verify
from readiness.system.errors import CannotWrite, DataError, NoRoom
from readiness.system.files import (
    OWN_FILE,
    make_room,
    not_written,
    of_a_copy,
    reason,
    refuse_link,
    settle_new,
    sync_folder,
)
from readiness.system.folders import EARLIER
from readiness.system.leftovers import draft_folder
from readiness.system.locations import backups_beside, journal_beside, log_beside

_NAME = re.compile(r"(\d{4}-\d{2}-\d{2})(T\d{6}Z(-\d+)?)?\.duckdb")
"""Of a backup beside a book."""


def new_book(path: Path) -> None:
    """An empty book at ``path``, its folder made; CannotWrite where something stands there, be it
    the journal of a book that has gone: to begin anew beside it would look as if all were lost."""
    refuse_for_new(path)
    with appearing(path) as draft, in_own_words(path, writing=True), connection() as con:
        fill(con, draft, make_book)


def make_filled(path: Path, make: Callable[[DuckDBPyConnection], None]) -> Report:
    """A book at the new place ``path`` that ``make`` fills, and has its name once it is verified:
    how it is. Raises DataError where it is not whole; then nothing is left of it."""
    with appearing(path) as draft:
        with in_own_words(path, writing=True), connection() as con:
            fill(con, draft, make)
        report = verify(draft, 0)
        if not report.ok:
            raise DataError(
                f"The new book {path} would not be whole: {report.problems[0]} It was not made."
            )
    return report


def refuse_for_new(path: Path) -> None:
    """Raise CannotWrite where a new book cannot begin at ``path``."""
    _refuse_taken(path)
    if files(path):
        raise CannotWrite(
            f"At {path} stands no book, but the journal of one, {journal_beside(path)}. "
            f"`readiness --book NEW salvage {path}` makes a book of it at a new place; or move it "
            "away to begin anew here."
        )


def copy_book(source: Path, target: Path, patience: float, *, anew: bool = False) -> None:
    """A consistent copy of the book ``source`` at the new place ``target``, for its user alone, and
    no more than the book; ``anew``: to be written into, whatever the copied one may.

    Raises what reading the one and writing the other raises; what stands at ``target`` is kept.
    """
    look(source)
    mode = of_a_copy(source.stat().st_mode)
    with appearing(target, OWN_FILE if anew else mode) as draft, connection() as con:
        with in_own_words(source, writing=False):
            attach(con, source, "source", patience=patience)
            con.execute("USE source")
            check_version(con, str(source))
            con.execute("USE memory")
        try:
            fill(con, draft, copy_all)
        except duckdb.Error as error:
            writing = is_about_writing(error)
            writing = writing or str(draft) in str(error)
            blamed = target if writing else source
            raise in_plain_words(error, blamed, writing=writing) from error


def copy_all(con: DuckDBPyConnection) -> None:
    """All of `source` into the empty `book`: COPY leaves the triggers out without a word."""
    con.execute("COPY FROM DATABASE source TO book (SCHEMA)")
    make_triggers(con)
    con.execute("COPY FROM DATABASE source TO book (DATA)")


def fill(con: DuckDBPyConnection, draft: Path, make: Callable[[DuckDBPyConnection], None]) -> None:
    attach(con, draft, "book", mode=TO_WRITE, patience=0)
    con.execute("USE book")
    make(con)
    leave(con)


def restore(source: Path, target: Path, patience: float = PATIENCE) -> None:
    """Bring the backup ``source`` back as a book at ``target``, a new place or an empty file.

    Raises DataError where the backup does not verify; then nothing is left at ``target``.
    """
    report = verify(source, patience)
    if not report.ok:
        raise DataError(
            f"The backup {source} does not verify: {report.problems[0]} Nothing was restored. Take "
            f"another backup, or what can be read of it: `readiness --book NEW salvage {source}`."
        )
    with suppress(FileNotFoundError):
        if target.is_file() and target.stat().st_size == 0:
            target.unlink()
    copy_book(source, target, patience, anew=True)


@contextmanager
def appearing(target: Path, mode: int = OWN_FILE) -> Iterator[Path]:
    """A draft that takes the name of ``target`` when the block ends well: for its user alone from
    the first byte on, so in a folder of its own. ``mode``: its permissions, then."""
    _refuse_taken(target)
    make_room(target.parent)
    earlier = rf"\.({re.escape(target.name)}|{_NAME.pattern}){EARLIER}"
    try:
        with draft_folder(target.parent, earlier=earlier) as folder:
            draft = folder / "book.duckdb"
            yield draft
            draft.chmod(mode)
            settle_new(draft, target)
        sync_folder(target.parent)
    except OSError as problem:
        _refuse_taken(target)
        raise not_written(problem)(
            f"{target} cannot be written: {reason(problem)}. Name another place, or see to the "
            "folder or the disk."
        ) from problem


def _refuse_taken(target: Path) -> None:
    for path in (target, log_beside(target)):
        if os.path.lexists(path):
            raise CannotWrite(
                f"{path} is there already, and a book is never written over. Name a new place, "
                "or move it away first."
            )


# ---- the backups beside a book -------------------------------------------------------------------

DAYS = 14
MONTHS = 12
LEAST = 12


def backup_by_hand(book: Path, now: datetime) -> Path:
    """A free name for a backup made at this moment (UTC) on request."""
    refuse_link(backups_beside(book), "a backup")
    stem = now.strftime("%Y-%m-%dT%H%M%SZ")
    path = backups_beside(book) / f"{stem}.duckdb"
    count = 1
    while path.exists():
        count += 1
        path = backups_beside(book) / f"{stem}-{count}.duckdb"
    return path


def daily_backup(book: Path, today: date, patience: float) -> str | None:
    """Back the book up where that has not been done today, then thin out: "", or what there is to
    say where there is no room for it, for what is to be written does not wait for that. None where
    it was done already.

    A book without entries has nothing to lose yet. The clock may be years ahead, so old backups
    are judged by a day no later than that of the last entry. Raises CannotWrite where something
    else is in the way.
    """
    folder = backups_beside(book)
    target = folder / f"{today}.duckdb"
    for place in (folder, target):
        try:
            refuse_link(place, "a backup")
        except PermissionError:  # a shared book, whose backups are whose they are
            return f"The book was not backed up today: you may not look into {folder}."
    if target.exists():
        return None
    with session(book, patience) as con:
        last = con.execute("SELECT max(recorded) FROM receipt").fetchone()
    if last is None or last[0] is None:
        return None
    try:
        make_room(folder)
        if shutil.disk_usage(folder).free < book.stat().st_size:
            raise NoRoom
        copy_book(book, target, patience)
    except NoRoom:
        return f"There is no room for the day's backup in {folder}. Make room on that disk."
    except CannotWrite:
        # Another window may have made it meanwhile, just as well.
        if not target.exists():
            raise
    thin_out(folder, min(today, date.fromisoformat(last[0][:10])))
    return ""


def thin_out(folder: Path, today: date) -> None:
    """Keep all backups of the last 14 days, the first of each of the last 12 months, and the last
    dozen however old they are."""
    dated = sorted((day, path.name, path) for path in folder.iterdir() if (day := _day(path)))
    firsts: set[tuple[int, int]] = set()
    for day, _, path in dated[:-LEAST]:
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


def backups_of(book: Path) -> list[Path]:
    """The backups in the folder beside a book, the newest first by their names."""
    try:
        found = [path for path in backups_beside(book).iterdir() if _day(path)]
    except OSError:
        return []
    return sorted(found, key=lambda path: path.name, reverse=True)


def _day(path: Path) -> date | None:
    """The day in a backup's name; None for a file that is not ours to remove."""
    found = _NAME.fullmatch(path.name)
    if found is None:
        return None
    try:
        return date.fromisoformat(found[1])
    except ValueError:
        return None
