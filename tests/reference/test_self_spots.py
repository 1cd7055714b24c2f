"""The reference against cases worked by hand: in which zones a finding holds and is seen again,
what renames it, what stands beside a rename, and names that it bore before."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest

from .hand import assessed, check, day, found, gone, holds, lift, looked, names, spot
from .state import Entry

Items = list[dict[str, Any]]
CLEAR_WLF = "clear:LH:outer:WLF"


def listed(on: str, code: str, *items: dict[str, Any]) -> Entry:
    return lift(on, "LH", findings=[spot("LH", "outer", code, **item) for item in items])


# Holding in another zone


@pytest.mark.parametrize(
    ("first", "then", "clear"),
    [
        # 28 days from 1 March, or from 10 March (project choice)
        ([{"zone": 3}], [{"zone": 4}], "04-07"),
        ([{"zone": 3}], [{"zone": 0}], "04-07"),
        ([{"zone": 3}], [{"zone": 3}, {"zone": 4}], "04-07"),
        ([{"zone": 3}], [{"zone": 3}], "03-29"),
        ([{"zone": 3}], [{}], "03-29"),
        ([{"zone": 3}], [{"zone": 3}, {}], "03-29"),  # where the other lies nobody says
        ([{"zone": 3}], [{"zone": 3}, {"zone": 4, "severity": 1}], "03-29"),  # there it is slight
        ([{"zone": 3}, {"zone": 4}], [{"zone": 4}], "03-29"),
        ([{"zone": 3}, {"zone": 4, "severity": 1}], [{"zone": 4}], "04-07"),
        # where it held, or all of where it held, was not known
        ([{}], [{"zone": 4}], "03-29"),
        ([{"zone": 3}, {}], [{"zone": 4}], "03-29"),
        ([{"zone": 3}, {"severity": 1}], [{"zone": 4}], "04-07"),  # the spot not named was slight
    ],
)
def test_it_starts_again_where_it_holds_in_a_zone_in_which_it_did_not(
    first: Items, then: Items, clear: str
) -> None:
    told = [listed("2026-03-01", "WLF", *({"severity": 2} | item for item in first))]
    told.append(listed("2026-03-10", "WLF", *({"severity": 2} | item for item in then)))
    assert check(assessed(*told, on="2026-03-11"), CLEAR_WLF)["not_before"] == day(clear)


def test_in_another_zone_it_starts_again_as_bad_as_it_is_then() -> None:
    # severe on 1 March, 42 days: 12 April; slight in zone 4 on 10 March: 25 days, no sooner than
    # the first, and as slight in zone 3; on 15 March moderate in zone 5: 33 days (Lischer et al.
    # 2001)
    told = [found("2026-03-01", "SU", severity=3, zone=3)]
    for on, severity, zone, clear in (
        ("2026-03-10", 1, 4, "04-12"),
        ("2026-03-15", 2, 5, "04-17"),
        ("2026-03-16", 1, 4, "04-17"),
    ):
        told.append(found(on, "SU", severity=severity, zone=zone))
        assert check(assessed(*told, on=on), "clear:LH:outer:SU")["not_before"] == day(clear)
    # its looks, too, are those of 15 March: 28 days, 12 April, and 7 more
    look = check(assessed(*told, on="2026-03-16"), "look:LH:outer:SU")
    assert (look["not_before"], look["due"]) == (day("04-05"), day("04-19"))


@pytest.mark.parametrize(
    ("zone", "clear"), [({"zone": 4}, "04-07"), ({"zone": 3}, "03-29"), ({}, "03-29")]
)
def test_under_another_name_that_runs_on_too(zone: dict[str, Any], clear: str) -> None:
    # white line called sole haemorrhage: 28 days from 1 March, or from 10 March
    told = [found("2026-03-01", "SH", severity=2, zone=3)]
    told.append(found("2026-03-10", "WLF", was="SH", severity=2, **zone))
    assert check(assessed(*told, on="2026-03-11"), CLEAR_WLF)["not_before"] == day(clear)
    # and the zones of the old name are known under the new one
    told.append(found("2026-03-12", "WLF", severity=2, zone=3))
    assert check(assessed(*told, on="2026-03-13"), CLEAR_WLF)["not_before"] == day(clear)


def test_of_two_that_became_one_it_held_in_the_zones_of_both() -> None:
    # both of 1 March: 29 March; in zone 5 as well on 10 March: 7 April
    first = [found("2026-03-01", "SH", severity=2, zone=3)]
    first.append(found("2026-03-01", "WLF", severity=2, zone=4))
    for zone, clear in ((3, "03-29"), (4, "03-29"), (5, "04-07")):
        as_one = found("2026-03-10", "WLF", was="SH", severity=2, zone=zone)
        bull = assessed(*first, as_one, on="2026-03-11")
        assert check(bull, CLEAR_WLF)["not_before"] == day(clear)


# No clock runs back


@pytest.mark.parametrize(
    ("then", "clear"),
    [
        # severe in zone 5 on 1 March: 42 days, 12 April; slight ones take 25, moderate ones 33
        # (Lischer et al. 2001)
        ([[{"zone": 4, "severity": 1}]], "04-12"),
        ([[{"zone": 4, "severity": 1}, {"zone": 5, "severity": 1}]], "04-12"),
        ([[{"zone": 4, "severity": 1}, {"zone": 6, "severity": 2}]], "04-12"),
        ([[{"severity": 1}], [{"severity": 2}]], "04-12"),
        ([[{"zone": 4, "severity": 1}], [{"zone": 6, "severity": 1}], [{"severity": 2}]], "04-12"),
        # as severe, or not said and so as it was, it takes longer
        ([[{"zone": 4, "severity": 3}]], "04-13"),
        ([[{"zone": 4}]], "04-13"),
        ([[{"severity": 1}], [{"severity": 3}]], "04-14"),
    ],
)
def test_what_begins_again_heals_no_sooner_than_before(then: list[Items], clear: str) -> None:
    told = [found("2026-03-01", "SU", severity=3, zone=5)]
    told += [listed(f"2026-03-0{day}", "SU", *items) for day, items in enumerate(then, 2)]
    bull = assessed(*told, on="2026-03-05")
    assert check(bull, "clear:LH:outer:SU")["not_before"] == day(clear)
    for ago, held in ((1, True), (0, False)):
        on = (day(clear) - timedelta(days=ago)).isoformat()
        assert holds(assessed(*told, gone(on, "SU"), on=on), "SU") is held


@pytest.mark.parametrize(
    ("on", "clear"), [("2026-03-02", "03-27"), ("2026-03-17", "04-11"), ("2026-03-18", "04-12")]
)
def test_slight_days_count_where_they_end_later(on: str, clear: str) -> None:
    # slight in zone 5 on 1 March: 26 March; in zone 4 besides, 25 days from then
    told = [found("2026-03-01", "SU", severity=1, zone=5), found(on, "SU", severity=1, zone=4)]
    assert check(assessed(*told, on=on), "clear:LH:outer:SU")["not_before"] == day(clear)


@pytest.mark.parametrize(("zone", "clear"), [(3, "03-26"), (4, "04-03")])
def test_how_bad_it_was_said_of_another_zone_ends_it_no_sooner(zone: int, clear: str) -> None:
    # not said, 33 days; slight from the first day on, 25
    told = [found("2026-03-01", "SU", zone=3), found("2026-03-01", "SU", severity=1, zone=zone)]
    bull = assessed(*told, on="2026-03-02")
    assert check(bull, "clear:LH:outer:SU")["not_before"] == day(clear)


@pytest.mark.parametrize(
    ("zone", "on", "held"),
    [
        (3, "2026-03-12", False),  # said for the first time
        # in another zone besides since: not before 28 days of the first
        (4, "2026-03-28", True),
        (4, "2026-03-29", False),
    ],
)
def test_severity_said_first_ends_nothing_that_began_again(zone: int, on: str, held: bool) -> None:
    told = [found("2026-03-01", "WLF", zone=3), found("2026-03-10", "WLF", zone=zone)]
    assert holds(assessed(*told, found(on, "WLF", severity=1), on=on), "WLF") is held


# What can be the same thing


@pytest.mark.parametrize(
    ("stage", "then", "held"),
    [
        *(("M0", {}, True), ("M0", {"stage": "M0"}, False), ("M0", {"severity": 1}, True)),
        *(("M3", {}, False), ("M4", {}, False), ("M2", {}, True)),
        *(("M3", {"severity": 1}, True), ("M4", {"severity": 2}, True)),
        ("M4", {"severity": 2, "stage": "M4"}, False),
        # what had another name, open or not
        *(("M4", {"was": "IH"}, True), ("M4", {"was": "SW"}, True)),
        *(("M4", {"was": "IH", "stage": "M4"}, False), ("M4", {"was": "SW", "stage": "M3"}, False)),
    ],
)
def test_dermatitis_keeps_the_stage_of_what_can_be_the_same(
    stage: str, then: dict[str, Any], held: bool
) -> None:
    spots = [spot("LH", "skin", "DD", stage=stage), spot("LH", "skin", "SW")]
    told = [lift("2026-03-01", "LH", findings=spots), found("2026-03-30", "DD", "skin", **then)]
    assert holds(assessed(*told), "DD", "skin") is held


@pytest.mark.parametrize(
    ("then", "clear"),
    [
        ({}, "03-24"),
        ({"severity": 1}, "03-24"),
        ({"was": "IP"}, "03-17"),  # of what stage it is nobody knows
        ({"was": "IP", "stage": "M1"}, "03-24"),
    ],
)
def test_a_stage_that_holds_is_kept_beside_a_severity(then: dict[str, Any], clear: str) -> None:
    # 14 days from 10 March where it goes from one stage to another; else found then, a week
    spots = [spot("LH", "skin", "DD", stage="M1", severity=2), spot("LH", "skin", "IP")]
    told = [lift("2026-03-01", "LH", findings=spots), found("2026-03-02", "DD", "skin", **then)]
    told.append(found("2026-03-10", "DD", "skin", stage="M2"))
    assert check(assessed(*told, on="2026-03-11"), "clear:LH:skin:DD")["not_before"] == day(clear)


# Less, and where


@pytest.mark.parametrize(
    ("then", "held"),
    [
        ([{"zone": 3}], True),
        ([{"zone": 3}, {"zone": 4}], True),
        ([{"zone": 3}, {}], False),
        ([{}, {"zone": 4}], True),
        ([{}], False),
        ([{}, {}], False),
    ],
)
def test_a_spot_that_nobody_placed_is_not_passed_over(then: Items, held: bool) -> None:
    # two spots on 1 March, one of them in zone 3; all slight on 30 March
    two = listed("2026-03-01", "WLF", {"severity": 2, "zone": 3}, {"severity": 2})
    low = [{"severity": 1} | item for item in then]
    assert holds(assessed(two, listed("2026-03-30", "WLF", *low)), "WLF") is held
    # what has healed has healed as a whole
    assert not holds(assessed(two, gone("2026-03-30", "WLF")), "WLF")


@pytest.mark.parametrize(
    ("first", "held"),
    [
        ([{"severity": 2}], False),  # one spot alone: it may lie in zone 4
        ([{"severity": 2}, {"severity": 2}], True),
        ([{"severity": 2, "zone": 4}, {"severity": 1}], False),
        ([{"severity": 2, "zone": 4}, {}], True),  # not said is not slight
    ],
)
def test_only_a_spot_among_several_is_one_that_nobody_placed(first: Items, held: bool) -> None:
    told = listed("2026-03-01", "WLF", *first)
    assert holds(assessed(told, found("2026-03-30", "WLF", severity=1, zone=4)), "WLF") is held
    # a white line called less as well, where all says how bad it is
    low = found("2026-03-30", "HHE", was="WLF", severity=1, zone=4)
    assert holds(assessed(told, low), "WLF") is held


def test_a_spot_that_nobody_placed_goes_on_under_another_name() -> None:
    told = [listed("2026-02-10", "SH", {"severity": 2, "zone": 3}, {"severity": 2})]
    told.append(found("2026-02-12", "WLF", was="SH", severity=2, zone=3))
    low = {"severity": 1, "zone": 3}
    for then, held in (([low], True), ([low, {"severity": 1}], False)):
        assert holds(assessed(*told, listed("2026-03-30", "WLF", *then)), "WLF") is held


@pytest.mark.parametrize(("zone", "held"), [({"zone": 4}, True), ({"zone": 3}, False), ({}, False)])
def test_called_less_in_another_zone_is_as_listed_low_there(
    zone: dict[str, Any], held: bool
) -> None:
    told = found("2026-03-01", "SH", severity=2, zone=3)
    named = found("2026-03-30", "HHE", was="SH", severity=1, **zone)
    assert holds(assessed(told, named), "SH") is held
    # found in two zones, called less in one
    both = lift("2026-02-20", "LH", findings=[spot("LH", "outer", "SH", severity=2, zone=4)])
    assert holds(assessed(both, told, named), "SH") is bool(zone)


@pytest.mark.parametrize(
    ("items", "held"),
    [
        ([{"was": "SH", "zone": 3}, {"zone": 4}], False),
        ([{"was": "SH", "zone": 3}, {"was": "SH", "zone": 4}], False),
        ([{"was": "SH"}, {"zone": 4}], True),
        ([{"was": "SH", "zone": 3}, {"zone": 5}], True),
        ([{"was": "SH"}, {}], False),
    ],
)
def test_all_that_the_entry_says_of_the_new_name_names_the_zones(items: Items, held: bool) -> None:
    told = listed("2026-03-01", "SH", {"severity": 2, "zone": 3}, {"severity": 2, "zone": 4})
    named = listed("2026-03-30", "HHE", *({"severity": 1} | item for item in items))
    assert holds(assessed(told, named), "SH") is held


@pytest.mark.parametrize(
    ("spots", "then", "held"),
    [
        # slight in zone 4, too, and that was said there
        ([{"zone": 3}, {"zone": 4}], {"zone": 4}, False),
        ([{"zone": 3}, {"zone": 4}], {"zone": 6}, True),
    ],
)
def test_a_zone_in_which_it_was_slight_is_no_other_zone(
    spots: Items, then: dict[str, Any], held: bool
) -> None:
    items = [spot("LH", "outer", "SH", severity=1, **item) for item in spots]
    first = lift("2026-03-20", "LH", findings=items)
    assert holds(assessed(first, found("2026-04-01", "SH", **then)), "SH") is held


# Names


@pytest.mark.parametrize("was", ["SH", "DS"])  # open, and not open
@pytest.mark.parametrize(("said", "held"), [({}, True), ({"severity": 1}, False)])
def test_what_had_another_name_is_not_as_slight_as_what_is_open_there(
    was: str, said: dict[str, Any], held: bool
) -> None:
    both = [spot("LH", "outer", code, severity=1) for code in ("WLF", "SH")]
    told = [lift("2026-03-29", "LH", findings=both)]
    assert holds(assessed(*told, found("2026-04-01", "WLF", was=was, **said)), "WLF") is held
    # a bad one lends how bad it is: severe since 28 March, no worse on 1 April (42 days: 9 May)
    bad = found("2026-03-28", "SU", severity=3)
    bull = assessed(bad, found("2026-04-01", "SU", was="DS"))
    assert check(bull, "clear:LH:outer:SU")["not_before"] == day("05-09")


def test_a_name_borne_before_is_as_old_as_it_was_where_it_meets_another() -> None:
    # white line of 1 March, toe ulcer on the 12th, white line again: of 1 March; found open
    # after 14 days once it and a toe necrosis are one
    told = [found("2026-03-01", "WLA"), found("2026-03-12", "TU", was="WLA")]
    told += [found("2026-03-13", "WLA", was="TU"), found("2026-03-14", "TN")]
    told.append(looked("2026-03-14", "foot"))
    assert "vet-look" in names(assessed(*told, found("2026-03-15", "TN", was="WLA")))
    # foul of 1 March, called a swelling; another foul of the 3rd; the swelling is foul after all
    told = [found("2026-03-01", "IP", "skin"), found("2026-03-02", "SW", "skin", was="IP")]
    told += [found("2026-03-03", "IP", "skin"), looked("2026-03-03", "foot")]
    assert "vet-look" in names(assessed(*told, found("2026-03-04", "IP", "skin", was="SW")))


@pytest.mark.parametrize(("on", "asked"), [("2026-03-14", False), ("2026-03-15", True)])
def test_back_to_a_name_that_runs_on_it_is_as_old_as_it_was(on: str, asked: bool) -> None:
    # haemorrhage of 1 March, a toe ulcer on the 5th, haemorrhage again; one with a toe ulcer that
    # was found after it. A toe ulcer found open after 14 days is for the vet
    told = [found("2026-03-01", "SH"), found("2026-03-05", "TU", was="SH")]
    told += [found("2026-03-06", "SH", was="TU"), found("2026-03-07", "TU")]
    told += [looked("2026-03-13", "foot"), found(on, "TU", was="SH")]
    assert ("vet-look" in names(assessed(*told, on=on))) is asked


# Beside a rename that is not believed


def test_a_spot_beside_a_rename_that_is_not_believed_is_found_all_the_same() -> None:
    # an ulcer is called white line too soon; another spot beside it is slight white line, and is
    # as slight when it is found again
    first = found("2026-03-06", "SU", severity=2)
    items: Items = [{"was": "SU", "severity": 1}, {"severity": 1}]
    both = listed("2026-03-12", "WLF", *items)
    bull = assessed(first, both, found("2026-03-14", "WLF"), on="2026-03-15")
    assert (holds(bull, "SU"), holds(bull, "WLF")) == (True, False)
    # without it, there is no white line there: how bad it is is not said
    alone = listed("2026-03-12", "WLF", items[0])
    bull = assessed(first, alone, found("2026-03-14", "WLF"), on="2026-03-15")
    assert (holds(bull, "SU"), holds(bull, "WLF")) == (True, True)


@pytest.mark.parametrize(("zone", "held"), [(4, False), (3, True)])
def test_a_spot_beside_such_a_rename_lies_where_it_says_itself(zone: int, held: bool) -> None:
    first = found("2026-03-06", "SU", severity=2, zone=3)
    items: Items = [{"was": "SU", "severity": 1, "zone": 3}, {"severity": 1, "zone": 4}]
    told = [first, listed("2026-03-12", "WLF", *items), found("2026-03-14", "WLF", zone=zone)]
    assert holds(assessed(*told, on="2026-03-15"), "WLF") is held
