"""Tags: check digits, and look-up that never guesses. The published run of tags is in
``tests/standards/test_entries.py``; the herds here are invented."""

from __future__ import annotations

from itertools import pairwise

import pytest

from readiness.trade.tags import check_digit, match_tag, tag_problem


def test_herds_that_differ_by_seven_cannot_be_told_apart() -> None:
    """123456 and 193456: a limit of the formula, stated where it is."""
    assert check_digit("123456", "00001") == check_digit("193456", "00001")


@pytest.mark.parametrize("herd", ["700914", "123450"])
def test_the_check_digit_cycles_from_1_to_7(herd: str) -> None:
    """Cycle published (BCMS guidance): one up with each animal, 1 after 7."""
    digits = [check_digit(herd, f"{animal:05}") for animal in range(1, 15)]
    assert set(digits) == set(range(1, 8))
    assert all(after == before % 7 + 1 for before, after in pairwise(digits))


def test_northern_ireland_has_its_check_digit_last() -> None:
    """Format published (DAERA); formula a weak derivation: (HHHHHHNNNN) mod 7 + 1."""
    right = 1234560042 % 7 + 1
    wrong = right % 7 + 1
    assert tag_problem(f"UK 9 123456 0042 {right}") is None
    assert tag_problem(f"XI 0 123456 0042 {right}") is None
    problem = tag_problem(f"UK 9 123456 0042 {wrong}")
    assert problem is not None
    assert f"UK 9 123456 0042 {right}" in problem


@pytest.mark.parametrize("tag", ["00417", "Corran", "UK AB1234 00017", "IE 123456789012", "Bräu"])
def test_a_bull_may_be_booked_under_any_name(tag: str) -> None:
    assert tag_problem(tag) is None


@pytest.mark.parametrize("tag", ["UK 70091 600015", "UK 700915 6000155"])
def test_a_digit_too_few_or_too_many_is_warned(tag: str) -> None:
    problem = tag_problem(tag)
    assert problem is not None
    assert "12 digits" in problem


@pytest.mark.parametrize("tag", ["\u0660\u0660417", "\uff10\uff10417", "\u041e0417"])
def test_a_digit_of_another_script_is_warned_of(tag: str) -> None:
    """Else a second bull stands on the board under what looks like the first one's tag."""
    assert "look like one" in (tag_problem(tag) or "")


KEYS = ["UK123450600017", "UK123450100417", "00417", "17", "ROWAN"]


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("17", ["17"]),
        ("uk 123450 600017", ["UK123450600017"]),
        ("600017", ["UK123450600017"]),
        ("417", ["00417", "UK123450100417"]),
        ("00417", ["00417"]),
        ("rowan", ["ROWAN"]),
        ("wan", []),
        ("999", []),
        ("", []),
    ],
)
def test_the_whole_tag_wins_else_the_last_digits(typed: str, meant: list[str]) -> None:
    assert match_tag(typed, KEYS) == meant
