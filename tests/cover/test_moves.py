"""Which bulls are moved where a group is short, worked by hand, and what no move may ever do."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from tests.build import Line, said, walk
from tests.cover.farms import bull, cows, mended, team

HEIFERS = {"class": "heifers"}


def told(*lines: Line) -> list[tuple[str, str | None, str]]:
    return [(move.bull.bull, move.frm, move.group) for move in mended(*lines)]


def test_a_reserve_of_the_group_is_put_to_work_and_the_chance_is_told() -> None:
    lines = [cows(70), *bull("B 1"), *bull("B 2", role="reserve")]
    (move,) = mended(*lines)
    assert (move.bull.bull, move.frm, move.role_before, move.group) == (
        "B 2",
        "Hill",
        "reserve",
        "Hill",
    )
    assert (move.short_before, move.short_after) == (35, 0)
    assert (move.chance_before, move.chance_after) == (Fraction(0), Fraction(81, 100))


def test_nobody_is_moved_where_nothing_is_short() -> None:
    assert told(cows(35), *bull("B 1"), *bull("B 2", None)) == []


def test_the_fewest_bulls_that_do_are_moved() -> None:
    # 35 are missing: one of four years does what two of 15 months (15 each) would not.
    young = [line for tag in ("A 1", "A 2", "A 3") for line in bull(tag, None, "2025-01-20")]
    assert told(cows(70), *bull("B 1"), *young, *bull("B 2", None)) == [("B 2", None, "Hill")]


def test_a_shortage_that_cannot_be_mended_whole_is_made_as_small_as_can_be() -> None:
    young = [line for tag in ("A 1", "A 2") for line in bull(tag, None, "2025-01-20")]
    moves = mended(cows(70), *bull("B 1"), *young)
    assert [(move.bull.bull, move.short_before, move.short_after) for move in moves] == [
        ("A 1", 35, 20), ("A 2", 20, 5),
    ]  # fmt: skip


@pytest.mark.parametrize("name", ["Bullers", "Cows and hfrs"])
def test_who_is_not_safe_on_heifers_is_proposed_for_no_group_that_names_them(name: str) -> None:
    lines = [cows(35, name), *bull("B 1", None)]
    assert told(*lines, said("bull", "2026-02-01", "B 1", heifer_safe=False)) == []
    assert told(*lines, said("bull", "2026-02-01", "B 1", heifer_safe=True)) == [
        ("B 1", None, name)
    ]


def test_a_group_that_would_be_short_itself_gives_nobody_away() -> None:
    lines = [cows(70), *bull("B 1"), cows(35, "Bank"), *bull("B 2", "Bank")]
    assert told(*lines) == []
    assert told(*lines, *bull("B 3", "Bank")) == [("B 2", "Bank", "Hill")]


def test_a_group_takes_a_reserve_in_the_place_of_one_that_it_gives_away() -> None:
    # Only the worker is safe with heifers; the reserve works in his place.
    lines = [
        cows(30, "Young", **HEIFERS), cows(35),
        *bull("B 1", heifer_safe=True), *bull("B 2", role="reserve"),
    ]  # fmt: skip
    assert told(*lines) == [("B 2", "Hill", "Hill"), ("B 1", "Hill", "Young")]


def test_a_group_of_which_nobody_counted_the_females_keeps_its_workers() -> None:
    lines = [cows(70), *bull("B 1"), cows(None, "Bank"), *bull("B 2", "Bank")]
    assert told(*lines) == []
    reserve = bull("B 3", "Bank", role="reserve")
    assert told(*lines, *reserve) == [("B 3", "Bank", "Hill")]


NEVER: dict[str, list[Line]] = {
    "dangerous": bull("B 2", None, temper="dangerous"),
    "out already": [*bull("B 2", None), said("moved", "2026-04-28", "B 2", act="out")],
    "sold": [*bull("B 2", None), said("moved", "2026-04-28", "B 2", act="left", reason="sold")],
    "of another farm": bull("B 2", None, farm="Moss"),
    "not ready by turnout": [*bull("B 2", None), walk("2026-04-27", 2, tag="B 2", limb="LF")],
    "too young at turnout": bull("B 2", None, "2025-04-02"),
    "failed by the vet": [
        *bull("B 2", None), said("vet-exam", "2026-04-28", "B 2", outcome="unsatisfactory"),
    ],
}  # fmt: skip


@pytest.mark.parametrize("who", NEVER.values(), ids=NEVER)
def test_never_moved_is_one(who: list[Line]) -> None:
    assert told(cows(70), *bull("B 1"), *who) == []
    assert told(cows(70), *bull("B 1"), *who, *bull("B 3", None)) == [("B 3", None, "Hill")]


@pytest.mark.parametrize(("safe", "goes"), [({}, False), ({"heifer_safe": False}, False),
                                            ({"heifer_safe": True}, True)])  # fmt: skip
def test_to_heifers_goes_only_one_of_whom_somebody_said_that_he_is_safe(
    safe: dict[str, Any], goes: bool
) -> None:
    assert bool(told(cows(30, **HEIFERS), *bull("B 2", None, **safe))) is goes


def test_one_who_is_ready_for_a_later_turnout_only_is_moved_only_there() -> None:
    late = [*bull("B 2", None), walk("2026-04-27", 2, tag="B 2", limb="LF")]
    lines = [cows(70), *bull("B 1"), cows(35, "Bank", "2026-05-20"), *late]
    assert told(*lines) == [("B 2", None, "Bank")]


def test_of_bulls_alike_those_of_one_pen_go_together_then_the_first_by_tag() -> None:
    lines = [cows(70), *bull("A 1", None), *bull("A 2", None, pen="east"),
             *bull("A 3", None, pen="west"), *bull("A 4", None, pen="west")]  # fmt: skip
    assert {tag for tag, _, _ in told(*lines, *bull("B 1", pen="west"))} == {"A 1"}
    two = told(*[line for line in lines if line.get("bull") != "A 1"])
    assert {tag for tag, _, _ in two} == {"A 3", "A 4"}


def test_a_large_estate_is_mended_by_the_fewest_moves() -> None:
    # Five groups without a bull need nine of 35 each for 300 cows; the sixth can spare eleven.
    lines = [cows(300, f"G {at}") for at in range(6)]
    lines += team(20, name="G 0")
    lines += [line for at in range(40) for line in bull(f"C {at}", None)]
    moves = mended(*lines)
    assert sum(move.short_before - move.short_after for move in moves) == 5 * 300
    assert len(moves) == 5 * 9
