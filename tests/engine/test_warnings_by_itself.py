"""What is odd but may be true is taken in and warned of."""

from __future__ import annotations

from datetime import date

import pytest

from readiness.engine.warnings import by_itself
from readiness.entries.validate import validate
from tests.entries.samples import FULL, Sample, feet, said


def warned(entry: Sample, today: date = date(2026, 4, 3)) -> str:
    """All warnings of an entry that is valid all the same."""
    assert validate(entry) == (entry, [])
    day = date.fromisoformat(entry["on"]).toordinal()
    return "; ".join(by_itself(entry, entry["kind"], day, today.toordinal()))


@pytest.mark.parametrize("kind", FULL)
def test_an_ordinary_entry_is_not_odd(kind: str) -> None:
    assert warned(FULL[kind]) == ""


def test_a_wrong_check_digit_says_the_right_one() -> None:
    assert "give 6" in warned(said("bull", bull="UK 700915 500015"))
    assert warned(said("bull", bull="UK 700915 600015")) == ""


def test_another_finding_wants_words() -> None:
    other = feet(findings=[{"foot": "LF", "claw": "outer", "code": "XX"}])
    assert "say what in the note" in warned(other)
    assert warned(other | {"note": "nail"}) == ""


def test_a_day_to_come_is_warned_of() -> None:
    entry = said("weight", kg=900)
    assert "3 Apr, a day still to come: it counts" in warned(entry, date(2026, 4, 2))
    assert warned(entry) == ""


def test_a_look_of_a_day_to_come_is_said_to_clear_nothing() -> None:
    entry = said("block-off", foot="LF", claw="outer")
    assert "nobody has seen him then, so it clears nothing" in warned(entry, date(2026, 4, 2))


@pytest.mark.parametrize(
    ("entry", "why"),
    [
        (said("bull", born="2026-05-01"), "born 2026-05-01 is after"),
        (said("bull", born="2022-04-03", arrived="2021-01-01"), "before he was born"),
        (said("bull", arrived="2027-01-16"), "arrived 2027-01-16 is after the day of the entry"),
        (FULL["group"] | {"turnout": "2026-04-01"}, "turnout 2026-04-01 is before"),
        (FULL["vet-exam"] | {"again_on": "2026-04-01"}, "again on 2026-04-01 is before"),
        (FULL["vet-look"] | {"again_on": "2026-04-01"}, "is before the look (2026-04-03)"),
        (FULL["treatment"] | {"withdrawal_until": "2026-04-01"}, "before the treatment"),
        (
            FULL["check"] | {"valid_until": "2026-04-01"},
            "valid until 2026-04-01 ends before the check",
        ),
    ],
)
def test_days_in_the_wrong_order_are_warned_of(entry: Sample, why: str) -> None:
    assert why in warned(entry)


@pytest.mark.parametrize(
    "entry",
    [
        said("incident", cause="fight", lame=True),
        said("mobility", scale="gb0-3", score=0, limb="LF"),
    ],
)
def test_a_lame_bull_without_limb_and_a_sound_score_with_one_are_fine(entry: Sample) -> None:
    assert warned(entry) == ""
