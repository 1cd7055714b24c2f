"""A bull given another tag whose booking one copy of the book took back."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from readiness.book import Book
from readiness.desk.desk import Desk
from readiness.desk.retagging import retag
from readiness.system.errors import DataError
from tests.tui.estate import CLOCK, ago, desk_at


def test_he_is_to_be_booked_in_again_first_and_is_still_held_for_it(tmp_path: Path) -> None:
    desk = desk_at(tmp_path / "b.duckdb", [{"kind": "bull", "on": ago(100), "bull": "A 1"}])
    (tmp_path / "two").mkdir()
    shutil.copy(desk.book.path, tmp_path / "two" / "b.duckdb")
    other = Desk(Book(tmp_path / "two" / "b.duckdb", CLOCK, device="two"), None, CLOCK)
    other.strike(other.standing()[0].id, "not ours")
    desk.add([{"kind": "weight", "on": ago(10), "bull": "A 1", "kg": 900}])
    desk.merge(other.book.path)
    before = desk.standing()
    with pytest.raises(DataError, match="Book A 1 in again"):
        retag(desk, "A 1", "B 2")
    assert desk.standing() == before
    desk.add([{"kind": "bull", "on": ago(5), "bull": "A 1"}])
    assert retag(desk, "A 1", "B 2").tag == "B 2"
