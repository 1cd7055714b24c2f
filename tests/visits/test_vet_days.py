"""The vet's days: the fewest that cover what is his, as early as they can be, and what is named."""

from __future__ import annotations

from datetime import date
from itertools import combinations
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from readiness.engine.results import Assessment, Board, Check
from readiness.herd.diary import planned
from readiness.rules.load import load_rules
from readiness.visits.vet_days import (
    NO_DAY,
    NO_END,
    PAST,
    VetDays,
    fewest_days,
    vet_days,
    working_days,
)

MONDAY = date(2026, 11, 30).toordinal()
RULES = load_rules(None)
Window = tuple[int, int]


def check(name: str, first: int, last: int | None, *, who: str = "vet", after: str = "",
          days: int = 0, overdue: bool = False) -> Check:  # fmt: skip
    """A check whose days are counted from ``MONDAY``."""
    return Check(
        name, "vet-exam", "vet.oldest", None, None, None, (), MONDAY + first,
        None if last is None or overdue else MONDAY + last,
        MONDAY + last if overdue and last is not None else None, None, overdue,
        ((after, days),) if after else (), None, who, name, "project choice", "",
    )  # fmt: skip


def bull(tag: str, *checks: Check, farm: str | None = "Moss") -> Assessment:
    return Assessment(
        tag, tag, None, farm, None, None, None, "HOLD", "checks", "", None, None, 0, (), checks,
        (), (),
    )  # fmt: skip


def days_of(*bulls: Assessment) -> VetDays:
    board = Board(MONDAY, "", "", (), bulls)
    return vet_days(planned(board), RULES)


def told(found: VetDays) -> list[tuple[int, str | None, list[str]]]:
    return [
        (day.on - MONDAY, day.farm, [f"{due.bull} {due.check.id}" for due in day.dues])
        for day in found.days
    ]


# ---- by hand -------------------------------------------------------------------------------------


def test_one_day_does_for_all_whose_days_meet_and_it_is_the_first_such_day() -> None:
    found = days_of(bull("1", check("a", 0, 8)), bull("2", check("a", 2, 9)),
                    bull("3", check("a", 1, 3)))  # fmt: skip
    assert told(found) == [(2, "Moss", ["1 a", "2 a", "3 a"])]
    assert found.left == ()


def test_a_second_day_is_proposed_only_where_one_cannot_do() -> None:
    found = days_of(bull("1", check("a", 0, 1)), bull("2", check("a", 2, 9)),
                    bull("3", check("a", 0, 4)))  # fmt: skip
    assert told(found) == [(0, "Moss", ["1 a", "3 a"]), (2, "Moss", ["2 a"])]


def test_each_farm_has_days_of_its_own() -> None:
    found = days_of(bull("1", check("a", 0, 4)), bull("2", check("a", 0, 4), farm=None))
    assert told(found) == [(0, None, ["2 a"]), (0, "Moss", ["1 a"])]


def test_the_vet_is_not_proposed_for_a_day_off_and_what_falls_on_it_alone_is_named() -> None:
    """Day 6 is a Sunday; the rules' working days are Monday to Saturday."""
    found = days_of(bull("1", check("a", 6, 9)), bull("2", check("a", 6, 6)))
    assert told(found) == [(7, "Moss", ["1 a"])]
    assert [(due.bull, why) for due, why in found.left] == [("2", NO_DAY)]


def test_a_farms_public_holidays_and_own_working_days_are_its_own(tmp_path: Path) -> None:
    """30 Nov 2026 is St Andrew's Day, a public holiday in Scotland, and a Monday."""
    path = tmp_path / "rules.toml"
    path.write_text(
        '[farm."Moss".rules]\nvisits.holidays = "GB-SCT"\n'
        '[farm."Beck".rules]\nvisits.workdays = "FREQ=WEEKLY;BYDAY=WE"\n',
        encoding="utf-8",
    )
    bulls = tuple(bull(farm, check("a", 0, 4), farm=farm) for farm in ("Moss", "Beck", "Keld"))
    found = vet_days(planned(Board(MONDAY, "", "", (), bulls)), load_rules(path))
    assert [(day.farm, day.on - MONDAY) for day in found.days] == [
        ("Keld", 0), ("Moss", 1), ("Beck", 2),
    ]  # fmt: skip


def test_the_overdue_asks_for_no_day_but_is_done_when_the_vet_is_there() -> None:
    late, other = check("a", 0, -4, overdue=True), bull("2", check("a", 3, 9))
    assert told(days_of(bull("1", late), other)) == [(3, "Moss", ["1 a", "2 a"])]
    (left,) = days_of(bull("1", late)).left
    assert (left[0].bull, left[1]) == ("1", PAST)


def test_what_nothing_says_a_day_for_rides_along_or_is_named() -> None:
    loose = bull("1", check("a", 4, None))
    assert told(days_of(loose, bull("2", check("a", 4, 9)))) == [(4, "Moss", ["1 a", "2 a"])]
    early = days_of(loose, bull("2", check("a", 0, 1)))
    assert told(early) == [(0, "Moss", ["2 a"])]
    assert [(due.bull, why) for due, why in early.left] == [("1", NO_END)]


def test_a_look_that_waits_for_another_of_the_vets_is_not_put_on_the_same_day() -> None:
    found = days_of(bull("1", check("a", 0, 9), check("b", 0, 9, after="a", days=3)))
    assert told(found) == [(0, "Moss", ["1 a"]), (3, "Moss", ["1 b"])]


def test_what_others_do_asks_for_no_day_of_the_vets() -> None:
    assert days_of(bull("1", check("a", 0, 4, who="trimmer"))) == VetDays()


def test_days_after_the_last_that_is_asked_for_are_left_out() -> None:
    found = days_of(bull("1", check("a", 0, 1)), bull("2", check("a", 8, 9)))
    assert [day.on for day in found.until(MONDAY + 7).days] == [MONDAY]
    assert found.until(None) == found


# ---- against brute force -------------------------------------------------------------------------

WINDOWS = st.lists(
    st.tuples(st.integers(0, 9), st.integers(0, 5)).map(lambda each: (each[0], sum(each))),
    max_size=6,
)
ALLOWED = st.sets(st.integers(0, 14), max_size=9)


def by_trying(windows: list[Window], days: set[int]) -> list[int]:
    """The fewest days, and of these sets the one whose last day, then last but one, is earliest."""
    wanted = [w for w in windows if any(w[0] <= day <= w[1] for day in days)]
    for size in range(len(days) + 1):
        found = [
            sorted(chosen, reverse=True)
            for chosen in combinations(sorted(days), size)
            if all(any(first <= day <= last for day in chosen) for first, last in wanted)
        ]
        if found:
            return min(found)
    raise AssertionError("all of the days hit whatever can be hit")


@given(WINDOWS, ALLOWED)
def test_no_fewer_days_and_no_earlier_ones_do(windows: list[Window], days: set[int]) -> None:
    assert sorted(fewest_days(windows, days), reverse=True) == by_trying(windows, days)


@given(WINDOWS)
def test_every_check_is_once_on_a_day_within_its_days_or_named(windows: list[Window]) -> None:
    bulls = [bull(str(at), check("a", *window)) for at, window in enumerate(windows)]
    found = days_of(*bulls)
    placed = [(due, day.on) for day in found.days for due in day.dues]
    named = [due for due, _ in found.left]
    assert sorted(due.bull for due in [*(due for due, _ in placed), *named]) == sorted(
        each.bull for each in bulls
    )
    working = working_days(RULES.common.visits, MONDAY, MONDAY + 14)
    for due, on in placed:
        assert due.check.not_before <= on <= due.check.plan_by
        assert on in working
    for due in named:
        assert not any(due.check.not_before <= day <= due.check.plan_by for day in working)
    assert len(found.days) == len(
        by_trying([(MONDAY + first, MONDAY + last) for first, last in windows], set(working))
    )


def test_the_advised_day_ends_the_days_of_a_check_while_it_is_to_come() -> None:
    advised = check("a", 0, 30)._replace(advised_by=MONDAY + 2)
    found = days_of(bull("1", advised), bull("2", check("a", 3, 9)))
    assert told(found) == [(0, "Moss", ["1 a"]), (3, "Moss", ["2 a"])]
