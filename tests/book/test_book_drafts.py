"""Half-entered bulls: what a window that is gone has left is there for the next, and only then."""

from __future__ import annotations

import json
import os
import threading
from collections.abc import Callable
from pathlib import Path

import pytest

from readiness.book.drafts import Draft, Drafts, Lineup, unsaved_beside

DAY = "2026-04-03"
CORRAN = Draft("00417", "sound, walk 0", DAY)
TARN = Draft("00122", "RH outer: SU 2 z4", DAY, ("one", "two"))


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """The place of a book; nothing here may open it, so none need be there."""
    return tmp_path / "bulls.duckdb"


def opened(book: Path) -> Drafts:
    drafts = Drafts(book)
    assert drafts.open() == []
    return drafts


def left(book: Path) -> list[Draft]:
    """What the next window finds; it is closed again."""
    drafts = Drafts(book)
    found = drafts.open()
    drafts.close()
    return found


def files(book: Path) -> list[Path]:
    return sorted(unsaved_beside(book).glob("*"))


def test_what_was_put_is_there_for_the_next_window_and_the_one_after(book: Path) -> None:
    window = opened(book)
    assert window.put(CORRAN)
    assert window.put(TARN)
    window.close()
    assert left(book) == [CORRAN, TARN]
    assert left(book) == [CORRAN, TARN]
    assert len(files(book)) == 1


def test_the_last_thing_typed_counts(book: Path) -> None:
    window = opened(book)
    for line in ("s", "sound", "sound, walk 0, bcs 3"):
        assert window.put(CORRAN._replace(line=line))
    window.close()
    assert left(book) == [CORRAN._replace(line="sound, walk 0, bcs 3")]


def test_what_was_saved_is_not_there_again_and_no_file_is_left(book: Path) -> None:
    window = opened(book)
    window.put(CORRAN)
    window.put(TARN)
    assert window.drop(TARN.key) is None
    assert window.drop("no such bull") is None
    window.close()
    assert left(book) == [CORRAN]
    window = Drafts(book)
    window.open()
    window.drop(CORRAN.key)
    window.close()
    assert not unsaved_beside(book).exists()
    assert left(book) == []


def test_a_window_in_which_nothing_is_typed_leaves_nothing(book: Path, tmp_path: Path) -> None:
    opened(book).close()
    assert list(tmp_path.iterdir()) == []


def test_two_windows_at_once_keep_their_own(book: Path) -> None:
    first = opened(book)
    first.put(CORRAN)
    second = opened(book)
    second.put(TARN)
    third = opened(book)
    second.close()
    assert third.open() == [TARN]
    first.close()
    third.close()
    assert left(book) == [CORRAN, TARN]


@pytest.mark.parametrize(
    "key",
    ["", "../../x", "a/b\\c", "UK 12\n34", "\x00\x1b[2J", "Stier ½ 🐂", "\ud800 half a character"],
)
def test_any_key_and_line_come_back_as_they_were(book: Path, key: str) -> None:
    draft = Draft(key, f"note: {key}", DAY, (key,))
    window = opened(book)
    assert window.put(draft)
    window.close()
    assert left(book) == [draft]


def test_of_two_halves_of_one_bull_the_newest_is_last_and_the_older_is_kept(
    book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """By when each was typed, not by when its file was last written to."""
    now = 1_000.0
    monkeypatch.setattr("readiness.book.drafts.window.time.time", lambda: now)
    first, second = opened(book), opened(book)
    first.put(CORRAN._replace(line="the older"))
    now = 2_000.0
    second.put(CORRAN._replace(line="the newer"))
    now = 3_000.0
    first.put(TARN)
    second.close()
    first.close()
    window = Drafts(book)
    older, newer = CORRAN._replace(line="the older"), CORRAN._replace(line="the newer")
    assert window.open() == [older, newer, TARN]
    newer = newer._replace(line="the newer, walk 0")
    now = 4_000.0
    window.put(newer)
    window.close()
    window = Drafts(book)
    assert window.open() == [older, TARN, newer]
    assert window.drop(CORRAN.key) == older
    window.close()
    window = Drafts(book)
    assert window.open() == [older, TARN]
    assert window.drop(CORRAN.key) is None
    window.close()
    assert left(book) == [TARN]


def test_the_same_half_out_of_two_files_is_one(book: Path) -> None:
    """As where a window was killed after it took a file over and before that was removed."""
    window = opened(book)
    window.put(CORRAN)
    window.close()
    [file] = files(book)
    file.with_name("copy.jsonl").write_bytes(file.read_bytes())
    assert left(book) == [CORRAN]
    assert len(files(book)) == 1


def test_the_order_of_a_day_is_kept(book: Path) -> None:
    window = opened(book)
    assert window.race() is None
    assert window.keep_race(DAY, ["00417", "00122"], [])
    assert window.keep_race(DAY, ["00122"], ["00417"])
    race = Lineup(DAY, ("00122",), ("00417",))
    assert window.race() == race
    window.close()
    for _ in range(2):
        window = opened(book)
        assert window.race() == race
        window.close()


def test_the_newer_order_counts(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    now = 1_000.0
    monkeypatch.setattr("readiness.book.drafts.window.time.time", lambda: now)
    first, second = opened(book), opened(book)
    second.keep_race("2026-04-02", ["a"], [])
    now = 2_000.0
    first.keep_race(DAY, ["b"], [])
    first.close()
    second.close()
    window = opened(book)
    assert window.race() == Lineup(DAY, ("b",), ())
    window.close()


def record(draft: Draft) -> bytes:
    return json.dumps({"put": draft._asdict(), "at": 1.0}).encode()


GARBAGE = [
    b"\xff\xfe no text at all",
    b"[]",
    b"3",
    b'"drop"',
    b"{}",
    b'{"put":{"key":"x","line":"y","on":"2026-04-03","ids":"abc"},"at":1}',
    b'{"put":{"key":1,"line":"y","on":"2026-04-03","ids":[]},"at":1}',
    b'{"put":{"key":"x","line":"y","on":"no day","ids":[]},"at":1}',
    b'{"put":{"key":"x","line":"y","on":"2026-04-03","ids":[]},"at":1' + b"0" * 400 + b"}",
    b'{"race":{"day":"2026-04-03","keys":[1],"dropped":[]},"at":1}',
    b"[" * 100_000,
]


@pytest.mark.parametrize("broken", GARBAGE, ids=range(len(GARBAGE)))
def test_a_broken_line_is_passed_and_the_others_count(book: Path, broken: bytes) -> None:
    folder = unsaved_beside(book)
    folder.mkdir()
    (folder / "x.jsonl").write_bytes(b"\n".join([record(CORRAN), broken, record(TARN), b""]))
    assert left(book) == [CORRAN, TARN]


def test_a_last_line_cut_short_anywhere_leaves_what_was_before_it(book: Path) -> None:
    folder = unsaved_beside(book)
    whole = record(CORRAN._replace(line="sound, walk 0"))
    before = record(CORRAN._replace(line="sound"))
    for length in range(len(whole)):
        folder.mkdir(exist_ok=True)
        (folder / "x.jsonl").write_bytes(before + b"\n" + whole[:length])
        window = Drafts(book)
        assert window.open() == [CORRAN._replace(line="sound")]
        window.drop(CORRAN.key)
        window.close()


def test_the_file_does_not_grow_from_window_to_window(book: Path) -> None:
    window = opened(book)
    for number in range(500):
        window.put(CORRAN._replace(line=f"sound, weight {number}"))
    window.close()
    assert files(book)[0].stat().st_size > 10_000
    assert left(book) == [CORRAN._replace(line="sound, weight 499")]
    assert files(book)[0].stat().st_size < 200


def test_what_is_no_file_of_halves_is_left_alone(book: Path) -> None:
    folder = unsaved_beside(book)
    folder.mkdir()
    book.write_bytes(b"the book itself")
    (folder / "link.jsonl").symlink_to(book)
    (folder / "folder.jsonl").mkdir()
    (folder / "notes.txt").write_text("somebody's own")
    os.mkfifo(folder / "pipe.jsonl")
    names = {path.name for path in files(book)}
    assert left(book) == []
    assert {path.name for path in files(book)} == names
    assert book.read_bytes() == b"the book itself"


def test_a_file_taken_away_under_a_living_window_is_written_anew(book: Path) -> None:
    """As by a program that keeps two machines' folders alike."""
    window = opened(book)
    window.put(CORRAN)
    [file] = files(book)
    file.unlink()
    unsaved_beside(book).rmdir()
    assert window.put(TARN)
    window.close()
    assert left(book) == [CORRAN, TARN]


def test_a_folder_that_vanished_for_good_is_said_and_nothing_is_raised(tmp_path: Path) -> None:
    place = tmp_path / "stick"
    place.mkdir()
    window = opened(place / "bulls.duckdb")
    assert window.put(CORRAN)
    place.rename(tmp_path / "gone")
    assert not window.put(TARN)
    assert window.drop(CORRAN.key) is None
    assert not window.keep_race(DAY, [], [])
    (tmp_path / "gone").rename(place)
    assert window.put(CORRAN)
    window.close()
    assert left(place / "bulls.duckdb") == [TARN, CORRAN]


def test_a_file_in_place_of_the_folder(book: Path) -> None:
    unsaved_beside(book).write_text("no folder")
    window = opened(book)
    assert not window.put(CORRAN)
    window.close()
    assert unsaved_beside(book).read_text() == "no folder"


def test_threads_may_put_and_drop_at_once(book: Path) -> None:
    window = opened(book)

    def work(name: str) -> None:
        for number in range(200):
            window.put(Draft(name, str(number), DAY))
            if number % 3 == 0:
                window.drop(name)

    threads = [threading.Thread(target=work, args=(name,)) for name in "abcd"]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    window.close()
    assert sorted(left(book)) == [Draft(name, "199", DAY) for name in "abcd"]


def test_without_file_locks_drafts_are_kept_and_none_is_taken_over(
    book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nobody can tell there whether a file's owner lives."""

    def refuse(handle: int, how: int) -> None:
        raise OSError("no locks available")

    monkeypatch.setattr("readiness.book.drafts.owned.fcntl.flock", refuse)
    window = opened(book)
    assert window.put(CORRAN)
    assert left(book) == []
    window.close()
    assert left(book) == []
    monkeypatch.undo()
    assert left(book) == [CORRAN]


def test_a_file_taken_over_before_its_owner_could_lock_it_is_made_again(
    book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Two windows open at the same moment."""
    real: Callable[..., int] = os.open
    stolen: list[Path] = []

    def open_and_lose(path: Path, flags: int, mode: int = 0o777) -> int:
        handle = real(path, flags, mode)
        if flags & os.O_CREAT and not stolen:
            stolen.append(path)
            path.unlink()
        return handle

    window = opened(book)
    monkeypatch.setattr("readiness.book.drafts.owned.os.open", open_and_lose)
    assert window.put(CORRAN)
    monkeypatch.undo()
    window.close()
    assert len(stolen) == 1
    assert left(book) == [CORRAN]
