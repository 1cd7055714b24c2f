"""In the season only bulls that are out serve: who waits in is counted apart."""

from __future__ import annotations

from fractions import Fraction

import pytest

from readiness.report.cover_headline import headline
from readiness.report.cover_words import facts
from tests.build import Line, said, walk
from tests.cover.farms import TURNOUT, cover, cows, only, team

AFTER = "2026-05-05"


def out(tag: str, on: str = TURNOUT) -> Line:
    return said("moved", on, tag, act="out")


TWO_OF_THREE = [cows(96), *team(3), out("B 0"), out("B 1")]


def test_in_the_season_one_who_waits_counts_for_nobody_and_is_told_apart() -> None:
    group = only(*TWO_OF_THREE, on=AFTER)
    at_work = group.at_work
    assert at_work is not None
    assert (len(at_work.bulls), at_work.carried, at_work.short) == (2, 70, 26)
    assert (at_work.chance, at_work.short_if_one_fails) == (Fraction(0), 61)
    assert (len(group.waiting), group.would_carry) == (1, 35)
    assert (group.capacity_go, group.short) == (105, 0)  # what was forecast says the same as ever
    assert headline(group) == "96 cows: 2 out carry 70; short by 26; 1 waits, GO, would carry 35"


def test_it_is_said_whether_letting_out_who_waits_would_be_enough() -> None:
    found = cover(*TWO_OF_THREE, on=AFTER)
    told = dict(facts(found, found.groups[0]))
    assert told["today"] == "2 out carry 70: 26 females without a bull"
    assert told["waiting"] == "B 2 35 (GO); let out, they would be enough"
    assert told["out"] == "B 0 35, B 1 35"
    assert told["if one fails"].startswith("short by 61")
    more = cover(cows(110), *TWO_OF_THREE[1:], on=AFTER)
    assert dict(facts(more, more.groups[0]))["waiting"].endswith("let out, still short by 5")


def test_one_who_is_lame_at_work_carries_nobody_and_is_told_of() -> None:
    lame = walk("2026-05-04", 2, tag="B 1", limb="LF")
    group = only(*TWO_OF_THREE, lame, on=AFTER)
    assert headline(group) == (
        "96 cows: 1 out carries 35; short by 61; 1 waits, GO, would carry 35; 1 out on HOLD"
    )


def test_one_who_waits_and_is_not_go_is_told_with_his_day_and_carries_nobody() -> None:
    lame = walk("2026-05-04", 2, tag="B 2", limb="LF")
    found = cover(*TWO_OF_THREE, lame, on=AFTER)
    assert found.groups[0].would_carry == 0
    told = dict(facts(found, found.groups[0]))
    assert told["waiting"] == "B 2 35 (from 11 May, if every check passes)"


@pytest.mark.parametrize(
    ("lines", "on", "under_way"),
    [
        ([], TURNOUT, False),  # the morning of turnout
        ([out("B 0")], TURNOUT, True),
        ([out("B 0", "2026-04-29")], "2026-04-30", False),  # one let out sooner
        ([], "2026-05-02", True),  # nobody was let out
    ],
)
def test_the_season_is_under_way_once_a_bull_is_out_or_turnout_is_past(
    lines: list[Line], on: str, under_way: bool
) -> None:
    group = only(cows(96), *team(3), *lines, on=on)
    assert (group.at_work is not None) is under_way


def test_nobody_out_after_turnout_is_said_as_such() -> None:
    group = only(cows(96), *team(3), on="2026-05-02")
    assert headline(group) == ("96 cows: no bull is out; short by 96; 3 wait, GO, would carry 105")


def test_a_bull_out_on_hire_is_neither_at_work_here_nor_waiting() -> None:
    hired = said("moved", TURNOUT, "B 1", act="out", reason="hired")
    group = only(cows(96), *team(2), out("B 0"), hired, on=AFTER)
    assert group.at_work is not None
    assert [worker.bull.bull for worker in group.at_work.bulls] == ["B 0"]
    assert group.waiting == ()
