"""The desk reads the book once and goes on from there, and never shows what it no longer holds."""

from __future__ import annotations

import os
import shutil
import threading
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from readiness.book import Snapshot
from readiness.book.faults import Damaged
from readiness.book.shelf import effective
from readiness.desk.desk import Desk
from readiness.system.errors import NotFound
from readiness.system.locations import journal_beside
from tests.desk.desks import CORRAN, TARN, booked, desk_at, new_id, standing, walk


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "bulls.duckdb"
    desk_at(path).add([booked(), booked(TARN)])
    return path


def let_rest(path: Path) -> None:
    """As if the book had not been written to for an hour."""
    hour_ago = time.time() - 3600.5
    os.utime(path, (hour_ago, hour_ago))


class Counted:
    """How often a desk's book was read whole, and how often only counted."""

    def __init__(self, desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
        self.whole = self.counted = 0
        snapshot, counts = desk.book.snapshot, desk.book.counts

        def read() -> Snapshot:
            self.whole += 1
            return snapshot()

        def count() -> object:
            self.counted += 1
            return counts()

        monkeypatch.setattr(desk.book, "snapshot", read)
        monkeypatch.setattr(desk.book, "counts", count)

    @property
    def times(self) -> tuple[int, int]:
        return self.whole, self.counted


def held(desk: Desk) -> Snapshot:
    """What the desk holds of its book."""
    reading = desk._cache.held()
    return Snapshot(reading.shelf.everything, reading.counts)


@pytest.fixture
def desk(path: Path) -> Desk:
    return desk_at(path)


@pytest.fixture
def counted(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> Counted:
    return Counted(desk, monkeypatch)


def test_a_book_at_rest_is_read_once(path: Path, desk: Desk, counted: Counted) -> None:
    let_rest(path)
    for _ in range(3):
        desk.board()
        desk.card(CORRAN)
        desk.entries([])
    assert counted.times == (1, 0)


def test_a_book_just_written_to_is_only_counted(path: Path, desk: Desk, counted: Counted) -> None:
    """Within one tick of the file's clock another writing would leave the same stamp."""
    far_ahead = time.time() + 3600
    os.utime(path, (far_ahead, far_ahead))
    desk.board()
    desk.board()
    assert counted.times == (1, 1)
    let_rest(path)
    desk.board()
    desk.board()
    assert counted.times == (1, 2)


def test_whole_seconds_are_no_sign_of_rest_for_longer(
    path: Path, desk: Desk, counted: Counted
) -> None:
    """As on a memory stick, whose clock ticks every two seconds."""
    second_ago = int(time.time()) - 1
    os.utime(path, (second_ago, second_ago))
    desk.board()
    desk.board()
    assert counted.times == (1, 1)


def test_what_the_desk_writes_itself_is_not_read_again(desk: Desk, counted: Counted) -> None:
    for score in (0, 1, 2):
        desk.add([walk(score)])
        assert desk.card(CORRAN).entries[0].body["score"] == score
    desk.correct(desk.card(CORRAN).entries[0].id, [walk(0)])
    desk.strike(desk.card(CORRAN).entries[-2].id, "wrong bull")
    assert counted.whole == 1
    assert held(desk) == desk_at(desk.book.path).book.snapshot()
    assert desk.standing() == effective(desk_at(desk.book.path).book.snapshot().entries)


def test_undo_reads_anew(desk: Desk) -> None:
    desk.add([walk(2)])
    desk.undo()
    assert [entry.kind for entry in desk.card(CORRAN).entries] == ["bull"]


@pytest.mark.parametrize("rest", [True, False])
def test_what_another_writes_is_seen_at_once(path: Path, desk: Desk, rest: bool) -> None:
    other = desk_at(path, "yard")
    for score in (0, 1, 2, 3):
        if rest:
            let_rest(path)
        desk.board()
        other.add([walk(score)])
        assert desk.card(CORRAN).entries[0].body["score"] == score


def test_a_writing_in_the_same_tick_is_seen(
    path: Path, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The stamp stays the same: only counting tells."""
    stamp = desk.book.stamp()
    assert stamp is not None
    just_now = (stamp[0]._replace(changed=time.time_ns() + 3_600_000_000_000), stamp[1])
    monkeypatch.setattr(desk.book, "stamp", lambda: just_now)
    desk.board()
    desk_at(path, "yard").add([walk(3)])
    assert desk.card(CORRAN).entries[0].body["score"] == 3


def test_another_book_of_the_same_length_in_its_place_is_seen(path: Path, desk: Desk) -> None:
    copy = path.with_name("copy.duckdb")
    shutil.copyfile(path, copy)
    desk.add([walk(0)])
    desk_at(copy, "yard").add([walk(3)])
    desk.board()
    path.write_bytes(copy.read_bytes())
    with pytest.raises(Damaged, match="of 2026-04-03 that was written into it"):
        desk.board()
    shutil.rmtree(journal_beside(path))
    assert desk.card(CORRAN).entries[0].body["score"] == 3


def test_a_book_that_vanished_is_not_shown(path: Path, desk: Desk) -> None:
    desk.board()
    path.unlink()
    with pytest.raises(NotFound):
        desk.board()
    assert not desk.holds([new_id()])


def test_a_line_taken_in_again_with_an_earlier_receipt_is_shown_with_it(
    path: Path, desk: Desk, tmp_path: Path
) -> None:
    desk.add([walk(2)])
    [entry, _] = desk.card(CORRAN).entries
    line = (
        f'{{"id":"{entry.id}","kind":"mobility","on":"2026-04-03","bull":"{CORRAN}",'
        '"scale":"gb0-3","score":2,"recorded":"2026-04-03T01:00:00.000000Z","position":0,'
        '"batch":"b","device":"yard"}\n'
    )
    (tmp_path / "theirs.jsonl").write_text(line)
    assert desk.import_file(tmp_path / "theirs.jsonl").skipped == (entry.id,)
    assert desk.card(CORRAN).entries[0].recorded == "2026-04-03T01:00:00.000000Z"


def test_an_entry_that_comes_in_after_its_strike_does_not_stand(desk: Desk, tmp_path: Path) -> None:
    """A strike may be merged in first: what it withdraws is withdrawn when it comes."""
    late = new_id()
    line = f'{{"kind":"strike","on":"2026-04-03","entry":"{late}"}}\n'
    (tmp_path / "theirs.jsonl").write_text(line)
    desk.import_file(tmp_path / "theirs.jsonl")
    desk.board()
    assert desk.add([walk(2)], [late]).written == (late,)
    assert [entry.kind for entry in desk.card(CORRAN, last=True).entries] == ["bull"]


def test_as_it_was_known_then_leaves_out_what_came_later(desk: Desk) -> None:
    desk.add([walk(2)])
    assert [bull.key for bull in desk.board(known="2026-04-03T09:00:00.000000Z").bulls] == [
        TARN,
        CORRAN,
    ]
    with pytest.raises(NotFound):
        desk.card(CORRAN, known="2026-04-02T00:00:00.000000Z")


def test_threads_read_and_write_at_one_desk(path: Path, desk: Desk) -> None:
    faults: list[BaseException] = []

    def often(work: Callable[[], object]) -> threading.Thread:
        def run() -> None:
            try:
                for _ in range(12):
                    work()
            except BaseException as fault:
                faults.append(fault)

        return threading.Thread(target=run)

    other = desk_at(path, "yard")
    threads = [
        often(lambda: desk.add([walk(0)])),
        often(lambda: desk.add([walk(1, TARN)])),
        often(lambda: other.add([walk(2)])),
        often(desk.board),
        often(lambda: desk.card(CORRAN)),
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert faults == []
    assert len(standing(path)) == 2 + 36
    assert held(desk) == held(other) == desk_at(path).book.snapshot()


def test_an_older_file_with_the_size_and_time_of_the_newer_one_is_not_passed_over(
    path: Path, desk: Desk
) -> None:
    """As a program that syncs folders writes it: into the same file, and its time set back."""
    versions = []
    for score in (0, 1, 2, 3, 1, 2):
        versions.append(path.read_bytes())
        desk.add([walk(score)])
    let_rest(path)
    desk.board()
    before = os.stat(path)
    older = next(data for data in versions if len(data) == before.st_size)
    path.write_bytes(older)
    os.utime(path, ns=(before.st_atime_ns, before.st_mtime_ns))
    with pytest.raises(Damaged, match="of 2026-04-03 that was written into it"):
        desk.board()
