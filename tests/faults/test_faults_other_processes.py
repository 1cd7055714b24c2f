"""Several processes at one book: they wait for each other, and lose nothing."""

from __future__ import annotations

import random
import subprocess
import threading
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import pytest

from readiness.book import Book
from readiness.system.clock import FixedClock
from readiness.system.errors import BookBusy, CannotWrite
from tests.book.builders import MORNING, book_at, ids, walk
from tests.build import standing
from tests.faults.processes import WRITE, holding, let_go, pipe, start


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return book_at(tmp_path / "bulls.duckdb").path


def test_a_writer_waits_until_the_other_process_lets_go(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    waits: list[float] = []
    with holding(path) as other:

        def wait(seconds: float) -> None:
            waits.append(seconds)
            if len(waits) == 4:
                let_go(other)

        monkeypatch.setattr("readiness.book.session.time.sleep", wait)
        book_at(path).append([walk(1)], "")
    assert len(waits) == 4
    assert [entry.id for entry in standing(book_at(path))] == ids(1)


def test_waits_grow_but_never_past_the_end(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The clock runs only while waiting, so that the longest wait of 5 s takes no time here."""
    now = 0.0
    waits: list[float] = []

    def wait(seconds: float) -> None:
        nonlocal now
        waits.append(seconds)
        now += seconds

    monkeypatch.setattr("readiness.book.session.time.sleep", wait)
    monkeypatch.setattr("readiness.book.session.time.monotonic", lambda: now)
    with holding(path), pytest.raises(BookBusy):
        standing(book_at(path))
    assert now == pytest.approx(5.0)
    assert waits[0] <= 0.002
    assert max(waits) <= 0.1


@pytest.mark.parametrize("operation", ["read", "append", "undo", "verify", "backup"])
def test_after_the_limit_the_holder_is_named(path: Path, operation: str) -> None:
    book = Book(path, FixedClock(MORNING), "shed", patience=0.02)
    book.append([walk(1)], "")
    operations: dict[str, Callable[[], object]] = {
        "read": book.snapshot,
        "append": lambda: book.append([walk(2)], ""),
        "undo": lambda: book.undo(""),
        "verify": book.verify,
        "backup": book.backup,
    }
    with holding(path) as other, pytest.raises(BookBusy, match=f"process {other.pid}") as refused:
        operations[operation]()
    assert refused.value.exit_code == 75
    assert "\n" not in str(refused.value)
    assert [entry.id for entry in standing(book)] == ids(1)


def test_readers_read_together(path: Path) -> None:
    """A reader of another process does not keep readers out."""
    read_only = "import sys, duckdb\ncon = duckdb.connect(sys.argv[1], read_only=True)\n"
    other = start(read_only + "print('held', flush=True)\nsys.stdin.readline()", path)
    try:
        assert pipe(other.stdout).readline() == "held\n"
        assert standing(Book(path, FixedClock(MORNING), "shed", patience=0)) == []
    finally:
        let_go(other)


def test_two_writers_at_once_lose_nothing(path: Path) -> None:
    writers = [start(WRITE, path, name, 12) for name in ("one", "two")]
    said = [writer.communicate()[0].split() for writer in writers]
    assert [writer.returncode for writer in writers] == [0, 0]
    assert [len(acknowledged) for acknowledged in said] == [36, 36]
    book = book_at(path)
    assert sorted(entry.id for entry in standing(book)) == sorted(said[0] + said[1])
    assert book.verify().ok


def test_a_book_that_another_process_begins_meanwhile_is_taken(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Two people may write the first entry of a new book at the same moment."""
    path.unlink()
    book = Book(path, FixedClock(MORNING), "shed", patience=0)
    create = book.create

    def too_late() -> None:
        create()
        create()

    monkeypatch.setattr(book, "create", too_late)
    book.begin()
    book.append([walk(1)], "")
    assert len(standing(book)) == 1


def test_no_book_is_begun_where_none_can_be_written(tmp_path: Path) -> None:
    (tmp_path / "farm").write_text("no folder")
    with pytest.raises(CannotWrite):
        Book(tmp_path / "farm" / "bulls.duckdb", FixedClock(MORNING), "shed").begin()


def test_threads_of_one_process_take_turns(path: Path) -> None:
    book = book_at(path)
    faults: list[BaseException] = []

    def write(first: int) -> None:
        try:
            for number in range(first, first + 8):
                book.append([walk(number)], "")
                standing(book)
        except BaseException as fault:
            faults.append(fault)

    threads = [threading.Thread(target=write, args=(first,)) for first in (0, 100, 200)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert faults == []
    assert len(standing(book)) == 24


@pytest.mark.long
def test_a_killed_writer_loses_nothing_that_was_acknowledged(path: Path) -> None:
    """kill -9 at any moment, again and again: what was acknowledged is there, each batch whole."""
    chance = random.Random(20260403)
    acknowledged: set[str] = set()
    for number in range(8):
        writer = start(WRITE, path, f"round-{number}", 1000)
        for _ in range(chance.randint(1, 6)):
            acknowledged.update(pipe(writer.stdout).readline().split())
        with suppress(subprocess.TimeoutExpired):
            writer.wait(chance.uniform(0, 0.06))
        writer.kill()
        acknowledged.update(pipe(writer.stdout).read().split())
        writer.communicate()
        book = book_at(path)
        entries = standing(book)
        assert acknowledged <= {entry.id for entry in entries}
        batches: dict[str, int] = {}
        for entry in entries:
            batches[entry.batch] = batches.get(entry.batch, 0) + 1
        assert set(batches.values()) == {3}
        assert book.verify().ok
