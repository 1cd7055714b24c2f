"""Births and ages in months of the calendar. Days are ordinals (``date.toordinal``)."""

from __future__ import annotations

from calendar import monthrange
from collections.abc import Mapping
from datetime import date
from typing import Any, NamedTuple

from readiness.trade.words import MONTHS, Day, plural, year_day_words

MONTHS_A_YEAR, COUNT_MONTHS_UNDER = 12, 36


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


class Birth(NamedTuple):
    """The days between which he was born, both included: the same where his birthday is known.

    What would clear him because he is old enough goes by the last, what would because he is young
    enough by the first: an age that nobody knows is never taken for the one that suits.
    """

    first: Day
    last: Day

    @property
    def known(self) -> bool:
        """Whether the day itself is known."""
        return self.first == self.last

    def months(self, on: Day) -> range:
        """The ages in whole months that he may have on a day, from the youngest."""
        return range(months_old(self.last, on), months_old(self.first, on) + 1)

    def denies(self, other: Birth) -> bool:
        """Whether not both can be so."""
        return self.last < other.first or other.last < self.first

    def tells_more_than(self, other: Birth) -> bool:
        """Whether it cannot be so by the other, or is known more nearly by it."""
        within = other.first <= self.first and self.last <= other.last
        return self.denies(other) or (within and self != other)

    @property
    def words(self) -> str:
        """As it is written, and read again: "14 Mar 2022", "Mar 2022", "2022", or from which day
        to which."""
        first, last = date.fromordinal(self.first), date.fromordinal(self.last)
        if self.known:
            return year_day_words(first)
        after = date.fromordinal(self.last + 1)
        if first.day == after.day == 1:
            if first.month == after.month == 1 and after.year == first.year + 1:
                return str(first.year)
            if months_after(self.first, 1) == self.last + 1:
                return f"{MONTHS[first.month - 1]} {first.year}"
        return f"{year_day_words(first)} to {year_day_words(last)}"

    def age_words(self, on: Day) -> str:
        """ "4 years", or "14 months" for a young one; "3 to 4 years" where his birthday is not
        known; empty where he may not be born yet."""
        young, old = self.months(on)[0], self.months(on)[-1]
        if young < 0:
            return ""
        what = "month"
        if old >= COUNT_MONTHS_UNDER:
            what, young, old = "year", young // MONTHS_A_YEAR, old // MONTHS_A_YEAR
        return plural(old, what) if young == old else f"{young} to {old} {what}s"

    @property
    def fields(self) -> dict[str, str]:
        """The fields of a bull's entry that say it."""
        said = {"born": date.fromordinal(self.last).isoformat()}
        return said if self.known else said | {FROM: date.fromordinal(self.first).isoformat()}


BORN, FROM = "born", "born_from"
"""The fields of a bull's entry that say when he was born: the last day it can have been, and the
first where they are not the same."""


def birth_in(fields: Mapping[str, Any]) -> Birth | None:
    """The birth that a bull's fields say (days in ISO 8601), None where they do not."""
    if not fields.get(BORN):
        return None
    last = date.fromisoformat(str(fields[BORN])).toordinal()
    first = date.fromisoformat(str(fields[FROM])).toordinal() if fields.get(FROM) else last
    return Birth(min(first, last), last)


def said_of_bull(before: Mapping[str, Any], said: Mapping[str, Any]) -> dict[str, Any]:
    """A bull's fields with what is said of him later: a birth replaces the one before whole."""
    kept = {k: v for k, v in before.items() if k != FROM} if BORN in said else before
    return {**kept, **said}


def born_when_old(months: int, on: Day, over: int) -> Birth:
    """The birth of a bull who is so many whole months old on a day, and not ``over`` more."""
    return Birth(_last_birth(months + over, on) + 1, _last_birth(months, on))


def _last_birth(months: int, on: Day) -> Day:
    """The last day on which one can be born who is so many months old on a day."""
    day = months_after(on, -months)
    while months_after(day + 1, months) <= on:
        day += 1
    return day
