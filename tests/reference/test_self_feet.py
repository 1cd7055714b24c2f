"""The reference against cases worked by hand: findings, blocks and wraps."""

from __future__ import annotations

from typing import Any

import pytest

from .hand import (
    ON,
    assessed,
    check,
    day,
    entry,
    found,
    gone,
    holds,
    lift,
    looked,
    names,
    sound,
    spot,
    walk,
)

CLEAR_SU = "clear:LH:outer:SU"


def test_a_severity_not_said_counts_as_moderate() -> None:
    # 33 days, the mean time to a closed horn layer of moderate ulcers (Lischer et al. 2001)
    bull = assessed(found("2026-03-01", "SU"), on="2026-03-02")
    assert check(bull, CLEAR_SU)["not_before"] == day("04-03")
    assert "vet-look" not in names(bull)  # asked for from severity 3


@pytest.mark.parametrize(
    ("code", "severity", "held"),
    [
        *(("WLF", None, True), ("WLF", 1, False), ("WLF", 2, True)),
        *(("CC", None, True), ("CC", 2, False), ("CC", 3, True), ("SC", 3, True)),
        *(("AC", None, False), ("HHE", 3, False), ("SU", 1, True)),
    ],
)
def test_it_holds_wherever_the_code_can_hold(code: str, severity: int | None, held: bool) -> None:
    said: dict[str, Any] = {} if severity is None else {"severity": severity}
    assert holds(assessed(found("2026-04-01", code, **said)), code) is held


def test_severity_said_for_the_first_time_is_taken_at_once() -> None:
    first, then = found("2026-03-30", "WLF"), found("2026-04-02", "WLF", severity=1)
    bull = assessed(*sound(), first, then)
    assert bull["reasons"] == set()
    # that day he was seen clear: the walk of 1 April came before it
    assert names(bull) == ["mobility"]
    assert assessed(*sound(), first, then, walk("2026-04-02", 0))["status"] == "GO"
    # worse than not said: it starts anew on that day, 28 days to 30 April
    worse = assessed(first, found("2026-04-02", "WLF", severity=3))
    assert check(worse, "clear:LH:outer:WLF")["not_before"] == day("04-30")


def test_severity_once_said_is_not_said_for_the_first_time() -> None:
    said = [found("2026-03-01", "WLF", severity=2)]
    other = [found("2026-03-01", "SH", severity=2), found("2026-03-02", "WLF", was="SH")]
    for before in (said, other):
        for on, held in (("2026-03-04", True), ("2026-03-28", True), ("2026-03-29", False)):
            low = found(on, "WLF", severity=1)
            assert holds(assessed(*before, low, on=on), "WLF") is held


def test_slight_said_later_leaves_the_days_of_the_first_day() -> None:
    # an ulcer holds whatever its severity; 33 days from 1 March
    bull = assessed(found("2026-03-01", "SU"), found("2026-03-03", "SU", severity=1))
    assert check(bull, CLEAR_SU)["not_before"] == day("04-03")


@pytest.mark.parametrize("both", [({}, {"severity": 1}), ({"severity": 1}, {"severity": 2})])
def test_of_two_spots_the_worse_stands(both: tuple[dict[str, int], dict[str, int]]) -> None:
    for one, two in (both, both[::-1]):
        spots = [spot("LH", "outer", "WLF", **one), spot("LH", "both", "WLF", **two)]
        bull = assessed(lift("2026-03-01", "LH", findings=spots), on="2026-03-01")
        assert holds(bull, "WLF")
    spots = [spot("LH", "outer", "SU", severity=3), spot("LH", "outer", "SU")]
    bull = assessed(lift("2026-03-01", "LH", findings=spots), on="2026-03-01")
    assert check(bull, CLEAR_SU)["not_before"] == day("04-12")  # 42 days of a severe one


def test_a_spot_that_holds_is_worse_than_a_more_severe_one_that_does_not() -> None:
    spots = [
        spot("LH", "skin", "DD", stage="M4", severity=3),
        spot("LH", "skin", "DD", stage="M2", severity=1),
    ]
    assert holds(assessed(lift("2026-04-01", "LH", findings=spots)), "DD", "skin")


@pytest.mark.parametrize(("stage", "on"), [("M4", "2026-03-14"), ("M2", "2026-03-15")])
def test_dermatitis_holds_by_stage_and_no_saying_shortens_it(stage: str, on: str) -> None:
    # 14 days from 1 March; a severity said for the first time is no shorter way
    first = found("2026-03-01", "DD", "skin")
    then = found(on, "DD", "skin", severity=1, stage=stage)
    assert holds(assessed(first, then, on=on), "DD", "skin")
    last = found("2026-03-22", "DD", "skin", stage="M4")
    assert not holds(assessed(first, then, last, on="2026-03-22"), "DD", "skin")


@pytest.mark.parametrize(
    ("measure", "held"),
    [
        *(({"sole_mm": 4}, True), ({"sole_mm": 4.9}, True), ({"sole_mm": 5}, False)),
        *(({"sole_mm": 7}, False), ({"wall_mm": 80}, False)),
    ],
)
def test_a_sole_under_five_millimetres_is_thin(measure: dict[str, float], held: bool) -> None:
    measured = {"foot": "LH", "claw": "both", **measure}
    bull = assessed(lift("2026-04-01", "LH", measures=[measured]))
    assert (holds(bull, "TS"), holds(bull, "TS", "inner")) == (held, held)


def test_a_sole_measured_thin_is_not_healed() -> None:
    measured = [{"foot": "LH", "claw": "both", "sole_mm": 4}]
    first = found("2026-03-01", "TS", severity=1)
    thin = lift("2026-03-29", "LH", healed=[spot("LH", "outer", "TS")], measures=measured)
    bull = assessed(first, thin)
    assert (holds(bull, "TS"), holds(bull, "TS", "inner")) == (True, True)
    # found that day, so healed is believed a week later, without the measure
    for on, held in (("2026-04-04", True), ("2026-04-05", False)):
        assert holds(assessed(first, thin, gone(on, "TS"), on=on), "TS") is held


def test_a_thin_sole_found_beside_its_measure_is_as_it_was_found() -> None:
    measured = [{"foot": "LH", "claw": "outer", "sole_mm": 4}]
    spots = [spot("LH", "outer", "TS", severity=3)]
    bull = assessed(found("2026-03-01", "TS", severity=1))
    assert check(bull, "clear:LH:outer:TS")["not_before"] == day("04-03")  # 29 March is past
    bull = assessed(
        found("2026-03-01", "TS", severity=1),
        lift("2026-03-20", "LH", findings=spots, measures=measured),
    )
    # more severe: 28 days from 20 March
    assert check(bull, "clear:LH:outer:TS")["not_before"] == day("04-17")


@pytest.mark.parametrize(
    ("spots", "held"),
    [
        ([{"was": "SU", "severity": 1}], False),
        ([{"was": "SU"}, {"severity": 1}], True),  # another spot's grade
        ([{"was": "SU", "severity": 1}, {}], False),
    ],
)
def test_what_renames_it_low_must_say_how_bad_itself(
    spots: list[dict[str, Any]], held: bool
) -> None:
    named = lift("2026-03-26", "LH", findings=[spot("LH", "outer", "HHE", **s) for s in spots])
    assert holds(assessed(found("2026-03-01", "SU", severity=1), named), "SU") is held


@pytest.mark.parametrize(("on", "asked"), [("2026-03-03", False), ("2026-03-04", True)])
def test_a_rename_that_is_not_believed_found_it_open(on: str, asked: bool) -> None:
    # foul is for the vet where it is still there after three days
    named = found(on, "ID", "skin", was="IP", severity=1)
    bull = assessed(found("2026-03-01", "IP", "skin"), named, on=on)
    assert holds(bull, "IP", "skin")
    assert ("vet-look" in names(bull)) is asked


@pytest.mark.parametrize(
    ("before", "spots", "held"),
    [
        (1, [{}], False),  # a single spot: as it was
        (1, [{}, {}], True),
        (1, [{}, {"severity": 1}], True),
        (1, [{"severity": 1}, {"severity": 1}], False),
    ],
)
def test_of_several_spots_a_slight_one_lends_its_severity_to_none(
    before: int, spots: list[dict[str, Any]], held: bool
) -> None:
    told = [found("2026-03-01", "WLF", severity=before)]
    told.append(lift("2026-04-01", "LH", findings=[spot("LH", "outer", "WLF", **s) for s in spots]))
    assert holds(assessed(*told), "WLF") is held


@pytest.mark.parametrize(("before", "first"), [(1, "05-04"), (2, "04-10"), (3, "04-12")])
def test_of_several_spots_a_bad_one_keeps_its_severity(before: int, first: str) -> None:
    # slight counts as moderate now, worse: 33 days from 1 April; else a week, or 42 from 1 March
    two = lift("2026-04-01", "LH", findings=[spot("LH", "outer", "SU")] * 2)
    if before == 2:  # 33 days, 3 April; found on 3 April, a week
        two |= {"on": "2026-04-03"}
    bull = assessed(found("2026-03-01", "SU", severity=before), two)
    assert check(bull, CLEAR_SU)["not_before"] == day(first)


def test_of_several_spots_a_stage_that_does_not_hold_is_lent_to_none() -> None:
    told = [found("2026-03-01", "DD", "skin", stage="M4")]
    one = found("2026-04-01", "DD", "skin")
    two = lift("2026-04-01", "LH", findings=[spot("LH", "skin", "DD")] * 2)
    assert not holds(assessed(*told, one), "DD", "skin")
    assert holds(assessed(*told, two), "DD", "skin")


@pytest.mark.parametrize(("on", "held"), [("2026-04-02", True), ("2026-04-03", False)])
def test_severity_said_first_is_not_believed_before_the_floor(on: str, held: bool) -> None:
    # a moderate ulcer of 1 March, until 3 April; nobody ever said how bad
    told = [found("2026-03-01", "SU"), found("2026-03-10", "WLF", was="SU")]
    assert holds(assessed(*told, found(on, "WLF", severity=1), on=on), "WLF") is held
    # two that become one, then or on that very day: by the later floor, 28 days from 6 March
    both = [found("2026-03-06", "WLF"), found("2026-03-01", "SH")]
    then = [found("2026-03-10", "WLF", was="SH"), found(on, "WLF", severity=1)]
    for named in (then, [found(on, "WLF", was="SH", severity=1)]):
        assert holds(assessed(*both[::-1], *named, on=on), "WLF") is held


@pytest.mark.parametrize(
    ("first", "then", "held"),
    [
        ({"severity": 2, "zone": 3}, {"severity": 1, "zone": 4}, True),
        ({"severity": 2, "zone": 0}, {"severity": 1, "zone": 4}, True),
        ({"severity": 2, "zone": 3}, {"severity": 1, "zone": 3}, False),
        ({"severity": 2, "zone": 3}, {"severity": 1}, False),
        ({"severity": 2}, {"severity": 1, "zone": 4}, False),
        ({"zone": 3}, {"severity": 1, "zone": 4}, True),  # said for the first time
    ],
)
def test_slight_in_another_zone_is_another_spot(
    first: dict[str, Any], then: dict[str, Any], held: bool
) -> None:
    told = [found("2026-03-01", "WLF", **first), found("2026-03-30", "WLF", **then)]
    assert holds(assessed(*told), "WLF") is held
    if held:
        # the zone stays: slight in the zone of the listing that was not believed is no better
        assert holds(assessed(*told, found("2026-04-01", "WLF", **then)), "WLF")


def test_a_look_that_names_zones_names_every_one_in_which_it_held() -> None:
    last = found("2026-04-02", "WLF", severity=1, zone=4)
    for spots, held in (
        ([{"severity": 2, "zone": 3}, {"severity": 3, "zone": 4}], True),
        ([{"severity": 1, "zone": 3}, {"severity": 3, "zone": 4}], False),  # 3 never held
        ([{"severity": 2, "zone": 4}, {"severity": 3, "zone": 3}], True),
        ([{"severity": 2, "zone": 4}, {"severity": 3}], True),  # one in a zone that nobody named
        ([{"severity": 2, "zone": 4}, {"severity": 1}], False),
    ):
        told = lift("2026-03-01", "LH", findings=[spot("LH", "outer", "WLF", **s) for s in spots])
        assert holds(assessed(told, last), "WLF") is held
    at = [spot("LH", "outer", "WLF", severity=2, zone=zone) for zone in (3, 4)]
    slight = [each | {"severity": 1} for each in at]
    for order in (slight, slight[::-1]):
        told = lift("2026-03-01", "LH", findings=at)
        both = lift("2026-04-02", "LH", findings=order)
        assert not holds(assessed(told, both), "WLF")


def test_renamed_it_keeps_the_zones_in_which_it_held() -> None:
    first = found("2026-02-01", "SH", severity=2, zone=3)
    low = found("2026-04-02", "WLF", severity=1, zone=4)
    ways: list[tuple[dict[str, Any], bool]] = [({}, True), ({"zone": 4}, True), ({"zone": 3}, True)]
    for said, held in ways:
        named = found("2026-02-03", "WLF", was="SH", severity=2, **said)
        assert holds(assessed(first, named, low), "WLF") is held
    # begun anew, too
    told = [first, found("2026-02-02", "TU", was="SH"), found("2026-02-03", "WLF", was="TU")]
    assert holds(assessed(*told, low), "WLF")


def test_a_name_that_it_bore_before_is_as_old_as_it_was() -> None:
    # toe ulcer of 1 March, called white line, then toe ulcer again: found open after 14 days
    told = [found("2026-03-01", "TU"), looked("2026-03-11", "foot")]
    told += [found("2026-03-10", "WLA", was="TU"), found("2026-03-12", "TU", was="WLA")]
    told += [looked("2026-03-13", "foot"), found("2026-03-15", "TU")]
    bull = assessed(*told, on="2026-03-15")
    assert check(bull, "vet-look")["due"] == day("03-17")
    # its clock begins anew: 42 days from 12 March
    assert check(bull, "clear:LH:outer:TU")["not_before"] == day("04-23")
    # a name that it never bore before is new
    fresh = [found("2026-03-01", "WLA"), found("2026-03-12", "TU", was="WLA"), *told[4:]]
    assert "vet-look" not in names(assessed(*fresh, on="2026-03-15"))


@pytest.mark.parametrize(
    ("stages", "first"),
    [
        (("M1", "M2"), "03-24"),
        (("M2", "M4.1"), "03-24"),
        # no later stage: found on 10 March, a week; 15 March is later than that
        (("M2", "M1"), "03-17"),
        (("M2", "M2"), "03-17"),
        ((None, "M2"), "03-17"),
        (("M2", None), "03-17"),
    ],
)
def test_a_later_stage_that_holds_starts_the_days_again(
    stages: tuple[str | None, str | None], first: str
) -> None:
    # 14 days from 1 March, or from 10 March
    one, two = ({"stage": stage} if stage else {} for stage in stages)
    told = [found("2026-03-01", "DD", "skin", **one), found("2026-03-10", "DD", "skin", **two)]
    assert check(assessed(*told, on="2026-03-11"), "clear:LH:skin:DD")["not_before"] == day(first)


@pytest.mark.parametrize("pair", [("M1", "M2"), ("M2", "M1")])
def test_of_several_spots_the_later_stage_stands(
    pair: tuple[str, str],
) -> None:
    told = [found("2026-03-01", "DD", "skin", stage="M1")]
    spots = [spot("LH", "skin", "DD", stage=stage) for stage in pair]
    told.append(lift("2026-03-10", "LH", findings=spots))
    # 14 days from 10 March
    bull = assessed(*told, on="2026-03-11")
    assert check(bull, "clear:LH:skin:DD")["not_before"] == day("03-24")


@pytest.mark.parametrize(
    "spots",
    [
        [{}, {"severity": 1}],  # how bad the other is nobody knows
        [{"zone": 3}],
    ],
)
def test_a_severity_once_said_of_a_spot_or_elsewhere_is_not_said_first(
    spots: list[dict[str, Any]],
) -> None:
    told = [lift("2026-03-01", "LH", findings=[spot("LH", "outer", "WLF", **s) for s in spots])]
    if len(spots) == 1:  # slight in another zone: a look only
        told.append(found("2026-03-02", "WLF", zone=4, severity=1))
    for on, held in (("2026-03-28", True), ("2026-03-29", False)):
        assert holds(assessed(*told, found(on, "WLF", severity=1), on=on), "WLF") is held


def test_found_again_holding_puts_it_off_a_week() -> None:
    # slight: 25 days, 26 March; found again on the 24th: 31 March
    bull = assessed(
        found("2026-03-01", "SU", severity=1), found("2026-03-24", "SU"), on="2026-03-25"
    )
    assert check(bull, CLEAR_SU)["not_before"] == day("03-31")


@pytest.mark.parametrize("stable", [True, False])
def test_healed_too_soon_is_a_look_only(stable: bool) -> None:
    first = found("2026-03-01", "SU", severity=1)
    soon = gone("2026-03-25", "SU", stable=stable)
    bull = assessed(first, soon, on="2026-03-26")
    # the look of the 28th day is met (from 22 March), so clear is the look: 7 days after 22 April
    assert check(bull, CLEAR_SU)["not_before"] == day("03-26")
    assert check(bull, CLEAR_SU)["due"] == day("04-29")
    confirmed = gone("2026-03-26", "SU", stable=stable)
    assert not holds(assessed(first, soon, confirmed, on="2026-03-26"), "SU")


def test_silence_clears_nothing_that_holds() -> None:
    first = found("2025-11-10", "SU", severity=1)
    assert holds(assessed(first, lift("2025-12-20"), lift("2026-03-30")), "SU")


def test_renamed_without_a_severity_counts_as_moderate() -> None:
    # slight before: more severe now, 33 days from 10 March; severe before: 42 days from 1 March
    named = found("2026-03-05", "BU", was="SU")
    for severity, first in ((1, "04-07"), (3, "04-12")):
        bull = assessed(found("2026-03-01", "SU", severity=severity), named, on="2026-03-06")
        assert check(bull, "clear:LH:outer:BU")["not_before"] == day(first)


def test_renamed_to_a_toe_ulcer_begins_anew() -> None:
    bull = assessed(
        found("2026-03-01", "WLA"), found("2026-03-10", "TU", was="WLA"), on="2026-03-11"
    )
    assert check(bull, "clear:LH:outer:TU")["not_before"] == day("04-21")
    assert check(bull, "look:LH:outer:TU")["due"] == day("03-19")  # 7 days, and 2 more
    assert check(bull, "vet-look")["due"] == day("03-12")


def test_two_findings_that_become_one_heal_no_sooner_than_either() -> None:
    # moderate ulcer of 1 March: 3 April; white line of 20 March: 17 April
    told = [
        found("2026-03-01", "SU", severity=2),
        lift("2026-03-20", "LH", findings=[spot("LH", "outer", c, severity=2) for c in BOTH]),
    ]
    bull = assessed(*told, found("2026-03-22", "SU", was="WLF"), on="2026-03-23")
    assert {c for c in names(bull) if c.startswith("clear")} == {CLEAR_SU}
    assert check(bull, CLEAR_SU)["not_before"] == day("04-17")
    # the other way round too: found on 22 March, a week is soon over
    bull = assessed(*told, found("2026-03-22", "WLF", was="SU"), on="2026-03-23")
    assert check(bull, "clear:LH:outer:WLF")["not_before"] == day("04-17")
    # what did not hold puts nothing off
    slight = lift("2026-03-20", "LH", findings=[spot("LH", "outer", "WLF", severity=1)])
    bull = assessed(told[0], slight, found("2026-03-22", "SU", was="WLF"), on="2026-03-23")
    assert check(bull, CLEAR_SU)["not_before"] == day("04-03")


BOTH = ("SU", "WLF")


@pytest.mark.parametrize(
    ("on", "said", "held"),
    [
        ("2026-03-25", {"severity": 1}, True),
        ("2026-03-26", {"severity": 1}, False),
        ("2026-03-30", {}, True),
    ],
)
def test_renamed_to_what_holds_nobody_needs_the_day_and_the_word(
    on: str, said: dict[str, Any], held: bool
) -> None:
    bull = assessed(
        found("2026-03-01", "SU", severity=1), found(on, "HHE", was="SU", **said), on=on
    )
    assert holds(bull, "SU") is held


def test_interdigital_foul_is_looked_at_every_third_day() -> None:
    first = found("2026-03-01", "IP", "skin")
    look = check(assessed(first, on="2026-03-02"), "look:LH:skin:IP")
    # 3 days: a quarter of it is less than a day before, a day after
    assert (look["not_before"], look["due"]) == (day("03-04"), day("03-05"))
    again = assessed(first, found("2026-03-04", "IP", "skin"), on="2026-03-05")
    assert check(again, "look:LH:skin:IP")["not_before"] == day("03-07")
    assert check(again, "vet-look")["due"] == day("03-06")  # open at three days


def test_the_vet_is_asked_each_time_it_turns_severe() -> None:
    told = [found("2026-03-01", "SU", severity=3)]
    told.append(entry("vet-look", "2026-03-02", about="foot", outcome="fit"))
    assert "vet-look" not in names(assessed(*told, on="2026-03-03"))
    told.append(found("2026-03-05", "SU", severity=3))
    assert "vet-look" not in names(assessed(*told, on="2026-03-06"))
    told += [found("2026-03-08", "SU", severity=2), found("2026-03-10", "SU", severity=3)]
    assert check(assessed(*told, on="2026-03-11"), "vet-look")["due"] == day("03-12")


def test_a_block_on_a_bad_claw_is_wrong_from_the_day_that_claw_held() -> None:
    told = [
        found("2026-03-10", "WLF", severity=2),
        found("2026-03-20", "SU", was="WLF", severity=3),
        entry("block-on", "2026-03-05", foot="LH", claw="outer"),
    ]
    bull = assessed(*told, on="2026-03-21")
    assert check(bull, "block-off:LH:outer")["due"] == day("03-12")


def test_walk_again_waits_for_the_block() -> None:
    told = [
        *sound("2026-06-15"),
        entry("block-on", "2026-03-25", foot="LH", claw="inner"),
        walk("2026-03-26", 2),
        lift("2026-03-27"),
    ]
    bull = assessed(*told)
    # block off from 22 April, a week to settle: 29 April, not 2 April
    again = check(bull, "walk-again")
    assert (again["not_before"], again["due"]) == (day("04-29"), day("05-06"))


def wrapped(on: str, *acts: str) -> dict[str, object]:
    return lift(on, "LH", work=[{"foot": "LH", "act": act} for act in acts])


def test_a_wrap_is_off_within_five_days() -> None:
    bull = assessed(*sound(), wrapped("2026-04-01", "wrap"))
    assert bull["reasons"] == {("wrap", "LH", None, None)}
    off = check(bull, "wrap-off:LH")
    assert (off["not_before"], off["due"]) == (ON, day("04-06"))
    assert (off["not_after"], off["who"]) == (day("04-09"), "farmer")
    new = check(assessed(wrapped("2026-04-03", "wrap")), "wrap-off:LH")
    assert new["not_before"] == day("04-04")


@pytest.mark.parametrize(
    ("then", "left_on"),
    [
        (wrapped("2026-04-01"), True),
        (wrapped("2026-04-02"), False),
        (wrapped("2026-04-01", "unwrap"), False),
        (wrapped("2026-04-01", "unwrap", "wrap"), True),
        (wrapped("2026-04-02", "wrap"), True),
        (lift("2026-04-02", "RH"), True),
    ],
)
def test_when_a_wrap_comes_off(then: dict[str, object], left_on: bool) -> None:
    bull = assessed(wrapped("2026-04-01", "wrap"), then)
    assert (("wrap", "LH", None, None) in bull["reasons"]) is left_on


def test_the_walk_that_counts_is_without_a_wrap() -> None:
    on, off = wrapped("2026-03-30", "wrap"), wrapped("2026-04-02", "unwrap")
    bull = assessed(*sound(), on, off)  # walked on 1 April
    assert (names(bull), bull["hold"]) == (["mobility"], "checks")
    assert assessed(*sound(), on, off, walk("2026-04-02", 0))["status"] == "GO"


def test_of_two_findings_under_a_block_the_one_that_held_first_counts() -> None:
    told = [
        found("2026-03-10", "WLF", severity=2),
        found("2026-03-20", "SU"),
        entry("block-on", "2026-03-05", foot="LH", claw="outer"),
    ]
    assert check(assessed(*told), "block-off:LH:outer")["due"] == day("03-12")


def test_walk_again_waits_for_a_block_that_should_be_off_already() -> None:
    told = [
        *sound("2026-06-15"),
        entry("block-on", "2026-02-20", foot="LH", claw="inner"),
        walk("2026-03-26", 2),
        lift("2026-03-27"),
    ]
    # off from 20 March, today at the soonest, then a week; its own clock runs from 2 April
    again = check(assessed(*told), "walk-again")
    assert (again["not_before"], again["due"]) == (day("04-10"), day("04-09"))


def test_renamed_to_one_that_is_open_it_is_as_old_as_the_older() -> None:
    # foul found open three days after it was first found is for the vet (MSD Veterinary Manual)
    older, foul = found("2026-03-01", "IH", "skin", severity=2), found("2026-03-05", "IP", "skin")
    as_one = found("2026-03-06", "IP", "skin", was="IH")
    assert "vet-look" in names(assessed(older, foul, as_one, on="2026-03-06"))
    again = found("2026-03-06", "IP", "skin")
    assert "vet-look" not in names(assessed(foul, again, on="2026-03-06"))
