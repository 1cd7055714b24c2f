"""Walk scores, lameness, pain relief: published figures, as the assessment gives them. The source
stands beside each."""

from __future__ import annotations

from typing import Any

import pytest

from readiness.entries.validate import validate
from readiness.report.blame import asked_first
from tests.build import RULES, assessed, check, iso, lift, said, ulcer, walk
from tests.standards.told import (
    CONDITION,
    EXAM,
    FEET,
    TURNOUT,
    advised,
    asked,
    first_day,
    held_for,
    ready,
)

# ---- which score is lame ---------------------------------------------------------------------

AHDB = [(0, False), (1, False), (2, True), (3, True)]
SPRECHER = [(1, False), (2, False), (3, True), (4, True), (5, True)]
DAIRY_NZ = AHDB


@pytest.mark.parametrize(
    ("scale", "score", "lame"),
    [
        *(("gb0-3", *row) for row in AHDB),  # AHDB mobility scoring guide; Tunstall et al. 2020
        *(("five1-5", *row) for row in SPRECHER),  # Sprecher et al. 1997; Espejo et al. 2006
        *(("nz0-3", *row) for row in DAIRY_NZ),  # DairyNZ lameness guidance
    ],
)
def test_a_score_is_lame_where_its_scale_says_so(scale: str, score: int, lame: bool) -> None:
    """All published: impaired (2) on the AHDB and NZ scales, moderately lame (3) of five."""
    bull = assessed("2026-04-01", walk("2026-04-01", score, scale=scale))
    assert (f"mobility.lame.{scale}" in held_for(bull)) is lame


@pytest.mark.parametrize(
    ("scale", "score", "words"),
    [
        ("gb0-3", 4, "0 to 3"),  # AHDB
        ("five1-5", 0, "1 to 5"),  # Sprecher et al. 1997
        ("five1-5", 6, "1 to 5"),
        ("nz0-3", 4, "0 to 3"),  # DairyNZ
    ],
)
def test_a_score_off_its_scale_is_refused_with_the_scale_s_range(
    scale: str, score: int, words: str
) -> None:
    content, problems = validate(walk("2026-04-01", score, scale=scale))
    assert content is None
    assert [words in problem.text for problem in problems] == [True]


# ---- the foot of a lame bull -----------------------------------------------------------------


@pytest.mark.parametrize(
    ("scale", "score", "due"),
    [
        ("gb0-3", 2, "2026-04-03"),  # Leach et al. 2012, Vet J 193:626: treated within 48 h
        ("nz0-3", 2, "2026-04-03"),  # DairyNZ: within 48 h
        ("nz0-3", 3, "2026-04-02"),  # DairyNZ: within 24 h
    ],
)
def test_a_lame_bull_s_foot_is_lifted_within_48_hours_the_worst_within_24(
    scale: str, score: int, due: str
) -> None:
    """All published. Lame on 1 April 2026."""
    lifting = check(
        assessed("2026-04-01", walk("2026-04-01", score, scale=scale, limb="LH")), "lift"
    )
    assert (lifting.feet, iso(lifting.due)) == (("LH",), due)


def test_the_foot_is_lifted_before_a_joint_is_blamed() -> None:
    """NADIS, of dairy cattle: about 90 % of lameness comes from the foot (published)."""
    blamed = said("incident", "2026-04-01", cause="fight", lame=True, limb="LF", suspect="shoulder")
    words = asked_first([blamed], RULES.common, ())
    assert words is not None and "Lift LF before the shoulder is believed: about 90 %" in words
    assert check(assessed("2026-04-01", blamed), "lift").feet == ("LF",)


# ---- the vet ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("scale", "score", "vet"),
    [
        ("gb0-3", 2, False),
        ("gb0-3", 3, True),  # AHDB: urgent attention, further professional advice
        ("five1-5", 4, False),
        ("five1-5", 5, True),  # AABP guidance 2019: severe lameness
    ],
)
def test_the_worst_walk_is_the_vet_s_at_once(scale: str, score: int, vet: bool) -> None:
    """Both published."""
    bull = assessed("2026-04-01", walk("2026-04-01", score, scale=scale, limb="LH"))
    assert ("vet.worst_walk" in held_for(bull)) is vet


@pytest.mark.parametrize(("on", "vet"), [("2026-04-15", False), ("2026-04-16", True)])
def test_lame_for_more_than_14_days_is_the_vet_s(on: str, vet: bool) -> None:
    """AABP guidance 2019: severe lameness over 14 days (published; that any lameness counts is a
    project choice). Lame on 1 April 2026, lifted, an ulcer found."""
    lame = walk("2026-04-01", 2, limb="LH")
    bull = assessed(on, lame, lift("2026-04-01", "LH", findings=ulcer(1)))
    assert ("lame.long" in held_for(bull)) is vet


@pytest.mark.parametrize(("found", "vet"), [((), True), (ulcer(1), False)])
def test_lame_with_nothing_found_in_the_foot_is_the_vet_s(found: Any, vet: bool) -> None:
    """NACFT code (published)."""
    lifted = lift("2026-04-02", "LH", findings=list(found))
    bull = assessed("2026-04-02", walk("2026-04-01", 2, limb="LH"), lifted)
    assert ("vet.nothing_found" in held_for(bull)) is vet


@pytest.mark.parametrize(("on", "told"), [("2026-04-03", False), ("2026-04-04", True)])
def test_lame_for_four_days_since_the_examination_is_told(on: str, told: bool) -> None:
    """From memory of a press report on Barth & Waldner 2002, Can Vet J 43:274: lame for 4 days and
    more, semen suffers. Examined on 10 March, lame from 1 April 2026."""
    bull = assessed(on, EXAM, walk("2026-04-01", 2, limb="LH"))
    assert ("vet.lame_days" in advised(bull)) is told


@pytest.mark.parametrize(("score", "words"), [(2, "ask a vet"), (3, "not to be loaded")])
def test_a_lame_bull_is_not_loaded_without_a_vet_and_the_worst_not_at_all(
    score: int, words: str
) -> None:
    """A New Zealand veterinary practice: score 3 cannot travel, score 2 only with a vet's
    certificate; Regulation (EC) 1/2005 as retained, Annex I (published)."""
    bull = assessed("2026-04-01", walk("2026-04-01", score, scale="nz0-3"))
    (text,) = [remark.text for remark in bull.advice if remark.rule == "lame.transport"]
    assert words in text


# ---- when lameness ends ----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("later", "lame"),
    [
        ([("2026-04-20", 2)], True),
        ([("2026-04-20", 2), ("2026-04-27", 2)], False),
        ([("2026-04-20", 1)], False),
        ([("2026-04-19", 1)], True),
    ],
)
def test_lameness_ends_at_the_best_score_or_the_second_sound_one(
    later: list[tuple[str, int]], lame: bool
) -> None:
    """Thomas et al. 2015: a cure counts only at the best score (published); the week between, and
    that a second sound score will do, are project choices. 3 of five on 13 April 2026."""
    scores = [
        walk("2026-04-13", 3, scale="five1-5"),
        *(walk(on, s, scale="five1-5") for on, s in later),
    ]
    bull = assessed("2026-04-28", *scores)
    assert ("mobility.lame.five1-5" in held_for(bull)) is lame


# ---- what hides or strains -------------------------------------------------------------------

BUT_THE_WALK = (FEET, CONDITION, EXAM)


def given(on: str, product: str, **more: Any) -> dict[str, Any]:
    return said("treatment", on, given_by="vet", product=product, **more)


@pytest.mark.parametrize(
    ("product", "reason", "walk_from"),
    [
        ("meloxicam by mouth", None, "2026-04-21"),
        ("KETOPROFEN", None, "2026-04-21"),
        ("injection", "NSAID after trimming", "2026-04-21"),
        ("injection", "pain relief", "2026-04-21"),
        ("a drench for worms", None, "2026-04-17"),
    ],
)
def test_the_walk_that_counts_waits_for_pain_relief_to_wear_off(
    product: str, reason: str | None, walk_from: str
) -> None:
    """Vet Med Res Rep: 26 of 28 cattle still had a lower lameness score three days after one dose
    of meloxicam by mouth (published); the seven days, and the words by which it is known, are a
    project choice. Given 14 April 2026."""
    dose = given("2026-04-14", product, **({"reason": reason} if reason else {}))
    bull = assessed("2026-04-15", *BUT_THE_WALK, dose, turnout=TURNOUT)
    assert first_day(bull, "mobility") == walk_from


@pytest.mark.parametrize(("walked", "counts"), [("2026-04-17", False), ("2026-04-21", True)])
def test_a_walk_three_days_after_meloxicam_does_not_count(walked: str, counts: bool) -> None:
    """As above: on the third day it is still masked."""
    dose = given("2026-04-14", "meloxicam")
    bull = assessed("2026-04-24", *BUT_THE_WALK, dose, walk(walked, 0), turnout=TURNOUT)
    assert ("mobility" not in asked(bull)) is counts


@pytest.mark.parametrize(("walked", "counts"), [("2026-04-20", False), ("2026-04-21", True)])
def test_a_strained_back_is_taken_from_work_for_a_week(walked: str, counts: bool) -> None:
    """A vet in the Irish farm press: a week to ten days (published). Fell on 14 April 2026."""
    fall = said("incident", "2026-04-14", cause="fall", suspect="back")
    bull = assessed("2026-04-24", *BUT_THE_WALK, fall, walk(walked, 0), turnout=TURNOUT)
    assert ("mobility" not in asked(bull)) is counts


def test_the_bull_who_has_done_all_is_go() -> None:
    """Else a test that he is held would pass for another reason than its own."""
    bull = ready("2026-04-24")
    assert (bull.status, bull.reasons, bull.outstanding, bull.advice) == ("GO", (), (), ())
