"""The reference itself against cases worked out by hand, and the random books against their rules.

Days were counted on a calendar by hand.
"""

from __future__ import annotations

from datetime import date
from functools import cache
from typing import Any

import pytest
from hypothesis import given, settings

from readiness.entries.validate import validate
from tests.volume import examples, sampled

from . import checks
from .books import random_book, some_written_ahead
from .brute import brute_board, in_order
from .hand import (
    ON,
    OWN,
    assessed,
    check,
    entry,
    healed,
    lift,
    names,
    sound,
    ulcer,
    walk,
    with_turnout,
)
from .search import earliest, first_turnout
from .state import Entry
from .story import tell
from .strategies import books
from .values import RULES, rule_values


def test_block_comes_off_from_day_28_and_by_day_42() -> None:
    # fitted 2026-03-01, looked at from 2026-03-29, off by 2026-04-12
    bull = assessed(entry("block-on", "2026-03-01", foot="LH", claw="inner"), on="2026-03-02")
    off = check(bull, "block-off:LH:inner")
    assert (off["not_before"], off["due"]) == (date(2026, 3, 29), date(2026, 4, 12))
    assert check(bull, "block-look:LH:inner")["not_before"] == date(2026, 3, 29)


def test_advised_days_before_turnout() -> None:
    # turnout 2026-05-01, feet by 2026-03-06, vet to 2026-04-03
    bull = assessed(*with_turnout("2026-05-01"), on="2026-01-10")
    feet, exam = check(bull, "feet"), check(bull, "vet-exam")
    assert feet["advised_by"] == date(2026, 3, 6)
    assert exam["advised_by"] == date(2026, 4, 3)
    assert (feet["due"], feet["not_after"]) == (date(2026, 4, 24), date(2026, 5, 1))
    assert exam["not_before"] == date(2026, 3, 2)  # 60 days before


@pytest.mark.parametrize(("severity", "plausible"), [(1, (3, 26)), (2, (4, 3)), (3, (4, 12))])
def test_ulcer_is_healed_no_sooner_than_its_cover_time(
    severity: int, plausible: tuple[int, int]
) -> None:
    # found 2026-03-01; 25, 33 and 42 days: Lischer et al. 2001
    bull = assessed(ulcer("2026-03-01", severity=severity), on="2026-03-02")
    first = check(bull, "clear:LH:outer:SU")
    assert first["not_before"] == date(2026, *plausible)
    if severity > 1:
        # the look of 2026-03-29 counts a quarter of 28 days sooner, is overdue as much later
        look = check(bull, "look:LH:outer:SU")
        assert (look["not_before"], look["due"]) == (date(2026, 3, 22), date(2026, 4, 5))
        assert first["due"] is None
    else:
        # 25 days are up before the look's day: clear is that look
        assert first["due"] == date(2026, 4, 5)
    on_the_day = date(2026, *plausible)
    held = ("finding", "LH", "outer", "SU")
    for day, holds in ((on_the_day.replace(day=on_the_day.day - 1), True), (on_the_day, False)):
        seen = assessed(
            ulcer("2026-03-01", severity=severity), healed(day.isoformat()), on=day.isoformat()
        )
        assert (held in seen["reasons"]) is holds


def test_deferred_quarantine_and_illness() -> None:
    # deferred 2026-03-10, again from 2026-05-09; arrived 2026-04-10, free from 05-08
    bull = assessed(
        entry("bull", "2026-03-01", origin="bought", arrived="2026-04-10"),
        entry("vet-exam", "2026-03-10", outcome="deferred"),
    )
    assert check(bull, "vet-exam")["not_before"] == date(2026, 5, 9)
    assert check(bull, "quarantine")["not_before"] == date(2026, 5, 8)
    assert {("vet", None, None, None), ("quarantine", None, None, None)} <= bull["reasons"]
    ill = assessed(
        entry("vet-exam", "2026-04-03", outcome="satisfactory"),
        entry("incident", "2026-04-03", cause="illness"),
    )
    assert check(ill, "vet-exam")["not_before"] == date(2026, 4, 17)


def test_sound_bull_goes() -> None:
    bull = assessed(*sound())
    assert (bull["status"], bull["outlook"], names(bull)) == ("GO", "ready", [])
    assert (bull["earliest_ready"], bull["slack_days"]) == (ON, 6)
    # 15 days after the walk it no longer counts
    late = assessed(*sound("2026-04-16"))
    assert (names(late), late["hold"], late["slack_days"]) == (["mobility"], "checks", 13)
    assert check(late, "mobility")["not_before"] == ON


def test_chain_of_the_block() -> None:
    # fitted 4 Mar, off from 1 Apr, today 3 Apr, 7 days to the walk: 10 Apr
    bull = assessed(*sound("2026-04-08"), entry("block-on", "2026-03-04", foot="LH", claw="inner"))
    off, walked = check(bull, "block-off:LH:inner"), check(bull, "mobility")
    assert bull["earliest_ready"] == walked["not_before"] == date(2026, 4, 10)
    assert (bull["slack_days"], bull["outlook"]) == (-2, "too-late")
    assert (off["not_before"], off["not_after"]) == (ON, date(2026, 4, 1))  # no day fits


def test_block_on_a_claw_that_carries_a_finding() -> None:
    fitted = entry("block-on", "2026-03-20", foot="LH", claw="outer")
    off = check(assessed(ulcer("2026-04-01"), fitted), "block-off:LH:outer")
    assert (off["not_before"], off["due"]) == (ON, ON)


def test_lame_bull() -> None:
    bull = assessed(*sound(), walk("2026-04-02", 2, limb="LF"))
    assert names(bull) == ["lift", "mobility"]
    lifted, walked = check(bull, "lift"), check(bull, "mobility")
    assert (lifted["feet"], lifted["due"]) == (["LF"], date(2026, 4, 4))
    assert walked["not_before"] == bull["earliest_ready"] == date(2026, 4, 9)
    assert (bull["hold"], bull["outlook"], bull["slack_days"]) == ("reason", "tight", 0)
    # sound again six days later is too soon, seven is not
    for day, lame in (("2026-04-08", True), ("2026-04-09", False)):
        told = [walk("2026-04-02", 2), lift("2026-04-03"), walk(day, 0)]
        later = assessed(*sound("2026-04-09"), *told, on="2026-04-09")
        assert (("lame", None, None, None) in later["reasons"]) is lame


def test_lame_with_nothing_found_asks_for_the_vet() -> None:
    told = [walk("2026-03-20", 2, limb="LF"), lift("2026-03-21", "LF")]
    assert check(assessed(*told), "vet-look")["due"] == date(2026, 3, 23)
    seen = entry("vet-look", "2026-03-21", about="lame", outcome="fit", foot="LF")
    assert "vet-look" not in names(assessed(*told, seen))


def test_swelling_asks_for_the_vet_on_that_foot() -> None:
    found = lift("2026-04-01", "LF", findings=[{"foot": "LF", "claw": "skin", "code": "SW"}])
    other = entry("vet-look", "2026-04-02", about="foot", outcome="fit", foot="RF")
    assert check(assessed(found, other), "vet-look")["due"] == date(2026, 4, 3)
    assert "vet-look" not in names(assessed(found, other | {"foot": "LF"}))


def test_renamed_keeps_its_clock_unless_worse() -> None:
    # found 1 March, called a white line fissure on the 10th: 28 days from the 1st; worse: from then
    found = ulcer("2026-03-01", "SH", severity=2)
    same = assessed(found, ulcer("2026-03-10", "WLF", was="SH", severity=2), on="2026-03-10")
    worse = assessed(found, ulcer("2026-03-10", "WLF", was="SH", severity=3), on="2026-03-10")
    assert check(same, "clear:LH:outer:WLF")["not_before"] == date(2026, 3, 29)
    assert check(worse, "clear:LH:outer:WLF")["not_before"] == date(2026, 4, 7)
    # an ulcer or an abscess is a course of its own
    for code, clear in (("SU", date(2026, 4, 12)), ("WLA", date(2026, 4, 7))):
        anew = assessed(found, ulcer("2026-03-10", code, was="SH", severity=2), on="2026-03-10")
        assert check(anew, f"clear:LH:outer:{code}")["not_before"] == clear
    # to what would not hold, too soon: it keeps its name
    soon = assessed(found, ulcer("2026-03-10", "CC", was="SH", severity=2), on="2026-03-10")
    assert soon["reasons"] == {("finding", "LH", "outer", "SH")}


def test_thin_bull_is_scored_again_before_the_score_that_counts() -> None:
    thin = entry("condition", "2026-03-10", scale="nine", score=3.5)
    bull = assessed(*with_turnout("2026-06-01"), thin)
    again, score = check(bull, "condition-again"), check(bull, "condition")
    assert (again["not_before"], again["due"]) == (ON, date(2026, 4, 14))  # from 31 March
    assert score["not_before"] == date(2026, 5, 2)


def test_out_left_struck_season_over() -> None:
    out = assessed(*sound("2026-03-25"), entry("moved", "2026-03-25", act="out"))
    assert (out["outlook"], out["status"], out["earliest_ready"]) == ("working", "GO", None)
    over = assessed(*sound("2026-01-09"))  # 84 days later is 3 April: still in the group
    assert (over["group"], over["slack_days"]) == ("Cows", -84)
    assert assessed(*sound("2026-01-08"))["outlook"] == "no-turnout"
    gone = [entry("bull", "2026-01-01"), entry("moved", "2026-04-03", act="left")]
    assert brute_board(gone, ON) == []
    lame: Entry = walk("2026-04-02", 3) | {"id": "x"}
    strike: Entry = {"kind": "strike", "on": "2026-05-01", "entry": "x"}
    assert assessed(*sound(), lame, strike)["status"] == "GO"


def test_what_if_turnout_were_then() -> None:
    booked = entry("bull", "2025-11-01")
    (bull,) = brute_board([booked, *sound()], ON, turnout=date(2026, 4, 16))
    assert (bull["turnout"], bull["hold"]) == (date(2026, 4, 16), "checks")


def test_own_check_needs_a_pass_that_no_later_fail_undoes() -> None:
    passed = entry("check", "2026-04-01", check="bvd-test", result="pass")
    failed = entry("check", "2026-04-02", check="bvd-test", result="fail")
    assert names(assessed(*sound(), checks=OWN)) == ["bvd-test"]
    assert assessed(*sound(), passed, checks=OWN)["status"] == "GO"
    bull = assessed(*sound(), passed, failed, checks=OWN)
    assert bull["reasons"] == {("check:bvd-test", None, None, None)}


def test_random_books_are_the_same_every_time() -> None:
    for seed in range(4):
        assert random_book(seed, 15, 12, ON) == random_book(seed, 15, 12, ON)
    assert random_book(1, 15, 12, ON) != random_book(2, 15, 12, ON)


def test_random_books_are_valid() -> None:
    for seed in range(20):
        book = random_book(seed, 15, 12, ON)
        assert [(e, problems) for e in book if (problems := validate(e)[1])] == []


@settings(max_examples=examples(50), database=None)
@given(books(ON, bulls=2))
def test_drawn_books_are_valid(book: list[Entry]) -> None:
    assert [(e, problems) for e in book if (problems := validate(e)[1])] == []


@settings(max_examples=examples(50), database=None)
@given(books(ON, bulls=2))
def test_drawn_books_can_be_assessed(book: list[Entry]) -> None:
    board = brute_board(book, ON)
    assert [bull for bull in board if (bull["status"] == "GO") is not (bull["hold"] is None)] == []


def test_no_day_before_earliest_ready_would_do() -> None:
    """The search leaves days out that cannot do; here every day is tried in full."""
    values, today = rule_values({"checks": OWN}), ON.toordinal()
    told = in_order(random_book(5, 30, 12, ON))
    tried = 0
    for tag in [e["bull"] for e in told if e["kind"] == "bull"]:
        story = tell([e for e in told if e.get("bull") == tag], values, today)
        ready = first_turnout(story, today)
        for day in range(today, today if ready is None else ready):
            listed = checks.outstanding(story, today, day, None)
            days = earliest(listed, today)
            assert any(days[c.id] > day - c.before for c in listed)
            tried += 1
    assert tried > 100


# Rules that are not one number.
NOT_DAYS = {
    "checks",
    "findings",
    "condition.hold",
    "scrotum.least",
    "vet.required",
    "look.slack",
    "look.farmer",
    "seen.ahead",
}


@sampled("rule", sorted(set(RULES) - NOT_DAYS), first=0, most=10)
def test_random_books_notice_a_rule_that_is_off_by_one(rule: str) -> None:
    """A comparison with these books fails where a rule is wrong by one."""
    for step in (1, -1):
        noticed({rule: RULES[rule] + step})


@pytest.mark.long
@pytest.mark.parametrize("step", [1, -1])
def test_random_books_notice_how_long_before_its_day_a_look_may_be_written(step: int) -> None:
    off = {"checks": OWN, "seen.ahead": RULES["seen.ahead"] + step}
    books = (some_written_ahead(random_book(seed, 40, 12, ON)) for seed in range(40))
    assert any(brute_board(b, ON, off) != brute_board(b, ON, {"checks": OWN}) for b in books)


@pytest.mark.long
def test_random_books_notice_whose_a_look_is() -> None:
    for days in (RULES["look.farmer"] - 1, 7):
        noticed({"look.farmer": days})


@pytest.mark.long
@pytest.mark.parametrize("row", range(len(RULES["scrotum.least"])))
def test_random_books_notice_a_least_figure_of_another_age(row: int) -> None:
    table = list(RULES["scrotum.least"])
    months, least = table[row]
    for other in ((months, least + 1), *([(months + 1, least)] if months else [])):
        noticed({"scrotum.least": (*table[:row], other, *table[row + 1 :])})


@cache
def usual(seed: int) -> list[dict[str, Any]]:
    return brute_board(random_book(seed, 40, 12, ON), ON, {"checks": OWN})


def noticed(changed: dict[str, Any]) -> None:
    own = {"checks": OWN}
    assert any(
        brute_board(random_book(seed, 40, 12, ON), ON, own | changed) != usual(seed)
        for seed in range(120)
    )
