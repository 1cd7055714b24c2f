"""The days on which a visit may be: a recurrence rule of RFC 5545, less exceptions.

Of the standard (3.3.10) what names days: FREQ from DAILY to YEARLY with INTERVAL and the BY… parts
for days and months. A rule that counts its steps (INTERVAL) needs a day to count from: DTSTART on
a line before it.
"""

from __future__ import annotations

import re
from datetime import date, datetime, timedelta
from typing import Any

_EVERY_WEEK = re.compile(r"FREQ=WEEKLY;BYDAY=(MO|TU|WE|TH|FR|SA|SU)(,(MO|TU|WE|TH|FR|SA|SU))*")
_PARTS = (
    "FREQ", "INTERVAL", "BYDAY", "BYMONTH", "BYMONTHDAY", "BYYEARDAY", "BYWEEKNO", "BYSETPOS",
    "WKST", "UNTIL",
)  # fmt: skip
_FREQ = ("DAILY", "WEEKLY", "MONTHLY", "YEARLY")
_START = re.compile(r"DTSTART(?:;VALUE=DATE)?:(\d{8})\s+")
_EXAMPLE = "FREQ=WEEKLY;BYDAY=MO,TU,WE,TH,FR"


def workdays(raw: Any) -> str:
    """A recurrence rule as TOML gives it, checked. Raises ``ValueError``."""
    if not isinstance(raw, str):
        raise ValueError(f"a recurrence rule is wanted, as {_EXAMPLE!r}")
    rule = raw.strip().upper()
    if _EVERY_WEEK.fullmatch(rule):  # the usual one needs no parser: the board must not wait for it
        return rule
    body = _START.sub("", rule).removeprefix("RRULE:")
    parts = dict(part.partition("=")[::2] for part in body.split(";"))
    for name in parts:
        if name not in _PARTS:
            raise ValueError(f"{name or 'nothing'} is no part of it; known are {', '.join(_PARTS)}")
    if parts.get("FREQ") not in _FREQ:
        raise ValueError(f"FREQ must be one of {', '.join(_FREQ)}, as in {_EXAMPLE!r}")
    if parts.get("INTERVAL", "1") != "1" and not _START.match(rule):
        raise ValueError("INTERVAL needs a day to count from: DTSTART:20260406 on a line before it")
    days_of(rule, (), date(2026, 1, 1).toordinal(), date(2026, 1, 2).toordinal())
    return rule


def days_off(raw: Any) -> tuple[str, ...]:
    """Exceptions as TOML gives them: days, or "FROM/TO". Raises ``ValueError``."""
    items = raw if isinstance(raw, (list, tuple)) else [raw]
    return tuple(_off(item) for item in items)


def _off(item: Any) -> str:
    if type(item) is date:
        return item.isoformat()
    try:
        first, last = _ends(item)
    except (TypeError, ValueError, AttributeError):
        raise ValueError(
            f"{item!r} is no day; write 2026-12-24, or '2026-12-24/2027-01-02'"
        ) from None
    if last < first:
        raise ValueError(f"{item!r} runs backwards")
    return str(item)


def _ends(item: str) -> tuple[date, date]:
    first, _, last = item.partition("/")
    start = date.fromisoformat(first)
    return start, date.fromisoformat(last) if last else start


def days_of(rule: str, exceptions: tuple[str, ...], first: int, last: int) -> tuple[int, ...]:
    """The days (ordinals) from ``first`` to ``last`` that the rule names and no exception takes.

    Raises ``ValueError`` where the rule cannot be read.
    """
    from dateutil.rrule import rrulestr

    start, end = (_midnight(day) for day in (first, last))
    said = _START.match(rule)
    begin = datetime.strptime(said[1], "%Y%m%d") if said else start
    recurring = rrulestr(_START.sub("", rule), dtstart=begin)
    off = [_ends(item) for item in exceptions]
    return tuple(
        moment.toordinal()
        for moment in recurring.between(start, end, inc=True)
        if not any(one <= moment.date() <= two for one, two in off)
    )


def is_off(exceptions: tuple[str, ...], day: date) -> bool:
    """Whether an exception takes this day."""
    return any(one <= day <= two for one, two in map(_ends, exceptions))


def _midnight(ordinal: int) -> datetime:
    return datetime.min + timedelta(days=ordinal - 1)
