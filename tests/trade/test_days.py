"""Days and births as people write them: each worked out by hand from the calendar."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from readiness.system.errors import DataError
from readiness.trade.ages import Birth, birth_in, months_old, said_of_bull
from readiness.trade.births import read_birth
from readiness.trade.days import Reading, day_at, read_day

TODAY = date(2026, 11, 28)
NEXT, LAST, SAID, NEAR = (Reading(TODAY, year) for year in ("next", "last", "said", "near"))


@pytest.mark.parametrize(
    ("written", "day"),
    [
        ("2027-01-16", date(2027, 1, 16)), ("16 jan 2027", date(2027, 1, 16)),
        ("16 January 27", date(2027, 1, 16)), ("16th of jan 2027", date(2027, 1, 16)),
        ("jan 16 2027", date(2027, 1, 16)), ("Sat 16 Jan 2027", date(2027, 1, 16)),
        ("16/1/27", date(2027, 1, 16)), ("16.1.2027", date(2027, 1, 16)),
        ("14/3/22", date(2022, 3, 14)), ("14/03/22", date(2022, 3, 14)),
        ("3/14/22", date(2022, 3, 14)), ("4/4/22", date(2022, 4, 4)),
        ("20270116", date(2027, 1, 16)), ("  16   jan  2027 ", date(2027, 1, 16)),
    ],
)  # fmt: skip
def test_a_day_that_one_reading_makes_is_read_whichever_way_it_looks(
    written: str, day: date
) -> None:
    assert read_day(written, NEXT) == day
    assert (read_day(written, LAST), read_day(written, NEAR)) == (day, day)
    if day < TODAY or "2027" in written:
        assert read_day(written, SAID) == day


@pytest.mark.parametrize(
    ("written", "day"),
    [
        ("in 8 weeks", date(2027, 1, 23)), ("in 1 week", date(2026, 12, 5)),
        ("in 10 days", date(2026, 12, 8)), ("a week ago", date(2026, 11, 21)),
        ("3 days ago", date(2026, 11, 25)), ("in 3 months", date(2027, 2, 28)),
        ("In a Month", date(2026, 12, 28)), ("2 wks ago", date(2026, 11, 14)),
    ],
)  # fmt: skip
def test_a_day_is_read_by_how_far_off_it_is(written: str, day: date) -> None:
    """As screens say it. Months are those of the calendar: to 28 Feb."""
    for how in (NEXT, LAST, NEAR):
        assert read_day(written, how) == day
    assert day_at(f"{written} bulls") == len(written)


@pytest.mark.parametrize("written", ["8 weeks", "in 8 weeks ago", "in 8", "8 weeks to go", "ago"])
def test_how_far_off_without_which_way_is_no_day(written: str) -> None:
    with pytest.raises(DataError, match="is not a day"):
        read_day(written, NEXT)


@pytest.mark.parametrize(
    ("written", "first", "last"),
    [
        ("2 1/2 years", date(2023, 11, 29), date(2024, 5, 28)),
        ("2½", date(2023, 11, 29), date(2024, 5, 28)),
        ("2.5 yrs", date(2023, 11, 29), date(2024, 5, 28)),
        ("2 and a half years", date(2023, 11, 29), date(2024, 5, 28)),
        ("2 years 11 months", date(2023, 11, 29), date(2023, 12, 28)),
        ("2y 11m", date(2023, 11, 29), date(2023, 12, 28)),
        ("35 mths", date(2023, 11, 29), date(2023, 12, 28)),
        ("rising 3", date(2023, 11, 29), date(2024, 11, 28)),
        ("Rising 3 years", date(2023, 11, 29), date(2024, 11, 28)),
    ],
)
def test_half_a_year_months_besides_and_the_year_he_comes_up_to_are_an_age(
    written: str, first: date, last: date
) -> None:
    """Two and a half: 30 months are past, 36 are not. Rising three: 24 are, 36 are not."""
    birth = read_birth(written, TODAY)
    assert birth == Birth(first.toordinal(), last.toordinal())
    assert months_old(birth.first, TODAY.toordinal()) == 35


@pytest.mark.parametrize("written", ["1.5", "1/2", "2 1/2 months", "rising 1", "rising"])
def test_what_may_be_a_day_or_is_no_age_is_not_read_as_one(written: str) -> None:
    with pytest.raises(DataError):
        read_birth(written, TODAY)


@pytest.mark.parametrize(
    ("written", "next_one", "last_one"),
    [
        ("16 jan", date(2027, 1, 16), date(2026, 1, 16)),
        ("jan 16", date(2027, 1, 16), date(2026, 1, 16)),
        ("16/1", date(2027, 1, 16), date(2026, 1, 16)), ("28 nov", TODAY, TODAY),
        ("29/11", date(2026, 11, 29), date(2025, 11, 29)),
        ("sat 16 jan", date(2027, 1, 16), None), ("fri 16 jan", None, date(2026, 1, 16)),
        ("today", TODAY, TODAY), ("tomorrow", date(2026, 11, 29), date(2026, 11, 29)),
        ("yesterday", date(2026, 11, 27), date(2026, 11, 27)),
    ],
)  # fmt: skip
def test_without_a_year_it_is_the_next_or_the_last_such_day(
    written: str, next_one: date | None, last_one: date | None
) -> None:
    for how, day in ((NEXT, next_one), (LAST, last_one)):
        if day:
            assert read_day(written, how) == day
        else:  # that year it is of another weekday
            with pytest.raises(DataError, match="correct one of the two"):
                read_day(written, how)


@pytest.mark.parametrize(
    ("written", "day"),
    [
        ("5 dec", date(2026, 12, 5)), ("sat 5 dec", date(2026, 12, 5)), ("28 nov", TODAY),
        ("1/11", None), ("16/1", date(2027, 1, 16)), ("20 oct", date(2026, 10, 20)),
        ("1 jul", date(2026, 7, 1)), ("25 apr", date(2027, 4, 25)), ("27 nov", date(2026, 11, 27)),
        ("today", TODAY), ("28/2", date(2027, 2, 28)),
    ],
)  # fmt: skip
def test_a_day_that_may_be_past_or_to_come_is_the_nearest(written: str, day: date | None) -> None:
    if day:
        assert read_day(written, NEAR) == day
    else:
        with pytest.raises(DataError, match="two ways, 1 Nov 2026 or 11 Jan 2027"):
            read_day(written, NEAR)


@pytest.mark.parametrize(
    ("written", "why"),
    [
        ("29 may", "reads two ways, 29 May 2026 or 29 May 2027; write 29 may 2026 or 2026-05-29"),
        ("29/5", "reads two ways, 29 May 2026 or 29 May 2027"),
        ("3/6", "reads 3 ways, 3 Jun 2026, 3 Jun 2027 or 6 Mar 2027"),
        ("30 feb", "no such day"), ("29 feb", "no such day"), ("29/2", "no such day"),
        ("fri 5 dec", "5 Dec 2026 is a Saturday"),
    ],
)  # fmt: skip
def test_of_a_day_about_as_near_behind_as_ahead_both_are_named(written: str, why: str) -> None:
    with pytest.raises(DataError) as refused:
        read_day(written, NEAR)
    assert why in str(refused.value)


@given(st.dates(date(2000, 3, 1), date(2040, 12, 31)), st.integers(-150, 150))
def test_a_day_within_five_months_is_read_from_its_day_and_month(today: date, away: int) -> None:
    day = today + timedelta(days=away)
    if (day.month, day.day) != (2, 29):
        assert read_day(f"{day:%d %b}", Reading(today, "near")) == day


@pytest.mark.parametrize(
    ("written", "why"),
    [
        ("3/4/22", "reads two ways, 3 Apr 2022 or 4 Mar 2022; write 3 apr 2022 or 2022-04-03"),
        ("3/4", "reads two ways, 3 Apr 2027 or 4 Mar 2027"),
        ("31/2/27", "no such day"), ("31 feb", "no such day"), ("29 feb 2027", "no such day"),
        ("30/2", "no such day"), ("soon", "is not a day"), ("", "is not a day"),
        ("16 jan or so", "is not a day"), ("about 16 jan", "is not a day"),
        ("fri 16 jan 2027", "16 Jan 2027 is a Saturday"), ("jan", "is not a day"),
        ("16 janx", "is not a day"), ("16", "is not a day"),
    ],
)  # fmt: skip
def test_what_reads_two_ways_or_is_no_day_is_never_guessed(written: str, why: str) -> None:
    with pytest.raises(DataError) as refused:
        read_day(written, NEXT)
    assert why in str(refused.value)


def test_a_day_goes_as_far_as_it_can_be_read() -> None:
    for written in ("16 jan 2027", "16 jan", "16/1/27", "2027-01-16", "today", "Jan 16", "16/1"):
        for behind in ("", " Hill End", ' "a note"', "; kg 980"):
            assert day_at(written + behind) == len(written), written + behind
    for other in ("Hill End", "1st field", "todays", "16 janx", "4/222", "980"):
        assert day_at(other) == 0, other


def between(*days: tuple[int, int, int]) -> Birth:
    first, last = (date(*day).toordinal() for day in days)
    return Birth(first, last)


@pytest.mark.parametrize(
    ("written", "birth"),
    [
        ("14/3/22", between((2022, 3, 14), (2022, 3, 14))),
        ("mar 2022", between((2022, 3, 1), (2022, 3, 31))),
        ("March 2022", between((2022, 3, 1), (2022, 3, 31))),
        ("mar '22", between((2022, 3, 1), (2022, 3, 31))),
        ("3/2022", between((2022, 3, 1), (2022, 3, 31))),
        ("2022-03", between((2022, 3, 1), (2022, 3, 31))),
        ("dec 2021", between((2021, 12, 1), (2021, 12, 31))),
        ("2022", between((2022, 1, 1), (2022, 12, 31))),
        ("2026", between((2026, 1, 1), (2026, 11, 28))),
        ("nov 2026", between((2026, 11, 1), (2026, 11, 28))),
        ("3", between((2022, 11, 29), (2023, 11, 28))),
        ("3 years", between((2022, 11, 29), (2023, 11, 28))),
        ("3yo", between((2022, 11, 29), (2023, 11, 28))),
        ("3-year-old", between((2022, 11, 29), (2023, 11, 28))),
        ("18 months", between((2025, 4, 29), (2025, 5, 28))),
        ("18m", between((2025, 4, 29), (2025, 5, 28))),
        ("29 nov 2022 to 28 nov 2023", between((2022, 11, 29), (2023, 11, 28))),
    ],
)
def test_a_month_a_year_or_an_age_is_kept_as_such(written: str, birth: Birth) -> None:
    assert read_birth(written, TODAY) == birth
    assert read_birth(birth.words, TODAY) == birth
    assert birth_in(birth.fields) == birth


@pytest.mark.parametrize(
    ("written", "why"),
    [
        ("14 mar", "has no year"), ("mar 22", "write mar 2022, or the day with its year"),
        ("3/22", "write mar 2022, or"), ("mar 31", "or a month"), ("22/5", "or a month"),
        ("22", "a year or an age"), ("2027", "still to come"), ("dec 2026", "still to come"),
        ("99 years", "no bull's age"), ("spring", "is not a day"), ("3/4/22", "reads two ways"),
        ("12 mar 2022 to 1 mar 2022", "is not a day"), ("13/2022", "is not a day"),
    ],
)  # fmt: skip
def test_a_birth_that_can_be_read_otherwise_is_asked_for_again(written: str, why: str) -> None:
    with pytest.raises(DataError) as refused:
        read_birth(written, TODAY)
    assert why in str(refused.value)


@given(st.dates(date(2000, 1, 1), date(2040, 12, 31)), st.integers(1, 30), st.sampled_from("ym"))
def test_every_day_on_which_he_can_have_been_born_is_in_his_age_and_no_other(
    today: date, count: int, unit: str
) -> None:
    birth = read_birth(f"{count}{unit}", today)
    on, size = today.toordinal(), 12 if unit == "y" else 1
    assert months_old(birth.last, on) == count * size
    assert months_old(birth.first, on) == count * size + size - 1
    assert months_old(birth.last + 1, on) < count * size <= months_old(birth.first, on)
    assert months_old(birth.first - 1, on) >= (count + 1) * size


@given(st.dates(), st.integers(0, 4000))
def test_any_birth_reads_back_from_its_words(day: date, more: int) -> None:
    last = min(day.toordinal() + more, date.max.toordinal())
    birth = Birth(day.toordinal(), last)
    if day.year >= 1990 and date.fromordinal(last).year <= 2090:
        assert read_birth(birth.words, date(2100, 1, 1)) == birth


def test_a_birth_said_again_leaves_nothing_of_the_one_before() -> None:
    year = read_birth("2022", TODAY)
    exact = read_birth("14 mar 2022", TODAY)
    said = said_of_bull({"name": "Tarn", **year.fields}, exact.fields)
    assert birth_in(said) == exact and said["name"] == "Tarn"
    assert birth_in(said_of_bull(said, {"pen": "4"})) == exact
    assert exact.tells_more_than(year) and not year.tells_more_than(exact)
    assert read_birth("2021", TODAY).denies(exact) and not year.denies(exact)
    assert not year.tells_more_than(year)
    assert timedelta(year.last - year.first).days == 364
