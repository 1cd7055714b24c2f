"""Dates in shorthand: "2027-04-03", "3 apr 2027", or "3 apr", the next one from the entry's day."""

from __future__ import annotations

import re
from datetime import date

from readiness.shorthand.cursor import Cursor
from readiness.trade.words import MONTHS, month_number

_ISO = re.compile(r"(\d{4}-\d{1,2}-\d{1,2})(?!\d)", re.ASCII)
_SLASHED = re.compile(r"(\d{1,2}[/.-]\d{1,2}(?:[/.-]\d{2,4})?)(?!\d)", re.ASCII)
_DAY = re.compile(
    rf"((?:\d{{1,2}})\s*(?:{'|'.join(MONTHS)})[a-z]*(?:\s+\d{{4}})?)(?![A-Za-z\d])",
    re.IGNORECASE | re.ASCII,
)
_DAY_PARTS = re.compile(r"(\d+)\s*([A-Za-z]+)\s*(\d{4})?", re.ASCII)


def take_day(cursor: Cursor, on: str) -> str | None:
    """The date that stands next, as ISO text, taken; None where no date stands there.

    One that exists in no calendar, or reads two ways, is refused.
    """
    if text := cursor.take(_ISO):
        year, month, day = (int(number) for number in text.split("-"))
        return _made(cursor, year, month, day, text)
    if text := cursor.take(_DAY):
        return _named_month(cursor, text, date.fromisoformat(on))
    if cursor.peek(_SLASHED):
        raise cursor.fail(
            f'"{cursor.next_word()}" reads two ways; write the day as in 3 apr or 2027-04-03'
        )
    return None


def _named_month(cursor: Cursor, text: str, on: date) -> str:
    parts = _DAY_PARTS.match(text)
    month = month_number(parts[2]) if parts else 0
    if parts is None or not month:
        raise cursor.fail(f'"{text}" is not a day; write it as in 3 apr or 2027-04-03')
    day = int(parts[1])
    if parts[3]:
        return _made(cursor, int(parts[3]), month, day, text)
    passed = (month, day) < (on.month, on.day)
    return _made(cursor, on.year + passed, month, day, text)


def _made(cursor: Cursor, year: int, month: int, day: int, text: str) -> str:
    try:
        return date(year, month, day).isoformat()
    except ValueError:
        raise cursor.fail(f'there is no day "{text}" in the calendar of {year}') from None
