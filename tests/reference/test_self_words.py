"""The reference against cases worked by hand, of what is easily understood too lightly: names,
zones, thin soles, masked walks, figures handed on, arrivals, words of pain, ill at work."""

from __future__ import annotations

from typing import Any

import pytest

from .hand import (
    ON,
    assessed,
    check,
    day,
    entry,
    examined,
    found,
    gone,
    holds,
    lift,
    looked,
    names,
    plain,
    sound,
    spot,
    walk,
)
from .state import Entry

CLEAR_SU = "clear:LH:outer:SU"
SEVERE = found("2026-03-01", "SU", severity=3)  # 42 days: 12 April


def listed(on: str, claw: str, code: str, *items: dict[str, Any]) -> Entry:
    return lift(on, "LH", findings=[spot("LH", claw, code, **item) for item in items])


# Names


@pytest.mark.parametrize(("on", "held"), [("2026-04-11", True), ("2026-04-12", False)])
def test_no_other_name_is_a_shorter_way_to_being_healed(on: str, held: bool) -> None:
    # a white line severe since 1 March would be believed on the 29th, four weeks; an ulcer is not
    named = found("2026-03-10", "WLF", was="SU", severity=3)
    assert holds(assessed(SEVERE, named, gone(on, "WLF"), on=on), "WLF") is held
    # nor are two names
    twice = [found("2026-03-06", "SH", was="SU", severity=3)]
    twice.append(found("2026-03-10", "WLF", was="SH", severity=2))
    assert holds(assessed(SEVERE, *twice, gone(on, "WLF"), on=on), "WLF") is held


@pytest.mark.parametrize(("on", "held"), [("2026-03-11", True), ("2026-03-12", False)])
def test_nor_is_a_name_under_which_it_begins_anew(on: str, held: bool) -> None:
    # moderate of 12 February: 12 March; foul of 2 March alone would be believed gone on the 9th
    told = [found("2026-02-12", "IH", "skin", severity=2)]
    told += [found("2026-03-02", "IP", "skin", was="IH"), gone(on, "IP", "skin")]
    assert holds(assessed(*told, on=on), "IP", "skin") is held


@pytest.mark.parametrize(
    ("code", "low", "soon", "late"),
    [("SW", "ID", "2026-03-07", "2026-03-08"), ("TU", "HHE", "2026-03-14", "2026-03-15")],
)
def test_swelling_and_toe_ulcer_called_less_and_not_believed_were_found_open(
    code: str, low: str, soon: str, late: str
) -> None:
    # a vet has looked since; a swelling is his again after 7 days, a toe ulcer after 14. The
    # swelling could be believed gone on the 8th, had anybody said how bad what is left is
    claw = "skin" if code == "SW" else "outer"
    told = [found("2026-03-01", code, claw), looked("2026-03-02", "foot")]
    for on, asked in ((soon, False), (late, True)):
        bull = assessed(*told, found(on, low, claw, was=code), on=on)
        assert holds(bull, code, claw)
        assert ("vet-look" in names(bull)) is asked


@pytest.mark.parametrize(("stage", "held"), [({}, True), ({"stage": "M4"}, False)])
def test_a_swelling_called_dermatitis_is_not_of_the_stage_that_is_open_there(
    stage: dict[str, str], held: bool
) -> None:
    # dermatitis that has long been chronic lends no stage: what holds is called what holds
    spots = [spot("LH", "skin", "SW"), spot("LH", "skin", "DD", stage="M4")]
    both = lift("2026-03-01", "LH", findings=spots)
    named = found("2026-03-09", "DD", "skin", was="SW", severity=1, **stage)
    bull = assessed(both, named, on="2026-03-09")
    assert (holds(bull, "SW", "skin"), holds(bull, "DD", "skin")) == (False, held)


def test_as_old_as_the_older_of_two_that_were_one_under_its_name() -> None:
    # a toe ulcer of 5 March took in what was found on the 1st; called otherwise and back
    told = [found("2026-03-01", "SH"), found("2026-03-05", "TU")]
    told += [found("2026-03-06", "TU", was="SH"), found("2026-03-07", "WLA", was="TU")]
    told += [found("2026-03-08", "TU", was="WLA"), looked("2026-03-14", "foot")]
    for on, asked in (("2026-03-14", False), ("2026-03-15", True)):
        bull = assessed(*told, found(on, "TU"), on=on)
        assert ("vet-look" in names(bull)) is asked


# How bad, and where


@pytest.mark.parametrize(
    ("on", "severity", "first"),
    [
        *(("2026-03-01", 1, "03-26"), ("2026-03-01", 3, "04-12"), ("2026-03-02", 1, "04-03")),
        ("2026-03-01", 2, "04-03"),
    ],
)
def test_how_bad_it_was_said_on_its_first_day(on: str, severity: int, first: str) -> None:
    told = [found("2026-03-01", "SU"), found(on, "SU", severity=severity)]
    assert check(assessed(*told, on="2026-03-02"), CLEAR_SU)["not_before"] == day(first)


def test_how_bad_it_was_said_with_another_name_on_its_first_day() -> None:
    told = [found("2026-03-01", "BU"), found("2026-03-01", "SU", was="BU", severity=1)]
    # the other name keeps the floor of the first: nobody had said how bad, 33 days
    assert check(assessed(*told, on="2026-03-02"), CLEAR_SU)["not_before"] == day("04-03")
    # once said of it, it is not said at first: moderate from 10 March, 33 days
    told = [found("2026-03-01", "BU", severity=1), found("2026-03-10", "SU", was="BU")]
    told.append(found("2026-03-10", "SU", severity=1))
    assert check(assessed(*told, on="2026-03-11"), CLEAR_SU)["not_before"] == day("04-12")


@pytest.mark.parametrize(
    ("then", "held"),
    [
        ([{"severity": 1, "zone": 3}], True),
        ([{"severity": 1, "zone": 3}, {"severity": 1, "zone": 4}], False),
        ([{"severity": 1}], False),
        ([{"severity": 1, "zone": 3}, {"severity": 1}], True),
    ],
)
def test_found_in_two_zones_one_after_the_other_it_held_in_both(
    then: list[dict[str, Any]], held: bool
) -> None:
    told = [found("2026-02-20", "WLF", severity=2, zone=zone) for zone in (3, 4)]
    assert holds(assessed(*told, listed("2026-04-01", "outer", "WLF", *then)), "WLF") is held


def test_two_that_became_one_held_in_the_zones_of_both() -> None:
    told = [found("2026-02-20", "SH", severity=2, zone=3)]
    told.append(found("2026-02-21", "WLF", severity=2, zone=4))
    told.append(found("2026-02-22", "WLF", was="SH", severity=2, zone=4))
    for zones, held in (((4,), True), ((3,), True), ((3, 4), False)):
        low = [{"severity": 1, "zone": zone} for zone in zones]
        assert holds(assessed(*told, listed("2026-04-01", "outer", "WLF", *low)), "WLF") is held
    # that it has healed is said of all of it
    assert not holds(assessed(*told, gone("2026-04-01", "WLF")), "WLF")


@pytest.mark.parametrize(
    ("before", "then", "held"),
    [
        ({"severity": 1, "zone": 3}, {"zone": 4}, True),
        ({"severity": 1, "zone": 3}, {"zone": 3}, False),
        ({"severity": 1, "zone": 3}, {}, False),
        ({"severity": 1}, {"zone": 4}, False),  # where it was nobody said
    ],
)
def test_in_another_zone_it_is_not_as_slight_as_it_was_here(
    before: dict[str, Any], then: dict[str, Any], held: bool
) -> None:
    told = [found("2026-03-01", "WLF", **before), found("2026-03-30", "WLF", **then)]
    assert holds(assessed(*told), "WLF") is held


def test_dermatitis_beside_a_chronic_spot_keeps_how_bad_it_was() -> None:
    # severe though chronic; on 28 February one spot whose stage nobody says: it holds
    told = [found("2026-02-14", "DD", "skin", severity=3, stage="M4")]
    told.append(listed("2026-02-28", "skin", "DD", {"severity": 2, "stage": "M4"}, {}))
    # severe is no worse than it was: found on 29 March, a week; a fortnight of 28 February is over
    told.append(found("2026-03-29", "DD", "skin", severity=3))
    assert check(assessed(*told), "clear:LH:skin:DD")["not_before"] == day("04-05")


# Thin soles


def test_only_the_sole_that_was_measured_thin_is_not_healed() -> None:
    thin = [{"foot": "LH", "claw": "outer", "sole_mm": 4.5}]
    told = found("2026-03-01", "TS", "both", severity=1)
    both = lift("2026-03-30", "LH", healed=[spot("LH", "both", "TS")], measures=thin)
    bull = assessed(told, both)
    assert (holds(bull, "TS"), holds(bull, "TS", "inner")) == (True, False)
    # where no thin sole was open, healed closes none and the measure finds one: four weeks
    bull = assessed(both)
    assert check(bull, "clear:LH:outer:TS")["not_before"] == day("04-27")


# Lame


def test_walk_again_waits_for_the_wrap() -> None:
    told = [*sound("2026-06-15"), walk("2026-03-26", 2), lift("2026-03-27")]
    wrap = lift("2026-04-03", "LH", work=[{"foot": "LH", "act": "wrap"}])
    # lame on 26 March: from 2 April; with a wrap of 3 April on, not before it can be off
    for more, first in (([], "04-03"), ([wrap], "04-04")):
        again = check(assessed(*told, *more), "walk-again")
        assert (again["not_before"], again["due"]) == (day(first), day("04-09"))


@pytest.mark.parametrize(
    ("code", "on", "asked"),
    [("SU", "2026-03-28", False), ("SU", "2026-03-25", False), ("WLF", "2026-03-25", True)],
)
def test_what_explains_lameness_when_it_is_called_heel_horn_erosion(
    code: str, on: str, asked: bool
) -> None:
    # an ulcer explains it, whether calling it less is believed (25 days: 26 March) or not; a slight
    # white line that turns out to be something else explains nothing
    told = [found("2026-03-01", code, severity=1), walk("2026-03-24", 2, limb="LH")]
    told.append(found(on, "HHE", was=code, severity=1))
    bull = assessed(*told, on="2026-03-29")
    assert ("vet-look" in names(bull)) is asked


def test_pain_relief_that_is_told_after_the_walk_of_that_day_did_not_hide_it() -> None:
    drug = entry("treatment", "2026-03-29", given_by="vet", product="NSAID")
    lamed, walked = walk("2026-03-20", 2, limb="LF"), walk("2026-03-29", 0)
    assert plain("lame") not in assessed(lamed, walked, drug)["reasons"]
    assert plain("lame") in assessed(lamed, drug, walked)["reasons"]


@pytest.mark.parametrize("act", ["in", "out"])
def test_moved_lame_all_four_feet_are_lifted_since(act: str) -> None:
    # lame since 20 March and lifted on the 30th: that is before he was moved
    told = [walk("2026-03-20", 2), lift("2026-03-30")]
    moved = entry("moved", "2026-03-31", act=act, reason="lame")
    asked = check(assessed(*told, moved), "lift")
    assert (asked["feet"], asked["due"]) == (["LF", "RF", "LH", "RH"], day("04-02"))
    assert "lift" not in names(assessed(*told, moved, lift("2026-03-31")))


@pytest.mark.parametrize("lame", [True, False])
def test_a_foot_suspected_and_nobody_says_which(lame: bool) -> None:
    hurt = entry("incident", "2026-04-01", cause="fall", suspect="foot", lame=lame)
    asked = check(assessed(*sound(), hurt), "lift")
    assert (asked["feet"], asked["due"]) == (["LF", "RF", "LH", "RH"], day("04-03"))
    assert check(assessed(hurt, lift("2026-04-01", "LF", "RF")), "lift")["feet"] == ["LH", "RH"]
    # a joint above it is often blamed for what sits in the foot
    for joint in ("shoulder", "stifle"):
        blamed = check(assessed(*sound(), hurt | {"suspect": joint}), "lift")
        assert blamed["feet"] == ["LF", "RF", "LH", "RH"]
    # of one limb, that one; of another place, none
    assert check(assessed(hurt | {"limb": "RF"}), "lift")["feet"] == ["RF"]
    if not lame:
        assert "lift" not in names(assessed(hurt | {"suspect": "back"}))


def test_ill_and_a_foot_suspected_he_is_hurt() -> None:
    ill = entry("incident", "2026-03-30", cause="illness", suspect="foot")
    told = [*sound(), lift("2026-03-30"), examined("2026-04-13")]
    # the walk of 1 April: three days from 30 March are 2 April
    assert names(assessed(*told, ill, on="2026-04-13")) == ["mobility"]
    alone = {name: value for name, value in ill.items() if name != "suspect"}
    assert names(assessed(*told, alone, on="2026-04-13")) == []


@pytest.mark.parametrize(
    ("product", "known"),
    [
        *(
            ("Pain Relief", True),
            ("pain--relief", True),
            ("PAINRELIEF", True),
            ("N.S.A.I.D.", True),
        ),
        *(("anti\u00adinflammatory", True), ("pain", True), ("for pain, daily", True)),
        *(("paints", False), ("Spain", False), ("p ain", False), ("relief", False)),
    ],
)
def test_words_of_pain_by_their_letters_and_pain_by_itself(product: str, known: bool) -> None:
    given = entry("treatment", "2026-03-31", given_by="vet", product=product)
    assert ("mobility" in names(assessed(*sound(), given))) is known


# The vet


@pytest.mark.parametrize(("first", "low"), [("2026-01-19", True), ("2026-01-18", False)])
def test_a_low_figure_stands_through_examinations_that_do_not_give_it(
    first: str, low: bool
) -> None:
    # 60 days and 61 to 20 March
    others = [told for told in sound() if told["kind"] != "vet-exam"]
    exams = [examined(first, normal_pct=69), examined("2026-03-20")]
    bull = assessed(*others, *exams)
    assert (plain("vet-figures") in bull["reasons"]) is low


@pytest.mark.parametrize(
    ("between", "low"),
    [
        ({}, True),
        ({"motility_pct": 70}, True),
        ({"normal_pct": 70}, False),
        ({"stands": True}, False),  # he knows of it
        ({"stands": True, "outcome": "deferred"}, True),  # deferred he stands by nothing
    ],
)
def test_which_examination_takes_a_low_figure_away(between: dict[str, Any], low: bool) -> None:
    others = [told for told in sound() if told["kind"] != "vet-exam"]
    exams = [examined("2026-02-10", normal_pct=69), examined("2026-02-20") | between]
    bull = assessed(*others, *exams, examined("2026-03-20"))
    assert (plain("vet-figures") in bull["reasons"]) is low


@pytest.mark.parametrize(("origin", "asked"), [(None, "bh"), ("bought", "b"), ("homebred", "o")])
def test_whose_own_checks_are_asked_of_one_who_arrived(origin: str | None, asked: str) -> None:
    kinds = {"b": "bought", "h": "hired", "o": "homebred"}
    own: list[dict[str, Any]] = [
        {"name": name, "from": 60, "applies": applies} for name, applies in kinds.items()
    ]
    came = entry("bull", "2026-03-07", arrived="2026-03-07")
    came |= {} if origin is None else {"origin": origin}
    bull = assessed(*sound(), came, checks=own)
    assert set(names(bull)) == {*asked, "quarantine"}
    assert check(bull, "quarantine")["not_before"] == day("04-04")


@pytest.mark.parametrize("about", ["foot", "body"])
def test_a_look_on_the_day_of_again_answers_nothing(about: str) -> None:
    again = looked("2026-04-01", about, "again", again_on="2026-04-02")
    for on, answered in (("2026-04-01", False), ("2026-04-02", True)):
        bull = assessed(*sound(), again, looked(on, about))
        assert (plain("vet-again") not in bull["reasons"]) is answered


# At work

OUT = entry("moved", "2026-04-01", act="out")
ILL = entry("incident", "2026-04-02", cause="illness")


@pytest.mark.parametrize(
    ("told", "held"),
    [
        ([ILL], True),
        ([ILL | {"cause": "fight", "fever": True}], True),
        ([ILL | {"cause": "fight"}], False),
        # the vet's word of that day, before it and after it
        ([looked("2026-04-02", "illness"), ILL], True),
        ([ILL, looked("2026-04-02", "illness")], False),
        ([ILL, examined("2026-04-02")], False),
        ([ILL, examined("2026-04-02", "deferred")], True),
        ([ILL, looked("2026-04-03", "illness", "unfit")], True),
        ([ILL, looked("2026-04-03", "other")], True),
    ],
)
def test_a_worker_who_is_ill(told: list[Entry], held: bool) -> None:
    assert (plain("ill") in assessed(*sound("2026-04-01"), OUT, *told)["reasons"]) is held


def test_a_vet_who_wants_to_look_again_is_asked_of_a_worker() -> None:
    for about, ill in (("illness", {plain("ill")}), ("other", set())):
        again = looked("2026-04-02", about, "again")
        bull = assessed(*sound("2026-04-01"), OUT, again)
        assert names(bull) == [f"vet-again:2026-04-02:{about}"]
        assert bull["reasons"] == {plain("vet-again")} | ill


@pytest.mark.parametrize("on", ["2026-03-31", "2026-04-02"])
def test_a_vets_no_is_not_the_examination_that_he_went_out_without(on: str) -> None:
    told = [*(t for t in sound("2026-04-01") if t["kind"] != "vet-exam"), OUT]
    told += [looked(on, "other", "unfit"), looked("2026-04-03", "other")]
    bull = assessed(*told)
    assert (names(bull), bull["reasons"]) == (["vet-exam"], {plain("went-out")})
    assert names(assessed(*told, examined(ON.isoformat()))) == []
