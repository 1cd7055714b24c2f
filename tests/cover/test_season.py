"""The season of a group: returns, looks, who could stand in, what a bull lost at work."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from readiness.cover.season import RETURNS, Season, last_looked, looks
from readiness.history import history
from readiness.report.cover_words import facts
from tests.build import RULES, Line, condition, day, entries_of, exam, lift, said, walk
from tests.cover.farms import TURNOUT, bull, cover, cows

OUT = said("moved", "2026-04-28", "B 1", act="out")
AT_TURNOUT = said("moved", TURNOUT, "B 1", act="out")


def season(*lines: Line, on: str = "2026-05-10") -> Season:
    (found,) = cover(*lines, on=on).seasons
    return found


def days(*lines: Line, on: str = "2026-04-28") -> list[tuple[str, str, str]]:
    return [
        (date.fromordinal(e.first).isoformat(), date.fromordinal(e.last).isoformat(), e.text)
        for e in cover(*lines, on=on).events
    ]


def test_returns_are_watched_from_18_to_24_days_and_every_21_days_to_the_season_s_end() -> None:
    # Veterinary references: service on 1 May 2027, returns 19 to 25 May; a cycle of 21 days.
    told = days(cows(turnout="2027-05-01", weeks=9), on="2027-04-28")
    returns = [(first, last) for first, last, text in told if text == "watch for returns"]
    assert returns == [
        ("2027-05-19", "2027-05-25"), ("2027-06-09", "2027-06-15"), ("2027-06-30", "2027-07-03"),
    ]  # fmt: skip
    assert ("2027-05-01", "2027-05-01", "turnout") in told
    assert ("2027-07-03", "2027-07-03", "the season's last day: bring the bulls in") in told
    assert told[-1] == ("2028-02-08", "2028-04-11", "calves due")


def test_days_that_are_past_are_not_told() -> None:
    told = days(cows(turnout="2027-05-01", weeks=9), on="2027-05-25")
    assert told[0][:2] == ("2027-05-19", "2027-05-25")
    told = days(cows(turnout="2027-05-01", weeks=9), on="2027-05-26")
    assert [first for first, _, text in told if text == RETURNS] == ["2027-06-09", "2027-06-30"]


def test_working_bulls_are_looked_at_daily_for_three_weeks_then_every_other_day() -> None:
    # Angus Australia: three to four times a week, more often in the first cycle; NZ: daily.
    told = [each for each in days(cows(weeks=9)) if each[2].startswith("look")]
    assert told == [
        ("2026-05-02", "2026-05-22", "look at the working bulls daily"),
        ("2026-05-24", "2026-07-03", "look at the working bulls every other day"),
    ]
    short = [each for each in days(cows(weeks=3)) if each[2].startswith("look")]
    assert short == [("2026-05-02", "2026-05-22", "look at the working bulls daily")]


@pytest.mark.parametrize(
    ("often", "days_often", "usual", "expected"),
    [
        (1, 21, 1, [(1, 84, 1)]), (2, 21, 2, [(2, 84, 2)]), (2, 21, 3, [(2, 22, 2), (25, 84, 3)]),
        (1, 60, 60, [(1, 60, 1)]), (3, 1, 2, [(3, 3, 3), (5, 84, 2)]),
    ],
)  # fmt: skip
def test_the_looks_follow_the_farm_s_own_rules(
    often: int, days_often: int, usual: int, expected: list[tuple[int, int, int]]
) -> None:
    rules = RULES.common.cover._replace(
        working_look_first=often, working_first=days_often, working_look=usual
    )
    assert list(looks(0, 84, rules)) == expected


def test_whoever_looks_on_those_days_is_never_late_for_the_next_look() -> None:
    seen = TURNOUT
    for first, last, every in looks(day(TURNOUT), day("2026-07-24"), RULES.common.cover):
        for due in range(first, last + 1, every):
            walked = [] if seen == TURNOUT else [walk(seen, 0, tag="B 1")]
            (working,) = season(cows(), *bull("B 1"), AT_TURNOUT, *walked, on=seen).working
            assert working.look_by == due
            seen = date.fromordinal(due).isoformat()


def test_how_often_to_look_is_said_of_bulls_at_work() -> None:
    found = cover(cows(weeks=9), *bull("B 1"), AT_TURNOUT, on="2026-05-10")
    told = dict(facts(found, found.groups[0]))
    assert told["look at"] == (
        "daily until 22 May, then every other day; B 1, last seen 9 days ago"
    )
    assert "look" not in told["days to keep"]


@pytest.mark.parametrize(
    ("seen", "again"),
    [
        ("2026-05-03", "2026-05-04"),  # daily in the first cycle
        ("2026-05-21", "2026-05-22"),  # its last day
        ("2026-05-22", "2026-05-24"),  # then every other day: three to four times a week
    ],
)
def test_a_bull_at_work_is_looked_at_daily_then_every_other_day(seen: str, again: str) -> None:
    (working,) = season(cows(), *bull("B 1"), OUT, walk(seen, 0, tag="B 1"), on=seen).working
    assert date.fromordinal(working.look_by).isoformat() == again


@pytest.mark.parametrize(
    "entry",
    [
        walk("2026-05-05", 0), condition("2026-05-05", 3), exam("2026-05-05"),
        lift("2026-05-05", "LF"), said("vet-look", "2026-05-05", about="other", outcome="fit"),
        said("incident", "2026-05-05", cause="fight"),
        said("incident", "2026-05-05", cause="illness"),
    ],
    ids=lambda entry: entry["kind"],
)  # fmt: skip
def test_whoever_says_how_he_is_has_looked_at_him(entry: Line) -> None:
    state = history(entries_of([entry]), RULES.common, day("2026-05-10"))
    assert last_looked(state) == day("2026-05-05")


LAME = walk("2026-05-08", 2, tag="B 1", limb="LF")


def test_one_who_is_lame_at_work_is_brought_in_and_who_could_stand_in_is_named_by_day() -> None:
    lines = [
        cows(35), *bull("B 1"), OUT, LAME,
        *bull("B 2", role="reserve"),  # his walk is of 28 Apr: GO to 12 May
        *bull("B 3", None), walk("2026-05-07", 2, tag="B 3", limb="LF"),
    ]  # fmt: skip
    found = season(*lines)
    assert [each.bull.bull for each in found.bring_in] == ["B 1"]
    assert [(s.bull.bull, s.bull.status, date.fromordinal(s.ready).isoformat(), s.place)
            for s in found.stand_ins] == [
        ("B 2", "GO", "2026-05-10", "reserve of Hill"),
        ("B 3", "HOLD", "2026-05-14", "in no group"),
    ]  # fmt: skip


@pytest.mark.parametrize(
    "who",
    [
        bull("B 2", None, temper="dangerous"), bull("B 2", None, farm="Moss"),
        [*bull("B 2", None), said("moved", "2026-05-01", "B 2", act="out")],
        [cows(35, "Bank", "2026-05-20"), *bull("B 2", "Bank")],
    ],
    ids=["dangerous", "of another farm", "out", "works elsewhere"],
)  # fmt: skip
def test_never_stands_in_one(who: list[Line]) -> None:
    (mine, *_) = cover(cows(35), *bull("B 1"), OUT, LAME, *who, on="2026-05-10").seasons
    assert mine.stand_ins == ()


def test_while_all_who_work_are_sound_nobody_is_asked_to_stand_in() -> None:
    found = season(cows(35), *bull("B 1"), OUT, *bull("B 2", role="reserve"), on="2026-05-01")
    assert (found.bring_in, found.stand_ins) == ((), ())


def test_what_he_lost_at_work_is_the_last_of_before_less_the_last_since() -> None:
    told = [
        said("weight", "2026-04-20", "B 1", kg=1000), said("weight", "2026-06-01", "B 1", kg=940),
        condition("2026-05-20", 3, tag="B 1"), condition("2026-06-01", 2.75, tag="B 1"),
    ]  # fmt: skip
    (working,) = season(cows(), *bull("B 1"), OUT, *told, on="2026-06-02").working
    assert (working.condition, working.kg) == (0.5, 60)
    other_scale = condition("2026-06-02", 5, tag="B 1", scale="nine")
    (working,) = season(cows(), *bull("B 1"), OUT, *told, other_scale, on="2026-06-02").working
    assert working.condition is None


def test_a_bull_that_is_out_after_the_season_is_told_of() -> None:
    lines = [cows(weeks=9), *bull("B 1"), OUT, *bull("B 2")]
    assert cover(*lines, on="2026-07-03").strays == ()
    (stray,) = cover(*lines, on="2026-07-04").strays
    assert stray.bull == "B 1"


def test_one_who_waits_with_the_group_stands_in_before_all_others() -> None:
    lines = [cows(70), *bull("B 1"), OUT, LAME, *bull("B 2")]
    (first,) = season(*lines).stand_ins
    assert (first.bull.bull, first.place) == ("B 2", "not let out yet")


def test_who_is_let_out_before_turnout_may_have_calves_so_much_sooner() -> None:
    (group,) = cover(cows(30, weeks=9), *bull("B 1"), OUT, on="2026-04-28").groups
    assert date.fromordinal(group.first_calf) == date(2026, 4, 28) + timedelta(days=283)
