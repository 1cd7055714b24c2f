"""Ages in months of the calendar. Days are ordinals (``date.toordinal``)."""

from __future__ import annotations

from calendar import monthrange
from datetime import date


def months_after(day: int, months: int) -> int:
    """The day so many months later: the same day of the month, or its last where it has none."""
    start = date.fromordinal(day)
    year, month = divmod(start.year * 12 + start.month - 1 + months, 12)
    last = monthrange(year, month + 1)[1]
    return date(year, month + 1, min(start.day, last)).toordinal()


def months_old(born: int, on: int) -> int:
    """The whole months of the calendar from birth to a day, below 0 before it."""
    first, day = date.fromordinal(born), date.fromordinal(on)
    months = (day.year - first.year) * 12 + day.month - first.month
    return months - (months_after(born, months) > on)
