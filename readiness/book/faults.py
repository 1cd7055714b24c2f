"""What the database says, in the program's own words.

The one boundary behind which DuckDB's exceptions stay: nothing above the book knows them.
"""

from __future__ import annotations

import re
from pathlib import Path

import duckdb

from readiness.system.errors import (
    BookBusy,
    CannotWrite,
    DataError,
    NoMemory,
    NoRoom,
    NotFound,
    ReadinessError,
)
from readiness.system.locations import journal_beside, log_beside

HELD = ("Conflicting lock", "being used by another process", "already attached")
FORBIDDEN = ("Permission denied", "Access is denied")
MISSING = ("No such file or directory", "database does not exist", "cannot find the path")
OTHER_FORMAT = ("not a valid DuckDB database file",)
NEWER_FORMAT = ("with version number", "newer version of DuckDB", "newer storage version")
FOREIGN_LOG = ("replaying WAL", "WAL was created", "WAL does not match")
FULL = ("No space left", "File too large", "quota exceeded", "not enough space")
NO_MEMORY = (
    "Out of Memory",
    "ailed to allocate",
    "ould not allocate",
    "bad_alloc",
    "bad allocation",
)
# So much nobody has: a size that was read out of a damaged block.
BEYOND_ALL = (" TiB", " PiB", " EiB")
UNWRITTEN = (
    "fsync failed",
    "Could not fsync",
    "Could not sync",
    "Could not truncate",
    "Could not write",
    "CHECKPOINT",
    "Failed to commit",
    "Read-only file system",
)


class Damaged(DataError):
    """The file is, or was, a book, but cannot be read whole. ``why``: in short."""

    def __init__(self, text: str, why: str) -> None:
        super().__init__(text)
        self.why = why


def says(error: duckdb.Error, phrases: tuple[str, ...]) -> bool:
    """Whether the database's message holds one of the phrases."""
    return any(phrase in str(error) for phrase in phrases)


def in_plain_words(error: duckdb.Error, path: Path, *, writing: bool) -> ReadinessError:
    """The error that says what happened to the book at ``path``, and what to do."""
    if says(error, HELD):
        return busy(error, path)
    if says(error, NO_MEMORY) and not says(error, BEYOND_ALL):
        return NoMemory(
            f"There is not memory enough for the book {path}. Nothing was changed, and it is not "
            "damaged by that: close other programs, then do it again."
        )
    if says(error, FULL):
        return NoRoom(
            f"There is no room left on the disk for the book {path}. Nothing was written, and what "
            "was there before is whole: make room, then do it again."
        )
    if says(error, FORBIDDEN):
        return forbidden(path, writing=writing)
    if says(error, MISSING):
        return no_place(path) if writing else missing(path)
    return _unreadable(error, path, writing=writing)


def _unreadable(error: duckdb.Error, path: Path, *, writing: bool) -> ReadinessError:
    if says(error, OTHER_FORMAT):
        return DataError(
            f"{path} is not a book of this program, or its first page is damaged. Give the book's "
            "own file with --book; or if it is, `readiness --book NEW salvage FILE` makes a new "
            "book of it."
        )
    if says(error, NEWER_FORMAT):
        return DataError(
            f"{path} was written in a newer file format than this program reads. Install a newer "
            "version of the program; the file has not been changed."
        )
    if says(error, FOREIGN_LOG):
        return Damaged(
            f"Beside the book {path} stands a log file, {log_beside(path).name}, that belongs to "
            "another state of it, as after copying one of the two alone. Move the log file away, "
            f"then verify the book; or leave all as it is: {_salvage(path)}.",
            f"Its log file {log_beside(path).name} belongs to another state of it.",
        )
    if writing and says(error, UNWRITTEN):
        return CannotWrite(
            f"The book {path} could not be written ({_first_line(error)}). What was there before "
            "is whole: see to the disk, then do it again."
        )
    return Damaged(
        f"The book {path} could not be read ({_first_line(error)}). It may be damaged: verify "
        f"tells how far, and {_salvage(path)}.",
        f"It is damaged and could not be read to its end ({_first_line(error)}).",
    )


def altered(name: str, why: str) -> Damaged:
    """A book that can be read, and is not what was written."""
    return Damaged(
        f"The book {name} is damaged: {why}. Nothing of it is shown, for it could be wrong: "
        f"{_salvage(name)}.",
        f"It is damaged: {why}.",
    )


def behind(path: Path, lost: int, last: str) -> Damaged:
    """A book that lacks what its journal says was written into it. ``last``: the day of the last
    such entry."""
    count = "an entry" if lost == 1 else f"{lost} entries, the last"
    return Damaged(
        f"The book {path} lacks {count} of {last} that was written into it: it was damaged, or an "
        "older file was put in its place. Nothing of it is shown, for it could be wrong. "
        f"`readiness merge {journal_beside(path)}` brings in what is missing; where that is "
        f"refused, {_salvage(path)}.",
        f"It lacks {count} of {last} that its journal says was written into it.",
    )


def _salvage(path: Path | str) -> str:
    return (
        f"`readiness --book NEW salvage {path}` makes a new book of what is whole in it, its "
        "journal and its backups"
    )


def busy(error: duckdb.Error, path: Path) -> BookBusy:
    """Another process holds the book; its id stands only in the error's text."""
    found = re.search(r"\(PID (\d+)\)", str(error))
    return in_use(path, f"process {found[1]}" if found else "another program or window")


def in_use(path: Path, holder: str = "another program or window") -> BookBusy:
    return BookBusy(
        f"The book {path} is in use by {holder} and was not free in time. Nothing was changed; "
        "close the other program or try again."
    )


def file_not_written(error: duckdb.Error, target: Path) -> CannotWrite:
    """A file that the database was to write beside others, and could not."""
    return CannotWrite(
        f"{target.name} cannot be written: {_first_line(error)} What was there before is whole: "
        "see to the disk, or name another folder."
    )


def no_place(path: Path) -> CannotWrite:
    return CannotWrite(
        f"{path} cannot be written: its folder takes no new file. Name another place."
    )


def missing(path: Path) -> NotFound:
    if path.is_symlink():
        return NotFound(
            f"{path} is a link to a file that is not there. Mend or remove the link, or give the "
            "book's own file with --book."
        )
    if journal_beside(path).is_dir():
        return NotFound(
            f"There is no book at {path}, but its journal stands beside that place. Bring the book "
            f"back, or: {_salvage(path)}."
        )
    return NotFound(
        f"There is no book at {path}. Begin one with `readiness import FILE`, with "
        "`readiness book-in TAG` or `readiness group NAME --turnout DATE`, or look round first "
        "with `readiness demo`; --book FILE or READINESS_BOOK names another place."
    )


def forbidden(path: Path, *, writing: bool) -> ReadinessError:
    if writing:
        return CannotWrite(
            f"You may not write the book {path}, or not in its folder. Ask its owner for write "
            "permission; nothing was changed."
        )
    return NotFound(f"You may not read the book {path}. Ask its owner for permission to read it.")


def is_about_writing(error: duckdb.Error) -> bool:
    """Of a copy: whether the trouble lies where it was to be written, not where it was read."""
    return says(error, FULL + FORBIDDEN + UNWRITTEN + MISSING)


def _first_line(error: duckdb.Error) -> str:
    return str(error).strip().splitlines()[0][:200]
