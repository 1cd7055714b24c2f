"""Days and weeks of the diary, counted by hand."""

from __future__ import annotations

from datetime import date

from readiness.herd.diary import Diary, Due, diary
from readiness.visits.agenda import Week, days, monday_of, weeks, without_gaps
from tests.tui.test_view import BOARD, DAY, GROUPS, check

FRIDAY = date(2026, 4, 3).toordinal()


def due(day: int, who: str = "farmer") -> Due:
    return Due(check(day)._replace(who=who), "00300", "Corran", "00300", None, None, day, None)


def kept(*dues: Due, overdue: tuple[Due, ...] = ()) -> Diary:
    by_day: dict[int, tuple[Due, ...]] = {}
    for each in dues:
        by_day[each.day] = (*by_day.get(each.day, ()), each)
    return Diary(FRIDAY, overdue, tuple(sorted(by_day.items())))


def test_a_week_begins_on_monday_and_ends_on_sunday() -> None:
    assert date.fromordinal(monday_of(FRIDAY)) == date(2026, 3, 30)
    assert monday_of(monday_of(FRIDAY)) == monday_of(FRIDAY)
    sunday, monday = FRIDAY + 2, FRIDAY + 3
    found = weeks(kept(due(sunday), due(monday)), (), ())
    assert [(week.monday, sum(week.due)) for week in found] == [(FRIDAY - 4, 1), (FRIDAY + 3, 1)]


def test_a_week_counts_by_who_does_it_and_what_is_overdue_counts_in_this_one() -> None:
    diary_ = kept(
        due(FRIDAY, "trimmer"), due(FRIDAY, "trimmer"), due(FRIDAY, "vet"), due(FRIDAY + 7),
        overdue=(due(FRIDAY - 20, "farmer"),),
    )  # fmt: skip
    first, second = weeks(diary_, (), ())
    assert first.due == (2, 1, 1)  # trimmer, farmer, vet
    assert second.due == (0, 1, 0)


def test_every_check_of_a_board_is_in_one_week_or_overdue() -> None:
    found = diary(BOARD)
    listed = len(found.overdue) + sum(len(dues) for _, dues in found.days)
    assert listed == sum(len(bull.outstanding) for bull in BOARD.bulls) > 0
    assert sum(sum(week.due) for week in weeks(found, GROUPS, ())) == listed


def test_turnouts_stand_on_their_day_though_nothing_is_due() -> None:
    empty = Diary(DAY, (), ())
    found = days(empty, GROUPS, (), DAY)
    assert [(day.on, [group.farm for group in day.turnouts]) for day in found] == [
        (DAY + 6, [None]),
        (DAY + 9, ["Low End"]),
    ]


def test_seven_days_are_shown_empty_ones_too() -> None:
    found = days(kept(due(FRIDAY + 2)), (), (), FRIDAY, FRIDAY + 6)
    assert [day.on for day in found] == list(range(FRIDAY, FRIDAY + 7))
    assert [day.empty for day in found] == [True, True, False, True, True, True, True]


def test_more_than_two_weeks_without_anything_are_counted_in_one_line() -> None:
    def week(at: int, count: int) -> Week:
        return Week(FRIDAY + 7 * at, (count, 0, 0), (), ())

    full, gap = week(0, 1), [week(at, 0) for at in range(1, 4)]
    last = week(4, 2)
    assert without_gaps([full, *gap, last]) == [full, 3, last]
    assert without_gaps([full, *gap[:2], last]) == [full, *gap[:2], last]
    assert without_gaps([]) == []
