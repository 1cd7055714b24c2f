"""Findings of the feet: when they are looked at, believed healed, and the vet's. Published or
remembered figures, as the assessment gives them; the source stands beside each."""

from __future__ import annotations

import pytest

from tests.build import assessed, lift
from tests.standards.told import (
    asked,
    first_day,
    found,
    healed,
    held_for,
    last_day,
    measured,
    warned,
)

# ---- sole ulcer ------------------------------------------------------------------------------

COVERED = [
    (1, "2026-03-25", "2026-03-26"),
    (2, "2026-04-02", "2026-04-03"),
    (3, "2026-04-11", "2026-04-12"),
]


@pytest.mark.parametrize(
    ("severity", "healed_from"), [(severity, first) for severity, _, first in COVERED]
)
def test_an_ulcer_is_not_planned_as_healed_before_horn_covers_it(
    severity: int, healed_from: str
) -> None:
    """Lischer et al. 2001, tied dairy cows: 25, 33 and 42 days to a closed layer of horn
    (published). Found 1 March 2026."""
    bull = assessed("2026-03-01", found("2026-03-01", "SU", severity=severity))
    assert first_day(bull, "clear") == healed_from


@pytest.mark.parametrize(("severity", "before", "healed_from"), COVERED)
def test_an_ulcer_said_healed_a_day_too_soon_holds_on(
    severity: int, before: str, healed_from: str
) -> None:
    """As above: the day before is a look, the day itself ends it."""
    first = found("2026-03-01", "SU", severity=severity)
    assert "SU" in held_for(assessed(before, first, healed(before, "SU")))
    assert "SU" not in held_for(assessed(healed_from, first, healed(healed_from, "SU")))


def test_an_ulcer_is_looked_at_at_four_weeks() -> None:
    """AHDB, How to block a lame cow's foot: looked at again at four weeks (published). Found 1
    March: 29 March, a quarter of the time sooner or later (project choice)."""
    bull = assessed("2026-03-01", found("2026-03-01", "SU", severity=2))
    assert (first_day(bull, "look"), last_day(bull, "look")) == ("2026-03-22", "2026-04-05")


# ---- foul ------------------------------------------------------------------------------------

FOUL = found("2026-03-01", "IP", claw="skin")


def test_foul_is_looked_at_after_three_days() -> None:
    """MSD Veterinary Manual (published). Found 1 March 2026: on 4 March, a day late at most."""
    bull = assessed("2026-03-01", FOUL)
    assert (first_day(bull, "look"), last_day(bull, "look")) == ("2026-03-04", "2026-03-05")


@pytest.mark.parametrize(("said_on", "holds"), [("2026-03-07", True), ("2026-03-08", False)])
def test_foul_said_healed_before_a_week_holds_on(said_on: str, holds: bool) -> None:
    """MSD Veterinary Manual: healed from 7 days (published)."""
    bull = assessed(said_on, FOUL, healed(said_on, "IP", claw="skin"))
    assert ("IP" in held_for(bull)) is holds


@pytest.mark.parametrize(("again", "vet"), [("2026-03-03", False), ("2026-03-04", True)])
def test_foul_no_better_on_the_third_day_is_the_vet_s(again: str, vet: bool) -> None:
    """MSD Veterinary Manual: no better at 3 days (published). A success is not lame on day 4."""
    bull = assessed(again, FOUL, found(again, "IP", claw="skin"))
    assert ("vet-look" in asked(bull)) is vet


# ---- other findings --------------------------------------------------------------------------


def test_a_white_line_abscess_is_first_looked_at_at_7_to_14_days() -> None:
    """From memory: 7-14 days. Found 1 March 2026: 8 March, with its slack."""
    bull = assessed("2026-03-01", found("2026-03-01", "WLA"))
    assert (first_day(bull, "look"), last_day(bull, "look")) == ("2026-03-07", "2026-03-10")


@pytest.mark.parametrize(
    ("code", "severity", "holds"),
    [("CC", 2, False), ("CC", 3, True), ("SC", 2, False), ("SC", 3, True)],
)
def test_an_extreme_screw_or_scissor_claw_holds(code: str, severity: int, holds: bool) -> None:
    """American Angus foot score guidelines: an extreme one is scored unsound (published; that
    severe is meant is our reading)."""
    bull = assessed("2026-03-01", found("2026-03-01", code, severity=severity))
    assert (code in held_for(bull)) is holds


def test_a_one_sided_swelling_is_the_vet_s_at_once() -> None:
    """AABP guidance 2019 names it (published): asked for on the day it is found."""
    bull = assessed("2026-03-01", found("2026-03-01", "SW", claw="skin", severity=1))
    assert "finding.SW.vet_from" in held_for(bull)


@pytest.mark.parametrize(
    ("stage", "holds"),
    [("M0", False), ("M1", True), ("M2", True), ("M3", False), ("M4", False), ("M4.1", True)],
)
def test_an_active_stage_of_digital_dermatitis_holds(stage: str, holds: bool) -> None:
    """Döpfer et al.; Berry et al. 2012 (published): M1 and M2 are active, M3 heals, M4 is chronic,
    M4.1 chronic with a new active spot. That the active ones hold is a project choice."""
    bull = assessed("2026-03-01", found("2026-03-01", "DD", claw="skin", stage=stage))
    assert ("DD" in held_for(bull)) is holds


@pytest.mark.parametrize(("size", "stage"), [(15, "M1"), (19, "M1"), (20, "M2"), (25, "M2")])
def test_an_active_spot_written_as_the_other_stage_is_warned_of(size: int, stage: str) -> None:
    """Berry et al. 2012: active under 2 cm is M1, 2 cm and over M2 (published)."""
    other = {"M1": "M2", "M2": "M1"}[stage]
    right = found("2026-03-01", "DD", claw="skin", stage=stage, size_mm=size)
    wrong = found("2026-03-01", "DD", claw="skin", stage=other, size_mm=size)
    assert warned(right) == []
    (text,) = warned(wrong)
    assert f"is {stage} by its size" in text


# ---- measured horn ---------------------------------------------------------------------------


@pytest.mark.parametrize(("sole", "thin"), [(4, True), (4.5, True), (5, False), (7, False)])
def test_a_sole_of_5_mm_is_the_thinnest_that_does_not_hold(sole: float, thin: bool) -> None:
    """NACFT: 5-7 mm at the toe is the least (published); 5 is its lax end. So 4 mm is thin, 7 is
    not, and measured so is found so."""
    bull = assessed("2026-03-01", measured("2026-03-01", sole_mm=sole))
    assert ("TS" in held_for(bull)) is thin


@pytest.mark.parametrize(("wall", "short"), [(75, True), (89.5, True), (90, False), (103, False)])
def test_a_wall_under_90_mm_is_not_to_be_shortened(wall: float, short: bool) -> None:
    """Archer et al. 2015, Vet Rec 177:222: 90 mm suits 96 % of claws (published)."""
    warnings = warned(measured("2026-03-01", wall_mm=wall))
    assert [("do not shorten" in text) for text in warnings] == [True] * short


# ---- common practice -------------------------------------------------------------------------


@pytest.mark.parametrize(("severity", "holds"), [(1, False), (2, True)])
def test_a_slight_white_line_fissure_pared_clean_needs_no_further_look(
    severity: int, holds: bool
) -> None:
    """Common practice, no source."""
    pared = lift(
        "2026-03-01", "LH",
        findings=[{"foot": "LH", "claw": "outer", "code": "WLF", "severity": severity}],
        work=[{"foot": "LH", "claw": "outer", "act": "pare"}],
    )  # fmt: skip
    bull = assessed("2026-03-01", pared)
    assert ("WLF" in held_for(bull)) is holds
    assert ("clear" in asked(bull)) is holds
