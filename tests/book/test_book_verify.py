"""verify sees what the triggers cannot stop."""

from __future__ import annotations

from pathlib import Path

import pytest

from readiness.book import Book
from readiness.book.schema import GROWING
from readiness.entries.ids import digest
from readiness.system.errors import DataError
from tests.book.builders import ask, book_at, bull, entry_id, strike, walk


@pytest.fixture
def book(tmp_path: Path) -> Book:
    made = book_at(tmp_path / "bulls.duckdb")
    made.append([bull(1), walk(2, score=2)], "")
    return made


def put_back(book: Book, event: str) -> str:
    """The trigger's own statement, to make it again after going round it."""
    name = f"entry_no_{event}"
    [(sql,)] = ask(book.path, f"SELECT sql FROM duckdb_triggers() WHERE trigger_name = '{name}'")
    return str(sql)


def test_a_whole_book(book: Book) -> None:
    seen: list[tuple[int, int]] = []
    report = book.verify(lambda done, total: seen.append((done, total)))
    assert report.ok
    assert report.problems == report.remarks == []
    assert report.counts == {
        "meta": 2, "entry": 2, "receipt": 2, "taken_in": 0, "refusal": 0,
    }  # fmt: skip
    shares = [done / total for done, total in seen]
    assert shares == sorted(shares) and shares[-1] == 1.0


@pytest.mark.parametrize("table", GROWING)
@pytest.mark.parametrize("event", ["update", "delete"])
def test_a_dropped_trigger_is_missed(book: Book, table: str, event: str) -> None:
    ask(book.path, f"DROP TRIGGER {table}_no_{event} ON {table}")
    report = book.verify()
    assert not report.ok
    assert [f"{table}_no_{event}" in problem for problem in report.problems] == [True]


def test_a_trigger_that_no_longer_refuses_is_missed(book: Book) -> None:
    ask(
        book.path,
        "DROP TRIGGER entry_no_update ON entry",
        "CREATE TABLE elsewhere (why VARCHAR)",
        "CREATE TRIGGER entry_no_update BEFORE UPDATE ON entry FOR EACH STATEMENT "
        "INSERT INTO elsewhere SELECT 'quite all right'",
    )
    assert ["entry_no_update" in problem for problem in book.verify().problems] == [True]


def test_a_trigger_of_someone_elses_is_named(book: Book) -> None:
    ask(
        book.path,
        "CREATE TABLE elsewhere (why VARCHAR)",
        "CREATE TRIGGER watcher AFTER INSERT ON entry FOR EACH STATEMENT "
        "INSERT INTO elsewhere SELECT 'seen'",
    )
    assert ["watcher" in problem for problem in book.verify().problems] == [True]


def test_a_body_changed_round_the_triggers_is_named(book: Book) -> None:
    """A lame bull made sound: the digest of what was first written tells."""
    again = put_back(book, "update")
    ask(
        book.path,
        "DROP TRIGGER entry_no_update ON entry",
        """UPDATE entry SET body = replace(body, '"score":2', '"score":0') WHERE bull = '00417'""",
        again,
    )
    report = book.verify()
    assert not report.ok
    assert [entry_id(2) in problem for problem in report.problems] == [True]


def test_columns_that_do_not_say_what_the_text_says(book: Book) -> None:
    again = put_back(book, "update")
    ask(
        book.path,
        "DROP TRIGGER entry_no_update ON entry",
        "UPDATE entry SET day = DATE '2026-01-01' WHERE kind = 'mobility'",
        again,
    )
    assert [entry_id(2) in problem for problem in book.verify().problems] == [True]


def test_a_deleted_entry_is_missed(book: Book) -> None:
    again = put_back(book, "delete")
    ask(
        book.path,
        "DROP TRIGGER entry_no_delete ON entry",
        "DELETE FROM entry WHERE kind = 'mobility'",
        again,
    )
    assert book.verify().problems == [
        f"Entry {entry_id(2)} is missing: only its receipt is here.",
        f"Entry {entry_id(2)} of 2026-04-01 was written, says the journal, and is not so in the "
        "book.",
    ]


def test_an_entry_that_is_there_twice_is_named(book: Book) -> None:
    ask(book.path, f"INSERT INTO entry SELECT * FROM entry WHERE id = '{entry_id(2)}'")
    assert book.verify().problems == [f"Entry {entry_id(2)} is in the book more than once."]


def test_an_entry_without_receipt_is_named(book: Book) -> None:
    body = '{"kind":"moved","on":"2026-04-01","bull":"00417","act":"out"}'
    written = digest({"kind": "moved", "on": "2026-04-01", "bull": "00417", "act": "out"})
    ask(
        book.path,
        f"INSERT INTO entry VALUES ('{entry_id(9)}', '2026-04-01', '00417', 'moved', '{body}', "
        f"'{written}')",
    )
    assert book.verify().problems == [f"Entry {entry_id(9)} has no receipt, so it is not read."]


def test_a_time_that_would_break_the_order_is_named(book: Book) -> None:
    ask(
        book.path,
        f"INSERT INTO receipt VALUES ('{entry_id(2)}', '3 April', 0, 'b', 'd', '')",
    )
    assert [entry_id(2) in problem for problem in book.verify().problems] == [True]


@pytest.mark.parametrize("change", ["DROP VIEW mobility", "ALTER TABLE receipt DROP COLUMN who"])
def test_a_part_that_is_gone_is_named(book: Book, change: str) -> None:
    ask(book.path, change)
    assert not book.verify().ok


def test_views_and_tables_of_ones_own_do_no_harm(book: Book, tmp_path: Path) -> None:
    ask(
        book.path,
        "CREATE TABLE my_notes (what VARCHAR)",
        "INSERT INTO my_notes VALUES ('ask the vet about Corran')",
        "CREATE VIEW lame AS FROM mobility WHERE score >= 2",
    )
    report = book.verify()
    assert report.ok
    assert report.counts["my_notes"] == 1
    copy = book.backup(tmp_path / "copy.duckdb")
    assert ask(copy, "SELECT count(*) FROM lame, my_notes") == [(1,)]


def test_a_strike_of_what_is_not_here_is_only_remarked(book: Book) -> None:
    book.append([strike(3, 77)], "")
    report = book.verify()
    assert report.ok
    assert report.remarks == [
        f"Entry {entry_id(3)} takes {entry_id(77)} back, which is not in this book."
    ]


@pytest.mark.long
def test_a_flipped_byte_is_never_read_as_something_else(book: Book, tmp_path: Path) -> None:
    """Every stretch of the file in turn: reported, or the byte was in no use."""
    truth = book.snapshot().entries
    whole = book.path.read_bytes()
    step = len(whole) // 61
    reported = 0
    for number, offset in enumerate(range(5, len(whole), step)):
        damaged = bytearray(whole)
        damaged[offset] ^= 0xFF
        path = tmp_path / f"{number}.duckdb"
        path.write_bytes(damaged)
        copy = book_at(path)
        try:
            report = copy.verify()
        except DataError:
            reported += 1
            continue
        if report.ok:
            assert copy.snapshot().entries == truth
        else:
            reported += 1
    assert reported > 10
