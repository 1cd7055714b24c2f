"""What the book holds at one moment, whether it still does, and writing only if it does."""

from __future__ import annotations

from pathlib import Path

import pytest

from readiness.book import Book, Counts
from readiness.book.write import Moved
from readiness.entries.entry import NewEntry
from readiness.system.errors import DataError
from tests.book.builders import book_at, bull, entry_id, ids, later, said, strike, walk
from tests.build import standing

EARLIER = {"recorded": "2026-03-02T06:00:00.000000Z", "position": 4, "batch": "b", "device": "yard"}
LATER = EARLIER | {"recorded": "2026-05-02T06:00:00.000000Z"}


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return book_at(tmp_path / "bulls.duckdb")


def test_a_snapshot_is_everything_and_how_much_that_is(book: Book) -> None:
    assert book.snapshot() == ([], Counts()) == ([], book.counts())
    book.append([bull(1), walk(2), walk(3)], "")
    book.append([strike(4, 3), said(2, walk(2).content, **EARLIER)], "")
    entries, counts = book.snapshot()
    assert [entry.id for entry in entries] == ids(1, 2, 3, 4)
    assert entries == book.snapshot().entries
    assert counts == book.counts()
    assert (counts.entries, counts.receipts) == (4, 5)


@pytest.mark.parametrize(
    "batch",
    [
        [bull(1), walk(2), strike(3, 2)],
        [walk(2), walk(1), walk(2)],
        [said(1, walk(1).content, **EARLIER), walk(2)],
        [said(1, walk(1).content, **LATER), walk(2)],
        [said(1, walk(1).content, **LATER), said(1, walk(1).content, **EARLIER)],
        [said(1, {"kind": "weight", "on": "0001-01-01", "bull": " uk 1 ½", "kg": 900.5})],
        [said(1, {"kind": "group", "on": "2026-03-01", "group": 'Hill "½"', "turnout": "2026-05-01",
                  "note": "line\u2028end"})],
        [],
    ],
)  # fmt: skip
def test_what_was_written_is_given_as_a_reading_gives_it(book: Book, batch: list[NewEntry]) -> None:
    book.append([walk(9)], "")
    before = book.snapshot().entries
    done = book.append(batch, "M. Oakes")
    entries, counts = book.snapshot()
    assert sorted([*before, *done.entries]) == entries
    assert [list(entry.body) for entry in done.entries] == [
        list(entry.body) for new in done.entries for entry in entries if entry.id == new.id
    ]
    assert done.counts == counts


def test_of_two_receipts_of_one_moment_every_reading_shows_the_same(book: Book) -> None:
    """That of the views, the least: whichever copy of the book was merged into the other."""
    for batch in ("b", "c", "a"):
        book.append([said(1, walk(1).content, **EARLIER | {"batch": batch})], "")
    assert [entry.batch for entry in standing(book)] == ["a"]


def test_a_batch_is_written_where_the_book_is_as_it_was_seen(book: Book) -> None:
    seen = book.append([bull(1)], "").counts
    done = book.append([walk(2)], "", seen=seen)
    assert done.written == ids(2)
    assert book.append([walk(3)], "", seen=done.counts).written == ids(3)


@pytest.mark.parametrize(
    "meanwhile", [walk(2), strike(2, 1), said(1, bull(1).content, **EARLIER)], ids=str
)
def test_a_batch_is_not_written_where_the_book_moved(book: Book, meanwhile: NewEntry) -> None:
    seen = book.append([bull(1)], "").counts
    book_at(book.path, later(minutes=1), device="yard").append([meanwhile], "")
    before = book.snapshot()
    with pytest.raises(Moved):
        book.append([walk(3)], "", seen=seen)
    assert book.snapshot() == before
    assert book.verify().ok


def test_books_of_equal_length_are_told_apart(book: Book, tmp_path: Path) -> None:
    other = book_at(tmp_path / "other.duckdb")
    for one, number in ((book, 1), (other, 2)):
        one.append([walk(number)], "")
    assert book.counts().entries == other.counts().entries
    assert book.counts().receipts == other.counts().receipts
    assert book.counts() != other.counts()


def test_a_strike_is_held_against_all_of_his_entries_and_no_others(book: Book) -> None:
    """Read are the entries of the bulls concerned alone; the refusals are those of the whole."""
    book.append([bull(1, "00417"), walk(2, tag="00417"), bull(3, "00122"), bull(4, "00122")], "")
    book.append([strike(5, 4)], "")
    for refused in (strike(6, 1), strike(6, 5)):
        with pytest.raises(DataError, match="Nothing was written"):
            book.append([refused], "")
    assert book.append([strike(6, 3)], "").written == ids(6)
    assert book.append([strike(7, 1), bull(8, "00417")], "").written == ids(7, 8)
    assert [entry.id for entry in standing(book)] == [entry_id(8), entry_id(2)]
