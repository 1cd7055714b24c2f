"""What is half entered of a bull goes with him to another tag, and with nobody else. No published
standard tells how: each case is told by who the animal is."""

from __future__ import annotations

import json
import shutil
import uuid
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from readiness.book import Book
from readiness.book.drafts import Draft, Drafts
from readiness.desk.desk import Desk
from readiness.desk.retagging import retag
from readiness.trade.tags import tag_key
from readiness.tui.crush.desk import left_over
from tests.tui.estate import DAY, ago


class Ticking:
    """A second later each time that it is asked."""

    def __init__(self) -> None:
        self.moment = datetime(2026, 4, 3, 9, 30, tzinfo=UTC)

    def now(self) -> datetime:
        self.moment += timedelta(seconds=1)
        return self.moment

    def today(self) -> date:
        return DAY


CLOCK = Ticking()


@pytest.fixture(autouse=True)
def drafts_tell_the_same_time(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("readiness.book.drafts.window.time.time", lambda: CLOCK.now().timestamp())


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    made = desk_in(tmp_path, "one")
    made.add([booked("A 1"), booked("B 2")])
    return made


def desk_in(folder: Path, device: str) -> Desk:
    return Desk(Book(folder / "b.duckdb", CLOCK, device=device), None, CLOCK, who="W")


def copy_of(desk: Desk, folder: Path) -> Desk:
    folder.mkdir()
    shutil.copy(desk.book.path, folder / "b.duckdb")
    return desk_in(folder, "two")


def booked(tag: str, **more: object) -> dict[str, Any]:
    return {"kind": "bull", "on": ago(100), "bull": tag, **more}


def half(desk: Desk, *tags: str) -> None:
    """A window goes in which something was half entered of these bulls."""
    window = Drafts(desk.book.path)
    left_over(desk, window)
    for tag in tags:
        window.put(Draft(tag_key(tag), f"of {tag}", DAY.isoformat()))
    window.close()


def seen(desk: Desk) -> dict[str, str]:
    """What the next window shows as half entered, by bull."""
    window = Drafts(desk.book.path)
    left = left_over(desk, window)
    window.close()
    return {key: each.line for key, each in left.items()}


def test_it_is_of_his_new_tag_however_often_the_crush_is_opened(desk: Desk) -> None:
    half(desk, "A 1", "B 2")
    retag(desk, "A 1", "C 3")
    for _ in range(2):
        assert seen(desk) == {"C3": "of A 1", "B2": "of B 2"}


def test_it_follows_him_through_several_tags_and_back_when_that_is_undone(desk: Desk) -> None:
    half(desk, "A 1")
    retag(desk, "A 1", "C 3")
    retag(desk, "C 3", "D 4")
    for key in ("D4", "C3", "A1"):
        assert seen(desk) == {key: "of A 1"}
        desk.undo()


def test_the_true_bull_of_the_old_tag_booked_later_gets_none_of_it(desk: Desk) -> None:
    half(desk, "A 1")
    retag(desk, "A 1", "C 3")
    desk.add([booked("A 1", name="Elm")])
    assert seen(desk) == {"C3": "of A 1"}
    half(desk, "A 1")
    assert seen(desk) == {"C3": "of A 1", "A1": "of A 1"}
    window = Drafts(desk.book.path)
    left_over(desk, window)
    window.put(Draft("A1", "more of Elm", DAY.isoformat()))
    window.drop("C3")
    window.close()
    assert seen(desk) == {"A1": "more of Elm"}


def test_tags_moved_on_by_one_or_changed_for_each_other_move_it_with_each_bull(
    desk: Desk,
) -> None:
    half(desk, "A 1", "B 2")
    retag(desk, "B 2", "C 3")
    retag(desk, "A 1", "B 2")
    assert seen(desk) == {"B2": "of A 1", "C3": "of B 2"}
    retag(desk, "C 3", "A 1")
    assert seen(desk) == {"B2": "of A 1", "A1": "of B 2"}


def test_two_said_to_be_one_by_mistake_have_each_his_own_again_after_undo(desk: Desk) -> None:
    half(desk, "A 1", "B 2")
    retag(desk, "A 1", "B 2", same=True)
    assert seen(desk) == {"B2": "of B 2"}
    desk.undo()
    assert seen(desk) == {"A1": "of A 1", "B2": "of B 2"}


def test_of_two_bulls_who_are_one_the_older_half_comes_when_the_newer_is_given_up(
    desk: Desk,
) -> None:
    half(desk, "A 1", "B 2")
    retag(desk, "A 1", "B 2", same=True)
    window = Drafts(desk.book.path)
    left_over(desk, window)
    assert window.drop("B2") == Draft("B2", "of A 1", DAY.isoformat())
    assert window.drop("B2") is None
    window.close()
    assert seen(desk) == {}


def test_what_is_said_on_of_the_new_tag_takes_its_place_on_the_disk_too(desk: Desk) -> None:
    half(desk, "A 1")
    retag(desk, "A 1", "C 3")
    window = Drafts(desk.book.path)
    left_over(desk, window)
    window.put(Draft("C3", "said on", DAY.isoformat()))
    later = Drafts(desk.book.path)  # killed: the first one's file is left as it was
    window._file.close(remove=False)  # type: ignore[union-attr]
    assert [draft.line for draft in later.open()] == ["said on"]


def test_a_colleagues_new_tag_put_out_again_leaves_it_where_it_was(
    desk: Desk, tmp_path: Path
) -> None:
    half(desk, "A 1")
    other = copy_of(desk, tmp_path / "two")
    retag(other, "A 1", "C 3")
    desk.merge(other.book.path)
    assert seen(desk) == {"C3": "of A 1"}
    desk.undo()
    assert seen(desk) == {"A1": "of A 1"}


def test_one_of_his_entries_taken_back_elsewhere_later_does_not_lose_it(
    desk: Desk, tmp_path: Path
) -> None:
    weighed = desk.add([{"kind": "weight", "on": ago(10), "bull": "A 1", "kg": 900}])
    half(desk, "A 1")
    other = copy_of(desk, tmp_path / "two")
    retag(desk, "A 1", "C 3")
    other.strike(weighed.written[0], "wrong")
    desk.merge(other.book.path)
    assert seen(desk) == {"C3": "of A 1"}


def test_one_booked_alike_in_the_batch_that_took_him_out_gets_none_of_it(
    desk: Desk, tmp_path: Path
) -> None:
    first = desk.reading().shelf.bookings["A1"][0]
    half(desk, "A 1")
    told = [
        {"kind": "strike", "on": DAY.isoformat(), "entry": first.id, "why": "never ours"},
        booked("N 9"),
    ]
    lines = (json.dumps({"id": str(uuid.uuid4()), **each}) for each in told)
    (tmp_path / "told.jsonl").write_text("\n".join(lines), encoding="utf-8")
    desk.import_file(tmp_path / "told.jsonl")
    assert "N9" not in seen(desk)


def test_what_was_saved_before_its_window_went_is_not_half_entered_of_the_new_tag(
    desk: Desk,
) -> None:
    weighed = desk.add([{"kind": "weight", "on": ago(10), "bull": "A 1", "kg": 900}])
    half(desk, "B 2")
    window = Drafts(desk.book.path)
    window.open()
    window.put(Draft("A1", "saved", DAY.isoformat(), tuple(weighed.written)))
    window.close()
    retag(desk, "A 1", "B 2", same=True)
    assert seen(desk) == {"B2": "of B 2"}
