"""Rule values of the vet's examination, condition and quarantine against what was published.

The source stands beside each value. "Memory": of a published source, not read again.
"""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from readiness.rules.load import default_rules
from readiness.trade.condition import five_to_nine, nine_to_five, on_other_scale

RULES = default_rules().common
LIMITS = RULES.limits


def days_from(start: str, days: int) -> str:
    return (date.fromisoformat(start) + timedelta(days=days)).isoformat()


@pytest.mark.parametrize(
    ("months", "least"),
    [(12, 30), (15, 30), (16, 31), (18, 31), (19, 32), (21, 32), (24, 33), (25, 34), (30, 34)],
)
def test_least_scrotum_by_age(months: int, least: float) -> None:
    """Society for Theriogenology values in veterinary pages; upper age inclusive: memory."""
    assert RULES.least_scrotum(months) == least


def test_scrotum_of_31_9_cm_at_19_months_is_below_and_34_1_at_30_meets() -> None:
    """Society for Theriogenology values in veterinary pages."""
    assert RULES.least_scrotum(19) > 31.9
    assert RULES.least_scrotum(30) <= 34.1


def test_least_motility_and_normal_sperm() -> None:
    """SFT 2018, in AABP Proceedings 2022: 30 % and 70 %."""
    assert (LIMITS.motility_least, LIMITS.normal_least) == (30, 70)


@pytest.mark.parametrize(("nine", "five"), [(5, 3.0), (5.5, 3.25), (6, 3.5), (6.5, 3.75)])
def test_condition_on_the_other_scale(nine: float, five: float) -> None:
    """Ferguson: five = (nine + 1) / 2."""
    assert nine_to_five(nine) == five
    assert five_to_nine(five) == nine


def test_condition_on_the_other_scale_says_that_it_is_derived() -> None:
    """Ferguson's formula; a stored score is never converted."""
    assert on_other_scale("nine", 5.5) == "3.25 on condition 1-5 (derived)"
    assert on_other_scale("five", 3) == "5 on condition 1-9 (derived)"


def test_condition_at_turnout_is_on_target() -> None:
    """3.0 on the five-point scale: SRUC, Teagasc; 5.5-6.5 on the nine-point scale: UNL."""
    for scale, scores in (("five", (3.0,)), ("nine", (5.5, 6.5))):
        low, high = RULES.condition[scale].target
        assert all(low <= score <= high for score in scores)


def test_days_before_turnout() -> None:
    """NDSU, EBLEX/AHDB: 30-60 days; QMS 2014: 8 to 4 weeks. Turnout 1 May 2027."""
    turnout = "2027-05-01"
    assert days_from(turnout, -LIMITS.vet_oldest) == "2027-03-02"
    assert days_from(turnout, -LIMITS.vet_advised_first) == "2027-03-06"
    assert days_from(turnout, -LIMITS.vet_advised_last) == "2027-04-03"


def test_again_after_deferred() -> None:
    """Memory: at about 60 days."""
    assert days_from("2026-03-10", LIMITS.vet_again) == "2026-05-09"


@pytest.mark.parametrize(
    ("ill", "advised"), [("2026-03-10", "2026-05-10"), ("2027-02-01", "2027-04-03")]
)
def test_one_sperm_cycle_after_illness(ill: str, advised: str) -> None:
    """UNL: 61 days."""
    assert days_from(ill, LIMITS.vet_after_illness) == advised


def test_lame_for_four_days_tells_on_semen() -> None:
    """Press report on Barth & Waldner 2002."""
    assert LIMITS.vet_lame_days == 4


def test_quarantine_of_a_bought_bull() -> None:
    """SRUC: 21-28 days. Arrived 10 April 2026: free from 8 May."""
    assert days_from("2026-04-10", LIMITS.quarantine_days) == "2026-05-08"
