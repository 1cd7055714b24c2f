"""The race: who is expected today, and in which order they come."""

from __future__ import annotations

from dataclasses import replace

import pytest

from readiness.crush.race import Race, expected, farms_due, waits_for
from readiness.engine.results import Assessment, Check
from readiness.herd.done import Done
from readiness.herd.selection import WEEK, soon_checks
from readiness.trade.feet import FEET
from tests.report.awkward import DAY, board, named

WALKED = Done(("mobility",))
LIFTED = Done(("feet",), frozenset(FEET))
THREE = Race(("a", "b", "c"))


def a_check(last_day: int, *, start: int = DAY, who: str = "trimmer") -> Check:
    return (
        named("Corran")
        .outstanding[0]
        ._replace(who=who, not_before=start, not_after=None, due=last_day, overdue=last_day < DAY)
    )


def a_bull(key: str, *checks: Check) -> Assessment:
    return named("Corran")._replace(key=key, outstanding=checks)


def test_an_empty_race_has_nobody_first_and_takes_every_move() -> None:
    empty = Race()
    assert empty.first is None
    assert empty.skip() == empty.back() == empty.done("a") == empty.without(["a"]) == empty
    assert empty.pick("a").first == empty.join(["a"]).first == "a"


def test_a_skip_lets_all_others_go_first_and_back_undoes_it() -> None:
    assert THREE.skip().keys == ("b", "c", "a")
    assert THREE.skip().back() == THREE.back().skip() == THREE
    assert THREE.skip().skip().skip() == THREE


def test_a_bull_picked_stands_first_once_wherever_he_was() -> None:
    assert THREE.pick("c").keys == ("c", "a", "b")
    assert THREE.pick("d").keys == ("d", "a", "b", "c")
    assert THREE.pick("a") == THREE


def test_those_who_join_come_at_the_end_and_nobody_twice() -> None:
    assert THREE.join(["d", "b", "e", "d"]).keys == ("a", "b", "c", "d", "e")


def test_a_bull_taken_out_stays_known_as_out_until_he_is_picked_or_joins() -> None:
    out = THREE.drop("b")
    assert (out.keys, out.out) == (("a", "c"), ("b",))
    assert out.pick("b") == Race(("b", "a", "c"))
    assert out.join(["b"]) == Race(("a", "c", "b"))
    assert out.join(["d"]).out == out.skip().out == out.done("a").out == ("b",)


def test_a_bull_who_has_been_through_is_not_out() -> None:
    assert THREE.done("b") == Race(("a", "c"))


def test_a_bull_gone_from_the_board_is_forgotten_in_the_race_and_out_of_it() -> None:
    assert THREE.drop("b").without({"a", "b"}) == Race(("c",))


def test_the_most_pressing_come_first_then_as_on_the_board() -> None:
    bulls = [
        a_bull("second", a_check(DAY + 3), a_check(DAY + 6)),
        a_bull("third", a_check(DAY + 3)),
        a_bull("first", a_check(DAY + 5), a_check(DAY - 1)),
    ]
    assert expected(bulls, DAY, {}) == ["first", "second", "third"]


def test_of_two_who_press_alike_the_one_who_is_out_at_work_comes_last() -> None:
    """What he went out without is overdue each day of the season: the bulls at hand go before."""
    out = a_bull("out", a_check(DAY))._replace(outlook="working")
    assert expected([out, a_bull("in", a_check(DAY))], DAY, {}) == ["in", "out"]
    assert expected([out, a_bull("in", a_check(DAY + 1))], DAY, {}) == ["out", "in"]


def test_who_is_asked_for_by_no_day_comes_after_all_who_are() -> None:
    """A bull in no group: his checks are open, and nothing says by when."""
    whenever = a_check(DAY)._replace(due=None, overdue=False)
    assert not whenever.has_last_day
    bulls = [a_bull("whenever", whenever), a_bull("in a week", a_check(DAY + WEEK))]
    assert expected(bulls, DAY, {}) == ["in a week", "whenever"]


@pytest.mark.parametrize(
    ("check", "comes"),
    [
        (a_check(DAY + WEEK), True),
        (a_check(DAY + WEEK + 1), False),
        (a_check(DAY + 1, start=DAY + 1), False),
        (a_check(DAY - 90, start=DAY - 120), True),
        (a_check(DAY, who="vet"), False),
        (a_check(DAY, who="farmer"), True),
    ],
    ids=["in a week", "later", "not yet", "long overdue", "the vet's", "the farmer's"],
)
def test_a_bull_comes_for_what_may_be_done_today_and_is_due_within_the_week(
    check: Check, comes: bool
) -> None:
    assert bool(expected([a_bull("a", check)], DAY, {})) is comes


def test_a_check_that_cannot_be_done_yet_does_not_hide_one_that_can() -> None:
    both = a_bull("a", a_check(DAY + 1, start=DAY + 1), a_check(DAY + 2))
    assert expected([a_bull("b", a_check(DAY + 1)), both], DAY, {}) == ["b", "a"]


def test_who_was_handled_today_does_not_come_again() -> None:
    bulls = [a_bull("a", a_check(DAY)), a_bull("b", a_check(DAY))]
    assert expected(bulls, DAY, {"a": LIFTED}) == ["b"]


@pytest.mark.parametrize(
    ("done", "comes"),
    [
        (WALKED, True),
        (Done(("feet",), frozenset(("RF",))), True),
        (Done(("feet", "mobility"), frozenset(("LF",))), False),
        (Done(("feet",), frozenset(), frozenset(("LF",))), False),
    ],
    ids=["walked", "another foot lifted", "the foot lifted", "the foot would not lift"],
)
def test_who_was_handled_comes_again_while_a_foot_asked_for_was_not_in_hand(
    done: Done, comes: bool
) -> None:
    lift = a_bull("a", a_check(DAY + 1))
    assert waits_for(lift, DAY, {})[0].feet == ("LF",)
    assert bool(expected([lift], DAY, {"a": done})) is comes


def test_who_was_handled_does_not_come_again_for_a_check_that_asks_for_no_foot() -> None:
    walk = a_check(DAY + 1)._replace(check="walk-again", feet=(), foot=None)
    assert expected([a_bull("a", walk)], DAY, {"a": WALKED}) == []
    assert expected([a_bull("a", walk)], DAY, {}) == ["a"]


def test_the_farms_to_go_to_are_those_with_bulls_expected_each_once() -> None:
    bulls = (
        a_bull("a", a_check(DAY))._replace(farm="Low Sand"),
        a_bull("b", a_check(DAY))._replace(farm="High Sand"),
        a_bull("c", a_check(DAY))._replace(farm=None),
        a_bull("d", a_check(DAY + WEEK + 1))._replace(farm="Far Off"),
        a_bull("e", a_check(DAY))._replace(farm="Low Sand"),
    )
    seen = replace(board(), bulls=bulls)
    assert farms_due(seen, {}) == ["", "High Sand", "Low Sand"]
    assert farms_due(seen, dict.fromkeys("bc", LIFTED)) == ["Low Sand"]


def test_a_whole_book_sends_the_lame_bull_first() -> None:
    """On the awkward book: Corran, lame since 1 April, is to be lifted by the 3rd (DairyNZ: within
    48 hours), before all others."""
    corran = named("Corran")
    assert expected(board().bulls, DAY, {})[0] == corran.key
    assert corran.key not in expected(board().bulls, DAY, {corran.key: LIFTED})


def test_whom_the_board_wants_lifted_this_week_is_expected() -> None:
    """The board named the day advised by, the race asked the last day alone: it stood empty beside
    a board that said "to lift by 9 Mar"."""
    later = a_check(DAY + WEEK + 20)._replace(advised_by=DAY + WEEK - 1)
    far = a_check(DAY + WEEK + 20)._replace(advised_by=DAY + WEEK + 1)
    assert expected([a_bull("a", later), a_bull("b", far)], DAY, {}) == ["a"]
    for bull in board().bulls:
        lifted = [c for c in bull.outstanding if c in soon_checks(bull, DAY, lifting=True)]
        now = [check for check in lifted if check.not_before <= DAY and check.who != "vet"]
        assert bool(now) <= bool(expected([bull], DAY, {})), bull.bull
