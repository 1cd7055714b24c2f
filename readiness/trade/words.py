"""Days and numbers in words. Dates are "3 Apr", with the year where it is not this one: 03/04 is
read two ways, this is read one way."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from decimal import Decimal

MONTH_NAMES = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip
MONTHS = tuple(name[:3] for name in MONTH_NAMES)
WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


def month_number(text: str) -> int:
    """1 to 12 from a month's name, its first three letters or "Sept", case free; else 0."""
    name = "Sep" if text.lower() == "sept" else text.capitalize()
    return next((at for at, month in enumerate(MONTH_NAMES, 1) if name in (month, month[:3])), 0)


def day_words(day: date, today: date) -> str:
    """The day as "3 Apr", or "3 Apr 2027" where that is another year than today's."""
    text = f"{day.day} {MONTHS[day.month - 1]}"
    return text if day.year == today.year else f"{text} {day.year}"


def full_day_words(day: date) -> str:
    """The day as "Fri 3 Apr 2026": the head of a screen or sheet."""
    return f"{WEEKDAYS[day.weekday()]} {day.day} {MONTHS[day.month - 1]} {day.year}"


def plural(count: int, one: str, many: str | None = None) -> str:
    """The count with its noun: "1 bull", "8 bulls"; ``many`` where it is not one + "s"."""
    return f"{count} {one if count == 1 else many or one + 's'}"


def days_words(count: int) -> str:
    """The number of days: "1 day", "6 days"."""
    return plural(count, "day")


def when_words(day: date, today: date) -> str:
    """How far off: "today", "tomorrow", "yesterday", "in 6 days", "6 days ago"."""
    ahead = (day - today).days
    near = {0: "today", 1: "tomorrow", -1: "yesterday"}
    if ahead in near:
        return near[ahead]
    return f"in {days_words(ahead)}" if ahead > 0 else f"{days_words(-ahead)} ago"


def near_day_words(day: date, today: date) -> str:
    """The day as a person says it in a column: "today", "tomorrow", else "3 Apr"."""
    ahead = (day - today).days
    return {0: "today", 1: "tomorrow"}.get(ahead) or day_words(day, today)


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
