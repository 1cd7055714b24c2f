"""Every path the program chooses for itself is a function here."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from pathlib import Path

NAME = "readiness"


def data_directory(environment: Mapping[str, str] = os.environ) -> Path:
    """The user's own data directory for this program; it need not exist yet.

    Linux and others: ``$XDG_DATA_HOME`` (only if absolute, as the XDG base directory
    specification asks) or ``~/.local/share``; macOS: ``~/Library/Application Support``; Windows:
    ``%LOCALAPPDATA%``.
    """
    if sys.platform == "win32":
        local = environment.get("LOCALAPPDATA")
        return (Path(local) if local else Path.home() / "AppData" / "Local") / NAME
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Application Support" / NAME
    chosen = Path(environment.get("XDG_DATA_HOME", ""))
    return (chosen if chosen.is_absolute() else Path.home() / ".local" / "share") / NAME


def default_book(environment: Mapping[str, str] = os.environ) -> Path:
    """The book where neither ``--book`` nor ``READINESS_BOOK`` names one."""
    return data_directory(environment) / "bulls.duckdb"


def device_file(environment: Mapping[str, str] = os.environ) -> Path:
    """The file that holds this device's id, so that ``undo`` knows its own batches."""
    return data_directory(environment) / "device"


def log_beside(book: Path) -> Path:
    """DuckDB's log file of a book."""
    return book.with_name(f"{book.name}.wal")


def backups_beside(book: Path) -> Path:
    """The folder of a book's daily backups."""
    return book.with_name(f"{book.name}.backups")


def no_book(path: Path) -> str:
    """What to say where there is no book yet."""
    return (
        f"There is no book at {path}. Begin one with `readiness import FILE`, with "
        "`readiness book-in TAG` or `readiness group NAME --turnout DATE`, or look round first "
        "with `readiness demo`; --book FILE or READINESS_BOOK names another place."
    )


def file_stamp(path: Path | None) -> tuple[int, int, int] | None:
    """What tells that a file changed, without opening it."""
    if path is None:
        return None
    try:
        found = os.stat(path)
    except OSError:
        return None
    return found.st_mtime_ns, found.st_size, found.st_ino
