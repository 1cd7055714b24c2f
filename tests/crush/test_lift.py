"""A lift mended: what was wrong is changed, and nothing else that was said."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from readiness.crush.lift import Item, Lift
from readiness.shorthand import Scales, read, write
from readiness.system.errors import DataError

ON = date(2026, 4, 3)
SCALES = Scales("gb0-3", "five")


def lift(line: str) -> Lift:
    return Lift(tuple(read(line, bull="00417", on=ON, by="A", scales=SCALES)))


def line(mended: Lift) -> str:
    return write(mended.contents, SCALES)


def item(of: Lift, **says: Any) -> Item:
    """The one thing that says this."""
    [found] = [each for each in of.items() if says.items() <= each.said.items()]
    return found


@pytest.mark.parametrize(
    ("was", "there", "now"),
    [
        ("lf o su@4/2 pare; rf ok; block lf i; walk 1 lf", ("LF", "RF"),
         "rf o su@4/2 pare; lf ok; block rf i; walk 1 lf"),
        ("lf o su@4/2; rf i sh/1 trim; lh ok", ("LF", "RF"), "rf o su@4/2; lf i sh/1 trim; lh ok"),
        ("lf o sole 4 su healed wrap; rh refused", ("LF", "LH"),
         "lh o su healed wrap sole 4; rh refused"),
        ("lf ok; rh refused", ("RH", "LH"), "lf ok; lh refused"),
        ("block lh i off", ("LH", "RH"), "block rh i off"),
        ("lf o su/2; then; lf i sh/1", ("LF", "RF"), "rf o su/2; then; rf i sh/1"),
    ],
)  # fmt: skip
def test_a_foot_renamed_takes_all_that_was_said_of_it_and_leaves_the_others_theirs(
    was: str, there: tuple[str, str], now: str
) -> None:
    mended = lift(was).other_foot(*there)
    assert line(mended) == line(lift(now))
    assert mended.other_foot(*there) == lift(was)


def test_one_finding_alone_goes_to_another_foot_which_was_lifted_then() -> None:
    both = lift("lf o su@4/2; lf i sh/1; rf refused")
    ulcer = item(both, code="SU")
    assert line(both.moved(ulcer, foot="RF")) == line(lift("lf rf ok; rf o su@4/2; lf i sh/1"))
    only = lift("lf o su@4/2")
    assert line(only.moved(item(only, code="SU"), foot="RF")) == "rf o su@4/2"
    four = lift("all ok; lh o su/2")
    assert line(four.moved(item(four, code="SU"), foot="RH")) == line(lift("all ok; rh o su/2"))


def test_the_claws_of_a_foot_mixed_up_change_places_the_block_too() -> None:
    was = lift("lf o su/2 pare; lf i sh/1; lf b hhe/1; lf s dd:m2; rf o su/1; block lf i")
    now = "lf i su/2 pare; lf o sh/1; lf b hhe/1; lf s dd:m2; rf o su/1; block lf o"
    assert line(was.other_claws("LF")) == line(lift(now))


@pytest.mark.parametrize(
    ("was", "says", "now"),
    [
        ("lf o su@4/2", ("WLF",), "lf o wlf@4/2"),
        ("lf o su/2", ("IP",), "lf s ip/2"),
        ("lf s dd:m2@0/2", ("ID",), "lf s id@0/2"),
        ("lf s ip/2", ("SU", "inner"), "lf i su/2"),
        ("lf o su healed", ("BU",), "lf o bu healed"),
        ("lf o tu was su", ("SU",), "lf o su"),
    ],
)
def test_a_finding_was_another_and_keeps_what_else_was_said_of_it(
    was: str, says: tuple[str, ...], now: str
) -> None:
    before = lift(was)
    assert line(before.coded(before.items()[0], *says)) == line(lift(now))


@pytest.mark.parametrize(
    ("was", "code", "why"),
    [("lf s ip/2", "SU", "On which claw"), ("lf o pare", "SU", "said of a finding")],
)
def test_a_code_without_its_claw_or_of_no_finding_is_refused(was: str, code: str, why: str) -> None:
    before = lift(was)
    with pytest.raises(DataError, match=why):
        before.coded(before.items()[0], code)


@pytest.mark.parametrize(
    ("was", "by", "now"),
    [
        ("lf o su/2", 1, "lf o su/3"),
        ("lf o su/2", -1, "lf o su/1"),
        ("lf o su", 1, "lf o su/1"),
        ("lf o su", -1, "lf o su/3"),
        ("lf s dd:m2/2", 1, "lf s dd:m3/2"),
        ("lf s dd:m4", 1, "lf s dd:m4.1"),
    ],
)
def test_a_finding_was_worse_or_less(was: str, by: int, now: str) -> None:
    before = lift(was)
    assert line(before.graded(before.items()[0], by)) == now


@pytest.mark.parametrize(
    ("was", "by", "why"),
    [
        ("lf o su/3", 1, "worst already"),
        ("lf o su/1", -1, "least already"),
        ("lf s dd:m0", -1, "least already"),
        ("lf o pare", 1, "said of a finding"),
        ("lf o su healed", 1, "said of a finding"),
    ],
)
def test_beyond_the_worst_and_of_what_is_no_finding_nothing_is_worse(
    was: str, by: int, why: str
) -> None:
    before = lift(was)
    with pytest.raises(DataError, match=why):
        before.graded(before.items()[0], by)


def test_the_day_of_all_of_it_changes() -> None:
    mended = lift("lf o su/2; walk 1").dated(date(2026, 4, 1))
    assert {content["on"] for content in mended.contents} == {"2026-04-01"}
    assert line(mended) == "lf o su/2; walk 1"
