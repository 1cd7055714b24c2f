"""Backups: one before the first write of each day, thinned out; restored into new places only."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import duckdb
import pytest

from readiness.book import Book
from readiness.book.copies import restore, thin_out
from readiness.system.errors import CannotWrite, DataError, NotFound
from tests.book.builders import ask, book_at, bull, ids, ids_of, later, strike, walk
from tests.build import standing


@pytest.fixture
def book(tmp_path: Path) -> Book:
    made = book_at(tmp_path / "bulls.duckdb")
    made.append([bull(1), walk(2), walk(3)], "M. Oakes")
    made.append([strike(4, 3)], "")
    return made


def backups(book: Book) -> list[str]:
    folder = book.path.with_name("bulls.duckdb.backups")
    return sorted(path.name for path in folder.iterdir()) if folder.exists() else []


def test_a_backup_is_the_book_and_refuses_changes_too(book: Book, tmp_path: Path) -> None:
    target = tmp_path / "stick" / "copy.duckdb"
    assert book.backup(target) == target
    copy = book_at(target)
    assert copy.snapshot().entries == book.snapshot().entries
    assert copy.verify() == book.verify()
    assert copy.verify().ok
    with pytest.raises(duckdb.Error, match="a book only grows"):
        ask(target, "DELETE FROM entry")
    # And it is a book to work on: batches, receipts and undo go on where they were.
    assert copy.append([walk(2)], "").skipped == ids(2)
    copy.append([walk(5)], "")
    assert ids_of(copy.undo("")) == ids(5)


def test_a_backup_goes_over_nothing(book: Book, tmp_path: Path) -> None:
    target = tmp_path / "copy.duckdb"
    target.write_text("my shopping list")
    with pytest.raises(CannotWrite, match="never written over"):
        book.backup(target)
    assert target.read_text() == "my shopping list"


def test_backups_by_hand_have_names_of_their_own(book: Book) -> None:
    assert [book.backup().name for _ in range(2)] == [
        "2026-04-03T073000Z.duckdb",
        "2026-04-03T073000Z-2.duckdb",
    ]


def test_the_first_write_of_a_day_is_backed_up_first(tmp_path: Path) -> None:
    path = tmp_path / "bulls.duckdb"
    book = book_at(path)
    book.append([walk(1)], "")
    standing(book)
    # The second write of the first day: the backup holds what was there before it.
    for number, hours in ((2, 1), (3, 2), (4, 24), (5, 48)):
        book_at(path, later(hours=hours)).append([walk(number)], "")
    assert backups(book) == ["2026-04-03.duckdb", "2026-04-04.duckdb", "2026-04-05.duckdb"]
    kept = [
        [entry.id for entry in standing(book_at(path.with_name("bulls.duckdb.backups") / name))]
        for name in backups(book)
    ]
    assert kept == [ids(1), ids(1, 2, 3), ids(1, 2, 3, 4)]


def test_undo_is_a_write_like_any_other(book: Book) -> None:
    book_at(book.path, later(days=3)).undo("")
    assert "2026-04-06.duckdb" in backups(book)


def test_fourteen_days_and_twelve_months_are_kept(tmp_path: Path) -> None:
    today = date(2026, 11, 25)
    days = [today - timedelta(days=back) for back in range(500)]
    for day in days:
        (tmp_path / f"{day}.duckdb").touch()
    others = [
        "notes.txt",
        "2026-01-31x.duckdb",
        "2025-99-99.duckdb",
        "bulls.duckdb",
    ]
    for name in others:
        (tmp_path / name).touch()
    thin_out(tmp_path, today)
    left = {path.name for path in tmp_path.iterdir()}
    last_days = {f"{today - timedelta(days=back)}.duckdb" for back in range(14)}
    months = [(2025, 11), (2025, 12), *((2026, month) for month in range(1, 12))]
    firsts = {f"{date(year, month, 1)}.duckdb" for year, month in months}
    assert left == last_days | firsts | set(others)
    thin_out(tmp_path, today)
    assert {path.name for path in tmp_path.iterdir()} == left


def test_thinning_out_day_by_day_comes_to_the_same(tmp_path: Path) -> None:
    for back in range(400, -1, -1):
        day = date(2026, 11, 25) - timedelta(days=back)
        (tmp_path / f"{day}.duckdb").touch()
        thin_out(tmp_path, day)
    assert len(list(tmp_path.iterdir())) == 14 + 13


def test_restore_brings_all_back_to_a_new_place(book: Book, tmp_path: Path) -> None:
    saved = book.backup()
    target = tmp_path / "new" / "place" / "bulls.duckdb"
    restore(saved, target)
    assert book_at(target).snapshot().entries == book.snapshot().entries
    assert book_at(target).verify().ok


def test_restore_into_an_empty_file(book: Book, tmp_path: Path) -> None:
    target = tmp_path / "empty.duckdb"
    target.touch()
    restore(book.path, target)
    assert book_at(target).snapshot().entries == book.snapshot().entries


def test_restore_never_goes_over_a_book(book: Book, tmp_path: Path) -> None:
    saved = book.backup()
    other = book_at(tmp_path / "other.duckdb", datetime(2026, 5, 1, tzinfo=UTC))
    for taken in (other.path, book.path, tmp_path):
        with pytest.raises(CannotWrite, match="never written over"):
            restore(saved, taken)
    assert standing(other) == []
    assert len(book.snapshot().entries) == 4


def test_restore_refuses_a_place_with_a_log_of_something_else(book: Book, tmp_path: Path) -> None:
    (tmp_path / "new.duckdb.wal").write_bytes(b"left behind")
    with pytest.raises(CannotWrite, match=r"new\.duckdb\.wal"):
        restore(book.path, tmp_path / "new.duckdb")
    assert not (tmp_path / "new.duckdb").exists()


def test_restore_refuses_what_does_not_verify(book: Book, tmp_path: Path) -> None:
    saved = book.backup()
    ask(saved, "DROP TRIGGER entry_no_update ON entry")
    with pytest.raises(DataError, match="does not verify"):
        restore(saved, tmp_path / "new.duckdb")
    with pytest.raises(NotFound):
        restore(tmp_path / "nowhere.duckdb", tmp_path / "new.duckdb")
    assert not (tmp_path / "new.duckdb").exists()
