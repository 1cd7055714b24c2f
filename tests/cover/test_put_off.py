"""Turnout put off, where no move mends a shortage: worked by hand, and against asking "what if" of
every day, of the program and of the reference."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from readiness.cover.moves import joins
from readiness.cover.put_off import PutOff, later_turnout
from readiness.cover.whole import cover_of
from readiness.herd.board import assess_herd, fold_book
from readiness.report.cover_words import put_off_words
from tests.build import RULES, Line, day, entries_of, said, walk
from tests.cover.farms import ON, bull, cover, cows, team
from tests.reference.cover import brute_cover
from tests.reference.cover_books import cover_book
from tests.volume import sampled

MOST = RULES.common.cover.cover_put_off
LATE = [*bull("B 2"), walk("2026-04-27", 2, tag="B 2", limb="LF")]  # from 4 May, three days late


def put_off(*lines: Line, on: str = ON) -> list[tuple[str, str, bool | None]]:
    return [
        (each.after.group, date.fromordinal(each.after.turnout).isoformat(), each.with_moves)
        for each in cover(*lines, on=on).put_off
    ]


def test_turnout_waits_for_the_bull_who_is_ready_three_days_late() -> None:
    (found,) = cover(cows(70), *bull("B 1"), *LATE).put_off
    assert (found.days, found.after.turnout, found.after.short) == (3, day("2026-05-04"), 0)
    assert found.before.short == 35
    assert put_off_words(found, day(ON)) == (
        "Hill: turnout put off to 4 May (3 days): enough, if every check passes; first calf "
        "11 Feb 2027 instead of 8 Feb 2027; it lasts 8 times in 10 (81 %)"
    )


def test_nothing_is_put_off_where_a_move_mends_it_or_nothing_is_short() -> None:
    assert put_off(cows(70), *bull("B 1"), *LATE, *bull("B 3", None)) == []
    assert put_off(cows(35), *bull("B 1"), *LATE) == []
    assert put_off(cows(None), *bull("B 1"), *LATE) == []


def test_a_move_that_helps_is_made_first_where_that_makes_it_sooner() -> None:
    # 20 more are missing than B 2 carries: only with the reserve, who is not enough alone.
    lines = [cows(90), *bull("B 1"), *LATE, *bull("B 3", "Hill", "2024-08-01", role="reserve")]
    assert put_off(*lines) == [("Hill", "2026-05-04", True)]


def test_written_it_stands_as_it_was_proposed_with_the_moves_that_it_is_meant_with() -> None:
    lines = [cows(90), *bull("B 1"), *LATE, *bull("B 3", "Hill", "2024-08-01", role="reserve")]
    (found,) = cover(*lines).put_off
    assert found.with_moves
    written = later_turnout(found, cover(*lines).moves, date(2026, 4, 28), "A. Trimmer")
    assert [each["kind"] for each in written] == [*["join"] * (len(written) - 1), "group"]
    assert len(written) > 1 and written[-1] == {
        "kind": "group", "group": "Hill", "on": "2026-04-28", "by": "A. Trimmer",
        "turnout": date.fromordinal(found.after.turnout).isoformat(),
    }  # fmt: skip
    after = next(g for g in cover(*lines, *written).groups if g.group == "Hill")
    assert (after.turnout, after.short) == (found.after.turnout, 0)


def test_no_turnout_is_proposed_that_lies_too_far_off_or_at_which_bulls_are_too_old() -> None:
    assert put_off(cows(106), *team(3)) == []
    # Block off and clear: weeks. A third yearling would carry 15 more only from 3 June.
    young = bull("B 2", born="2025-01-29")  # 15 whole months on 29 April, 18 on 29 July
    assert put_off(cows(55), *bull("B 1"), *young) == []
    # Who is 72 whole months still carries 35; from 2 May on, 73, only 30: later is no better.
    old = bull("B 1", born="2020-04-02")
    assert put_off(cows(66), *old, *bull("B 2"), *bull("B 3", go=False, born="2025-06-01")) == []


def test_a_bull_who_grows_into_the_next_age_may_make_it_enough() -> None:
    # 24 whole months on 10 May: 30 females in the place of 20.
    assert put_off(cows(65), *bull("B 1"), *bull("B 2", born="2024-05-10")) == [
        ("Hill", "2026-05-10", None)
    ]


@pytest.mark.parametrize(("born", "found"), [("2024-05-22", True), ("2024-05-23", False)])
def test_a_turnout_is_looked_for_up_to_21_days_later(born: str, found: bool) -> None:
    # A project choice: one cycle. Two years old on the 21st day, or on the day after.
    assert bool(put_off(cows(65), *bull("B 1"), *bull("B 2", born=born))) is found


def test_of_two_ways_the_sooner_is_told_and_whether_the_moves_are_part_of_it() -> None:
    # As it is 35 + 35 + 30 on 10 May; with the reserve's 20 already on 4 May.
    grows = bull("B 4", born="2024-05-10")
    reserve = bull("B 3", "Hill", "2024-08-01", role="reserve")
    assert put_off(cows(95), *bull("B 1"), *LATE, *grows) == [("Hill", "2026-05-10", None)]
    lines = [cows(95), *bull("B 1"), *LATE, *grows, *reserve]
    assert put_off(*lines) == [("Hill", "2026-05-04", True)]
    (found,) = cover(*lines).put_off
    assert "Hill: with these moves made, turnout put off" in put_off_words(found, day(ON))


def test_who_is_moved_away_counts_only_without_that_move() -> None:
    # B 2 is late for Hill and not for Shore: he is moved there, or Hill waits for him.
    lines = [cows(70), *bull("B 1"), *LATE, cows(35, "Shore", "2026-05-20")]
    assert [move.bull.bull for move in cover(*lines).moves] == ["B 2"]
    assert put_off(*lines) == [("Hill", "2026-05-04", False)]
    (found,) = cover(*lines).put_off
    assert "Hill: without these moves, turnout put off" in put_off_words(found, day(ON))


def test_of_a_group_that_has_bulls_out_nothing_is_put_off() -> None:
    out = said("moved", ON, "B 1", act="out")
    assert put_off(cows(70), *bull("B 1"), *LATE, out) == []


def test_a_turnout_that_is_past_is_never_put_off_to_a_day_before_today() -> None:
    # Nobody went out on 1 May.
    grown = [cows(65), *bull("B 1"), *bull("B 2", born="2024-05-04")]  # two years old since 4 May
    assert put_off(*grown, on="2026-05-09") == [("Hill", "2026-05-09", None)]
    lines = [cows(70), *bull("B 1"), *LATE, walk("2026-05-08", 2, tag="B 1", limb="LF")]
    assert put_off(*lines, on="2026-05-09") == [("Hill", "2026-05-15", None)]


ABOUT = date(2026, 4, 3)


def short_then(told: list[dict[str, Any]], found: PutOff, turnout: int) -> int | None:
    """By the board that asks what if all were turned out then."""
    herd = fold_book(entries_of(told), RULES, ABOUT.toordinal(), turnout)
    groups = cover_of(herd, assess_herd(herd)).groups
    own = (found.before.farm, found.before.group)
    (there,) = [group for group in groups if (group.farm, group.group) == own]
    return there.short


# Every day of a group is asked of each book: two hundred take a minute of two cores.
@sampled("seed", range(200), first=6, most=16)
def test_it_is_the_first_day_of_all_on_which_what_if_says_that_nobody_is_short(seed: int) -> None:
    told = cover_book(seed, ABOUT)
    herd = fold_book(entries_of(told), RULES, ABOUT.toordinal())
    found = cover_of(herd, assess_herd(herd))
    mended = {(move.farm, move.group): move.short_after for move in found.moves}
    put = {(each.before.farm, each.before.group): each for each in found.put_off}
    for group in found.groups:
        key = (group.farm, group.group)
        first = max(group.turnout + 1, herd.on)
        each = put.get(key, PutOff(group, group, None))
        if not mended.get(key, group.short) or len(group.waiting) < len(group.workers):
            assert key not in put
            continue
        made = [*told, *joins(found.moves, ABOUT, "")] if found.moves else told
        asked = [
            then
            for then in range(first, group.turnout + MOST + 1)
            if 0 in (short_then(told, each, then), short_then(made, each, then))
        ]
        assert asked[:1] == ([each.after.turnout] if key in put else [])


@sampled("seed", range(200), first=12, most=30)
def test_the_reference_finds_it_covered_then_and_not_the_day_before(seed: int) -> None:
    told = cover_book(seed, ABOUT)
    herd = fold_book(entries_of(told), RULES, ABOUT.toordinal())
    for found in cover_of(herd, assess_herd(herd)).put_off:
        if found.with_moves:
            continue
        for back, enough in ((0, True), (1, False)):
            then = date.fromordinal(found.after.turnout) - timedelta(back)
            if then < ABOUT or (back and found.days == 1):
                continue
            rows = brute_cover(told, ABOUT, turnout=then)
            (row,) = [
                r for r in rows if (r["farm"], r["group"]) == (found.after.farm, found.after.group)
            ]
            assert (row["short"] == 0) is enough
            if enough:
                assert row["chance"] == found.after.chance
                assert row["first_calf"] == date.fromordinal(found.after.first_calf)
