"""A whole column of days: in which order day and month stand, or why nobody can say."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime

from readiness.roster.cells import Cell, rows_words
from readiness.roster.dates import (
    MONTH_MOST,
    WRITE,
    Either,
    FromSpreadsheet,
    Read,
    Unreadable,
    day_text,
    read_day,
    short_year,
)
from readiness.trade.words import plural

ORDERS = {"dmy": "day first", "mdy": "month first"}


@dataclass(slots=True)
class Days:
    """``days``: row → day. ``problems``: (row, text), row None for the column as a whole.

    ``how``: in words, which order was taken and why; "" where there was nothing to decide.
    ``warnings``: (row, text) of days that may not be what was written.
    """

    days: dict[int, date] = field(default_factory=dict)
    problems: list[tuple[int | None, str]] = field(default_factory=list)
    how: str = ""
    warnings: list[tuple[int, str]] = field(default_factory=list)


def read_days(
    cells: Mapping[int, Cell], zero: datetime | None, latest: int, heading: str, asked: str | None
) -> Days:
    """The days of a column. ``cells``: row → a cell that says something, rising. ``heading``: the
    order that the heading says, or ""; ``asked``: the order that the person says, or None."""
    read = {row: read_day(cell, zero, latest) for row, cell in cells.items()}
    either = {row: value for row, value in read.items() if isinstance(value, Either)}
    stored = {row: value.day for row, value in read.items() if isinstance(value, FromSpreadsheet)}
    found = Days()
    maybe = _maybe_swapped(either, stored)
    if len(maybe) * 2 > sum(day.day != day.month for day in stored.values()):
        found.problems.append((None, _swapped(either, maybe)))
        return found
    found.warnings += [(row, _maybe(day)) for row, day in maybe.items()]
    order, why = _order(either, heading, asked)
    if either and not order:
        found.problems.append((None, why))
    _take(read, order, why, found)
    short = [row for row, cell in cells.items() if row in found.days and _short(cell)]
    found.how = "; ".join(_how(either, order, why, short, latest))
    return found


def _take(read: Mapping[int, Read], order: str, why: str, found: Days) -> None:
    for row, value in read.items():
        day: date | Unreadable
        if isinstance(value, FromSpreadsheet):
            day = value.day
        elif not isinstance(value, Either):
            day = value
        elif not order:
            continue  # said once, for the column as a whole
        elif value.order in ORDERS and value.order != order:
            day = Unreadable(f"{value.text} cannot be read {ORDERS[order]}, {why}; {WRITE}")
        else:
            day = value.day(order)
        if isinstance(day, Unreadable):
            found.problems.append((row, day.why))
        else:
            found.days[row] = day


def _order(either: Mapping[int, Either], heading: str, asked: str | None) -> tuple[str, str]:
    """The order and why, or "" and what to say."""
    if not either:
        return "", ""
    if asked:
        return asked, f"as --dates {asked} says"
    if heading:
        return heading, "as the heading says"
    if all(value.year_first for value in either.values()):
        return "", _year_in_front(either)
    shows = {
        order: [row for row, value in either.items() if value.order == order] for order in ORDERS
    }
    if shows["dmy"] and shows["mdy"]:
        return "", _contradiction(either, shows["dmy"][0], shows["mdy"][0])
    for order, rows in shows.items():
        if rows:
            return order, f"as {either[rows[0]].text} in row {rows[0]} shows"
    open_rows = [row for row, value in either.items() if not value.order and not value.same]
    if not open_rows:
        return "dmy", ""  # every one is the same day both ways, or no day at all
    return "", _ambiguous(either, open_rows)


def _contradiction(either: Mapping[int, Either], day_first: int, month_first: int) -> str:
    return (
        f"{either[day_first].text} in row {day_first} has the day first and "
        f"{either[month_first].text} in row {month_first} the month: the column is written in two "
        f"ways, and the others cannot be told; {WRITE} in every row"
    )


def _ambiguous(either: Mapping[int, Either], rows: list[int]) -> str:
    value = either[rows[0]]
    readings = " or ".join(
        day_text(day) for day in (value.day("dmy"), value.day("mdy")) if isinstance(day, date)
    )
    return (
        f"{value.text} in row {rows[0]} is {readings}, and no other value of the column shows "
        f"which ({plural(len(rows), 'day')} can be read both ways); write them as 3 Apr 2021 or "
        "2021-04-03, or say --dates dmy (day first) or --dates mdy (month first)"
    )


def _year_in_front(either: Mapping[int, Either]) -> str:
    row, value = next(iter(either.items()))
    days = dict.fromkeys((value.day("dmy"), value.day("mdy"), value.year_first))
    readings = " or ".join(day_text(day) for day in days if isinstance(day, date))
    return (
        f"{value.text} in row {row} is {readings}, by where its year stands, and no other value of "
        "the column shows which; write them as 3 Apr 2021 or 2021-04-03, or say --dates dmy (day "
        "first) or --dates mdy (month first)"
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
        f"days here are, while {rows_words(list(either))} ({text.text} in row {text_row}) stayed "
        "text: so it looks where a spreadsheet set to another country has swapped day and month "
        f"where it could. Row {row} says {day_text(made)} and may be {_other_way(made)}; {WRITE} "
        "in every row of the column"
    )


def _maybe(day: date) -> str:
    return (
        f"{day_text(day)} may be {_other_way(day)}: days after the 12th stayed text in this "
        "column, as where a spreadsheet has swapped day and month. Look at it"
    )


def _other_way(day: date) -> str:
    return day_text(date(day.year, day.day, day.month))


def _short(cell: Cell) -> bool:
    return isinstance(cell.value, str) and short_year(cell.text)


def _how(
    either: Mapping[int, Either], order: str, why: str, short: list[int], latest: int
) -> Iterator[str]:
    if either and order and why:
        yield f"{ORDERS[order]}, {why}"
    if short:
        yield f"years of two digits are the last such year up to {latest}"
