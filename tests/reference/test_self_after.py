"""The reference against cases worked by hand: figures of any outcome, blocks and wraps of which
nobody wrote that they were on, the worst score and its limb, and the walk after a vet's no."""

from __future__ import annotations

from typing import Any

import pytest

from .hand import (
    assessed,
    check,
    day,
    entry,
    examined,
    lift,
    looked,
    names,
    plain,
    sound,
    walk,
)
from .state import Entry

# Figures


def test_a_figure_good_enough_for_his_age_is_not_held_against_him_later() -> None:
    # born 10 December 2024: 30 cm are enough to 10 March 2026, then 31 (Society for Theriogenology)
    born = entry("bull", "2026-01-01", born="2024-12-10")
    for on, low in (("2026-03-10", False), ("2026-03-11", True)):
        exams = [examined(on, scrotum_cm=30.5), examined("2026-03-25")]
        bull = assessed(*sound(), born, *exams)
        assert (plain("vet-figures") in bull["reasons"]) is low


def without_exam() -> list[Entry]:
    return [told for told in sound() if told["kind"] != "vet-exam"]


@pytest.mark.parametrize("outcome", ["satisfactory", "deferred", "unsatisfactory"])
@pytest.mark.parametrize(("first", "low"), [("2026-01-19", True), ("2026-01-18", False)])
def test_a_low_figure_stands_as_long_as_its_own_examination_would_count(
    outcome: str, first: str, low: bool
) -> None:
    # 60 and 61 days to the last; the one in between gives nothing and is not the older one
    exams = [examined(first, outcome, motility_pct=50)]
    exams += [examined("2026-02-20"), examined("2026-03-20")]
    bull = assessed(*without_exam(), *exams)
    assert (plain("vet-figures") in bull["reasons"]) is low
    assert ("vet-exam" in names(bull)) is low


@pytest.mark.parametrize(
    ("then", "low"),
    [
        ({}, True),
        ({"motility_pct": 60}, False),
        ({"motility_pct": 59}, True),
        ({"normal_pct": 70}, True),
        ({"stands": True}, False),
        ({"stands": False}, True),
    ],
)
def test_what_replaces_a_low_figure_of_an_examination_that_was_deferred(
    then: dict[str, Any], low: bool
) -> None:
    exams = [examined("2026-03-01", "deferred", motility_pct=50), examined("2026-03-20", **then)]
    bull = assessed(*without_exam(), *exams)
    assert (plain("vet-figures") in bull["reasons"]) is low
    # a later one that gives nothing either changes nothing
    bull = assessed(*without_exam(), *exams, examined("2026-03-25"))
    assert (plain("vet-figures") in bull["reasons"]) is low


# Off, though nobody wrote that it was on

OFF = entry("block-off", "2026-04-01", foot="LH", claw="inner")


@pytest.mark.parametrize("lost", [{}, {"lost": True}])
def test_a_block_that_nobody_wrote_down_has_come_off_all_the_same(lost: dict[str, bool]) -> None:
    off = OFF | lost
    bull = assessed(*sound(), off)
    # a look within 3 days, a week to the walk
    assert (names(bull), bull["reasons"]) == (["block-look:LH:inner", "mobility"], set())
    look = check(bull, "block-look:LH:inner")
    assert (look["due"], look["feet"]) == (day("04-04"), [])
    assert check(bull, "mobility")["not_before"] == day("04-08")
    # lifted, it is settling that is wanting
    lifted = lift("2026-04-02", "LH")
    assert names(assessed(*sound(), off, lifted)) == ["mobility"]
    for on, wanting in (("2026-04-07", ["mobility"]), ("2026-04-08", [])):
        bull = assessed(*sound(), off, lifted, walk(on, 0), on="2026-04-08")
        assert names(bull) == wanting


def test_a_block_said_twice_to_be_off_was_on_again() -> None:
    on = entry("block-on", "2026-02-20", foot="LH", claw="inner")
    told = [*sound(), on, OFF | {"on": "2026-03-21"}, lift("2026-03-22", "LH")]
    assert assessed(*told)["status"] == "GO"
    assert names(assessed(*told, OFF)) == ["block-look:LH:inner", "mobility"]


@pytest.mark.parametrize(("walked", "lame"), [("2026-03-28", True), ("2026-03-29", False)])
def test_it_masks_a_walk_as_any_block_does(walked: str, lame: bool) -> None:
    off = entry("block-off", "2026-03-22", foot="LH", claw="inner")
    bull = assessed(walk("2026-03-15", 2, limb="RF"), off, walk(walked, 0))
    assert (plain("lame") in bull["reasons"]) is lame


def test_a_wrap_that_nobody_wrote_down_came_off_that_day() -> None:
    off = lift("2026-04-02", "LH", work=[{"foot": "LH", "act": "unwrap"}])
    # walked on 1 April
    bull = assessed(*sound(), off)
    assert (names(bull), bull["reasons"]) == (["mobility"], set())
    assert assessed(*sound(), off, walk("2026-04-02", 0))["status"] == "GO"
    # off and on again in one entry: it is on, as ever
    both = lift("2026-04-02", "LH", work=[{"foot": "LH", "act": a} for a in ("unwrap", "wrap")])
    assert assessed(*sound(), both)["reasons"] == {("wrap", "LH", None, None)}


# The worst score, and its limb


@pytest.mark.parametrize(
    ("limb", "foot", "asked"),
    [
        ({"limb": "LH"}, {"foot": "LH"}, False),
        ({"limb": "LH"}, {}, False),
        ({"limb": "LH"}, {"foot": "RF"}, True),  # lame on that one, too, in the same run
        ({}, {"foot": "RF"}, False),  # all four were asked for
        ({}, {"foot": "LH"}, False),
    ],
)
@pytest.mark.parametrize("about", ["foot", "lame"])
def test_a_look_at_another_limb_does_not_answer_the_worst_score(
    about: str, limb: dict[str, str], foot: dict[str, str], asked: bool
) -> None:
    told = [walk("2026-03-30", 2, limb="RF"), walk("2026-04-01", 3, **limb)]
    bull = assessed(*told, looked("2026-04-02", about, **foot))
    assert ("vet-look" in names(bull)) is asked
    if asked:
        assert check(bull, "vet-look")["due"] == day("04-03")
    # an examination at which he saw the feet names none
    seen = examined("2026-04-02", feet_seen=True)
    assert "vet-look" not in names(assessed(*told, seen))


def test_a_look_at_another_limb_answers_what_else_the_run_asked() -> None:
    # lame for more than 14 days since 18 March; the look of 1 April is at a foot it asked for
    told = [walk("2026-03-18", 2, limb="RF"), walk("2026-03-20", 2, limb="LH")]
    assert "vet-look" in names(assessed(*told))
    assert "vet-look" not in names(assessed(*told, looked("2026-04-01", "lame", foot="LH")))


# The walk after a vet's no


@pytest.mark.parametrize(
    ("unfit", "ends", "walked_again"),
    [
        (looked("2026-04-01", "foot", "unfit"), looked("2026-04-02", "foot"), True),
        (looked("2026-04-01", "lame", "unfit"), looked("2026-04-02", "foot"), True),
        (
            looked("2026-04-01", "foot", "unfit", foot="LF"),
            looked("2026-04-02", "lame", foot="LF"),
            True,
        ),
        (
            looked("2026-04-01", "lame", "unfit"),
            examined("2026-04-02", feet_seen=True),
            True,
        ),
        (looked("2026-04-01", "body", "unfit"), looked("2026-04-02", "body"), True),
        (looked("2026-04-01", "body", "unfit"), examined("2026-04-02"), True),
        *(
            (
                looked("2026-04-01", "body", "unfit", part=part),
                looked("2026-04-02", "body"),
                again,
            )
            for part, again in (("back", True), ("joint", True), ("eyes", False), ("penis", False))
        ),
        (looked("2026-04-01", "illness", "unfit"), looked("2026-04-02", "illness"), False),
        (looked("2026-04-01", "other", "unfit"), examined("2026-04-02"), False),
        # nothing stood that it ended
        (looked("2026-04-01", "foot"), looked("2026-04-02", "foot"), False),
    ],
)
def test_a_walk_before_the_vets_word_that_he_is_fit_does_not_count(
    unfit: Entry, ends: Entry, walked_again: bool
) -> None:
    # walked on 1 April, fit on the 2nd
    bull = assessed(*sound(), unfit, ends)
    assert (bull["reasons"], names(bull)) == (set(), ["mobility"] if walked_again else [])
    # a walk of that day counts
    assert assessed(*sound(), unfit, ends, walk("2026-04-02", 0))["status"] == "GO"


# More words of pain relief


@pytest.mark.parametrize(
    ("product", "known"),
    [
        ("Xylazine 2 %", True),
        ("nerve-block of LH", True),
        ("local ANAESTHETIC", True),
        ("anesthesia", True),
        ("Lignocaine", True),
        ("hydrocortisone", True),
        ("Dipyrone", True),
        ("flumethasone", True),
        ("a drench", False),
        ("nerve tonic, mineral block", False),
    ],
)
def test_words_of_what_numbs_him(product: str, known: bool) -> None:
    given = entry("treatment", "2026-03-31", given_by="vet", product=product)
    bull = assessed(*sound(), given)
    assert ("mobility" in names(bull)) is known
    if known:
        assert check(bull, "mobility")["not_before"] == day("04-07")
