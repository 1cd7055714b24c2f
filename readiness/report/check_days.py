"""When a check is to be done, in words: the same on the board, in the diary, on paper."""

from __future__ import annotations

from collections.abc import Callable

from readiness.engine.results import Check
from readiness.trade.words import AnyDay, column_day, days_words

SayDay = Callable[[AnyDay, AnyDay], str]


def late_words(check: Check, on: int) -> str:
    """ "20 days overdue"; empty where it is not."""
    late = check.overdue and check.due is not None
    return f"{days_words(on - (check.due or 0))} overdue" if late else ""


def overdue_words(check: Check, on: int) -> str:
    """ "20 days overdue (was due 8 Nov)"; empty where it is not overdue."""
    late = late_words(check, on)
    return f"{late} (was due {column_day(check.due or 0, on)})" if late else ""


def last_words(check: Check, on: int, say: SayDay = column_day) -> str:
    """ "last 2 Jan", where it is planned for an earlier day that is advised; else empty."""
    return f"last {say(check.last_day, on)}" if check.plan_by < check.last_day else ""


def by_words(check: Check, on: int, say: SayDay = column_day) -> str:
    """ "by 5 Dec; last 2 Jan"; empty where nothing says by when, or no day fits."""
    if not check.has_last_day or days_short(check):
        return ""
    by = f"by {say(check.plan_by, on)}"
    return "; ".join(filter(None, (by, last_words(check, on, say))))


def from_by_words(check: Check, on: int) -> str:
    """ "from today, by 5 Dec; last 2 Jan"; of what is overdue for how long, and from when it can be
    done where that is to come."""
    start = f"from {column_day(check.not_before, on)}"
    if late := overdue_words(check, on):
        return f"{late}, {start}" if on < check.not_before else late
    return ", ".join(filter(None, (start, by_words(check, on))))


def days_short(check: Check) -> int:
    """How many days are lacking before turnout; 0 where a day fits."""
    return 0 if check.not_after is None else max(0, check.not_before - check.not_after)


def too_late_words(check: Check) -> str:
    """ "cannot be done before turnout: 1 day too late"; empty where a day fits."""
    short = days_short(check)
    return f"cannot be done before turnout: {days_words(short)} too late" if short else ""
