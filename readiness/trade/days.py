"""Days as people write them, read alike by every command, form, line and roster.

A day that can be read two ways is never guessed: 14/3/22 is read, since there is no fourteenth
month; of 3/4/22 both readings are named. Reference for the forms: ISO 8601 for year-month-day; the
two orders of day and month are those of British and American usage.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from datetime import date, timedelta
from functools import cache
from typing import NamedTuple

from readiness.system.errors import DataError
from readiness.system.plain import cut
from readiness.trade.ages import months_after
from readiness.trade.words import (
    MONTH_NAMES,
    WEEKDAYS,
    YEAR_FIRST,
    list_words,
    month_number,
    year_day_words,
)

MONTH_MOST = 12
CENTURY = 100
AHEAD_MOST = 49
"""A year of two digits that may be to come lies at most so far ahead."""
CLEARLY = 61
"""By so many days the nearest of two has to be nearer than the other, or both are named."""

WRITE = "write it as 3 Apr 2021 or 2021-04-03"

_TIME = r"(?:[T ]\d{1,2}:\d{2}(?::\d{2}(?:\.\d+)?)?(?: ?[AP]M)?(?:Z|[+-]\d{2}:?\d{2})?)?"
# Any other word before a day may take it back: "sold", "not", "expected".
_WEEKDAY = (
    r"(?:(?P<weekday>MON(?:DAY)?|TUE(?:S|SDAY)?|WED(?:S|NESDAY)?|THU(?:R|RS|RSDAY)?|FRI(?:DAY)?"
    r"|SAT(?:URDAY)?|SUN(?:DAY)?),? )?"
)
_NUMBER = r"(?P<day>\d{1,2})(?:ST|ND|RD|TH)?"
NAME = rf"(?P<month>{'|'.join(f'{name[:3]}(?:{name[3:]})?' for name in MONTH_NAMES)}|SEPT)\.?"
_YEAR = r"(?P<year>\d{4}|'?\d{2})"
NUMBERS = rf"(?P<one>\d{{1,2}}) ?(?P<mark>[-/.]) ?(?P<two>\d{{1,2}}) ?(?P=mark) ?{_YEAR}{_TIME}"
DATED = (
    rf"(?P<year>\d{{4}})([-/.])(?P<month>\d{{1,2}})\2(?P<day>\d{{1,2}}){_TIME}",
    r"(?P<year>(?:19|20)\d{2})(?P<month>\d{2})(?P<day>\d{2})",
    rf"{_WEEKDAY}{_NUMBER}[-/. ]*(?:OF )?{NAME}[-/., ]*{_YEAR}",
    rf"{_WEEKDAY}{NAME}[-/. ]*{_NUMBER}(?:, ?| +|[-/]){_YEAR}",
)
_YEARLESS = (
    rf"{_WEEKDAY}{_NUMBER}[-/. ]*(?:OF )?{NAME}",
    rf"{_WEEKDAY}{NAME}[-/. ]*{_NUMBER}",
)
_TWO_NUMBERS = r"(?P<one>\d{1,2})[-/.](?P<two>\d{1,2})"
_NEAR = {"yesterday": -1, "today": 0, "tomorrow": 1}
_FAR = (
    r"(?:(?P<ahead>IN) )?(?P<count>\d{1,3}|AN?|ONE) ?(?P<unit>DAY|WEEK|WK|MONTH)S?(?(ahead)| AGO)"
)
_SHORT_YEAR_FIRST = r"(\d{2})([-/.])(\d{2})\2(\d{2})"


@cache
def form_of(pattern: str) -> re.Pattern[str]:
    """A form, compiled when a day is first read: most commands read none."""
    return re.compile(rf"{pattern}(?![A-Z0-9])", re.ASCII | re.I)


class Either(NamedTuple):
    """Two numbers and a year as written: day and month in an order that something else says.

    ``year_first``: what 21/04/03 is with its year in front, where that can be meant.
    """

    first: int
    second: int
    year: int
    text: str
    year_first: date | None = None

    @property
    def order(self) -> str:
        """ "dmy" or "mdy" where it can be read one way only, "" both ways, "none" neither way."""
        if self.first <= MONTH_MOST:
            return "" if self.second <= MONTH_MOST else "mdy"
        return "dmy" if self.second <= MONTH_MOST else "none"

    def day(self, order: str) -> date | None:
        """The day, read in this order ("dmy", "mdy"); None where there is no such day."""
        day, month = (self.first, self.second) if order == "dmy" else (self.second, self.first)
        return a_day(self.year, month, day)

    @property
    def readings(self) -> list[date]:
        """The days that it can be, day first and month first."""
        days = (self.day("dmy"), self.day("mdy"))
        return list(dict.fromkeys(day for day in days if day))


FullYear = Callable[[str], int]
"""The year that its digits mean."""


def years_up_to(latest: int) -> FullYear:
    """Of two digits, the last year that ends so and is not after ``latest``."""

    def full(digits: str) -> int:
        year = int(digits.lstrip("'"))
        return year if len(digits) == 4 else latest - (latest - year) % CENTURY

    return full


def a_day(year: int, month: int, day: int) -> date | None:
    """The day, or None where the calendar has none such."""
    try:
        return date(year, month, day)
    except ValueError:
        return None


def either_order(text: str, full_year: FullYear) -> Either | None:
    """The numbers and the year of 13/04/2021 or 13.4.21; None where it is not written so."""
    match = form_of(NUMBERS).fullmatch(text)
    if match is None:
        return None
    year_first = None
    short = form_of(_SHORT_YEAR_FIRST).fullmatch(text)
    if short and (year := full_year(short[1])) >= YEAR_FIRST:
        year_first = a_day(year, int(short[3]), int(short[4]))
    return Either(int(match["one"]), int(match["two"]), full_year(match["year"]), text, year_first)


def dated(text: str, full_year: FullYear) -> date | None:
    """The day of a text with its year that can be read one way only, None where it is not written
    so. Raises ``DataError`` where there is no such day."""
    for form in DATED:
        if (match := form_of(form).fullmatch(text)) is None:
            continue
        name = match["month"]
        month = int(name) if name.isdecimal() else month_number(name)
        return _of_weekday(match, text, full_year(match["year"]), month, int(match["day"]))
    return None


def _of_weekday(match: re.Match[str], text: str, year: int, month: int, number: int) -> date:
    """Raises ``DataError`` where the day is in no calendar, or not of the weekday that is said."""
    day, weekday = a_day(year, month, number), match.groupdict().get("weekday")
    if day is None:
        raise DataError(f'"{cut(text)}": there is no such day in the calendar of {year}; {WRITE}')
    if weekday and WEEKDAYS[day.weekday()] != weekday[:3].capitalize():
        raise DataError(
            f'"{cut(text)}": {year_day_words(day)} is a {day:%A}; correct one of the two'
        )
    return day


# ---- one day, typed ------------------------------------------------------------------------------


class Reading(NamedTuple):
    """``today``: by which a day is read that is not written whole. ``year``: without one it is the
    "next" such day, the "last", the "near"est, or has to be "said", and then none is to come."""

    today: date
    year: str = "next"

    def full_year(self, digits: str) -> int:
        """Of two digits the nearest such year, or the last where none may be to come."""
        return years_up_to(self.today.year + AHEAD_MOST * (self.year != "said"))(digits)


def read_day(text: str, how: Reading) -> date:
    """The day that a text says: "2027-04-03", "3 apr 2027", "14/3/22", "3 apr", "14/3", "today".

    Raises ``DataError`` where it says none, or can be read two ways.
    """
    try:
        return _read_day(" ".join(text.split()), how)
    except DataError as problem:
        if how.year != "next":
            raise
        to_come = f"write it as 8 May, or 8 May {how.today.year + 1}"
        raise DataError(str(problem).replace(WRITE, to_come)) from None


def _read_day(text: str, how: Reading) -> date:
    if (near := _from(how.today, text)) is not None:
        return near
    if day := dated(text, how.full_year):
        return day
    if either := either_order(text, how.full_year):
        return _one_of(either.readings, text)
    return _without_year(text, how)


def _from(today: date, text: str) -> date | None:
    """A day said by how far it is from today: "tomorrow", "in 8 weeks", "3 days ago"."""
    if (near := _NEAR.get(text.casefold())) is not None:
        return today + timedelta(days=near)
    if (match := form_of(_FAR).fullmatch(text)) is None:
        return None
    count = (int(match["count"]) if match["count"].isdecimal() else 1) * (1 if match[1] else -1)
    if match["unit"][0] in "mM":
        return date.fromordinal(months_after(today.toordinal(), count))
    return today + timedelta(days=count if match["unit"][0] in "dD" else 7 * count)


def _one_of(readings: Iterable[date], text: str) -> date:
    """The only one of the days that a text can be."""
    days = list(readings)
    if not days:
        raise DataError(f'"{cut(text)}": there is no such day in the calendar; {WRITE}')
    if len(days) > 1:
        ways = "two ways" if len(days) == 2 else f"{len(days)} ways"
        each = list_words(map(year_day_words, days), "or")
        raise DataError(
            f'"{cut(text)}" reads {ways}, {each}; write {year_day_words(days[0]).lower()} or '
            f"{days[0].isoformat()}"
        )
    return days[0]


def _without_year(text: str, how: Reading) -> date:
    named = next((m for form in _YEARLESS if (m := form_of(form).fullmatch(text))), None)
    numbers = form_of(_TWO_NUMBERS).fullmatch(text)
    if not (named or numbers):
        raise DataError(f'"{cut(text)}" is not a day; {WRITE}')
    if how.year == "said":
        raise DataError(f'"{cut(text)}" has no year; {WRITE}')
    if named:
        month, day = month_number(named["month"]), int(named["day"])
        years = _years_of(month, day, how)
        return _one_of((_of_weekday(named, text, year, month, day) for year in years), text)
    assert numbers is not None
    one, two = int(numbers["one"]), int(numbers["two"])
    orders = dict.fromkeys(((two, one), (one, two)))
    days = (a_day(year, month, day) for month, day in orders for year in _years_of(month, day, how))
    return _one_of((day for day in days if day), text)


def _years_of(month: int, day: int, how: Reading) -> list[int]:
    """The year of the next such day from today on, of the last up to today, or of the nearest: of
    two years where neither day is ``CLEARLY`` nearer."""
    this = how.today.year
    if how.year == "near":
        such = (a_day(year, month, day) for year in (this - 1, this, this + 1))
        near = sorted((abs((each - how.today).days), each.year) for each in such if each)[:2]
        return sorted(year for days, year in near if days < near[0][0] + CLEARLY) or [this]
    passed = (month, day) < (how.today.month, how.today.day)
    ahead = (month, day) > (how.today.month, how.today.day)
    return [this + passed if how.year == "next" else this - ahead]


def without_year(text: str) -> bool:
    """Whether a text is a day whose year is not said."""
    return any(form_of(form).fullmatch(text) for form in (*_YEARLESS, _TWO_NUMBERS))


def day_at(text: str) -> int:
    """How far a day goes that a text begins with; 0 where none does. Of two, the longer."""
    lower = text.casefold()
    near = (word for word in _NEAR if re.match(rf"{word}(?!\w)", lower))
    written = (*DATED, NUMBERS, *_YEARLESS, _TWO_NUMBERS, _FAR)
    forms = (form_of(form).match(text) for form in written)
    return max((*map(len, near), *(match.end() for match in forms if match)), default=0)
