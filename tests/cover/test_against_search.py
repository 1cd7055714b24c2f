"""Cover and its moves against a search that tries every set of bulls that fail, and every way to
move bulls; it was written from the meaning by somebody who had not seen this code."""

from __future__ import annotations

from datetime import date
from typing import Any

from readiness.cover.moves import joins
from readiness.cover.results import GroupCover
from readiness.cover.whole import Cover, cover_of
from readiness.herd.board import assess_herd, fold_book
from tests.build import RULES, entries_of
from tests.reference.cover import brute_cover
from tests.reference.cover_books import cover_book
from tests.reference.cover_moves import brute_moves
from tests.volume import sampled

ON = date(2026, 4, 3)


def cover(told: list[dict[str, Any]]) -> Cover:
    herd = fold_book(entries_of(told), RULES, ON.toordinal())
    return cover_of(herd, assess_herd(herd))


def as_day(ordinal: int | None) -> date | None:
    return date.fromordinal(ordinal) if ordinal else None


def ours(group: GroupCover) -> dict[str, Any]:
    return {
        "farm": group.farm,
        "group": group.group,
        "turnout": as_day(group.turnout),
        "class": group.category,
        "females": group.females,
        "workers": len(group.workers),
        "capacity_go": group.capacity_go,
        "capacity_forecast": group.capacity_forecast,
        "short": group.short,
        "covered_from": as_day(group.covered_from),
        "chance": group.chance,
        "spare_for_90": group.by_turnout.spare_for_90,
        "spare_for_95": group.by_turnout.spare_for_95,
        "first_calf": as_day(group.first_calf),
        "last_calf": as_day(group.last_calf),
    }


@sampled("seed", range(200), first=12, most=36)
def test_what_is_carried_and_for_how_sure_agrees_with_every_set_of_failures(seed: int) -> None:
    told = cover_book(seed, ON)
    expected = {(row["farm"], row["group"]): row for row in brute_cover(told, ON)}
    said = {(group.farm, group.group): ours(group) for group in cover(told).groups}
    assert said.keys() == expected.keys()
    for key, row in said.items():
        assert row == {name: expected[key][name] for name in row}


@sampled("seed", range(200), first=12, most=36)
def test_the_moves_are_the_best_of_all_ways_to_move_the_bulls(seed: int) -> None:
    told = cover_book(seed, ON)
    before = cover(told)
    after = cover([*told, *joins(before.moves, ON, "")])
    assert after.moves == ()  # nothing better is left to be done
    for farm in brute_moves(told, ON):
        mine = [move for move in before.moves if move.farm == farm["farm"]]
        groups = {g.group: g for g in after.groups if g.farm == farm["farm"]}
        assert sum(group.short or 0 for group in groups.values()) == farm["short"]
        assert len(mine) == farm["moves"]
        if {(m.bull.bull, m.frm, m.group) for m in mine} == farm["allocation"]:
            for name, (_, short, _, chance) in farm["groups"].items():
                assert (groups[name].short, groups[name].chance) == (short, chance)


@sampled("seed", range(200), first=12, most=36)
def test_no_move_makes_a_group_shorter_and_each_says_what_it_does(seed: int) -> None:
    told = cover_book(seed, ON)
    seen = cover(told)
    was = {(group.farm, group.group): group for group in seen.groups}
    now = {(g.farm, g.group): g for g in cover([*told, *joins(seen.moves, ON, "")]).groups}
    for key, group in was.items():
        assert (now[key].short or 0) <= (group.short or 0)
    for move in seen.moves:
        assert move.short_after < move.short_before or move.short_before == 0
        assert move.chance_after >= move.chance_before
