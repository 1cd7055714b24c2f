"""Rule values of feet, walk and blocks against what was published.

The source stands beside each value. "Memory": of a published source, not read again. "Common
practice": no source. Figures of our own are no standard and are not in this file.
"""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from readiness.rules.load import default_rules
from readiness.trade.horn import months_of_growth

RULES = default_rules().common
LIMITS = RULES.limits


def days_from(start: str, days: int) -> str:
    return (date.fromisoformat(start) + timedelta(days=days)).isoformat()


def test_block_looked_at_after_28_days_and_off_by_42() -> None:
    """AHDB, How to block a lame cow's foot (28 days); NZ dairy hoof-care training (4-6 weeks)."""
    fitted = "2026-03-01"
    assert days_from(fitted, LIMITS.block_least) == "2026-03-29"
    assert days_from(fitted, LIMITS.block_most) == "2026-04-12"


def test_feet_and_vet_before_turnout() -> None:
    """SRUC guidance (8 weeks, never the last 7 days); QMS 2014 (vet 8 to 4 weeks before)."""
    turnout = "2026-05-01"
    assert days_from(turnout, -LIMITS.feet_advised) == "2026-03-06"
    assert days_from(turnout, -LIMITS.feet_due) == "2026-04-24"
    assert days_from(turnout, -LIMITS.vet_advised_first) == "2026-03-06"
    assert days_from(turnout, -LIMITS.vet_advised_last) == "2026-04-03"


@pytest.mark.parametrize("code", ["SU", "BU"])
@pytest.mark.parametrize(
    ("severity", "healed"), [(1, "2026-03-26"), (2, "2026-04-03"), (3, "2026-04-12")]
)
def test_ulcer_earliest_healed(code: str, severity: int, healed: str) -> None:
    """Lischer et al. 2001: 25, 33 and 42 days until an ulcer is covered."""
    assert days_from("2026-03-01", RULES.findings[code].clear[severity - 1]) == healed


@pytest.mark.parametrize("code", ["SU", "BU"])
def test_ulcer_looked_at_after_28_days(code: str) -> None:
    """AHDB, How to block a lame cow's foot."""
    assert [days_from("2026-03-01", day) for day in RULES.findings[code].looks] == ["2026-03-29"]


def test_foul_looked_at_and_vet_called_after_3_days() -> None:
    """MSD Veterinary Manual."""
    foul = RULES.findings["IP"]
    assert (foul.looks, foul.clear, foul.vet_open) == ((3,), (7, 7, 7), 3)


def test_white_line_abscess_first_look() -> None:
    """Memory: first look 7-14 days."""
    assert 7 <= RULES.findings["WLA"].looks[0] <= 14


def test_white_line_fissure_pared_clean_needs_no_look_when_slight() -> None:
    """Common practice."""
    assert [RULES.findings["WLF"].holds(severity, None) for severity in (1, 2, 3)] == [
        False, True, True,
    ]  # fmt: skip


def test_swelling_is_the_vet_s_from_the_first() -> None:
    """Common practice; AABP guidance 2019 names one-sided swelling."""
    assert RULES.findings["SW"].vet_from == 1


@pytest.mark.parametrize(
    ("scale", "low", "worst", "lame"),
    [
        ("gb0-3", 0, 3, 2),  # AHDB mobility scoring guide; Tunstall et al. 2020 in beef cattle
        ("five1-5", 1, 5, 3),  # Sprecher et al. 1997; Espejo et al. 2006: 3 and over lame
        ("nz0-3", 0, 3, 2),  # DairyNZ lameness guidance
    ],
)
def test_lame_from(scale: str, low: int, worst: int, lame: int) -> None:
    walk = RULES.mobility[scale]
    assert (walk.low, walk.worst, walk.lame) == (low, worst, lame)


def test_a_lame_foot_is_lifted_within_48_hours_and_24_at_the_worst() -> None:
    """Leach et al. 2012, Vet J 193:626 (48 h); DairyNZ guidance (48 h; 24 h at score 3)."""
    assert (LIMITS.lame_lift * 24, LIMITS.lame_lift_worst * 24) == (48, 24)


def test_lame_for_longer_than_14_days_is_the_vet_s() -> None:
    """AABP guidance 2019."""
    assert LIMITS.lame_long == 14


@pytest.mark.parametrize(("sole_mm", "thin"), [(4, True), (5, False), (7, False)])
def test_thin_sole(sole_mm: int, thin: bool) -> None:
    """NACFT: 5-7 mm at the toe is the least; 4 mm is thin, 7 mm is not."""
    assert (sole_mm < LIMITS.sole_thin) is thin


@pytest.mark.parametrize(
    ("mm", "months"),
    [
        (20, 4.0),  # a groove 20 mm below the coronet
        (75, 15.0),  # the wall that leaves about 6 mm of sole (Archer et al. 2015)
        (90, 18.0),  # the wall that suits 96 % of claws (Archer et al. 2015, Vet Rec 177:222)
    ],
)
def test_age_of_horn(mm: float, months: float) -> None:
    """5 mm a month: MSD Veterinary Manual; Greenough."""
    assert months_of_growth(mm, RULES.values["horn.growth"].value) == months


def test_horn_that_does_not_grow_has_no_age() -> None:
    with pytest.raises(ValueError, match="more than 0"):
        months_of_growth(20, 0)


def test_what_calls_the_vet_beside_findings_names_its_source() -> None:
    """Worst score: AHDB mobility scoring guide (further professional advice). Lame with nothing
    found in the foot: NACFT code. Over 14 days lame: AABP guidance 2019. All published."""
    for rule, source in (
        ("vet.worst_walk", "AHDB"), ("vet.nothing_found", "NACFT"), ("lame.long", "AABP"),
    ):  # fmt: skip
        value = default_rules().common.values[rule]
        assert value.standing == "published" and source in value.source
