"""What is done how long before turnout: published days, as the assessment gives them. The source
stands beside each. Turnout is on 1 May."""

from __future__ import annotations

import pytest

from tests.build import assessed, check, exam, iso, lift
from tests.standards.told import EXAM, FEET, TURNOUT, advised, asked, first_day, ready

TRIMMED = [{"foot": "LF", "claw": "outer", "act": "trim"}]


def test_feet_are_advised_eight_weeks_before() -> None:
    """SRUC guidance: any trimming at least 8 weeks before (published; that all four feet are lifted
    then is a project choice)."""
    feet = check(assessed("2026-01-10", turnout=TURNOUT), "feet")
    assert (iso(feet.advised_by), feet.feet) == ("2026-03-06", ("LF", "RF", "LH", "RH"))


@pytest.mark.parametrize(("on", "told"), [("2026-03-06", False), ("2026-03-07", True)])
def test_feet_not_done_eight_weeks_before_are_told(on: str, told: bool) -> None:
    """As above."""
    assert ("feet.advised" in advised(assessed(on, turnout=TURNOUT))) is told


def test_feet_are_due_before_the_last_week() -> None:
    """SRUC guidance: not the week before (published)."""
    assert iso(check(assessed("2026-01-10", turnout=TURNOUT), "feet").due) == "2026-04-24"


@pytest.mark.parametrize(("trimmed", "told"), [("2026-04-24", False), ("2026-04-25", True)])
def test_a_trim_in_the_last_week_is_told(trimmed: str, told: bool) -> None:
    """As above."""
    bull = ready("2026-04-28", lift(trimmed, "LF", work=TRIMMED))
    assert ("feet.due" in advised(bull)) is told


@pytest.mark.parametrize(
    ("turnout", "first"), [("2026-05-01", "2026-03-02"), ("2027-05-01", "2027-03-02")]
)
def test_the_vet_s_examination_counts_from_60_days_before(turnout: str, first: str) -> None:
    """NDSU, EBLEX/AHDB: 30-60 days before; one source: passed within 60 days (published)."""
    bull = assessed(f"{turnout[:4]}-01-10", turnout=turnout)
    assert first_day(bull, "vet-exam") == first


@pytest.mark.parametrize(("on", "stands"), [("2026-03-01", False), ("2026-03-02", True)])
def test_a_result_older_than_60_days_at_turnout_is_asked_for_again(on: str, stands: bool) -> None:
    """As above: the 60th day still counts, the 61st does not."""
    bull = assessed("2026-04-01", exam(on), turnout=TURNOUT)
    assert ("vet-exam" not in asked(bull)) is stands


@pytest.mark.parametrize(
    ("turnout", "last"), [("2026-05-01", "2026-04-03"), ("2027-05-01", "2027-04-03")]
)
def test_the_vet_s_examination_is_advised_to_four_weeks_before(turnout: str, last: str) -> None:
    """QMS 2014: 4-8 weeks before (published)."""
    bull = assessed(f"{turnout[:4]}-01-10", turnout=turnout)
    assert iso(check(bull, "vet-exam").advised_by) == last


@pytest.mark.parametrize(("on", "told"), [("2026-04-03", False), ("2026-04-04", True)])
def test_an_examination_not_done_four_weeks_before_is_told(on: str, told: bool) -> None:
    """As above."""
    assert ("vet.advised" in advised(assessed(on, FEET, turnout=TURNOUT))) is told


def test_an_examination_seven_weeks_before_is_in_time_for_all_of_them() -> None:
    """Inside 4-8 weeks (QMS 2014) and 30-60 days (NDSU, EBLEX/AHDB): neither asked nor told."""
    bull = assessed("2026-04-10", FEET, EXAM, turnout=TURNOUT)
    assert "vet-exam" not in asked(bull) and "vet.advised" not in advised(bull)
