"""Blocks and wraps: published days, as the assessment gives them. The source stands beside each."""

from __future__ import annotations

import pytest

from tests.build import assessed, lift, said, ulcer
from tests.standards.told import advised, asked, first_day, last_day

FITTED = said("block-on", "2026-03-01", foot="LH", claw="inner")
WRAPPED = lift("2026-03-01", "LH", work=[{"foot": "LH", "act": "wrap"}])


def test_a_block_is_not_asked_off_before_four_weeks() -> None:
    """AHDB, How to block a lame cow's foot: looked at again at four weeks (published; that it stays
    on until then is a project choice). Fitted 1 March 2026: from 29 March."""
    assert first_day(assessed("2026-03-02", FITTED), "block-off") == "2026-03-29"


def test_a_block_is_looked_under_from_four_weeks() -> None:
    """As above: that foot is lifted from 29 March."""
    assert first_day(assessed("2026-03-02", FITTED), "block-look") == "2026-03-29"


def test_a_block_is_off_by_six_weeks() -> None:
    """NZ dairy hoof-care training: 4-6 weeks (published). Fitted 1 March 2026: by 12 April."""
    assert last_day(assessed("2026-03-02", FITTED), "block-off") == "2026-04-12"


@pytest.mark.parametrize(("on", "late"), [("2026-04-12", 0), ("2026-04-13", 1)])
def test_a_block_is_late_from_the_day_after_six_weeks(on: str, late: int) -> None:
    """AHDB: one left on too long does harm; Minnesota: looked at again at 4-6 weeks (published)."""
    assert assessed(on, FITTED).overdue == late


def test_a_block_on_the_claw_with_the_ulcer_is_to_come_off() -> None:
    """Blocks belong on the sound claw only: contraindicated on the other (published)."""
    wrong = said("block-on", "2026-03-20", foot="LH", claw="outer")
    bull = assessed("2026-04-01", wrong, lift("2026-04-01", "LH", findings=ulcer(1)))
    assert "block.wrong" in advised(bull)
    assert first_day(bull, "block-off") == "2026-04-01"


def test_a_block_beside_the_ulcer_is_not_spoken_of_as_wrong() -> None:
    """As above: the sound partner claw is where it belongs."""
    right = said("block-on", "2026-04-01", foot="LH", claw="inner")
    bull = assessed("2026-04-01", right, lift("2026-04-01", "LH", findings=ulcer(1)))
    assert "block.wrong" not in advised(bull)


def test_a_wrap_is_off_within_five_days() -> None:
    """Fiedler 2015: five days in a trial (published). Wrapped 1 March 2026: off by 6 March."""
    assert last_day(assessed("2026-03-01", WRAPPED), "wrap-off") == "2026-03-06"


@pytest.mark.parametrize(("on", "late"), [("2026-03-06", 0), ("2026-03-07", 1)])
def test_a_wrap_is_late_from_the_sixth_day(on: str, late: int) -> None:
    """As above."""
    assert assessed(on, WRAPPED).overdue == late


def test_a_wrap_may_come_off_after_a_day() -> None:
    """Döpfer: only if it is off in one to two days (published). From 2 March, and then it is."""
    assert first_day(assessed("2026-03-01", WRAPPED), "wrap-off") == "2026-03-02"
    assert "wrap-off" not in asked(assessed("2026-03-02", WRAPPED, lift("2026-03-02", "LH")))
