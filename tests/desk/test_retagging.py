"""A bull given another tag: one whose booking a copy of the book took back, and whoever reads his
former one. No published standard tells how: each case is told by who the animal is."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from readiness.book import Book
from readiness.desk.desk import Desk
from readiness.desk.retagging import retag
from readiness.system.errors import DataError, NotFound
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


def test_what_is_no_tag_is_nobodys_new_one(tmp_path: Path) -> None:
    desk = desk_at(tmp_path / "b.duckdb", [{"kind": "bull", "on": ago(100), "bull": "A 1"}])
    for new in ("7.00914E+11", "UK 123456 300101 UK 123456 400102"):
        with pytest.raises(DataError, match=r"a long number|2 tags in one"):
            retag(desk, "A 1", new)


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """A 417 was given the tag B 2, and that C 3."""
    made = desk_at(tmp_path / "b.duckdb", [{"kind": "bull", "on": ago(100), "bull": "A 417"}])
    retag(made, "A 417", "B 2")
    retag(made, "B 2", "C 3")
    return made


@pytest.mark.parametrize("tag", ["A 417", "a417", "417", "B 2"])
def test_a_former_tag_says_which_he_has_now(desk: Desk, tag: str) -> None:
    with pytest.raises(NotFound, match=f"{tag} has another tag since: he is C 3 now"):
        desk.reading().find(tag)


def test_a_former_tag_finds_whoever_has_it_now(desk: Desk) -> None:
    desk.add([{"kind": "bull", "on": ago(1), "bull": "X 417"}])
    assert desk.reading().find("417") == "X417"
    with pytest.raises(NotFound, match="There is no bull 18"):
        desk.reading().find("18")


def test_to_book_a_former_tag_anew_says_whose_it_was(desk: Desk) -> None:
    booking = {"kind": "bull", "on": ago(1), "bull": "A 417"}
    (odd,) = desk.add([booking]).warnings
    assert odd.text.startswith("A 417 was given another tag, B2: if this is that bull")
    assert not desk.add([{**booking, "pen": "3"}]).warnings  # said once, when he is booked
    for _ in range(4):  # both bookings, both tags
        desk.undo()
    assert not desk.add([{**booking, "pen": "3"}]).warnings


def test_his_own_tag_given_back_is_no_former_one(desk: Desk) -> None:
    assert not retag(desk, "C 3", "A 417").outcome.warnings
    assert desk.reading().find("417") == "A417"
