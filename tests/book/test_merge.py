"""Another copy of the book taken in, and taken back: what the laws of the union do not say."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from readiness.book.faults import Damaged
from readiness.entries.entry import NewEntry
from readiness.entries.ids import canonical, digest
from readiness.system.errors import DataError, NotFound
from readiness.system.locations import journal_beside
from tests.book.builders import ask, bull, entry_id, ids, ids_of, strike, walk
from tests.book.copies import at, copy_of, desk, exported, rows, shown


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "bulls.duckdb"


@pytest.fixture
def other(path: Path) -> Path:
    """A copy of the book, which held one bull, where a colleague has walked him since."""
    at(path).append([bull(1)], "")
    copy = copy_of(path, "other")
    at(copy, 1, "yard").append([walk(2)], "Ann")
    return copy


def test_a_merge_writes_no_receipt_of_its_own(path: Path, other: Path) -> None:
    at(path, 2).merge(other, "")
    assert rows(path) == rows(other)
    assert ask(path, "SELECT device, who FROM receipt WHERE id = $$" + entry_id(2) + "$$") == [
        ("yard", "Ann")
    ]


def test_three_copies_hold_the_same_in_whatever_order_they_come_together(
    path: Path, other: Path
) -> None:
    """As ``test_merge_laws`` tries it at length."""
    third = copy_of(path, "third")
    at(third, 1, "van").append([walk(5), strike(4, 1, recorded="2026-04-03T08:00:00.000000Z")], "")
    there, back = copy_of(path, "there"), copy_of(third, "back")
    for target, others in ((there, (other, third)), (back, (path, journal_beside(other)))):
        for copy in (*others, others[0]):
            at(target, 9).merge(copy, "")
    assert rows(there) == rows(back)
    assert shown(there) == shown(back) == [entry_id(1), *ids(2, 5)]


def test_a_look_writes_nothing(path: Path, other: Path) -> None:
    before = path.read_bytes()
    coming, done = at(path, 2).merge(other, "", check=True)
    assert ([entry.id for entry in coming.entries], done) == (ids(2), None)
    assert path.read_bytes() == before


def test_a_merge_is_taken_back_in_its_turn_and_strikes_nothing(path: Path, other: Path) -> None:
    """By what was written last here, be the clock set back meanwhile."""
    at(path, 2).merge(other, "")
    at(path, -2).append([walk(3)], "")
    assert ids_of(at(path, 3).undo("")) == ids(3)
    assert ids_of(at(path, 3).undo("")) == ids(2)
    assert ask(path, "SELECT count(*) FROM entry WHERE kind = 'strike'") == [(1,)]
    assert ids_of(at(path, 3).undo("")) == ids(1)
    with pytest.raises(NotFound):
        at(path, 3).undo("")


def test_what_was_put_out_is_in_no_reading_view_export_backup_or_copy(
    path: Path, other: Path, tmp_path: Path
) -> None:
    at(path, 2).merge(other, "")
    at(path, 3).undo("")
    assert shown(path) == ids(1)
    assert ask(path, "SELECT count(*) FROM mobility") == [(0,)]
    lines = (exported(path, tmp_path / "x") / "entries.jsonl").read_text().splitlines()
    assert [json.loads(line)["id"] for line in lines] == ids(1)
    assert shown(at(path).backup(tmp_path / "backup.duckdb")) == ids(1)
    third = tmp_path / "third.duckdb"
    for source in (path, journal_beside(path)):
        at(third, 4).merge(source, "")
        assert shown(third) == ids(1)


def test_undo_knows_nothing_of_what_this_device_wrote_in_another_copy(
    path: Path, other: Path
) -> None:
    at(other, 2, "shed").append([walk(3)], "")
    at(path, 3).merge(other, "")
    at(path, 3).append([walk(4)], "")
    assert ids_of(at(path, 4).undo("")) == ids(4)
    assert sorted(ids_of(at(path, 4).undo(""))) == ids(2, 3)
    assert ids_of(at(path, 4).undo("")) == ids(1)


def test_a_receipt_that_comes_in_makes_no_entry_this_devices_own(path: Path, other: Path) -> None:
    """A colleague wrote it in this file; this device imported it into another copy."""
    at(path, 1, "yard").append([walk(5)], "Ann")
    [entry] = [e for e in at(path).snapshot().entries if e.id == entry_id(5)]
    theirs = NewEntry(entry.id, entry.body, 0, entry.recorded, entry.position, entry.batch, "yard")
    at(other, 2, "shed").append([theirs], "")
    at(path, 3, "third").merge(other, "")
    with pytest.raises(DataError, match="only entry that books"):  # his own batch, not hers
        at(path, 4, "shed").undo("")


def test_a_booking_that_others_speak_of_is_not_put_out(path: Path, tmp_path: Path) -> None:
    other = tmp_path / "other.duckdb"
    at(other, 0, "yard").append([bull(1), walk(2)], "")
    at(path, 1).merge(other, "")
    at(path, 2, "third").append([walk(3)], "")
    assert ids_of(at(path, 3).undo("")) == ids(2)
    assert shown(path) == ids(1, 3)


def test_an_id_of_two_contents_is_named_and_nothing_is_written(path: Path, other: Path) -> None:
    at(path, 1).append([walk(2, 3), walk(7)], "")
    at(other, 2, "yard").append([walk(7, 1), walk(8)], "")
    before = rows(path)
    with pytest.raises(DataError) as refused:
        at(path, 3).merge(other, "")
    assert rows(path) == before
    assert all(id_ in str(refused.value) for id_ in ids(2, 7))
    assert "here mobility 00417 2026-04-01: Walk 3" in str(refused.value)


def test_the_books_own_journal_brings_back_what_an_older_file_has_lost(
    path: Path, tmp_path: Path
) -> None:
    at(path).append([bull(1), walk(2)], "")
    older = path.read_bytes()
    at(path, 1).append([walk(3)], "")
    path.write_bytes(older)
    with pytest.raises(Damaged, match="readiness merge"):
        at(path).snapshot()
    at(path, 2).merge(journal_beside(path), "")
    assert shown(path) == ids(1, 2, 3)
    assert ids_of(at(path, 3).undo("")) == ids(3)  # it is its own, as it was


def test_merging_the_book_into_itself_is_refused(path: Path, other: Path) -> None:
    with pytest.raises(DataError, match="is the book itself"):
        at(path).merge(path, "")


@pytest.mark.parametrize(
    "content",
    [
        {"kind": "mobility", "on": "2026-04-01", "bull": "00417", "scale": "gb0-3", "score": 9},
        {"kind": "bull", "on": "2026-04-01", "bull": "\x1b[2J00418"},
        {"kind": "wolf", "on": "2026-04-01", "bull": "00417"},
    ],
    ids=["out of range", "control characters", "no kind"],
)
def test_a_book_of_somebody_elses_making_is_judged_as_a_file_of_entries_is(
    path: Path, other: Path, content: dict[str, object]
) -> None:
    key = str(content["bull"]).upper()
    row = [entry_id(9), content["on"], key, content["kind"], canonical(content), digest(content)]
    marks = ", ".join("'" + str(value).replace("'", "''") + "'" for value in row)
    receipt = f"'{entry_id(9)}', '2026-04-02T06:00:00.000000Z', 0, 'b', 'yard', ''"
    ask(other, f"INSERT INTO entry VALUES ({marks})")
    ask(other, f"INSERT INTO receipt VALUES ({receipt})")
    before = rows(path)
    with pytest.raises(DataError) as refused:
        at(path).merge(other, "")
    assert "import it" not in str(refused.value)  # a merge was asked for
    assert rows(path) == before


def test_lines_out_of_no_book_are_for_import(path: Path, tmp_path: Path) -> None:
    lines = tmp_path / "lines.jsonl"
    lines.write_text('{"kind": "bull", "on": "2026-04-01", "bull": "5"}\n')
    with pytest.raises(DataError, match=r"line 1, recorded: has none.*no whole copy of a book\.$"):
        at(path).merge(lines, "")


def test_an_export_of_before_that_names_nobody_brings_no_second_receipt(
    path: Path, other: Path, tmp_path: Path
) -> None:
    lines = (exported(other, tmp_path / "x") / "entries.jsonl").read_text().replace('"Ann"', '""')
    old = tmp_path / "old.jsonl"
    old.write_text(lines)
    at(path, 1).merge(other, "")
    at(path, 2).merge(old, "")
    assert rows(path) == rows(other)


def test_a_bull_who_was_taken_back_here_and_seen_lame_there_is_held_in_both(
    path: Path, other: Path
) -> None:
    at(path, 1).append([strike(4, 1)], "")
    at(other, 2, "yard").append([walk(5, 3)], "Ann")
    at(path, 3).merge(other, "")
    at(other, 3).merge(path, "")
    for copy in (path, other):
        [held] = desk(copy).board().bulls
        assert (held.status, held.outlook, held.reasons[0].rule) == (
            "HOLD", "not-booked", "booking.stands",
        )  # fmt: skip
        assert shown(copy) == [entry_id(1), *ids(2, 5)]
    open_one = desk(path)  # what it holds goes on from what it read: as if all were read anew
    for content in (walk(6, 2).content, bull(1).content):
        open_one.board()
        open_one.add([content])
        assert open_one.board() == desk(path).board()
    assert open_one.board().bulls[0].outlook != "not-booked"
