"""Days as people type them into a field."""

from __future__ import annotations

import re
from datetime import date

from readiness.system.errors import DataError

_YEAR = re.compile(r"\d{4}", re.ASCII)


def day_typed(text: str, today: date, *, past: bool = False) -> date:
    """The day meant by "2027-04-09", "9 apr 2027" or "9 apr": the next one from today on, where
    ``past`` is asked for the last one up to today.

    Raises ``DataError`` where it is no day, or reads two ways (09/04).
    """
    text = text.strip()
    if not past or _YEAR.search(text):
        return _taken(text, text, today)
    this_year = _taken(f"{text} {today.year}", text, today)
    return this_year if this_year <= today else _taken(f"{text} {today.year - 1}", text, today)


def _taken(text: str, typed: str, today: date) -> date:
    from readiness.shorthand import ShorthandError
    from readiness.shorthand.cursor import Cursor
    from readiness.shorthand.dates import take_day

    cursor = Cursor(text, 1)
    try:
        found = take_day(cursor, today.isoformat())
    except ShorthandError as problem:
        raise DataError(problem.why) from problem
    if found is None or not cursor.done:
        raise DataError(f'"{typed}" is not a day; write it as 9 apr or 2027-04-09')
    return date.fromisoformat(found)
