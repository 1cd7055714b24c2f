"""Days as people and spreadsheets write them. A day that can be read two ways is never guessed.

`03/04/2021` is March or April: which, the column says as a whole, by a value such as 13/04/2021
that can be read one way only; or its heading, or the person who imports. Reference for the forms:
ISO 8601 for year-month-day; the two orders of day and month are those of British and American
usage. A spreadsheet counts days from 30 Dec 1899 or 1 Jan 1904 (ECMA-376 part 1, 18.17.4).
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from datetime import date, datetime, time, timedelta
from functools import partial
from typing import NamedTuple

from readiness.roster.cells import Cell, rows_words
from readiness.roster.headings import AGES, Heading
from readiness.roster.roster import Refused, Roster
from readiness.roster.way import COMMAND, Way
from readiness.system.errors import DataError
from readiness.trade.ages import Birth
from readiness.trade.births import birth_without_day
from readiness.trade.days import (
    MONTH_MOST,
    WRITE,
    Either,
    Reading,
    dated,
    either_order,
    read_day,
    without_year,
    years_up_to,
)
from readiness.trade.words import plural, year_day_words

# Days of 1980 to 2099 as a spreadsheet counts them from 1900: not to be taken for years or weights.
SERIAL_LEAST, SERIAL_MOST = 27_000, 73_050
ORDERS = {"dmy": "day first", "mdy": "month first"}


class ReadBy(NamedTuple):
    """``on``: the day of the import; ``dates``: "dmy" or "mdy", the order that the person says;
    ``year``: a year of two digits is the last such one up to it; ``way``: how that order is said
    where nobody has. ``to_come``: none is over, and a day without a year is the next one."""

    on: date
    dates: str | None
    year: int
    way: Way = COMMAND
    to_come: bool = False


def read_days(
    roster: Roster,
    column: Heading,
    cells: Mapping[int, Cell],
    zero: datetime | None,
    asked: ReadBy,
) -> tuple[dict[int, date], list[str]]:
    """Row → the day, and which way they were read, where there was something to decide.

    ``cells``: row → a cell that says something, rising; ``zero``: day 0 of the spreadsheet's
    numbers, None in a text file.
    """
    stored = {row: day for row, cell in cells.items() if (day := _stored(cell, zero))}
    others = {row: cell for row, cell in cells.items() if row not in stored}
    full_year = years_up_to(asked.year)
    either = {
        row: value for row, cell in others.items() if (value := either_order(cell.text, full_year))
    }
    if asked.to_come:  # 20/12/26 as 2020 would be over
        either = {row: value._replace(year_first=None) for row, value in either.items()}
    maybe = _maybe_swapped(either, stored)
    if len(maybe) * 2 > sum(day.day != day.month for day in stored.values()):
        roster.wrong(column, 0, _swapped(either, maybe))
        return {}, []
    for row, day in maybe.items():
        text = (
            f"{column.place}: {year_day_words(day)} may be {_other_way(day)}: days after the 12th "
            "stayed text in this column, as where a spreadsheet has swapped day and month. Look at "
            "it"
        )
        roster.warnings.append((row, text))
    order, why = _order(either, column.order, asked)
    if either and not order:  # said once, for the column as a whole
        roster.wrong(column, 0, why)
        others = {row: cell for row, cell in others.items() if row not in either}
    days = roster.read(column, others, partial(_read_day, asked=asked, order=order, why=why))
    how = [f"{ORDERS[order]}, {why}"] if order and why else []
    how += _years([cells[row].text for row in days], asked.year)
    return stored | days, how


def _years(texts: Iterable[str], latest: int) -> Iterator[str]:
    """Which years were meant, where these days do not say them in full."""
    short = [text for text in texts if not re.search(r"\d{4}", text)]
    if any(map(without_year, short)):
        yield "without a year the next such day"
    if not all(map(without_year, short)):
        yield f"years of two digits are the last such year up to {latest}"


def read_births(
    roster: Roster,
    column: Heading,
    cells: Mapping[int, Cell],
    zero: datetime | None,
    asked: ReadBy,
) -> tuple[dict[int, Birth], list[str]]:
    """As ``read_days``, of a column of births: there a month, a year or an age will do."""
    ages = column.key in AGES

    def without_day(cell: Cell) -> Birth | None:
        if not ages and (_stored(cell, zero) or not isinstance(cell.value, (str, int, float))):
            return None
        text = _age(cell, AGES[column.key]) if ages else cell.text
        try:
            birth = birth_without_day(text, asked.on)
        except DataError as problem:
            raise Refused(str(problem)) from problem
        if ages and birth is None:
            raise Refused(f"{cell.shown} is no age; write 3 years, or 18 months")
        return birth

    loose = roster.read(column, cells, without_day)
    exact = {row: cells[row] for row, birth in loose.items() if birth is None}
    days, how = read_days(roster, column, exact, zero, asked)
    found = {row: birth for row, birth in loose.items() if birth}
    if found:
        how.append("of a month, a year or an age alone: between its first and last day")
    return found | {row: Birth(d.toordinal(), d.toordinal()) for row, d in days.items()}, how


def _age(cell: Cell, unit: str) -> str:
    """An age with its ``unit``. Where the heading says none ("") the numbers from 1 to 9 are years,
    as in a form; a bull of 18 may be as many months old."""
    text = cell.text
    if not unit and re.fullmatch(r"0|[1-9]\d{1,2}", text, re.ASCII):
        raise Refused(
            f'{cell.shown} may be years or months; head the column "Age (months)" or "Age (years)"'
        )
    return f"{text} {unit or 'years'}" if text[-1:].isnumeric() else text


# ---- one cell ------------------------------------------------------------------------------------


def _stored(cell: Cell, zero: datetime | None) -> date | None:
    """A day that a spreadsheet knows to be one, though the cell may have lost its format."""
    value = cell.value
    if isinstance(value, datetime):
        return value.date()
    if isinstance(value, date):
        return value
    if zero and isinstance(value, (int, float)) and SERIAL_LEAST <= value <= SERIAL_MOST:
        return (zero + timedelta(days=value)).date()
    return None


def _read_day(cell: Cell, asked: ReadBy, order: str, why: str) -> date:
    """The day of a cell that is none of the spreadsheet's own. Raises ``Refused``."""
    if isinstance(cell.value, (time, timedelta, bool)):
        raise Refused(f"{cell.shown} is no day; {WRITE}")
    either = either_order(cell.text, years_up_to(asked.year))
    if either and either.order in ORDERS and either.order != order:
        raise Refused(f"{cell.text} cannot be read {ORDERS[order]}, {why}; {WRITE}")
    day = either.day(order) if either else _one_way(cell, asked)
    if day is None:
        raise Refused(f"{cell.shown}: there is no such day in the calendar; {WRITE}")
    return day


def _one_way(cell: Cell, asked: ReadBy) -> date:
    """The day of a text that can be read one way only. Raises ``Refused``."""
    try:
        day = dated(cell.text, years_up_to(asked.year))
        if day is None and asked.to_come:
            day = read_day(cell.text, Reading(asked.on))
    except DataError as problem:
        raise Refused(str(problem)) from problem
    if day is None:
        raise Refused(_why_not(cell.text, cell.shown))
    return day


def _why_not(text: str, shown: str) -> str:
    if re.fullmatch(r"(?:19|20)\d{2}", text):
        return f"{shown} is only a year; {WRITE}, or leave it empty"
    if text.isdecimal() and SERIAL_LEAST <= int(text) <= SERIAL_MOST:
        return (
            f"{shown} is a spreadsheet's number of a day, and a text file does not say from when "
            "it counts; give the column the format of a date, and save it again"
        )
    if without_year(text):
        return (
            f"{shown} has no year, or no day, and rows of a list go back for years; {WRITE}, or "
            "leave it empty"
        )
    return f"{shown} is no day that can be read; {WRITE}, or leave it empty"


# ---- the column as a whole -----------------------------------------------------------------------


def _order(either: dict[int, Either], heading: str, asked: ReadBy) -> tuple[str, str]:
    """The order and why, or "" and what to say."""
    if not either:
        return "", ""
    if asked.dates:
        return asked.dates, f"as --dates {asked.dates} says"
    if heading:
        return heading, "as the heading says"
    row, value = next(iter(either.items()))
    if all(value.year_first for value in either.values()):
        readings = (value.day("dmy"), value.day("mdy"), value.year_first)
        return "", _open(row, value, readings, (", by where its year stands", ""), asked.way)
    shows = {value.order: row for row, value in reversed(either.items())}  # the first row of each
    if ORDERS.keys() <= shows.keys():
        day, month = shows["dmy"], shows["mdy"]
        return "", (
            f"{either[day].text} in row {day} has the day first and {either[month].text} in row "
            f"{month} the month: the column is written in two ways, and the others cannot be told; "
            f"{WRITE} in every row"
        )
    for order in ORDERS.keys() & shows.keys():
        return order, f"as {either[shows[order]].text} in row {shows[order]} shows"
    unclear = [row for row, one in either.items() if not one.order and one.first != one.second]
    if not unclear:
        return "dmy", ""  # every one is the same day both ways, or no day at all
    value = either[unclear[0]]
    count = f" ({plural(len(unclear), 'day')} can be read both ways)"
    return "", _open(
        unclear[0], value, (value.day("dmy"), value.day("mdy")), ("", count), asked.way
    )


def _open(
    row: int, value: Either, days: Iterable[date | None], more: tuple[str, str], way: Way
) -> str:
    """``more``: by what it can be read so, and how many others can."""
    readings = " or ".join(year_day_words(day) for day in dict.fromkeys(days) if day)
    by, count = more
    return (
        f"{value.text} in row {row} is {readings}{by}, and no other value of the column shows "
        f"which{count}; write them as 3 Apr 2021 or 2021-04-03, or {way.option('--dates dmy')} "
        "(day first) or --dates mdy (month first)"
    )


def _maybe_swapped(either: Mapping[int, Either], stored: Mapping[int, date]) -> dict[int, date]:
    """The damage a spreadsheet does that reads days in the other order than they were written:
    up to the 12th it swaps day and month and makes them its own, the others it leaves as text.
    Rows pasted from such a sheet may stand among right ones."""
    if not any(value.order in ORDERS for value in either.values()):
        return {}
    return {
        row: day for row, day in stored.items() if day.day <= MONTH_MOST and day.day != day.month
    }


def _swapped(either: Mapping[int, Either], maybe: Mapping[int, date]) -> str:
    """What to say where most of the spreadsheet's own days may be so."""
    row, made = next(iter(maybe.items()))
    text_row, text = next((row, value) for row, value in either.items() if value.order in ORDERS)
    count = plural(len(maybe), "value is a day", "values are days")
    return (
        f"{count} of the spreadsheet's own and not after the 12th of the month, as most of its own "
        f"days here are, while {rows_words(either)} ({text.text} in row {text_row}) stayed "
        "text: so it looks where a spreadsheet set to another country has swapped day and month "
        f"where it could. Row {row} says {year_day_words(made)} and may be {_other_way(made)}; "
        f"{WRITE} in every row of the column"
    )


def _other_way(day: date) -> str:
    return year_day_words(date(day.year, day.day, day.month))
