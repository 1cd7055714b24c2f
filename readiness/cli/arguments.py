"""What may be given on a command line, and what a value there is read as."""

from __future__ import annotations

import os
from argparse import ArgumentTypeError, _ActionsContainer
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import Any

from readiness.entries.entry import recorded_text

STDOUT = Path("-")
"""The path that means standard output."""

YEARS = (1900, 2999)
"""The years of a day on the command line: nothing counted from it leaves the calendar."""


def argument(to: _ActionsContainer, name: str, metavar: str | None, text: str, **more: Any) -> None:
    """Teach a command an argument with a value. ``more``: as ``add_argument`` takes it."""
    to.add_argument(name, metavar=metavar, help=text, **more)


def flag(to: _ActionsContainer, name: str, text: str) -> None:
    """Teach a command an option that is given or not."""
    to.add_argument(name, action="store_true", help=text)


def json_option(to: _ActionsContainer) -> None:
    flag(to, "--json", "for programs")


def farm_option(to: _ActionsContainer) -> None:
    argument(to, "--farm", "NAME", "only this farm")


def known_option(to: _ActionsContainer) -> None:
    """``--known``: the moment whose knowledge is asked for."""
    text = "as the book knew it then; a day alone means its end"
    argument(to, "--known", "DATE|DATE-TIME", text, type=known_argument)


# ---- what a value is read as ---------------------------------------------------------------------


def path_argument(text: str) -> Path:
    """A file's path. An empty one, as an unset variable leaves, is refused: the program would work
    on some other file than was meant."""
    if not text:
        raise ArgumentTypeError("no file is named; write its path")
    return at_home(text)


def at_home(text: str) -> Path:
    """The path with ~ as the user's own folder: a shell leaves it as it is in quotes and behind
    an equals sign."""
    return Path(os.path.expanduser(text))


def whole(text: str) -> int:
    """A whole number, 0 or more."""
    if not (text.isascii() and text.isdigit()):
        raise ArgumentTypeError(f"{text!r} is no whole number; write 0 or more")
    return int(text)


def day_argument(text: str) -> date:
    """A day: ISO 8601, as 2026-04-03."""
    try:
        day = date.fromisoformat(text)
    except ValueError:
        raise ArgumentTypeError(
            f"{text!r} is no day; write year-month-day, as 2026-04-03"
        ) from None
    if not YEARS[0] <= day.year <= YEARS[1]:
        raise ArgumentTypeError(f"{text!r} is too far off: {YEARS[0]} to {YEARS[1]}")
    return day


def known_argument(text: str) -> str:
    """A day (its end, local time) or a date-time (local where it names no zone), as the book
    writes the moment of recording."""
    try:
        return recorded_text(_moment(text))
    except (ValueError, OverflowError):
        raise ArgumentTypeError(
            f"{text!r} is no day or moment; write 2026-04-03 or 2026-04-03T18:00"
        ) from None


def _moment(text: str) -> datetime:
    try:
        day = date.fromisoformat(text)
    except ValueError:
        return datetime.fromisoformat(text).astimezone()
    next_day = datetime.combine(day + timedelta(days=1), time()).astimezone()
    return next_day - timedelta(microseconds=1)
