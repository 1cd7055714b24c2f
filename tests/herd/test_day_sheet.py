"""The day sheet: which entries stand on it, and the work counted."""

from __future__ import annotations

from datetime import date
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from readiness.entries.entry import Entry, entry_order
from readiness.herd.day_sheet import Work, day_sheets, last_day_with_work, work_of
from readiness.rules.load import load_rules
from readiness.trade.feet import FEET
from readiness.trade.tags import tag_key
from tests.cli.small_book import DAY, FARM, Line, bull, lines

ON = date.fromisoformat(DAY).toordinal()


def entries(said: list[Line]) -> list[Entry]:
    """The lines as the book would give them, in the order of the file."""
    told = [
        Entry(
            date.fromisoformat(line["on"]).toordinal(),
            "2026-01-01T00:00:00.000000Z",
            position,
            f"entry-{position}",
            line["kind"],
            tag_key(line.get("bull", "")),
            line,
        )
        for position, line in enumerate(said)
    ]
    return sorted(told, key=entry_order)


def weighed(tag: str, batch: str, on: str = DAY) -> Entry:
    (entry,) = entries([{"kind": "weight", "on": on, "bull": tag, "kg": 900}])
    return entry._replace(batch=batch)


def feet(tag: str, on: str = DAY, **said: Any) -> Line:
    return {"kind": "feet", "on": on, "bull": tag, "by": "Tess", "lifted": FEET, **said}


def trimmed(*feet_done: str, act: str = "trim", claw: str = "both") -> list[dict[str, str]]:
    return [{"foot": foot, "claw": claw, "act": act} for foot in feet_done]


# A day worked out by hand: Corran all four trimmed, RH pared on both claws and a block fitted twice
# (the first fell off); Tarn LF and RF lifted, LF trimmed, LH refused; Brock's block off, LH lifted.
DAY_AT_THE_CRUSH: list[Line] = [
    feet("UK 123450 600417", work=[*trimmed(*FEET), *trimmed("RH", act="pare", claw="outer"),
                                   *trimmed("RH", act="pare", claw="inner")]),
    {"kind": "block-on", "on": DAY, "bull": "UK 123450 600417", "foot": "RH", "claw": "inner"},
    {"kind": "block-off", "on": DAY, "bull": "UK 123450 600417", "foot": "RH", "claw": "inner",
     "lost": True},
    {"kind": "block-on", "on": DAY, "bull": "UK 123450 600417", "foot": "RH", "claw": "inner"},
    feet("00122", lifted=["LF", "RF"], refused=["LH"], work=trimmed("LF")),
    {"kind": "block-off", "on": DAY, "bull": "00093", "by": "Una", "foot": "LH", "claw": "outer"},
    feet("00093", by="Una", lifted=["LH"]),
]  # fmt: skip
COUNTED_BY_HAND = (
    Work("lifted", 3, 7, "feet"),
    Work("trimmed", 2, 5, "feet"),
    Work("pared", 1, 1, "feet"),
    Work("would not lift", 1, 1, "feet"),
    Work("blocks fitted", 1, 2, "blocks"),
    Work("blocks taken off", 1, 1, "blocks"),
    Work("blocks lost", 1, 1, "blocks"),
)


def test_the_work_of_a_day_is_counted_as_by_hand() -> None:
    (sheet,) = day_sheets(entries([*lines(), *DAY_AT_THE_CRUSH]), load_rules(None), ON)
    assert sheet.work == COUNTED_BY_HAND
    assert sheet.by == ("Tess", "Una")
    assert [bull.name for bull in sheet.bulls] == ["Corran", "Tarn", "Brock"]
    assert [len(bull.entries) for bull in sheet.bulls] == [4, 1, 2]


def test_only_the_day_itself_stands_on_its_sheet_and_paperwork_does_not() -> None:
    told = [*lines(), feet("00288", on="2026-04-02"), feet("00288", on="2026-04-04")]
    told += bull("00999", "New", "Heifers")
    told.append({"kind": "bull", "on": DAY, "bull": "00288", "pen": "4"})
    assert day_sheets(entries(told), load_rules(None), ON) == ()
    assert last_day_with_work(entries(told), load_rules(None), ON) == ON - 1
    assert last_day_with_work(entries(told), load_rules(None), ON - 500) is None


def test_each_farm_has_a_sheet_of_its_own() -> None:
    told = [*lines(), *bull("7", "Wend", farm="Low Sand"), feet("7"), feet("00288"),
            *bull("8", "Nobody's", farm=None), feet("8")]  # fmt: skip
    sheets = day_sheets(entries(told), load_rules(None), ON)
    assert [sheet.farm for sheet in sheets] == ["", "Low Sand", FARM]
    (one,) = day_sheets(entries(told), load_rules(None), ON, "Low Sand")
    assert (one.farm, one.work) == (sheets[1].farm, sheets[1].work)
    assert [bull.name for bull in one.bulls] == ["Wend"]


def test_who_was_worked_on_before_booking_is_on_the_sheet_by_his_name() -> None:
    """The ordinary first day: the crush comes before the office."""
    booked = {"kind": "bull", "on": "2026-04-05", "bull": "UK 123450 100003", "name": "Wend",
              "farm": "Low Sand", "temper": "watch"}  # fmt: skip
    told = [*lines(), feet("uk 123450 100003"), booked]
    for farm in (None, "Low Sand"):
        (sheet,) = day_sheets(entries(told), load_rules(None), ON, farm)
        (wend,) = sheet.bulls
        assert (sheet.farm, wend.name, wend.tag) == ("Low Sand", "Wend", "UK 123450 100003")
        assert wend.assessment is None
        assert sheet.work == (Work("lifted", 1, 4, "feet"),)
    assert last_day_with_work(entries(told), load_rules(None), ON + 2, "Low Sand") == ON
    assert last_day_with_work(entries(told), load_rules(None), ON + 2, FARM) == ON - 1


def test_who_left_that_day_is_on_the_sheet_and_no_longer_assessed() -> None:
    left = {"kind": "moved", "on": DAY, "bull": "00288", "act": "left", "reason": "sold"}
    (sheet,) = day_sheets(entries([*lines(), feet("00288"), left]), load_rules(None), ON)
    (rowan,) = sheet.bulls
    assert rowan.assessment is None
    assert rowan.name == "Rowan"
    assert [entry.kind for entry in rowan.entries] == ["feet", "moved"]


def test_what_comes_next_is_what_the_board_says_after_the_day() -> None:
    """An ulcer found today: looked at in 28 days, believed healed from 33 (AHDB; Lischer et al.
    2001), which the sheet must hand on as the board has it."""
    ulcer = [{"foot": "LH", "claw": "outer", "code": "SU", "severity": 2}]
    (sheet,) = day_sheets(entries([*lines(), feet("00288", findings=ulcer)]), load_rules(None), ON)
    rowan = sheet.bulls[0].assessment
    assert rowan is not None
    checks = {check.check: check for check in rowan.outstanding}
    assert checks["clear"].not_before == ON + 33
    assert checks["look"].due == ON + 28 + 7


@given(
    st.lists(
        st.tuples(
            st.sampled_from(["A", "B", "C"]),
            st.lists(st.sampled_from(FEET), min_size=1, unique=True),
            st.lists(st.tuples(st.sampled_from(FEET), st.sampled_from(["trim", "pare", "wrap"]))),
        ),
        max_size=8,
    )
)
def test_no_order_and_no_saying_again_changes_the_count(
    day: list[tuple[str, list[str], list[tuple[str, str]]]],
) -> None:
    """However a day is cut into entries and ordered, the work is the same; said twice it is not
    done twice."""
    told = [
        feet(tag, lifted=lifted, work=[{"foot": foot, "act": act} for foot, act in work])
        for tag, lifted, work in day
    ]
    counted = work_of(entries(told))
    assert work_of(entries(told[::-1])) == counted
    assert work_of(entries([*told, *told])) == counted
    lifted = {(tag, foot) for tag, feet_lifted, _ in day for foot in feet_lifted}
    assert {w.what: (w.bulls, w.count) for w in counted}.get("lifted", (0, 0)) == (
        len({tag for tag, _ in lifted}),
        len(lifted),
    )
    assert all(1 <= w.bulls <= w.count for w in counted)


def test_a_weight_out_of_a_roster_stands_on_no_sheet() -> None:
    """Nobody had the bull before him: neither the bull nor, of one who was handled, the weight."""
    rules, booked = load_rules(None), entries(lines())
    typed, listed = weighed("00288", "0196a1f0"), weighed("00288", "roster-0196a1f0")
    (sheet,) = day_sheets(sorted([*booked, typed], key=entry_order), rules, ON)
    assert [bull.key for bull in sheet.bulls] == ["00288"] and sheet.bulls[0].entries == (typed,)
    told = sorted([*booked, listed], key=entry_order)
    assert day_sheets(told, rules, ON) == ()
    assert last_day_with_work(told, rules, ON + 1) == last_day_with_work(booked, rules, ON + 1)
    lifted = [*booked, *entries([feet("00288")]), listed]
    (sheet,) = day_sheets(sorted(lifted, key=entry_order), rules, ON)
    assert [entry.kind for entry in sheet.bulls[0].entries] == ["feet"]
