"""A look that was written before its day, and is said once more after it, clears nobody."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from readiness.book import Book
from readiness.desk.desk import Desk
from readiness.desk.retagging import retag
from readiness.entries.entry import NewEntry
from readiness.system.clock import FixedClock
from tests.build import booked, condition, exam, group, join, lift, walk
from tests.desk.desks import NOW, new_id

DAY = date(2026, 4, 20)


def desk_on(path: Path, day: date) -> Desk:
    clock = FixedClock(NOW.replace(month=day.month, day=day.day))
    return Desk(Book(path, clock, "shed"), None, clock)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A book of 3 April, into which a walk of the 20th was imported."""
    path = tmp_path / "bulls.duckdb"
    desk_on(path, NOW.date()).add(
        [
            booked(born="2022-03-01"), group("2026-04-22"), join(), lift("2026-04-01"),
            condition("2026-04-03", 3), exam("2026-04-01"),
        ]
    )  # fmt: skip
    content = walk(DAY.isoformat(), 0)
    desk_on(path, NOW.date()).book.append([NewEntry(new_id(), content)], "")
    return path


def status(path: Path) -> str:
    (bull,) = desk_on(path, DAY).board().bulls
    return bull.status


def test_another_tag_clears_no_bull_by_a_walk_that_was_written_before_its_day(path: Path) -> None:
    assert status(path) == "HOLD"
    retag(desk_on(path, DAY), "B 1", "B 7")
    assert status(path) == "HOLD"


def test_a_strike_undone_clears_no_bull_by_a_walk_that_was_written_before_its_day(
    path: Path,
) -> None:
    desk = desk_on(path, DAY)
    (ahead,) = [entry for entry in desk.standing() if entry.kind == "mobility"]
    desk.strike(ahead.id, "a slip")
    desk_on(path, DAY).undo()
    assert status(path) == "HOLD"


def test_a_walk_written_anew_on_its_day_is_lost(path: Path) -> None:
    desk_on(path, DAY).add([walk(DAY.isoformat(), 0)])
    assert status(path) == "GO"


def test_a_walk_corrected_to_the_day_on_which_it_was_seen_is_lost(path: Path) -> None:
    desk = desk_on(path, DAY)
    (ahead,) = [entry for entry in desk.standing() if entry.kind == "mobility"]
    desk.correct(ahead.id, [walk("2026-04-19", 0)])
    assert status(path) == "GO"
