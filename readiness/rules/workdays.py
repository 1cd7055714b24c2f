"""The days on which a visit may be: a recurrence rule of RFC 5545, less exceptions.

Of the standard (3.3.10) what names days: FREQ from DAILY to YEARLY with INTERVAL and the BY… parts
for days and months. A rule that counts its steps (INTERVAL) needs a day to count from: DTSTART on
a line before it.
"""

from __future__ import annotations

import re
from datetime import date, datetime, timedelta
from typing import Any

_DAY = "(MO|TU|WE|TH|FR|SA|SU)"
_EVERY_WEEK = re.compile(f"FREQ=WEEKLY;BYDAY={_DAY}(,{_DAY})*")
_START = re.compile(r"DTSTART(?:;VALUE=DATE)?:(\d{8})\s+")
_EXAMPLE = "FREQ=WEEKLY;BYDAY=MO,TU,WE,TH,FR"
_FREQ = ("DAILY", "WEEKLY", "MONTHLY", "YEARLY")
_MOST = {"BYMONTH": 12, "BYMONTHDAY": 31, "BYYEARDAY": 366, "BYWEEKNO": 53, "BYSETPOS": 366}
_PARTS = ("FREQ", "INTERVAL", "BYDAY", *_MOST, "WKST", "UNTIL")
_NAMES_DAYS = ("BYDAY", "BYMONTHDAY", "BYYEARDAY", "BYWEEKNO")
_YEARS = 4


def workdays(raw: Any) -> str:
    """A recurrence rule as TOML gives it, checked. Raises ``ValueError``."""
    if not isinstance(raw, str):
        raise ValueError(f"a recurrence rule is wanted, as {_EXAMPLE!r}")
    rule = raw.strip().upper()
    if _EVERY_WEEK.fullmatch(rule):  # the usual one needs no parser: the board must not wait for it
        return rule
    start = _START.match(rule)
    parts = _parts(_START.sub("", rule).removeprefix("RRULE:"))
    _fits(parts, started=start is not None)
    first = _begin(start[1]) if start else date(2026, 1, 1)
    most = _until(parts) or first + timedelta(days=366 * _YEARS)
    if not days_of(rule, (), first.toordinal(), max(first, most).toordinal()):
        raise ValueError(f"it names no day in {_YEARS} years")
    return rule


def _parts(body: str) -> dict[str, str]:
    parts: dict[str, str] = {}
    for part in body.split(";"):
        name, _, said = part.partition("=")
        if name not in _PARTS:
            raise ValueError(
                f"{name.strip() or 'nothing'} is no part of it; known are {', '.join(_PARTS)}"
            )
        if name in parts:
            raise ValueError(f"{name} is given twice")
        parts[name] = said
    return parts


def _fits(parts: dict[str, str], *, started: bool) -> None:
    """Refuse what the standard does not allow, and what would hang on the day one asks."""
    freq = parts.get("FREQ")
    if freq not in _FREQ:
        raise ValueError(f"FREQ must be one of {', '.join(_FREQ)}, as in {_EXAMPLE!r}")
    for name, most in _MOST.items():
        for item in parts[name].split(",") if name in parts else ():
            number = item.lstrip("+-")
            if not (number.isascii() and number.isdigit() and 1 <= int(number) <= most):
                raise ValueError(f"{name}={item} is out of range: 1 to {most}")
    _weekdays(parts, freq)
    interval = parts.get("INTERVAL", "1")
    if not re.fullmatch(r"[1-9]\d{0,2}", interval, re.ASCII):
        raise ValueError(f"INTERVAL={interval} is no number of steps: 1 to 999")
    counted = interval != "1" or (freq != "DAILY" and not any(n in parts for n in _NAMES_DAYS))
    if counted and not started:
        raise ValueError("it needs a day to count from: DTSTART:20260406 on a line before it")


def _weekdays(parts: dict[str, str], freq: str) -> None:
    number = r"([+-]?[1-9]\d?)?" if freq in ("MONTHLY", "YEARLY") else ""
    for item in parts["BYDAY"].split(",") if "BYDAY" in parts else ():
        found = re.fullmatch(f"(?P<number>{number}){_DAY}", item, re.ASCII)
        if found is None or abs(int(found["number"] or 1)) > 53:
            raise ValueError(f"BYDAY={item} is no day of the week, as MO, or 1MO in a month")
    if "WKST" in parts and not re.fullmatch(_DAY, parts["WKST"]):
        raise ValueError(f"WKST={parts['WKST']} is no day of the week, as MO")


def _until(parts: dict[str, str]) -> date | None:
    if "UNTIL" not in parts:
        return None
    if not re.fullmatch(r"\d{8}", parts["UNTIL"], re.ASCII):
        raise ValueError(f"UNTIL={parts['UNTIL']} is no day, as 20261231")
    return _begin(parts["UNTIL"])


def _begin(digits: str) -> date:
    try:
        return date.fromisoformat(digits)
    except ValueError:
        raise ValueError(f"{digits} is no day; write it as 20260406") from None


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

    start, end = datetime.fromordinal(first), datetime.fromordinal(last)
    said = _START.match(rule)
    begin = datetime.fromordinal(_begin(said[1]).toordinal()) if said else start
    days = rrulestr(_START.sub("", rule), dtstart=begin).between(start, end, inc=True)
    return tuple(day.toordinal() for day in days if not is_off(exceptions, day.date()))


def is_off(exceptions: tuple[str, ...], day: date) -> bool:
    """Whether an exception takes this day."""
    return any(one <= day <= two for one, two in map(_ends, exceptions))
