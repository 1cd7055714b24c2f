"""The reference against cases worked by hand: figures of any outcome, blocks and wraps of which
nobody wrote that they were on, the worst score and its limb, a vet's no and the walk after it."""

from __future__ import annotations

from typing import Any

import pytest

from .hand import (
    assessed,
    check,
    day,
    entry,
    examined,
    found,
    holds,
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
        (looked("2026-04-01", "other", "unfit"), looked("2026-04-02", "other"), False),
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


# A vet's no, and illness that he speaks of

NO = looked("2026-04-01", "foot", "unfit", foot="LF")
OTHER_NO = looked("2026-04-01", "other", "unfit")


@pytest.mark.parametrize(
    ("told", "stands"),
    [
        # fit, or passed, that same day, whatever was told first
        ([NO, looked("2026-04-01", "foot")], True),
        ([looked("2026-04-01", "foot"), NO], True),
        ([NO, looked("2026-04-01", "foot", foot="LF"), looked("2026-04-02", "foot")], False),
        ([NO, examined("2026-04-01", feet_seen=True)], True),
        ([NO, examined("2026-04-02", feet_seen=True)], False),
        ([OTHER_NO, examined("2026-04-01")], True),
        ([OTHER_NO, examined("2026-04-02")], False),
        # of two, that of an earlier day
        ([NO, NO | {"on": "2026-04-02"}, looked("2026-04-02", "foot")], True),
        ([NO, OTHER_NO | {"on": "2026-04-02"}, looked("2026-04-02", "foot")], True),
        ([NO, NO | {"on": "2026-04-02"}, looked("2026-04-03", "foot")], False),
    ],
)
def test_a_vets_no_stands_for_its_day(told: list[Entry], stands: bool) -> None:
    bull = assessed(*sound(), *told)
    assert (plain("unfit") in bull["reasons"]) is stands


def test_a_no_of_that_day_alone_puts_off_no_walk() -> None:
    # walked on 1 April; fit on the 2nd takes only the no of the 1st away, and that is not of feet
    nos = [OTHER_NO, NO | {"on": "2026-04-02"}]
    told = [*sound(), *nos, looked("2026-04-02", "foot"), examined("2026-04-02")]
    assert "mobility" not in names(assessed(*told))
    assert "mobility" in names(assessed(*told, looked("2026-04-03", "foot")))


@pytest.mark.parametrize(
    ("about", "outcome", "exam", "counts"),
    [
        # a fortnight, as after any illness
        *(("illness", "unfit", "2026-03-23", False), ("illness", "unfit", "2026-03-24", True)),
        *(("illness", "again", "2026-03-23", False), ("illness", "again", "2026-03-24", True)),
        ("illness", "fit", "2026-03-11", True),
        *(("other", "unfit", "2026-03-11", True), ("other", "again", "2026-03-11", True)),
    ],
)
def test_an_examination_counts_a_fortnight_after_a_vet_found_him_ill(
    about: str, outcome: str, exam: str, counts: bool
) -> None:
    bull = assessed(*without_exam(), looked("2026-03-10", about, outcome), examined(exam))
    assert names(bull) == ([] if counts else ["vet-exam"])


def test_the_examination_waits_for_the_illness_that_a_vet_found() -> None:
    for outcome, first in (("again", "04-15"), ("fit", "04-03")):
        bull = assessed(*without_exam(), looked("2026-04-01", "illness", outcome))
        assert check(bull, "vet-exam")["not_before"] == day(first)
        # ill is not hurt: the walk of that day counts
        assert "mobility" not in names(bull)


AT_WORK = entry("moved", "2026-04-01", act="out")


@pytest.mark.parametrize("outcome", ["unfit", "again"])
@pytest.mark.parametrize(
    ("then", "held"),
    [
        ([], True),
        ([looked("2026-04-03", "illness")], False),
        ([looked("2026-04-02", "illness")], False),
        ([looked("2026-04-03", "illness", "again")], True),
        ([looked("2026-04-03", "other")], True),
        ([examined("2026-04-03")], False),
        ([examined("2026-04-03", "deferred")], True),
    ],
)
def test_a_worker_whom_a_vet_found_ill(outcome: str, then: list[Entry], held: bool) -> None:
    told = [*sound("2026-04-01"), AT_WORK]
    bull = assessed(*told, looked("2026-04-02", "illness", outcome), *then)
    assert (plain("ill") in bull["reasons"]) is held
    for about, said in (("illness", "fit"), ("other", outcome), ("body", outcome)):
        bull = assessed(*told, looked("2026-04-02", about, said))
        assert plain("ill") not in bull["reasons"]


# What has no name of its own


@pytest.mark.parametrize(
    ("code", "then", "held"),
    [("XX", {}, True), ("XX", {"severity": 1}, False), ("WLF", {}, False)],
)
def test_what_has_no_name_is_not_as_slight_as_the_last_one(
    code: str, then: dict[str, Any], held: bool
) -> None:
    told = [found("2026-03-20", code, severity=1), found("2026-04-01", code, **then)]
    assert holds(assessed(*told), code) is held


@pytest.mark.parametrize(("severity", "clear"), [(3, "03-29"), (2, "04-07")])
def test_what_has_no_name_is_as_bad_as_the_last_one(severity: int, clear: str) -> None:
    # 28 days from 1 March; from 10 March where it is worse then
    told = [found("2026-03-01", "XX", severity=severity), found("2026-03-02", "XX")]
    told.append(found("2026-03-10", "XX", severity=3))
    bull = assessed(*told, on="2026-03-11")
    assert check(bull, "clear:LH:outer:XX")["not_before"] == day(clear)


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
