"""Undo: this device's last batch, many levels, across restarts. And which strikes are taken."""

from __future__ import annotations

from pathlib import Path

import pytest

from readiness.book import Book
from readiness.book import read as read_module
from readiness.book.shelf import effective
from readiness.entries.entry import Entry
from readiness.entries.ids import again_id
from readiness.system.clock import FixedClock
from readiness.system.errors import DataError, NotFound
from tests.book.builders import (
    MORNING,
    ask,
    book_at,
    bull,
    entry_id,
    ids,
    ids_of,
    later,
    said,
    strike,
    walk,
)
from tests.desk.desks import desk_at


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "bulls.duckdb"


def standing(path: Path) -> list[str]:
    return [entry.id for entry in effective(book_at(path).snapshot().entries)]


def test_undo_goes_back_batch_by_batch_across_restarts(path: Path) -> None:
    for number in (1, 2, 3):
        book_at(path).append([walk(number), walk(number + 10)], "")
    assert ids_of(book_at(path).undo("M. Oakes")) == ids(3, 13)
    assert ids_of(book_at(path).undo("")) == ids(2, 12)
    assert standing(path) == ids(1, 11)
    book_at(path).append([walk(4)], "")
    assert ids_of(book_at(path).undo("")) == ids(4)
    assert ids_of(book_at(path).undo("")) == ids(1, 11)
    with pytest.raises(NotFound, match="nothing on this device"):
        book_at(path).undo("")
    assert standing(path) == []
    assert book_at(path).verify().ok


def test_undo_says_who_and_when(path: Path) -> None:
    book = book_at(path)
    book.append([walk(1)], "")
    book.undo("M. Oakes")
    [said_so] = [entry for entry in book.snapshot().entries if entry.kind == "strike"]
    assert said_so.body == {
        "kind": "strike",
        "on": "2026-04-03",
        "entry": entry_id(1),
        "why": "undo",
        "by": "M. Oakes",
    }


def test_undo_leaves_other_devices_alone(path: Path) -> None:
    book_at(path, device="shed").append([walk(1)], "")
    book_at(path, later(hours=1), device="yard").append([walk(2)], "")
    assert ids_of(book_at(path, later(hours=2), device="shed").undo("")) == ids(1)
    with pytest.raises(NotFound):
        book_at(path, device="shed").undo("")
    assert standing(path) == ids(2)


def test_undo_takes_what_is_left_of_a_batch(path: Path) -> None:
    book_at(path).append([walk(1), walk(2)], "")
    book_at(path, device="yard").append([strike(3, 1)], "")
    assert ids_of(book_at(path).undo("")) == ids(2)


def test_undo_takes_an_import_from_another_copy_back(path: Path) -> None:
    """The batch is this device's, though the entries keep the receipts of where they were said."""
    theirs = {"recorded": "2026-04-01T06:00:00.000000Z", "batch": "b", "device": "yard"}
    book_at(path).append([walk(1)], "")
    book_at(path).append([said(2, walk(2).content, **theirs)], "")
    assert ids_of(book_at(path).undo("")) == ids(2)


def test_a_strike_by_hand_is_taken_back_by_saying_again_what_it_withdrew(path: Path) -> None:
    book = book_at(path)
    book.append([walk(1, score=2)], "")
    book.append([walk(2)], "")
    book.append([strike(3, 1)], "")
    assert ids_of(book.undo("")) == ids(3)
    again = again_id(entry_id(3))
    assert standing(path) == [again, entry_id(2)]  # where it counted before
    [said_again] = [entry for entry in effective(book.snapshot().entries) if entry.id == again]
    assert said_again.body == walk(1, score=2).content
    assert book.verify().ok


def test_after_a_strike_is_taken_back_undo_goes_on_to_what_came_before_it(path: Path) -> None:
    """The entry said again stands for the one that was struck: its own batch takes it back."""
    book = book_at(path)
    book.append([walk(1)], "")
    book.append([walk(2)], "")
    book.append([strike(3, 1)], "")
    assert ids_of(book.undo("")) == ids(3)
    assert ids_of(book_at(path).undo("")) == ids(2)
    assert ids_of(book_at(path).undo("")) == [again_id(entry_id(3))]
    assert standing(path) == []
    with pytest.raises(NotFound):
        book.undo("")


def test_what_was_said_again_may_be_struck_and_said_again_once_more(path: Path) -> None:
    book = book_at(path)
    book.append([walk(1)], "")
    book.append([strike(2, 1)], "")
    book.undo("")
    once = again_id(entry_id(2))
    book.append([said(3, {"kind": "strike", "on": "2026-04-02", "entry": once})], "")
    assert ids_of(book.undo("")) == ids(3)
    assert standing(path) == [again_id(entry_id(3))]
    assert ids_of(book.undo("")) == [again_id(entry_id(3))]
    assert standing(path) == []


def test_what_somebody_else_withdrew_too_stays_withdrawn(path: Path) -> None:
    book_at(path, device="yard").append([walk(1)], "")
    book_at(path, device="yard").append([strike(2, 1)], "")
    book = book_at(path)
    book.append([walk(3)], "")
    book.append([strike(4, 1)], "")
    assert ids_of(book.undo("")) == ids(3)
    assert standing(path) == []


def test_what_a_batch_said_and_struck_itself_is_not_said_again(path: Path) -> None:
    book = book_at(path)
    book.append([walk(1)], "")
    book.append([walk(2), strike(3, 2)], "")
    assert ids_of(book.undo("")) == ids(1)
    assert standing(path) == []


def test_two_strikes_of_one_entry_say_it_again_once(path: Path) -> None:
    book = book_at(path)
    book.append([walk(1)], "")
    book.append([strike(2, 1), strike(3, 1)], "")
    assert ids_of(book.undo("")) == ids(2)
    assert ids_of(book.undo("")) == [again_id(entry_id(2))]
    assert standing(path) == []


def test_a_batch_that_says_and_strikes_is_taken_back_whole(path: Path) -> None:
    """As an import that books a bull anew and strikes his first booking."""
    book = book_at(path)
    book.append([bull(1)], "")
    book.append([walk(2)], "")
    book.append([bull(3), strike(4, 1)], "")
    assert standing(path) == ids(3, 2)
    assert ids_of(book.undo("")) == ids(3, 4)
    assert standing(path) == [again_id(entry_id(4)), entry_id(2)]


def test_the_last_batch_is_the_last_written_though_the_clock_went_back(path: Path) -> None:
    book_at(path, later(hours=5)).append([walk(1)], "")
    book_at(path).append([walk(2)], "")
    assert ids_of(book_at(path).undo("")) == ids(2)
    assert ids_of(book_at(path).undo("")) == ids(1)


def test_a_strike_cannot_be_struck(path: Path) -> None:
    book = book_at(path)
    book.append([walk(1)], "")
    book.append([strike(2, 1)], "")
    with pytest.raises(DataError, match="stays itself"):
        book.append([strike(3, 2)], "")
    with pytest.raises(DataError, match="stays itself"):
        book.append([strike(4, 1), strike(5, 4)], "")
    assert len(book.snapshot().entries) == 2


def test_a_bull_with_entries_stays_booked(path: Path) -> None:
    book = book_at(path)
    book.append([bull(1)], "")
    book.append([walk(2)], "")
    with pytest.raises(DataError, match="only entry that books 00417"):
        book.append([strike(3, 1)], "")
    book.append([bull(4)], "")
    book.append([strike(5, 1)], "")
    assert standing(path) == ids(4, 2)
    with pytest.raises(DataError, match="only entry that books 00417"):
        book.append([strike(6, 4)], "")


def test_undo_does_not_unbook_a_bull_with_other_entries(path: Path) -> None:
    book_at(path).append([bull(1)], "")
    book_at(path, device="yard").append([walk(2)], "")
    with pytest.raises(DataError, match="only entry that books 00417"):
        book_at(path).undo("")
    assert standing(path) == ids(1, 2)


def test_a_bull_and_all_his_entries_may_go_together(path: Path) -> None:
    book_at(path).append([bull(1), walk(2)], "")
    assert ids_of(book_at(path).undo("")) == ids(1, 2)
    assert standing(path) == []


def test_strikes_out_of_another_copy_are_not_asked_again(path: Path) -> None:
    """A merged book may hold a bull whose only booking was struck elsewhere: it must come in."""
    theirs = {"recorded": "2026-04-01T06:00:00.000000Z", "batch": "b", "device": "yard"}
    book = book_at(path)
    book.append([bull(1), walk(2), strike(3, 1, **theirs)], "")
    assert standing(path) == ids(1, 2)


def test_the_device_keeps_its_id_in_the_users_data_directory(
    tmp_path: Path, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setattr("sys.platform", "linux")
    book_at(path)
    first, second = (Book(path, FixedClock(MORNING)) for _ in range(2))
    first.append([walk(1)], "")
    kept = (tmp_path / "data" / "readiness" / "device").read_text("ascii").strip()
    assert first.device == second.device == kept
    assert ids_of(second.undo("")) == ids(1)
    assert ask(path, "SELECT DISTINCT device FROM receipt") == [(kept,)]


def test_a_damaged_device_file_is_replaced(
    tmp_path: Path, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setattr("sys.platform", "linux")
    file = tmp_path / "data" / "readiness" / "device"
    file.parent.mkdir(parents=True)
    file.write_text("half a li", "ascii")
    assert Book(path, FixedClock(MORNING)).device == file.read_text("ascii").strip()


# ---- what is read for it -----------------------------------------------------------------------


def test_undo_reads_what_it_takes_back_and_his_bull_and_never_the_whole_book(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    others = [bull(n, f"{n:05}") for n in range(100, 300)]
    book_at(path).append([bull(1), walk(2), *others], "")
    book_at(path).append([walk(3), walk(4)], "")
    read: list[int] = []
    as_entries = read_module.as_entries

    def counted(rows: list[tuple[object, ...]], name: str) -> list[Entry]:
        read.append(len(rows))
        return as_entries(rows, name)

    monkeypatch.setattr(read_module, "as_entries", counted)
    desk = desk_at(path)
    assert ids_of(desk.last_said()) == ids(3, 4)
    assert sum(read) == 2
    assert ids_of(desk.undo()) == ids(3, 4)
    assert sum(read) == 2 + 2 + 4  # whether a strike may be said hangs on all that is said of him
    assert ids_of(desk.entries(ids(3))) == ids(3)
    assert sum(read) == 8 + 1
    assert sorted(ids_of(desk.undo())) == ids(1, 2, *range(100, 300))
