"""What may be given on a command line, and what a value there is read as."""

from __future__ import annotations

import os
from argparse import ArgumentTypeError, Namespace, _ActionsContainer
from collections.abc import Callable
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from readiness.entries.entry import NO_PERSON, is_person, recorded_text
from readiness.system.errors import DataError, UsageError

if TYPE_CHECKING:
    from readiness.entries.columns import Column

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


def person_argument(text: str) -> str:
    """Who says so. An account that is no person's is refused: a script may pass it on unseen."""
    if not is_person(text):
        raise ArgumentTypeError(f"{NO_PERSON}; write a name")
    return text


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
        raise ArgumentTypeError(f"{text!r} is no whole number of 0 or more")
    return int(text)


class Meant(NamedTuple):
    """What is read once it is known of which day a command is: a day without its year, an age.
    ``written``: how it is read by a command that writes, where that is another way."""

    read: Callable[[date], Any]
    written: Callable[[date], Any] | None = None


def settled(options: Namespace, today: Callable[[], date], *, writes: bool) -> Namespace:
    """The options with all that was ``Meant`` read: the day of the command by ``today``, the others
    by that. ``writes``: whether the command writes. Raises ``UsageError``."""
    for name, value in sorted(vars(options).items(), key=lambda option: option[0] != "on"):
        if _hangs(value):
            day = today() if name == "on" else getattr(options, "on", None) or today()
            try:
                setattr(options, name, _read(value, day, writes=writes))
            except (DataError, ArgumentTypeError) as problem:
                raise UsageError(f"{problem}. `--help` shows how.") from problem
    return options


def _hangs(value: Any) -> bool:
    inside = isinstance(value, list | tuple) and any(map(_hangs, value))
    return isinstance(value, Meant) or inside


def _read(value: Any, day: date, *, writes: bool) -> Any:
    if isinstance(value, Meant):
        return ((writes and value.written) or value.read)(day)
    if isinstance(value, list | tuple):
        return type(value)(_read(each, day, writes=writes) for each in value)
    return value


def word_argument(column: Column) -> Callable[[str], Any]:
    """What reads a value of a field out of the words that people use for it; any other is left as
    it is, for ``choices`` to refuse."""

    def read(text: str) -> Any:
        meant = column.meant(text)
        return text if meant is None else meant

    return read


def day_argument(text: str) -> date | Meant:
    """A day as people write it; without a year the next from the command's day on."""
    return _day(text, "next")


def past_day_argument(text: str) -> date | Meant:
    """As ``day_argument``; without a year the last such day up to the command's."""
    return _day(text, "last")


def own_day_argument(text: str) -> date | Meant:
    """The day that a command is of; without a year the nearest, past or to come, and the last such
    day up to today of a command that writes: what was seen or done lies behind."""
    return _day(text, "near", "last")


def _day(text: str, year: str, written: str | None = None) -> date | Meant:
    try:
        return _of_our_years(date.fromisoformat(text), text)
    except ValueError:  # the usual form is read without the others
        from readiness.trade.days import Reading, day_at, read_day

    if not text or day_at(text.strip()) != len(text.strip()):
        raise ArgumentTypeError(f"{text!r} is no day; write 2026-04-03 or 3 apr 2026")

    def read_as(year: str) -> Callable[[date], date]:
        return lambda today: _of_our_years(read_day(text, Reading(today, year)), text)

    return Meant(read_as(year), read_as(written) if written else None)


def _of_our_years(day: date, text: str) -> date:
    if not YEARS[0] <= day.year <= YEARS[1]:
        raise ArgumentTypeError(f"{text!r} is too far off: {YEARS[0]} to {YEARS[1]}")
    return day


def birth_argument(text: str) -> Meant:
    """When he was born: a day, a month, a year or his age."""
    from readiness.trade.births import read_birth

    return Meant(lambda today: read_birth(text, today))


def known_argument(text: str) -> str | Meant:
    """A day (its end, local time) or a date-time (local where it names no zone), as the book
    writes the moment of recording."""
    try:
        return recorded_text(_moment(text))
    except (ValueError, OverflowError):
        from readiness.trade.days import Reading, day_at, read_day

    if not text or day_at(text.strip()) != len(text.strip()):
        raise ArgumentTypeError(
            f"{text!r} is no day or moment; write 2026-04-03 or 2026-04-03T18:00"
        )
    return Meant(lambda today: recorded_text(_end(read_day(text, Reading(today, "last")))))


def _moment(text: str) -> datetime:
    try:
        return _end(date.fromisoformat(text))
    except ValueError:
        return datetime.fromisoformat(text).astimezone()


def _end(day: date) -> datetime:
    """The last moment of a day, local time."""
    next_day = datetime.combine(day + timedelta(days=1), time()).astimezone()
    return next_day - timedelta(microseconds=1)
