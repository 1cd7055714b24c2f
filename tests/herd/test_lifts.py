"""Which lifts there are, and what each of them lists."""

from __future__ import annotations

from datetime import date

import pytest

from readiness.herd.stats.lifts import AGES, Listing, age_band
from readiness.trade.ages import birth_in
from tests.build import booked, found, said
from tests.herd.lifted import feet, lifts_of


def test_a_lift_is_one_foot_in_one_entry() -> None:
    lifts = lifts_of(booked(), feet("2026-03-01"), feet("2026-03-01", lifted=("LH",)))
    assert [lift.foot for lift in lifts] == ["LF", "RF", "LH", "RH", "LH"]
    assert not any(lift.found for lift in lifts)


def test_a_refused_foot_was_not_lifted() -> None:
    assert [lift.foot for lift in lifts_of(feet("2026-03-01", lifted=("LF",), refused=["RH"]))] == [
        "LF"
    ]


def test_nothing_counts_after_the_day_after_he_left_or_once_struck() -> None:
    told = [
        booked(),
        feet("2026-03-01", lifted=("LF",)),
        feet("2026-03-02", lifted=("RF",), id="wrong-bull"),
        said("strike", "2026-03-03", entry="wrong-bull"),
        feet("2026-04-04", lifted=("LH",)),
    ]
    assert [lift.foot for lift in lifts_of(*told)] == ["LF"]
    assert [lift.foot for lift in lifts_of(*told, on=date(2026, 4, 4))] == ["LF", "LH"]
    gone = [*told, said("moved", "2026-04-04", act="left")]
    assert len(lifts_of(*gone, on=date(2026, 4, 4))) == 2  # he was lifted before he left that day
    assert len(lifts_of(said("moved", "2026-03-01", act="left"), *told)) == 0


def test_a_finding_counts_at_each_lift_that_lists_it_and_not_seen_healed() -> None:
    ulcer = found("LH", "outer", "SU", 4, severity=2)
    healed = [{"foot": "LH", "claw": "outer", "code": "SU"}]
    lifts = lifts_of(
        feet("2026-01-02", ulcer, lifted=("LH",)),
        feet("2026-01-30", found("LH", "outer", "SU"), lifted=("LH",)),
        feet("2026-02-20", lifted=("LH",)),
        feet("2026-03-05", lifted=("LH",), healed=healed),
    )
    same = frozenset({Listing("outer", "SU", 4)})  # found again without a zone it keeps its zone
    assert [lift.found for lift in lifts] == [same, same, frozenset(), frozenset()]


def test_one_renamed_keeps_its_zone() -> None:
    lifts = lifts_of(
        feet("2026-01-02", found("LF", "inner", "SH", 5, severity=2), lifted=("LF",)),
        feet("2026-01-05", found("LF", "inner", "SU", was="SH", severity=2), lifted=("LF",)),
    )
    assert lifts[1].found == {Listing("inner", "SU", 5)}


def test_both_claws_and_two_spots() -> None:
    [lift] = lifts_of(
        feet("2026-03-01", found("RF", "both", "HHE", 6), found("RF", "outer", "HHE", 3),
             lifted=("RF",)),
    )  # fmt: skip
    assert lift.found == {
        Listing("outer", "HHE", 6), Listing("inner", "HHE", 6), Listing("outer", "HHE", 3),
    }  # fmt: skip


def test_a_stage_that_says_no_lesion_is_no_finding() -> None:
    """M0 is "no lesion" (Döpfer et al.; Berry et al. 2012)."""
    [first, _, again] = lifts_of(
        feet("2026-02-01", found("LH", "skin", "DD", 10, stage="M2"), lifted=("LH",)),
        feet("2026-02-04", found("LH", "skin", "DD", stage="M0"), lifted=("LH",)),
        feet("2026-02-08", found("LH", "skin", "DD"), lifted=("LH",)),
    )
    assert first.found == again.found == {Listing("skin", "DD", 10)}
    [sound] = lifts_of(feet("2026-02-01", found("LH", "skin", "DD", stage="M0"), lifted=("LH",)))
    assert sound.found == frozenset()


def test_his_farm_is_that_of_the_day_his_breed_and_birthday_those_said_last() -> None:
    lifts = lifts_of(
        feet("2024-06-01", lifted=("LF",)),
        booked(on="2025-01-10", farm="Sallow Fell", born="2023-01-10"),
        feet("2025-02-01", lifted=("LF",)),
        booked(on="2026-01-10", farm="Low Sand", breed=" Beef\u200b  Shorthorn", born="2023-04-01"),
        feet("2026-01-10", lifted=("LF",)),
    )
    assert [lift.farm for lift in lifts] == ["Sallow Fell", "Sallow Fell", "Low Sand"]
    assert {lift.breed for lift in lifts} == {"Beef Shorthorn"}
    assert [lift.age for lift in lifts] == [
        "under 15 months", "18 to under 24 months", "24 to under 36 months",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("born", "band"),
    [
        ("2025-01-04", "under 15 months"),
        ("2025-01-03", "15 to under 18 months"),
        ("2024-10-04", "15 to under 18 months"),
        ("2024-10-03", "18 to under 24 months"),
        ("2024-04-03", "24 to under 36 months"),
        ("2023-04-04", "24 to under 36 months"),
        ("2023-04-03", "36 months to 6 years"),
        ("2020-03-04", "36 months to 6 years"),
        ("2020-03-03", "over 6 years"),
        ("2026-04-03", "under 15 months"),
        ("2026-04-04", "unknown"),
        (None, "unknown"),
    ],
)
def test_ages_are_those_by_which_females_are_counted(born: str | None, band: str) -> None:
    """The bands of the sourced table of females a bull (extension services of Ohio State and North
    Dakota; SAC): under 15, 15 to under 18, 18 to under 24, 24 to under 36 months, 36 months to 6
    years, over 6 years. That whole months decide the last step is ours."""
    assert age_band(birth_in({"born": born}), date(2026, 4, 3).toordinal()) == band
    assert band in AGES


@pytest.mark.parametrize(
    ("first", "last", "band"),
    [
        ("2022-01-01", "2022-12-31", "36 months to 6 years"),
        ("2025-01-03", "2025-01-04", "unknown"),
        ("2026-03-01", "2026-04-04", "unknown"),
    ],
)
def test_a_foot_counts_for_no_age_of_which_nobody_is_sure(first: str, last: str, band: str) -> None:
    birth = birth_in({"born": last, "born_from": first})
    assert age_band(birth, date(2026, 4, 3).toordinal()) == band
