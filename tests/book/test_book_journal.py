"""The journal beside a book: it has every batch, neither behind nor ahead of what was acknowledged,
and a book that is not what the journal says is told, never shown."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import duckdb
import pytest

from readiness.book import Book, journal
from readiness.book import session as sessions
from readiness.book.faults import Damaged
from readiness.book.held_against import compare
from readiness.system.errors import CannotWrite, NotFound
from readiness.system.locations import backups_beside, journal_beside, log_beside
from tests.book.builders import MORNING, ask, book_at, bull, ids, later, strike, walk


@pytest.fixture
def book(tmp_path: Path) -> Book:
    made = book_at(tmp_path / "bulls.duckdb")
    made.append([bull(1), walk(2), walk(3)], "M. Oakes")
    return made


def in_journal(book: Book) -> list[journal.Line]:
    found = list(journal.lines(journal.files(book.path)))
    assert not any(isinstance(line, journal.Unreadable) for line in found)
    return [line for line in found if isinstance(line, journal.Line)]


def in_step(book: Book) -> bool:
    with sessions.session(book.path, 0) as con:
        found = compare(con, book.path)
    return not (found.lost or found.lacking or found.unreadable)


def test_the_journal_has_every_entry_with_every_receipt(book: Book) -> None:
    book.append([strike(4, 3)], "")
    book.undo("Ada")
    moment = "2026-04-02T10:00:00.000000Z"
    receipt: dict[str, Any] = {"recorded": moment, "position": 3, "batch": "b", "device": "barn"}
    there = walk(3)._replace(**receipt)
    book.append([walk(9)._replace(**receipt), there], 'R. "Rab" \\ Storr\n,"content":')
    said = ask(
        book.path,
        "SELECT id, body, recorded, position, batch, device, who "
        "FROM receipt JOIN entry USING (id)",
    )
    assert sorted(in_journal(book)) == sorted(said)
    assert journal.last_counts(book.path) == book.counts()
    assert in_step(book)


def test_nothing_is_acknowledged_before_it_is_synced_into_the_journal(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    synced: list[bytes] = []
    fsync = os.fsync

    def watched(handle: int) -> None:
        fsync(handle)
        synced.append(journal.files(book.path)[-1].read_bytes())

    monkeypatch.setattr(os, "fsync", watched)
    book.append([walk(5)], "")
    assert ids(5)[0].encode() in synced[-1]


def test_where_the_journal_cannot_be_written_it_is_said_and_the_next_entry_brings_it(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as patch:
        patch.setattr(os, "write", lambda *_: (_ for _ in ()).throw(OSError(28, "No space left")))
        done = book.append([walk(5)], "")
    assert done.written == ids(5)
    assert "not in its journal yet" in done.remarks[0]
    assert "No space left" in done.remarks[0]
    assert [entry.id for entry in book.snapshot().entries if entry.id in ids(5)] == ids(5)
    assert book.append([walk(6)], "").remarks == ()
    assert in_step(book)


@pytest.mark.parametrize("left", [1, 7, 40, 300])
def test_a_line_that_broke_off_is_made_good_by_the_next_entry(book: Book, left: int) -> None:
    file = journal.files(book.path)[-1]
    whole = file.read_bytes()
    file.write_bytes(whole[:-left])
    assert len(book.snapshot().entries) == 3
    book.append([walk(5)], "")
    with sessions.session(book.path, 0) as con:
        found = compare(con, book.path)
    assert not found.lost
    assert not found.lacking


def test_no_flipped_byte_of_the_journal_is_read_as_something_else(book: Book) -> None:
    file = journal.files(book.path)[-1]
    whole = file.read_bytes()
    written = set(in_journal(book))
    for at in range(len(whole)):
        file.write_bytes(whole[:at] + bytes([whole[at] ^ (1 << at % 8)]) + whole[at + 1 :])
        found = [one for one in journal.lines([file]) if isinstance(one, journal.Line)]
        assert set(found) <= written, at


def test_a_damaged_line_is_told_and_brought_again_on_the_next_day(book: Book) -> None:
    file = journal.files(book.path)[-1]
    file.write_bytes(file.read_bytes().replace(b'"score":0', b'"score":1', 1))
    assert book.verify().ok
    assert book.verify().remarks == [
        "Line 2 of the journal's file 2026-04.jsonl is damaged.",
        "The journal lacks 1 of the book's entries; the next writing brings them into it.",
    ]
    book_at(book.path, later(days=1)).append([walk(5)], "")
    assert len(book.verify().remarks) == 1


def test_an_older_file_in_the_book_s_place_is_told_and_nothing_goes_into_it(
    book: Book, tmp_path: Path
) -> None:
    older = tmp_path / "older"
    shutil.copy(book.path, older)
    book.append([walk(5, on="2026-04-02")], "")
    shutil.copy(older, book.path)
    with pytest.raises(Damaged, match="lacks an entry of 2026-04-02 that was written into it"):
        book.snapshot()
    before = book.path.read_bytes()
    with pytest.raises(Damaged, match=r"`readiness merge .*\.journal` brings in"):
        book.append([walk(6)], "")
    assert book.path.read_bytes() == before
    report = book.verify()
    assert not report.ok
    assert ids(5)[0] in report.problems[0]


def test_a_book_without_its_journal_begins_one_with_all_that_it_holds(book: Book) -> None:
    shutil.rmtree(journal_beside(book.path))
    assert len(book.snapshot().entries) == 3
    book.append([walk(5)], "")
    assert {line.id for line in in_journal(book)} == {*ids(1, 2, 3, 5)}
    assert in_step(book)


def test_where_the_book_has_gone_none_is_begun_beside_its_journal(book: Book) -> None:
    book.path.unlink()
    with pytest.raises(NotFound, match="its journal stands beside that place"):
        book.snapshot()
    with pytest.raises(CannotWrite, match="stands no book, but the journal of one"):
        book.begin()
    assert not book.path.exists()


def test_a_journal_is_for_its_owner_alone_and_never_behind_a_link(
    book: Book, tmp_path: Path
) -> None:
    folder = journal_beside(book.path)
    assert folder.stat().st_mode & 0o777 == 0o700
    assert journal.files(book.path)[0].stat().st_mode & 0o777 == 0o600
    elsewhere = tmp_path / "elsewhere"
    folder.rename(elsewhere)
    folder.symlink_to(elsewhere)
    before = {file.name: file.read_bytes() for file in elsewhere.iterdir()}
    assert "is a link" in book.append([walk(5)], "").remarks[0]
    assert {file.name: file.read_bytes() for file in elsewhere.iterdir()} == before


def test_a_pipe_in_the_journal_s_place_keeps_nobody_waiting(book: Book) -> None:
    file = journal.files(book.path)[0]
    file.unlink()
    os.mkfifo(file)
    assert len(book.snapshot().entries) == 3
    assert "cannot be written" in book.append([walk(5)], "").remarks[0]


def test_the_newest_file_grows_also_when_the_clock_goes_back(book: Book) -> None:
    book_at(book.path, later(days=900)).append([walk(5)], "")
    book_at(book.path, later(days=1)).append([walk(6)], "")
    assert [file.name for file in journal.files(book.path)] == ["2026-04.jsonl", "2028-09.jsonl"]
    assert journal.last_counts(book.path) == book.counts()


# ---- the end of a writing that fails -------------------------------------------------------------


def test_what_reached_the_file_is_not_said_to_be_unwritten(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    leave = sessions.leave
    book.back_up_first()

    def fails_afterwards(con: duckdb.DuckDBPyConnection) -> None:
        monkeypatch.undo()  # the disk is well again when the book is looked at
        leave(con)
        raise duckdb.IOException("IO Error: Could not fsync file: Input/output error")

    monkeypatch.setattr(sessions, "leave", fails_afterwards)
    done = book.append([walk(5)], "")
    assert done.written == ids(5)
    assert "the disk reported a fault at the end of writing" in done.remarks[0]
    assert book.append([walk(5)], "").skipped == ids(5)
    assert in_step(book)


def test_what_did_not_reach_the_file_is_said_to_be_unwritten(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    book.back_up_first()

    def full(con: duckdb.DuckDBPyConnection) -> None:
        monkeypatch.undo()  # there is room again when the book is looked at
        raise duckdb.IOException("IO Error: Could not write file: No space left on device")

    monkeypatch.setattr(sessions, "commit", full)
    with pytest.raises(CannotWrite, match="Nothing was written"):
        book.append([walk(5)], "")
    assert ids(5)[0] not in {entry.id for entry in book.snapshot().entries}
    assert in_step(book)


def test_where_it_cannot_be_looked_at_nothing_is_claimed(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    leave = sessions.leave
    book.back_up_first()

    def fails(con: duckdb.DuckDBPyConnection) -> None:
        leave(con)
        raise duckdb.IOException("IO Error: Could not fsync file: Input/output error")

    monkeypatch.setattr(sessions, "leave", fails)
    with pytest.raises(CannotWrite, match="whether this was written is not known"):
        book.append([walk(5)], "")


# ---- changed blocks, foreign hands ---------------------------------------------------------------


@pytest.mark.parametrize(
    "change",
    [
        "UPDATE entry SET bull = '00418' WHERE kind = 'bull'",
        "UPDATE entry SET day = DATE '2026-11-01' WHERE kind = 'mobility'",
        "UPDATE entry SET kind = 'condition' WHERE kind = 'mobility'",
        "UPDATE entry SET body = replace(body, '\"score\":0', '\"score\":3')",
        "DELETE FROM receipt WHERE position = 1",
        "DELETE FROM entry WHERE kind = 'mobility'",
    ],
)
def test_rows_that_are_not_what_was_written_are_never_shown(book: Book, change: str) -> None:
    shutil.rmtree(journal_beside(book.path))
    drop = [
        f"DROP TRIGGER {name} ON {table}"
        for name, table in ask(book.path, "SELECT trigger_name, table_name FROM duckdb_triggers()")
    ]
    ask(book.path, *drop, change)
    with pytest.raises(Damaged):
        book.snapshot()
    assert not book.verify().ok


# ---- a log of DuckDB's beside the book -----------------------------------------------------------

TORN = r"""
import sys
from pathlib import Path
from tests.book.builders import book_at, bull, walk
for path in map(Path, sys.argv[1:]):
    done = book_at(path).append([walk(1000 + n) for n in range(2000)], "")
    assert len(done.written) == 2000
    print(done.remarks[0])
"""


def test_a_torn_log_costs_neither_the_book_nor_the_next_batch(book: Book, tmp_path: Path) -> None:
    """Beside a log that breaks off, DuckDB 2.0.1 without a log of its own corrupts its memory at a
    batch of about a hundred rows: the process would die here."""
    foreign = _log_of_another_program(book, tmp_path)
    torn = [foreign[:n] for n in (1, 20, 60, len(foreign) // 2, len(foreign) - 1)]
    paths = []
    for count, log in enumerate([*torn, b"\0" * 4096, os.urandom(4096)]):
        path = tmp_path / f"{count}.duckdb"
        shutil.copy(book.path, path)
        log_beside(path).write_bytes(log)
        paths.append(path)
    run = subprocess.run(
        [sys.executable, "-c", TORN, *map(str, paths)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert run.returncode == 0, run.stderr
    assert run.stdout.count("a log that breaks off") == len(paths)
    for path in paths:
        assert path.with_name(f"{path.name}.wal.1").exists()
        assert not log_beside(path).exists()
        assert book_at(path).verify().ok


def test_what_another_program_left_whole_in_its_log_is_kept(book: Book, tmp_path: Path) -> None:
    log_beside(book.path).write_bytes(_log_of_another_program(book, tmp_path))
    assert book.append([walk(5)], "").remarks == ()
    assert ask(book.path, "SELECT count(*) FROM mine") == [(300,)]
    assert book.verify().ok


def _log_of_another_program(book: Book, tmp_path: Path) -> bytes:
    """The log of somebody who works on a copy with DuckDB and is killed."""
    copy = tmp_path / "copy.duckdb"
    shutil.copy(book.path, copy)
    script = (
        "import duckdb, os; con = duckdb.connect(os.sys.argv[1]);"
        "con.execute('CREATE TABLE mine AS SELECT range FROM range(300)'); os._exit(9)"
    )
    subprocess.run([sys.executable, "-c", f"import sys; {script}", str(copy)], check=False)
    return log_beside(copy).read_bytes()


# ---- the backups and a clock that is wrong -------------------------------------------------------


def test_a_clock_years_ahead_costs_no_backup_that_would_else_be_kept(book: Book) -> None:
    for back in range(1, 60):
        day = MORNING.date() - timedelta(days=back)
        book.backup(backups_beside(book.path) / f"{day}.duckdb")
    before = backups(book)
    ahead = book_at(book.path, later(days=1100))
    ahead.append([walk(5)], "")
    kept = set(backups(book))
    first_of_month = {"2026-02-03", "2026-03-01", "2026-04-01"}
    last_days = {str(MORNING.date() - timedelta(days=back)) for back in range(1, 14)}
    assert kept >= last_days | first_of_month
    book_at(book.path, later(days=1101)).append([walk(6)], "")
    assert len(set(backups(book)) & set(before)) >= 10
    assert date.fromisoformat(max(before)) < MORNING.date()


def backups(book: Book) -> list[str]:
    return sorted(path.stem for path in backups_beside(book.path).iterdir())
