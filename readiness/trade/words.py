"""Days and numbers in words. Dates are "3 Apr", with the year where it is not this one: 03/04 is
read two ways, this is read one way."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from decimal import Decimal

Day = int
"""A day as its ordinal (``date.toordinal``): what the engine counts in. JSON and tables show it as
an ISO date, people read it in words."""
AnyDay = date | Day

YEAR_FIRST, YEAR_LAST = 1990, 2100
"""The years of which an entry may speak."""

FARM_LESS = "the farm without a name"

MONTH_NAMES = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip
MONTHS = tuple(name[:3] for name in MONTH_NAMES)
WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


UNSAID = frozenset(
    {"", "-", "--", "–", "—", "?", "n/a", "n/k", "n.k.", "nk", "unknown", "not known", "don't know"}
)
"""A person's ways of leaving a field or a cell empty."""


def month_number(text: str) -> int:
    """1 to 12 from a month's name, its first three letters or "Sept", case free; else 0."""
    name = "Sep" if text.lower() == "sept" else text.capitalize()
    return next((at for at, month in enumerate(MONTH_NAMES, 1) if name in (month, month[:3])), 0)


def _date(day: AnyDay) -> date:
    return day if isinstance(day, date) else date.fromordinal(day)


def year_day_words(day: AnyDay) -> str:
    """The day as "3 Apr 2026"."""
    day = _date(day)
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def day_words(day: AnyDay, today: AnyDay) -> str:
    """The day as "3 Apr", or "3 Apr 2027" where that is another year than today's."""
    text, year = year_day_words(day), _date(today).year
    return text.removesuffix(f" {year}")


def column_day(day: AnyDay, today: AnyDay) -> str:
    """The day in a column: "today", else "3 Apr"."""
    return "today" if _date(day) == _date(today) else day_words(day, today)


def weekday_words(day: AnyDay, today: AnyDay) -> str:
    """The day as "Fri 3 Apr", or "Fri 3 Apr 2027"."""
    return f"{WEEKDAYS[_date(day).weekday()]} {day_words(day, today)}"


def full_day_words(day: AnyDay) -> str:
    """The day as "Fri 3 Apr 2026": the head of a screen or sheet."""
    return f"{WEEKDAYS[_date(day).weekday()]} {year_day_words(day)}"


def full_when_words(day: AnyDay, today: AnyDay) -> str:
    """The day and how far off it is: "Fri 3 Apr 2026, in 6 days"."""
    return f"{full_day_words(day)}, {when_words(day, today)}"


def plural(count: int, one: str, many: str | None = None) -> str:
    """The count with its noun: "1 bull", "8 bulls"; ``many`` where it is not one + "s"."""
    return f"{count} {one if count == 1 else many or one + 's'}"


def days_words(count: int) -> str:
    """The number of days: "1 day", "6 days"."""
    return plural(count, "day")


def every_words(days: int) -> str:
    """How often: "daily", "every other day", "every 3 days"."""
    return {1: "daily", 2: "every other day"}.get(days, f"every {days_words(days)}")


def when_words(day: AnyDay, today: AnyDay) -> str:
    """How far off: "today", "tomorrow", "yesterday", "in 6 days", "6 days ago"."""
    ahead = (_date(day) - _date(today)).days
    near = {0: "today", 1: "tomorrow", -1: "yesterday"}
    if ahead in near:
        return near[ahead]
    return f"in {days_words(ahead)}" if ahead > 0 else f"{days_words(-ahead)} ago"


def near_day_words(day: AnyDay, today: AnyDay) -> str:
    """The day as a person says it in a column: "today", "tomorrow", else "3 Apr"."""
    near = when_words(day, today)
    return near if near in ("today", "tomorrow") else day_words(day, today)


def number_words(value: float) -> str:
    """A number in digits, without a needless ".0" and never with an exponent: 3, 3.25, 1.5."""
    return str(int(value)) if value == int(value) else format(Decimal(repr(value)), "f")


def list_words(items: Iterable[str], last: str = "and") -> str:
    """The items in a row: "a", "a and b", "a, b and c"."""
    words = list(items)
    if len(words) <= 1:
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"


def sentence(text: str) -> str:
    """The text with a capital first letter and a full stop."""
    text = text.strip()
    if not text:
        return ""
    return text[0].upper() + text[1:] + ("" if text[-1] in ".!?" else ".")
