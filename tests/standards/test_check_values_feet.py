"""Feet, blocks and lameness: the days that published guidance gives, through the whole assessment.

The source stands beside each test, with its standing where it is not published."""

from __future__ import annotations

import pytest

from tests.engine.cases import assessed, check, iso, lift, said, ulcer

BLOCK = said("block-on", "2026-03-01", foot="LH", claw="inner")


def test_a_block_is_looked_at_from_28_days_and_off_by_42() -> None:
    """28 days: AHDB, "How to block a lame cow's foot". 42: New Zealand dairy hoof-care training, 4
    to 6 weeks. Fitted 1 March 2026: from 29 March, off by 12 April."""
    off = check(assessed("2026-03-02", BLOCK), "block-off")
    assert (iso(off.not_before), iso(off.due)) == ("2026-03-29", "2026-04-12")
    assert off.standing == "published"


def test_a_block_that_is_still_on_after_42_days_is_overdue() -> None:
    """As above: the 42nd day is the last, the 43rd is late."""
    assert not check(assessed("2026-04-12", BLOCK), "block-off").overdue
    assert check(assessed("2026-04-13", BLOCK), "block-off").overdue


def test_the_walk_that_counts_waits_seven_days_after_the_block() -> None:
    """Project choice: 7 days to settle. No published figure."""
    bull = assessed("2026-03-02", BLOCK, turnout="2026-05-01")
    assert iso(check(bull, "block-off").not_after) == "2026-04-24"


@pytest.mark.parametrize(
    ("severity", "healed"), [(1, "2026-03-26"), (2, "2026-04-03"), (3, "2026-04-12")]
)
def test_a_sole_ulcer_is_healed_no_sooner_than_horn_covers_it(severity: int, healed: str) -> None:
    """Lischer et al. 2001: days until horn covers it, 25, 33 and 42. Found 1 March 2026."""
    bull = assessed("2026-03-01", lift("2026-03-01", "LH", findings=ulcer(severity)))
    assert iso(check(bull, "clear").not_before) == healed


def test_a_sole_ulcer_is_looked_at_after_28_days() -> None:
    """28 days: AHDB. A look counts from a quarter of the interval before (project choice)."""
    bull = assessed("2026-03-01", lift("2026-03-01", "LH", findings=ulcer(2)))
    look = check(bull, "look")
    assert (iso(look.not_before), iso(look.due)) == ("2026-03-22", "2026-04-05")


def test_an_ulcer_said_healed_too_soon_still_holds() -> None:
    """Lischer et al. 2001, moderate: 33 days. Said on the 32nd: a look; on the 33rd: it ends."""
    healed = [{"foot": "LH", "claw": "outer", "code": "SU"}]
    found = lift("2026-03-01", "LH", findings=ulcer(2))
    early = assessed("2026-04-10", found, lift("2026-04-02", "LH", healed=healed))
    in_time = assessed("2026-04-10", found, lift("2026-04-03", "LH", healed=healed))
    assert [reason.code for reason in early.reasons] == ["SU"]
    assert in_time.reasons == ()


@pytest.mark.parametrize(("score", "due"), [(2, "2026-04-03"), (3, "2026-04-02")])
def test_a_lame_bull_is_lifted_within_48_hours_and_the_worst_within_24(
    score: int, due: str
) -> None:
    """DairyNZ: score 2 within 48 hours, score 3 within 24. Leach et al. 2012, Vet J 193:626,
    treated score 2 within 48 hours. Lame on 1 April 2026."""
    walk = said("mobility", "2026-04-01", scale="nz0-3", score=score, limb="LH")
    lift_him = check(assessed("2026-04-01", walk), "lift")
    assert (lift_him.feet, iso(lift_him.due)) == (("LH",), due)


def test_the_worst_walk_asks_for_a_vet() -> None:
    """AHDB mobility scoring guide: score 3 asks for further professional advice.
    AABP guidance 2019: severe lameness is the vet's."""
    walk = said("mobility", "2026-04-01", scale="gb0-3", score=3, limb="LH")
    assert check(assessed("2026-04-01", walk), "vet-look").who == "vet"


def test_a_bull_lame_for_more_than_14_days_asks_for_a_vet() -> None:
    """AABP guidance 2019: lame over 14 days. Lame on 1 April, lifted, an ulcer found."""
    walk = said("mobility", "2026-04-01", scale="gb0-3", score=2, limb="LH")
    found = lift("2026-04-01", "LH", findings=ulcer(1))
    assert "vet-look" not in [c.check for c in assessed("2026-04-15", walk, found).outstanding]
    asked = check(assessed("2026-04-16", walk, found), "vet-look")
    assert (asked.rule, iso(asked.due)) == ("lame.long", "2026-04-17")


def test_foul_no_better_on_the_third_day_asks_for_a_vet() -> None:
    """MSD Veterinary Manual, interdigital phlegmon: no better in three days."""
    foul = [{"foot": "LH", "claw": "skin", "code": "IP"}]
    first = lift("2026-04-01", "LH", findings=foul)
    second_day = assessed("2026-04-03", first, lift("2026-04-03", "LH", findings=foul))
    third_day = assessed("2026-04-04", first, lift("2026-04-04", "LH", findings=foul))
    assert "vet-look" not in [c.check for c in second_day.outstanding]
    assert iso(check(third_day, "vet-look").due) == "2026-04-06"


def test_lame_with_nothing_found_in_the_feet_asks_for_a_vet() -> None:
    """NACFT code: lame with no cause found in the foot is referred to the vet."""
    walk = said("mobility", "2026-04-01", scale="gb0-3", score=2)
    bull = assessed("2026-04-02", walk, lift("2026-04-02"))
    assert iso(check(bull, "vet-look").due) == "2026-04-04"


def test_feet_are_lifted_by_eight_weeks_before_turnout() -> None:
    """SRUC guidance: at least 8 weeks before turnout (advised), and not the week before (due)."""
    feet = check(assessed("2026-01-10", turnout="2026-05-01"), "feet")
    assert (iso(feet.advised_by), iso(feet.due)) == ("2026-03-06", "2026-04-24")


def test_five_point_locomotion_is_lame_from_3() -> None:
    """Sprecher, Hostetler & Kaneene 1997, Theriogenology 47:1178; Espejo et al. 2006."""
    held = [
        bool(
            assessed("2026-04-01", said("mobility", "2026-04-01", scale="five1-5", score=s)).reasons
        )
        for s in (1, 2, 3, 4, 5)
    ]
    assert held == [False, False, True, True, True]


def test_a_block_on_the_claw_with_the_finding_comes_off_within_two_days() -> None:
    """Contraindicated: AHDB; the two days are a project choice. Found 1 April under the block."""
    block = said("block-on", "2026-03-20", foot="LH", claw="outer")
    off = check(
        assessed("2026-04-01", block, lift("2026-04-01", "LH", findings=ulcer(1))), "block-off"
    )
    assert (iso(off.not_before), iso(off.due)) == ("2026-04-01", "2026-04-03")
