"""Copies of one book, each written to by another device, and what they hold."""

from __future__ import annotations

import shutil
from datetime import timedelta
from pathlib import Path
from typing import Any

from readiness.book import Book, Shelf
from readiness.desk.desk import Desk
from readiness.export.write import export
from readiness.system.clock import FixedClock
from readiness.system.locations import backups_beside, journal_beside
from tests.book.builders import MORNING, ask, book_at

Rows = tuple[list[tuple[Any, ...]], list[tuple[Any, ...]]]


def copy_of(path: Path, name: str) -> Path:
    """The book, copied as a person copies a file, with its journal."""
    target = path.with_name(f"{name}.duckdb")
    shutil.copyfile(path, target)
    if journal_beside(path).exists():
        shutil.copytree(journal_beside(path), journal_beside(target))
    spared = backups_beside(target) / f"{MORNING.date()}.duckdb"  # else each makes a backup first
    spared.parent.mkdir(exist_ok=True)
    spared.touch()
    return target


def at(path: Path, hours: float = 0, device: str = "shed") -> Book:
    return book_at(path, MORNING + timedelta(hours=hours), device)


def rows(path: Path) -> Rows:
    """Every row of the entries and of the receipts, in no order of theirs."""
    entries = ask(path, "SELECT * FROM entry ORDER BY ALL")
    return entries, ask(path, "SELECT * FROM receipt ORDER BY ALL")


def shown(path: Path) -> list[str]:
    """The ids that stand, as the program reads them; the book's own view says the same."""
    standing = [entry.id for entry in Shelf(at(path).snapshot().entries).standing]
    assert sorted(standing) == sorted(id_ for (id_,) in ask(path, "SELECT id FROM effective"))
    return standing


def desk(path: Path) -> Desk:
    return Desk(at(path), None, FixedClock(MORNING))


def exported(path: Path, folder: Path) -> Path:
    export(desk(path), folder)
    return folder
