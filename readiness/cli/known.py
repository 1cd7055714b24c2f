"""``--known``: the moment whose knowledge is asked for."""

from __future__ import annotations

import argparse
from datetime import date, datetime, time, timedelta

from readiness.entries.new import recorded_text


def known_option(parser: argparse.ArgumentParser) -> None:
    """Teach a command ``--known``."""
    parser.add_argument(
        "--known",
        metavar="DATE|DATE-TIME",
        type=known_argument,
        help="as the book knew it then; a day alone means its end",
    )


def known_argument(text: str) -> str:
    """A day (its end, local time) or a date-time (local where it names no zone), as the book
    writes the moment of recording."""
    try:
        return recorded_text(_moment(text))
    except (ValueError, OverflowError):
        raise argparse.ArgumentTypeError(
            f"{text!r} is no day or moment; write 2026-04-03 or 2026-04-03T18:00"
        ) from None


def _moment(text: str) -> datetime:
    try:
        day = date.fromisoformat(text)
    except ValueError:
        return datetime.fromisoformat(text).astimezone()
    next_day = datetime.combine(day + timedelta(days=1), time()).astimezone()
    return next_day - timedelta(microseconds=1)


def known_words(known: str | None) -> str:
    """The moment as it is read here: "Fri 3 Apr 2026, 18:00"; empty where none was given."""
    if known is None:
        return ""
    from readiness.trade.words import full_day_words

    moment = datetime.fromisoformat(known).astimezone()
    return f"{full_day_words(moment.date())}, {moment:%H:%M}"
