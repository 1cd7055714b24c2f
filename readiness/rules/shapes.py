"""What each rule value must look like: its unit, its type and its range; and how people say it.

A reader takes a value as TOML gives it and returns it as the engine wants it (numbers as they
are, lists as tuples), or raises ``ValueError`` with the words that follow "FILE: [table] key:".
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from functools import partial
from itertools import pairwise
from typing import Any, NamedTuple

from readiness.trade.codes import CODES, SEVERITIES, STAGES
from readiness.trade.words import list_words, number_words

Reader = Callable[[Any], Any]
Sayer = Callable[[Any], str]

DAYS = "days"
MOST_DAYS = 3650
OVER = "over"


class Shape(NamedTuple):
    """The unit in which a value is given, what reads it, and what says it in words, where that is
    not a number before its unit."""

    unit: str
    read: Reader
    say: Sayer | None = None

    def said(self, value: Any) -> str:
        """A value that was read, with its unit, as a person writes it."""
        return self.say(value) if self.say else counted(value, self.unit)


def counted(value: float, unit: str) -> str:
    """ "120 days", "1 day", "60 %"."""
    return f"{number_words(value)} {unit.removesuffix('s') if value == 1 else unit}"


def yes_no_said(value: bool) -> str:
    return "yes" if value else "no"


def severity_said(value: int) -> str:
    """ "severity 2 (moderate)"; 0 is never reached."""
    return f"severity {value} ({SEVERITIES.get(value, 'never')})"


def score_said(value: float) -> str:
    return f"score {number_words(value)}"


def band_said(value: tuple[float, float]) -> str:
    """Both ends are inside."""
    return f"{score_said(value[0])} to {number_words(value[1])}"


def looks_said(days: tuple[int, ...]) -> str:
    """After the last of them it is looked at again each time as long after."""
    last = counted(days[-1], DAYS)
    return f"after {list_words([*map(str, days[:-1]), last])}, then every {last}"


def by_severity_said(days: tuple[int, ...]) -> str:
    if len(set(days)) == 1:
        return f"{counted(days[0], DAYS)}, however severe"
    named = zip(SEVERITIES.values(), days, strict=True)
    return ", ".join(f"{severity} {counted(least, DAYS)}" for severity, least in named)


def by_age_said(what: str, value: tuple[tuple[int | None, float], ...]) -> str:
    """Each age is inside its own step; ``what``: the unit of what hangs on the age."""
    *steps, (_, last) = value
    said = [f"up to {counted(age, 'months')} {counted(each, what)}" for age, each in steps if age]
    return ", ".join([*said, f"{'older' if steps else 'at any age'} {counted(last, what)}"])


def listed(value: Iterable[str]) -> str:
    """ "TU, TN"; of an empty list "none"."""
    return ", ".join(value) or "none"


def whole(low: int, high: int) -> Reader:
    """A whole number from ``low`` to ``high``."""
    return partial(_number, int, low, high)


def number(low: float, high: float) -> Reader:
    """Any number from ``low`` to ``high``, as a float."""
    return partial(_number, float, low, high)


def _number(kind: type[int] | type[float], low: float, high: float, raw: Any) -> float:
    if isinstance(raw, bool) or not isinstance(raw, (int, kind)):
        wanted = "a whole number" if kind is int else "a number"
        raise ValueError(f"{wanted} is wanted, not {shown(raw)}")
    if not low <= raw <= high:  # also refuses nan
        raise ValueError(f"{raw} is out of range: {low:g} to {high:g}")
    return kind(raw)


def part(raw: Any) -> float:
    """A part of a whole: from 0 up to, not including, 1."""
    value: float = number(0, 1)(raw)
    if value == 1:
        raise ValueError("1 is out of range: from 0 to less than 1")
    return value


def yes_no(raw: Any) -> bool:
    """True or false, and nothing that merely counts as one of them."""
    if not isinstance(raw, bool):
        raise ValueError(f"true or false is wanted, not {shown(raw)}")
    return raw


def stages(raw: Any) -> tuple[str, ...]:
    """Stages of digital dermatitis, each once."""
    read = tuple(_items(raw))
    if not read:
        raise ValueError("the list is empty: name at least one stage")
    for stage in read:
        if stage not in STAGES:
            raise ValueError(f"{shown(stage)} is none of {', '.join(STAGES)}")
    return _each_once(read, "stage")


def looks(raw: Any) -> tuple[int, ...]:
    """Days on which to look, rising; one number stands for a list of one."""
    days = tuple(map(whole(1, MOST_DAYS), _items(raw)))
    if not days:
        raise ValueError("the list is empty: give at least one day")
    if any(later <= earlier for earlier, later in pairwise(days)):
        raise ValueError(f"the days must rise: {shown(raw)}")
    return days


def place(raw: Any) -> str:
    """A country, or a part of it, by its code of ISO 3166: ``GB``, ``GB-SCT``; or "none"."""
    if not isinstance(raw, str) or not re.fullmatch(r"[A-Z]{2}(-[A-Z0-9]{1,3})?|none", raw):
        raise ValueError(f'a code as "GB" or "GB-SCT" is wanted, or "none", not {shown(raw)}')
    return raw


def codes(raw: Any) -> tuple[str, ...]:
    """Codes of findings, each once; the list may be empty."""
    read = tuple(_items(raw))
    for code in read:
        if not isinstance(code, str) or code not in CODES:
            raise ValueError(f"{shown(code)} is no finding's code")
    return _each_once(read, "code")


def words(raw: Any) -> tuple[str, ...]:
    """Words to look for, in small letters, each once."""
    read = tuple(item.casefold().strip() if isinstance(item, str) else "" for item in _items(raw))
    if not all(read):
        raise ValueError(f"words in double quotes are wanted, not {shown(raw)}")
    return _each_once(read, "word")


def by_severity(raw: Any) -> tuple[int, ...]:
    """Days for slight, moderate, severe, never falling; one number stands for all three."""
    items = _items(raw)
    if len(items) == 1:
        items = items * len(SEVERITIES)
    if len(items) != len(SEVERITIES):
        raise ValueError(f"three numbers are wanted (slight, moderate, severe), not {len(items)}")
    days = tuple(map(whole(0, MOST_DAYS), items))
    if list(days) != sorted(days):
        raise ValueError(f"the days must not fall from slight to severe: {shown(raw)}")
    return days


def band(low: float, high: float) -> Reader:
    """Two numbers, the lower first, both on the scale."""

    def read(raw: Any) -> tuple[float, float]:
        first, last = map(number(low, high), _pair(raw))
        if first > last:
            raise ValueError(f"the lower number goes first: {shown(raw)}")
        return first, last

    return read


def by_age(what: str, read: Reader) -> Reader:
    """Pairs (age in months up to and including, ``what``); the last age is "over" (None here)."""

    def pairs(raw: Any) -> tuple[tuple[int | None, Any], ...]:
        pairs = [_pair(item) for item in _items(raw)]
        if not pairs or pairs[-1][0] != OVER:
            raise ValueError(f'the last pair must be ["{OVER}", {what}]')
        ages = [whole(1, 600)(age) for age, _ in pairs[:-1]]
        if any(later <= earlier for earlier, later in pairwise(ages)):
            raise ValueError("the ages must rise")
        return tuple(zip([*ages, None], (read(said) for _, said in pairs), strict=True))

    return pairs


def of_ages(what: str, read: Reader) -> Shape:
    """The shape of what hangs on the age in months."""
    return Shape(f"months, {what}", read, partial(by_age_said, what))


def least_by_age(raw: Any) -> tuple[tuple[int | None, float], ...]:
    """The least cm by age."""
    pairs: tuple[tuple[int | None, float], ...] = by_age("cm", number(0, 100))(raw)
    least = [cm for _, cm in pairs]
    if least != sorted(least):
        raise ValueError("the least cm must not fall with age")
    return pairs


def shown(raw: Any) -> str:
    """A value as a person would write it, cut short."""
    text = str(raw).lower() if isinstance(raw, bool) else repr(raw)
    return text if len(text) <= 40 else text[:37] + "..."


def _items(raw: Any) -> list[Any]:
    if isinstance(raw, dict):
        raise ValueError("a number or a list is wanted, not a table")
    return list(raw) if isinstance(raw, (list, tuple)) else [raw]


def _each_once(read: tuple[str, ...], what: str) -> tuple[str, ...]:
    if len(set(read)) < len(read):
        raise ValueError(f"a {what} is named twice")
    return read


def _pair(raw: Any) -> tuple[Any, Any]:
    if not isinstance(raw, (list, tuple)) or len(raw) != 2:
        raise ValueError(f"a list of two is wanted, not {shown(raw)}")
    return raw[0], raw[1]
