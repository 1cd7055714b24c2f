"""Who could work in the place of one who fails, before the season and in it."""

from __future__ import annotations

from readiness.report.cover_words import facts
from tests.build import Line, iso, said, walk
from tests.cover.farms import TURNOUT, bull, cover, cows, team

LAME = walk("2026-04-27", 2, tag="B 2", limb="LF")  # from 4 May
FARM = [
    cows(70), *bull("B 1"), *bull("B 2"), LAME, *bull("B 3", role="reserve"),
    *bull("B 4", None), *bull("B 5", None, temper="dangerous"), *bull("B 6", None, farm="Keld"),
    cows(30, "Moor"), *bull("B 7", "Moor"),
]  # fmt: skip


def told(*lines: Line, on: str = "2026-04-28", group: int = 0) -> str:
    found = cover(*lines, on=on)
    return dict(facts(found, found.groups[group])).get("in his place", "")


def test_reserves_bulls_in_no_group_and_who_is_late_are_told_nobody_who_counts_or_works() -> None:
    assert told(*FARM) == (
        "B 3 (reserve of Hill) today; B 4 (in no group) today; B 2 (not let out yet) from 4 May, "
        "if every check passes"
    )
    found = cover(*FARM).stand_ins["", "Hill"]
    assert [iso(each.ready) for each in found] == ["2026-04-28", "2026-04-28", "2026-05-04"]


def test_where_there_is_nobody_it_says_so_and_of_many_the_first_few() -> None:
    assert told(cows(30), *bull("B 1")) == "nobody of this farm"
    many = [line for at in range(2, 9) for line in bull(f"B {at}", None)]
    assert told(cows(30), *bull("B 1"), *many).endswith("B 5 (in no group) today; and 3 more")


def test_in_the_season_they_are_told_once_whether_one_must_come_in_or_not() -> None:
    out = [said("moved", TURNOUT, tag, act="out") for tag in ("B 0", "B 1")]
    lines = [cows(60), *team(3), *out]
    assert told(*lines, on="2026-05-05") == "B 2 (not let out yet) today"
    lame = walk("2026-05-04", 2, tag="B 1", limb="LF")
    found = cover(*lines, lame, on="2026-05-05")
    said_of = dict(facts(found, found.groups[0]))
    assert "in his place" not in said_of
    assert said_of["could stand in"] == "B 2 (not let out yet) today"


def test_one_who_was_brought_in_is_not_said_to_have_never_been_let_out() -> None:
    out = said("moved", TURNOUT, "B 1", act="out")
    back = said("moved", "2026-05-04", "B 1", act="in", reason="rested")
    lines = [cows(60), *bull("B 0"), *bull("B 1"), out, back]
    found = cover(*lines, on="2026-05-05").stand_ins["", "Hill"]
    assert [(each.bull.bull, each.place) for each in found] == [
        ("B 0", "not let out yet"), ("B 1", "came in again"),
    ]  # fmt: skip


def not_offered(*lines: Line, on: str = "2026-04-28", group: int = 0) -> str:
    found = cover(*lines, on=on)
    return dict(facts(found, found.groups[group])).get("not offered", "")


def test_of_those_who_are_not_offered_it_is_said_how_many_and_why() -> None:
    held = [*bull("B 8", None), said("vet-exam", "2026-04-20", "B 8", outcome="unsatisfactory")]
    lent = [*bull("B 9", None), said("moved", "2026-04-20", "B 9", act="out", reason="hired")]
    assert not_offered(*FARM, *held, *lent) == (
        "1 on HOLD, and no day is given; 1 out already; 1 to work in another group; 1 dangerous"
    )
    heifers = cows(30, "Maiden heifers", **{"class": "heifers"})
    assert not_offered(heifers, *bull("B 1", None), *bull("B 2", None, heifer_safe=True)) == (
        "1 not said to be safe on heifers"
    )


def test_nothing_is_said_of_others_where_all_are_offered_or_at_work() -> None:
    out = said("moved", TURNOUT, "B 0", act="out")
    assert not_offered(cows(60), *team(2), out, on="2026-05-05") == ""
    assert not_offered(cows(30), *bull("B 1"), *bull("B 2", None)) == ""
