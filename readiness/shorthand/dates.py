"""Dates in shorthand: "2027-04-03", "3 apr 2027", or "3 apr", the next one from the entry's day."""

from __future__ import annotations

import re
from datetime import date

from readiness.shorthand.cursor import Cursor
from readiness.shorthand.lexicon import word_pattern
from readiness.trade.words import MONTHS

_ISO = re.compile(r"(\d{4}-\d{1,2}-\d{1,2})(?!\d)", re.ASCII)
_SLASHED = re.compile(r"(\d{1,2}[/.-]\d{1,2}(?:[/.-]\d{2,4})?)(?!\d)", re.ASCII)
_DAY = re.compile(
    rf"((?:\d{{1,2}})\s*(?:{'|'.join(MONTHS)})[a-z]*(?:\s+\d{{4}})?)(?![A-Za-z\d])",
    re.IGNORECASE | re.ASCII,
)
_DAY_PARTS = re.compile(r"(\d+)\s*([A-Za-z]+)\s*(\d{4})?", re.ASCII)
_LONG_MONTHS = word_pattern(
    *("January", "February", "March", "April", "May", "June", "July", "August", "September"),
    *("October", "November", "December", "Sept"),
    *MONTHS,
)


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
    if parts is None or not _LONG_MONTHS.fullmatch(parts[2]):
        raise cursor.fail(f'"{text}" is not a day; write it as in 3 apr or 2027-04-03')
    month = next(n for n, name in enumerate(MONTHS, 1) if parts[2].lower().startswith(name.lower()))
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
