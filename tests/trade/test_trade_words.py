"""Days, numbers and places in words."""

from __future__ import annotations

from datetime import date

import pytest

from readiness.trade.codes import CODES, STAGE_NAMES, STAGES, claw_words, finding_words
from readiness.trade.feet import ZONES, claws_overlap, feet_words, partner, spot_words
from readiness.trade.females import CALLED, FEMALES, HEIFERS, named_heifers, read_as, with_class
from readiness.trade.scales import CONDITION, MOBILITY
from readiness.trade.words import (
    day_words,
    days_words,
    full_day_words,
    list_words,
    near_day_words,
    number_words,
    plural,
    sentence,
    when_words,
)

TODAY = date(2026, 4, 3)


def test_a_day_carries_its_year_where_it_is_another() -> None:
    assert day_words(date(2026, 4, 9), TODAY) == "9 Apr"
    assert day_words(date(2027, 4, 9), TODAY) == "9 Apr 2027"
    assert full_day_words(TODAY) == "Fri 3 Apr 2026"


@pytest.mark.parametrize(
    ("day", "words"),
    [(3, "today"), (4, "tomorrow"), (2, "yesterday"), (9, "in 6 days"), (1, "2 days ago")],
)
def test_how_far_off_a_day_is(day: int, words: str) -> None:
    assert when_words(date(2026, 4, day), TODAY) == words


def test_a_near_day_in_a_column() -> None:
    days = [date(2026, 4, day) for day in (3, 4, 5, 2)]
    assert [near_day_words(day, TODAY) for day in days] == ["today", "tomorrow", "5 Apr", "2 Apr"]


def test_numbers_and_plurals() -> None:
    assert [plural(n, "bull") for n in (0, 1, 2)] == ["0 bulls", "1 bull", "2 bulls"]
    assert plural(2, "entry", "entries") == "2 entries"
    assert days_words(1) == "1 day"
    assert [number_words(n) for n in (3, 3.0, 3.25, 1e-07)] == ["3", "3", "3.25", "0.0000001"]


def test_rows_and_sentences() -> None:
    assert list_words(["a", "b", "c"]) == "a, b and c"
    assert list_words([]) == ""
    assert sentence("pared ") == "Pared."
    assert sentence("really?") == "Really?"
    assert sentence("  ") == ""


def test_feet_in_words() -> None:
    assert feet_words(["LF", "RF", "LH", "RH"]) == "all four feet"
    assert feet_words(["RH", "LF"]) == "RH and LF"
    assert spot_words("RH", "outer") == "RH outer"
    assert spot_words("RH", None) == "RH"
    assert spot_words("RH", "both") == "RH both claws"


def test_both_is_outer_and_inner() -> None:
    assert claws_overlap("both", "inner")
    assert claws_overlap("outer", "both")
    assert claws_overlap("skin", "skin")
    assert not claws_overlap("outer", "inner")
    assert not claws_overlap("both", "skin")
    assert (partner("outer"), partner("skin")) == ("inner", "skin")


def test_codes_say_where_they_belong() -> None:
    """ICAR Claw Health Atlas: which findings are of the claw's horn and which of the skin."""
    skin = {code for code in CODES if claw_words(code) == ("skin",)}
    assert skin == {"DD", "ID", "IP", "IH", "SW"}
    assert claw_words("XX") == ("outer", "inner", "both", "skin")
    assert claw_words("SU") == ("outer", "inner", "both")
    assert len(CODES) == 23
    assert all(code.meaning.endswith(".") for code in CODES.values())


def test_findings_in_words() -> None:
    assert finding_words("SU", 2) == "sole ulcer, moderate"
    assert finding_words("DD", 1, "M2") == "digital dermatitis M2, slight"
    assert finding_words("WLF") == "white line fissure"
    assert set(STAGE_NAMES) == set(STAGES)


def test_zones_are_0_to_12() -> None:
    """International Lameness Committee (Kuopio 2008; partly from memory)."""
    assert sorted(ZONES) == list(range(13))


@pytest.mark.parametrize(
    ("scale", "scores"),
    [("gb0-3", [0, 1, 2, 3]), ("five1-5", [1, 2, 3, 4, 5]), ("nz0-3", [0, 1, 2, 3])],
)
def test_walk_scales_have_their_published_scores(scale: str, scores: list[int]) -> None:
    """AHDB mobility scoring guide; Sprecher et al. 1997; DairyNZ guidance."""
    assert [n / 4 for n in range(-4, 41) if MOBILITY[scale].has(n / 4)] == scores


def test_condition_goes_in_quarters_and_halves() -> None:
    five = [n / 8 for n in range(0, 81) if CONDITION["five"].has(n / 8)]
    nine = [n / 8 for n in range(0, 81) if CONDITION["nine"].has(n / 8)]
    assert five == [1 + n / 4 for n in range(17)]
    assert nine == [1 + n / 2 for n in range(17)]


@pytest.mark.parametrize(
    "name",
    [
        "Bullers", "Maidens", "maiden hfrs", "Hfrs", "R2 hfr", "R2heifers", "HEIFERS",
        "Young heifer", "Bulling heifers", "No 2 heifers", "No. 3 Heifers", "Suckler heifers",
        "Heifers (not in calf)", "Youngheifers",
    ],
)  # fmt: skip
def test_a_name_with_a_word_for_heifers_makes_a_group_of_them(name: str) -> None:
    """As cows they would get a bull that is not safe with heifers."""
    assert with_class({"group": name}) == {"group": name, "class": HEIFERS}
    assert with_class({"group": name, "class": "cows"})["class"] == "cows"


@pytest.mark.parametrize(
    "name",
    [
        "Cows (ex heifers)",
        "Not heifers",
        "ex heifers",
        "Ex-heifers",
        "Exheifers",
        "non-hfrs",
        "Former maiden heifers",
        "No heifers",
        "Cows and heifers",
        "Maidens and sucklers",
    ],
)
def test_a_name_that_says_both_or_takes_it_back_is_not_of_heifers_in_silence(name: str) -> None:
    assert not named_heifers(name)
    assert read_as(name) == (
        f"{name}: a new one is of cows, though its name speaks of heifers; say which."
    )


@pytest.mark.parametrize("name", ["Hill cows", "Fullers", "Maiden Fell", "Bullerswood", "Late"])
def test_a_name_without_a_word_for_heifers_is_of_cows(name: str) -> None:
    assert with_class({"group": name}) == {"group": name}
    assert read_as(name) == f"{name}: a new one is of cows."


def test_a_name_reads_the_words_that_are_read_where_the_class_is_said() -> None:
    assert [of for of, _ in CALLED] == list(FEMALES)
    assert all(map(named_heifers, dict(CALLED)[HEIFERS]))
    assert not any(map(named_heifers, dict(CALLED)["cows"]))
