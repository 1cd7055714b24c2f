"""Every path the program chooses for itself is a function here."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import NamedTuple

from readiness.system.errors import RulesError

NAME = "readiness"
DEMO = "demo.duckdb"
"""The name of a demo book, in a folder of its own."""
DEMO_DEVICE = "demo"
"""Whose entries the demo's are: no other device is called so."""
JOURNAL_SUFFIX = ".journal"


def data_directory() -> Path:
    """The user's own data directory for this program; it need not exist yet."""
    import platformdirs  # who names his book does not wait for it

    return platformdirs.user_data_path(NAME, appauthor=False)


def config_directory() -> Path:
    """The user's own folder of settings for this program; it need not exist yet."""
    if sys.platform == "linux" and "ANDROID_ROOT" not in os.environ:
        # The XDG rule itself: every command looks here, and the library takes 15 ms to import.
        named = os.environ.get("XDG_CONFIG_HOME", "").strip()
        return Path(named or os.path.expanduser("~/.config")) / NAME
    import platformdirs

    return platformdirs.user_config_path(NAME, appauthor=False)


def default_settings() -> Path:
    """The user's settings where ``READINESS_SETTINGS`` names no other file."""
    return config_directory() / "readiness.toml"


def usual_book() -> Path:
    """The book of a command without ``--book``."""
    named = os.environ.get("READINESS_BOOK")
    return Path(os.path.expanduser(named)) if named else default_book()


def default_book() -> Path:
    """The book where neither ``--book`` nor ``READINESS_BOOK`` names one."""
    return data_directory() / "bulls.duckdb"


def device_file() -> Path:
    """The file that holds this device's id, so that ``undo`` knows its own batches."""
    return data_directory() / "device"


def log_beside(book: Path) -> Path:
    """DuckDB's log file of a book."""
    return book.parent / f"{book.name}.wal"


def journal_beside(book: Path) -> Path:
    """The folder of a book's journal."""
    return book.parent / f"{book.name}{JOURNAL_SUFFIX}"


def rules_places(book: Path) -> list[Path]:
    """Where a book's own rules may stand; the last is the usual place."""
    names = dict.fromkeys((book.parent / f"{book.name}.toml", book.parent / f"{book.stem}.toml"))
    return [path for path in names if path != book]


def rules_beside(book: Path) -> Path | None:
    """The rules file beside a book: ``bulls.duckdb.toml`` or ``bulls.toml``; None for neither.

    Raises ``RulesError`` where both stand there: never guess which of two rules holds.
    """
    found = [path for path in rules_places(book) if os.path.lexists(path)]
    if len(found) > 1:
        raise RulesError(
            f"Two rules files stand beside the book: {found[0]} and {found[1]}. "
            "Remove one, or say which with --rules."
        )
    return found[0] if found else None


def backups_beside(book: Path) -> Path:
    """The folder of a book's daily backups."""
    return book.parent / f"{book.name}.backups"


class FileStamp(NamedTuple):
    """What tells that a file changed, without opening it. In nanoseconds ``changed``, which a
    program that syncs folders sets back to what it was elsewhere, and ``touched``, which nobody
    can set."""

    changed: int
    touched: int
    size: int
    inode: int


def file_stamp(path: Path | None) -> FileStamp | None:
    """The stamp of a file; None where there is none. By ``os.stat`` alone."""
    if path is None:
        return None
    try:
        found = os.stat(path)
    except OSError:
        return None
    return FileStamp(found.st_mtime_ns, found.st_ctime_ns, found.st_size, found.st_ino)
