"""What goes into a book comes out of it: round trip, reading as of a day, and as known then."""

from __future__ import annotations

import json
import time
from datetime import date
from pathlib import Path

import pytest

from readiness.book import Book, Counts, Shelf
from readiness.entries.entry import Entry, NewEntry, recorded_text
from readiness.system.clock import FixedClock
from readiness.system.errors import CannotWrite, DataError, ReadinessError
from tests.book.builders import (
    MORNING,
    ask,
    book_at,
    bull,
    entry_id,
    ids,
    later,
    said,
    strike,
    walk,
)
from tests.build import standing

RECORDED = "2026-04-03T07:30:00.000000Z"


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return book_at(tmp_path / "bulls.duckdb")


def test_an_entry_comes_back_as_it_was_said(book: Book) -> None:
    content = {
        "kind": "feet",
        "on": "2026-04-02",
        "bull": "uk 700915 600015",
        "by": "M. Oakes",
        "note": 'swings in the gate; "quiet" once in — 80 % of the time, ½ lame, 牛',
        "lifted": ["LF", "RH"],
        "findings": [{"foot": "LF", "claw": "outer", "code": "SU", "zone": 4, "severity": 2}],
    }
    written = book.append([said(1, content)], "M. Oakes")
    assert (written.written, written.skipped) == (ids(1), [])
    assert standing(book) == [
        Entry(
            day=date(2026, 4, 2).toordinal(),
            recorded=RECORDED,
            position=0,
            id=entry_id(1),
            kind="feet",
            bull="UK700915600015",
            body=content,
            batch=written.batch,
            device="shed",
            who="M. Oakes",
        )
    ]


def test_groups_and_strikes_have_no_bull(book: Book) -> None:
    group = {"kind": "group", "on": "2026-03-01", "group": "Heifers", "turnout": "2026-05-01"}
    book.append([said(1, group)], "")
    assert [(entry.kind, entry.bull) for entry in standing(book)] == [("group", "")]


def test_entries_come_by_day_then_as_recorded_then_as_placed(book: Book) -> None:
    book.append([walk(5, on="2026-04-02"), walk(9), walk(3)], "")
    book.append([walk(1), walk(7, on="2026-03-01")], "")
    assert [entry.id for entry in standing(book)] == ids(7, 9, 3, 1, 5)


def test_batches_of_one_device_keep_their_order_while_the_clock_stands_still(book: Book) -> None:
    for number in (9, 2, 7, 1):
        book.append([walk(number)], "")
    assert [entry.id for entry in standing(book)] == ids(9, 2, 7, 1)
    assert [entry.recorded[-7:] for entry in standing(book)] == [
        "000000Z",
        "000001Z",
        "000002Z",
        "000003Z",
    ]


def test_the_same_file_twice_doubles_nothing(book: Book) -> None:
    first = book.append([bull(1), walk(2)], "")
    before = book.snapshot().entries
    again = book.append([bull(1), walk(2), walk(3)], "")
    assert (first.written, again.written, again.skipped) == (ids(1, 2), ids(3), ids(1, 2))
    once_more = book.append([bull(1)], "")
    assert (once_more[:3], once_more.entries) == (([], ids(1), ""), [])
    assert [entry for entry in book.snapshot().entries if entry.id != entry_id(3)] == before
    assert ask(book.path, "SELECT count(*) FROM receipt") == [(3,)]


def test_the_same_entry_twice_in_one_batch_is_written_once(book: Book) -> None:
    assert book.append([walk(1), walk(1)], "")[:2] == (ids(1), ids(1))


def test_an_id_that_stands_for_something_else_refuses_the_whole_batch(book: Book) -> None:
    book.append([walk(2, score=0)], "")
    before = book.snapshot().entries
    changed = walk(2, score=2)._replace(line=7)
    with pytest.raises(DataError, match=f"line 7, id: {entry_id(2)}"):
        book.append([walk(1), changed, walk(3)], "")
    with pytest.raises(DataError, match="earlier in the same batch"):
        book.append([walk(4, score=0), walk(4, score=1)], "")
    assert book.snapshot().entries == before


def test_an_empty_batch_writes_nothing(book: Book) -> None:
    done = book.append([], "")
    assert (done[:4], done.entries, done[5:]) == (([], [], "", Counts()), [], ((), ()))
    assert standing(book) == book.snapshot().entries == []


def test_a_struck_entry_is_gone_for_every_day(book: Book) -> None:
    book.append([bull(1), walk(2, on="2026-03-20"), walk(3)], "")
    book.append([strike(4, 2, on="2026-04-02")], "")
    assert [entry.id for entry in standing(book)] == ids(1, 3)
    assert [entry.id for entry in book.snapshot().entries] == ids(1, 2, 3, 4)


def test_as_known_then(tmp_path: Path) -> None:
    """What did we know the morning he went out? Bitemporal reading: day and time of record."""
    path = tmp_path / "bulls.duckdb"
    book_at(path).append([bull(1), walk(2)], "")
    book_at(path, later(hours=2)).append([walk(3, score=2)], "")
    book = book_at(path, later(hours=5))
    book.append([strike(4, 3)], "")

    def known(hours: float) -> list[str]:
        then = Shelf(book.snapshot().entries).as_known(recorded_text(later(hours=hours)))
        return [entry.id for entry in then.standing]

    assert known(-1) == []
    assert known(0) == known(1) == ids(1, 2)
    assert known(2) == known(4.9) == ids(1, 2, 3)
    assert known(5) == ids(1, 2)


def test_the_earliest_receipt_counts(book: Book, tmp_path: Path) -> None:
    """An entry that another copy took in a day before keeps that day, here and when exported."""
    theirs = {
        "recorded": "2026-04-02T18:00:00.000000Z",
        "position": 4,
        "batch": "b-other",
        "device": "yard",
    }
    book.append([walk(1)], "")
    skipped = book.append([said(1, walk(1).content, **theirs)], "")
    fresh = book.append([said(2, walk(2).content, **theirs)], "")
    assert (skipped.written, fresh.written) == ([], ids(2))
    for entry in standing(book):
        assert entry.recorded == theirs["recorded"]
        assert (entry.position, entry.batch, entry.device) == (4, "b-other", "yard")
    # Each copy that took it in has left one receipt; taking it in again leaves none.
    assert ask(book.path, "SELECT id, count(*) FROM receipt GROUP BY id ORDER BY id") == [
        (entry_id(1), 2),
        (entry_id(2), 2),
    ]
    book.append([said(number, walk(number).content, **theirs) for number in (1, 2)], "")
    assert ask(book.path, "SELECT count(*) FROM receipt") == [(4,)]


def test_taking_in_is_the_same_in_either_order(tmp_path: Path) -> None:
    early = {"recorded": "2026-04-01T06:00:00.000000Z", "position": 1, "batch": "b", "device": "d"}
    late = {"recorded": "2026-04-02T06:00:00.000000Z", "position": 0, "batch": "c", "device": "e"}
    copies = [said(1, walk(1).content, **early), said(1, walk(1).content, **late)]
    read = []
    for name, order in (("one", copies), ("other", copies[::-1])):
        book = book_at(tmp_path / name)
        for entry in order:
            book.append([entry], "")
        read.append(standing(book))
    assert read[0] == read[1]
    assert read[0][0].recorded == early["recorded"]


def test_a_new_book_goes_over_nothing(tmp_path: Path) -> None:
    path = tmp_path / "farm" / "bulls.duckdb"
    book = Book(path, FixedClock(MORNING), "shed")
    assert not book.exists()
    book.create()
    assert book.exists()
    book.append([walk(1)], "")
    with pytest.raises(CannotWrite, match="never written over"):
        book.create()
    assert [entry.id for entry in standing(book)] == ids(1)


def test_nothing_is_left_beside_the_book(book: Book) -> None:
    book.append([walk(1)], "")
    standing(book)
    there = {path.name for path in book.path.parent.iterdir()}
    assert there == {"bulls.duckdb", "bulls.duckdb.journal"}


def test_the_stamp_changes_with_the_book_and_only_then(book: Book, tmp_path: Path) -> None:
    assert Book(tmp_path / "none", FixedClock(MORNING), "shed").stamp() is None
    before = book.stamp()
    standing(book)
    book.verify()
    assert book.stamp() == before
    book_at(book.path, device="other window").append([walk(1)], "")
    assert book.stamp() != before


@pytest.mark.long
def test_ten_thousand_entries_are_read_at_once(book: Book) -> None:
    """Well under a second even on a machine busy with other tests (aim: under 0.1 s)."""
    days = [f"2026-{month:02d}-{day:02d}" for month in range(1, 13) for day in range(1, 29)]
    entries = [walk(n, on=days[n % len(days)], tag=f"{n % 50:05d}") for n in range(10_000)]
    book.append(entries, "")
    began = time.perf_counter()
    assert len(standing(book)) == 10_000
    assert time.perf_counter() - began < 1.0


def test_the_content_is_stored_as_one_canonical_text(book: Book) -> None:
    book.append([NewEntry(entry_id(1), dict(reversed(list(walk(1).content.items()))))], "")
    [(body,)] = ask(book.path, "SELECT body FROM entry")
    assert body == json.dumps(walk(1).content, sort_keys=True, separators=(",", ":"))


def test_a_batch_that_goes_in_by_parts_is_written_as_in_one(
    book: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    earlier = {
        "recorded": "2026-03-02T06:00:00.000000Z",
        "position": 4,
        "batch": "b",
        "device": "y",
    }
    batch = [bull(1), walk(2), said(3, walk(3).content, **earlier), walk(4), walk(2), walk(5)]
    again = [
        walk(6),
        walk(5),
        said(3, walk(3).content, **earlier),
        said(4, walk(4).content, **earlier),
    ]
    held = []
    for name, part in (("one", 5_000), ("parts", 2)):
        monkeypatch.setattr("readiness.book.rows.AT_A_TIME", part)
        copy = book_at(tmp_path / f"{name}.duckdb")
        told = [copy.append(entries, "")[:2] for entries in (batch, again)]
        every = "id, recorded, position, who"
        rows = ask(copy.path, f"SELECT {every} FROM receipt ORDER BY rowid")
        held.append((told, rows, ask(copy.path, "SELECT * FROM entry ORDER BY rowid")))
        assert copy.verify().ok
    assert held[0] == held[1]


def test_a_batch_of_which_a_later_part_fails_is_not_there_at_all(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("readiness.book.rows.AT_A_TIME", 2)
    book.append([bull(9)], "")
    before = book.counts()
    no_day = said(4, {**walk(4).content, "on": "2026-02-30"})
    with pytest.raises(ReadinessError):
        book.append([bull(1), walk(2), walk(3), no_day], "")
    assert book.counts() == before
    assert book.append([bull(1), walk(2), walk(3)], "").written == ids(1, 2, 3)
