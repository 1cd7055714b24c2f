"""What is odd but may be true is taken in and warned of."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from readiness.entries import oddities_of, validate
from tests.entries.samples import FULL, Sample, feet, said


def warned(entry: Sample, today: date | None = None) -> str:
    """All warnings of an entry that is valid all the same."""
    assert validate(entry) == (entry, [])
    return "; ".join(oddities_of(entry, today))


def dd(**more: Any) -> Sample:
    return feet(findings=[{"foot": "LF", "claw": "skin", "code": "DD", **more}])


def horn(**more: Any) -> Sample:
    return feet(measures=[{"foot": "LF", "claw": "outer", **more}])


@pytest.mark.parametrize("kind", FULL)
def test_an_ordinary_entry_is_not_odd(kind: str) -> None:
    assert warned(FULL[kind], date(2026, 4, 3)) == ""


def test_a_wrong_check_digit_says_the_right_one() -> None:
    """Published run: UK 284205 600015."""
    assert "give 6" in warned(said("bull", bull="UK 284205 500015"))
    assert warned(said("bull", bull="UK 284205 600015")) == ""


def test_digital_dermatitis_without_stage_is_warned_of() -> None:
    assert "no stage" in warned(dd())
    assert warned(dd(stage="M2")) == ""


@pytest.mark.parametrize(
    ("size", "stage", "odd"),
    # Döpfer et al.; Berry et al. 2012: active under 2 cm is M1, 2 cm and over M2.
    [(15, "M1", False), (25, "M2", False), (15, "M2", True), (20, "M1", True), (20, "M2", False)],
)
def test_a_size_that_belongs_to_the_other_stage_is_warned_of(
    size: int, stage: str, odd: bool
) -> None:
    by_size = "M1" if size < 20 else "M2"
    assert (f"is {by_size} by its size" in warned(dd(stage=stage, size_mm=size))) == odd


def test_a_thin_sole_is_said() -> None:
    """NACFT: 5-7 mm least at the toe. 4 mm is thin, 7 is not."""
    assert "a thin sole" in warned(horn(sole_mm=4))
    assert warned(horn(sole_mm=7)) == ""
    assert warned(horn(sole_mm=5)) == ""


def test_a_wall_under_90_mm_is_said() -> None:
    """Archer et al. 2015, Vet Rec 177:222."""
    assert "do not shorten" in warned(horn(wall_mm=89.5))
    assert warned(horn(wall_mm=90)) == ""


def test_another_finding_wants_words() -> None:
    other = feet(findings=[{"foot": "LF", "claw": "outer", "code": "XX"}])
    assert "say what in the note" in warned(other)
    assert warned(other | {"note": "nail"}) == ""


def test_a_day_to_come_is_warned_of_where_today_is_known() -> None:
    entry = said("weight", kg=900)
    assert "3 Apr, a day still to come" in warned(entry, date(2026, 4, 2))
    assert warned(entry, date(2026, 4, 3)) == ""
    assert warned(entry) == ""


@pytest.mark.parametrize(
    ("entry", "why"),
    [
        (said("bull", born="2026-05-01"), "born 2026-05-01 is after"),
        (said("bull", born="2022-04-03", arrived="2021-01-01"), "before he was born"),
        (FULL["group"] | {"turnout": "2026-04-01"}, "turnout 2026-04-01 is before"),
        (FULL["vet-exam"] | {"again_on": "2026-04-01"}, "again on 2026-04-01 is before"),
        (FULL["vet-look"] | {"again_on": "2026-04-01"}, "is before the look (2026-04-03)"),
        (FULL["treatment"] | {"withdrawal_until": "2026-04-01"}, "before the treatment"),
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
