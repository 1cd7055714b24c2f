"""Days as people and spreadsheets write them. A day that can be read two ways is never guessed.

`03/04/2021` is March or April: which, the column says as a whole, by a value such as 13/04/2021
that can be read one way only; or its heading, or the person who imports. Reference for the forms:
ISO 8601 for year-month-day; the two orders of day and month are those of British and American
usage. A spreadsheet counts days from 30 Dec 1899 or 1 Jan 1904 (ECMA-376 part 1, 18.17.4).
"""

from __future__ import annotations

import re
from datetime import date, datetime, time, timedelta
from typing import NamedTuple

from readiness.roster.cells import Cell
from readiness.trade.words import MONTHS, WEEKDAYS, month_number

MONTH_MOST = 12
CENTURY = 100
YEAR_LEAST = 1990  # of any day in an entry
# Days of 1980 to 2099 as a spreadsheet counts them from 1900: not to be taken for years or weights.
SERIAL_LEAST, SERIAL_MOST = 27_000, 73_050

_TIME = r"(?:[T ]\d{1,2}:\d{2}(?::\d{2}(?:\.\d+)?)?(?: ?[AP]M)?(?:Z|[+-]\d{2}:?\d{2})?)?"
_YEAR_FIRST = re.compile(rf"(\d{{4}})([-/.])(\d{{1,2}})\2(\d{{1,2}}){_TIME}", re.ASCII | re.I)
_COMPACT = re.compile(r"((?:19|20)\d{2})(\d{2})(\d{2})", re.ASCII)
_NUMBERS = re.compile(
    rf"(\d{{1,2}}) ?([-/.]) ?(\d{{1,2}}) ?\2 ?(\d{{4}}|\d{{2}}){_TIME}", re.ASCII | re.I
)
# Any other word before a day may take it back: "sold", "not", "expected".
_WEEKDAY = (
    r"(?:(?P<weekday>MON(?:DAY)?|TUE(?:S|SDAY)?|WED(?:S|NESDAY)?|THU(?:R|RS|RSDAY)?|FRI(?:DAY)?"
    r"|SAT(?:URDAY)?|SUN(?:DAY)?),? )?"
)
_NAMED = re.compile(
    rf"{_WEEKDAY}(\d{{1,2}})(?:ST|ND|RD|TH)?[-/. ]*(?:OF )?([A-Z]{{3,9}})[-/., ]*(\d{{4}}|\d{{2}})",
    re.ASCII | re.I,
)
_NAME_FIRST = re.compile(
    rf"{_WEEKDAY}([A-Z]{{3,9}})[-/. ]*(\d{{1,2}})(?:ST|ND|RD|TH)?(?:, ?| +|[-/])(\d{{4}}|\d{{2}})",
    re.ASCII | re.I,
)
_SHORT_YEAR_FIRST = re.compile(r"(\d{2})([-/.])(\d{2})\2(\d{2})", re.ASCII)
_WITHOUT_YEAR = re.compile(r"\d{1,2}(?:[-/. ](?:\d{1,2}|[A-Z]{3,9})|[A-Z]{3,9})", re.ASCII | re.I)

WRITE = "write it as 3 Apr 2021 or 2021-04-03"


class Unreadable(NamedTuple):
    """Why a cell is no day."""

    why: str


class Either(NamedTuple):
    """Two numbers and a year as written: day and month in an order that the column has to say."""

    first: int
    second: int
    year: int
    text: str
    year_first: date | None = None
    """What 21/04/03 is with its year in front, where that can be."""

    @property
    def order(self) -> str:
        """ "dmy" or "mdy" where it can be read one way only, "" both ways, "none" neither way."""
        first, second = self.first <= MONTH_MOST, self.second <= MONTH_MOST
        return {(True, True): "", (False, True): "dmy", (True, False): "mdy"}.get(
            (first, second), "none"
        )

    @property
    def same(self) -> bool:
        """03/03: the same day both ways."""
        return self.first == self.second

    def day(self, order: str) -> date | Unreadable:
        """The day, read in this order ("dmy", "mdy")."""
        day, month = (self.first, self.second) if order == "dmy" else (self.second, self.first)
        return _day(self.year, month, day, self.text)


class FromSpreadsheet(NamedTuple):
    """A day that a spreadsheet knows to be one."""

    day: date


Read = date | Either | FromSpreadsheet | Unreadable


def read_day(cell: Cell, zero: datetime | None, latest: int) -> Read:
    """What one cell says. ``zero``: day 0 of the spreadsheet's numbers, None in a text file.

    ``latest``: the year of the import; a year of two digits is the last such one up to it.
    """
    value = cell.value
    if isinstance(value, (datetime, date)):
        return FromSpreadsheet(value.date() if isinstance(value, datetime) else value)
    if isinstance(value, (time, timedelta, bool)):
        return Unreadable(f"{cell.shown} is no day; {WRITE}")
    if isinstance(value, (int, float)) and zero is not None:
        return _serial(value, cell, zero)
    return _text(cell.text, cell.shown, latest)


def _serial(value: float, cell: Cell, zero: datetime) -> Read:
    """A number under a heading of days: the cell lost its format, not its day."""
    if SERIAL_LEAST <= value <= SERIAL_MOST:
        return FromSpreadsheet((zero + timedelta(days=value)).date())
    return _text(cell.text, cell.shown, latest=0)


def _text(text: str, shown: str, latest: int) -> Read:
    if match := _YEAR_FIRST.fullmatch(text):
        return _day(int(match[1]), int(match[3]), int(match[4]), text)
    if match := _COMPACT.fullmatch(text):
        return _day(int(match[1]), int(match[2]), int(match[3]), text)
    if match := _NUMBERS.fullmatch(text):
        year = full_year(match[4], latest)
        return Either(int(match[1]), int(match[3]), year, text, _year_first(text, latest))
    for pattern, name, number, year in ((_NAMED, 3, 2, 4), (_NAME_FIRST, 2, 3, 4)):
        match = pattern.fullmatch(text)
        month = month_number(match[name]) if match else 0
        if match and month:
            return _on_weekday(
                _day(full_year(match[year], latest), month, int(match[number]), text),
                match["weekday"],
                shown,
            )
    return Unreadable(_why_not(text, shown))


def _year_first(text: str, latest: int) -> date | None:
    """21/04/03 as 3 Apr 2021: a short form of year-month-day, where such a day can be meant."""
    match = _SHORT_YEAR_FIRST.fullmatch(text)
    if match is None or (year := full_year(match[1], latest)) < YEAR_LEAST:
        return None
    day = _day(year, int(match[3]), int(match[4]), text)
    return day if isinstance(day, date) else None


def _on_weekday(day: date | Unreadable, weekday: str | None, shown: str) -> date | Unreadable:
    """The day, if it falls on the day of the week that stands before it: else one is wrong."""
    if isinstance(day, Unreadable) or weekday is None:
        return day
    if WEEKDAYS[day.weekday()] == weekday[:3].capitalize():
        return day
    return Unreadable(f"{shown}: {day_text(day)} is a {day:%A}; correct one of the two")


def _why_not(text: str, shown: str) -> str:
    if re.fullmatch(r"(?:19|20)\d{2}", text):
        return f"{shown} is only a year; {WRITE}, or leave it empty"
    if text.isdecimal() and SERIAL_LEAST <= int(text) <= SERIAL_MOST:
        return (
            f"{shown} is a spreadsheet's number of a day, and a text file does not say from when "
            "it counts; give the column the format of a date, and save it again"
        )
    if _WITHOUT_YEAR.fullmatch(text):
        return f"{shown} has no year, or no day; {WRITE}, or leave it empty"
    return f"{shown} is no day that can be read; {WRITE}, or leave it empty"


def full_year(digits: str, latest: int) -> int:
    """The year: of two digits, the last year that ends so and is not after ``latest``."""
    year = int(digits)
    return year if len(digits) > 2 else latest - (latest - year) % CENTURY


def short_year(text: str) -> bool:
    """Whether a day written so has its year in two digits."""
    return not re.search(r"\d{4}", text) and re.search(r"\d", text) is not None


def _day(year: int, month: int, day: int, text: str) -> date | Unreadable:
    try:
        return date(year, month, day)
    except ValueError:
        return Unreadable(f"{Cell(text).shown}: there is no such day in the calendar; {WRITE}")


def day_text(day: date) -> str:
    """ "3 Apr 2021": a day as this program reads it one way only."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"
