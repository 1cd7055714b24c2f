"""What is asked of a plan, from rules and wishes: the farms, their days, what is promised."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from typing import NamedTuple

from readiness.rules.model import RuleBook
from readiness.rules.public_holidays import holidays_of
from readiness.rules.workdays import days_of, is_off
from readiness.system.errors import UsageError
from readiness.trade.words import FARM_LESS, list_words
from readiness.trade.words import full_day_words as _day
from readiness.visits.problem import Farm
from readiness.visits.windows import Asked


class Promise(NamedTuple):
    """A visit that takes place; ``farm`` None where only one farm can be meant."""

    day: date
    farm: str | None = None


class Wishes(NamedTuple):
    """What a person asks of a plan. ``first``: the first day, None for the day assessed; ``days``:
    so many days ahead of it; ``minutes`` of a day; None: as the rules say."""

    first: date | None = None
    days: int | None = None
    minutes: int | None = None
    kept: tuple[Promise, ...] = ()


def asked_of(wishes: Wishes, farms: Sequence[str], rulebook: RuleBook, on: int) -> Asked:
    """The plan that is asked for. ``farms``: where there are bulls, "" for the one without a name.

    Raises ``UsageError``, in one sentence, for wishes that nobody can meet.
    """
    common = rulebook.common.visits
    first = on if wishes.first is None else wishes.first.toordinal()
    if first < on:
        raise UsageError(
            f"A plan cannot begin on {_day(first)}, before the day assessed, {_day(on)}: give a "
            "later --from."
        )
    last = first + (common.visits_ahead if wishes.days is None else wishes.days)
    kept = _kept(wishes.kept, farms, rulebook, first, last)
    planned = tuple(
        _farm(name, rulebook, first, last, kept.get(name, ()), wishes.minutes) for name in farms
    )
    return Asked(first, last, planned, wishes.minutes or common.minutes_day)


def _farm(
    name: str, rulebook: RuleBook, first: int, last: int, kept: Iterable[int], minutes: int | None
) -> Farm:
    rules = rulebook.for_farm(name or None).visits
    promised = tuple(sorted(set(kept)))
    off = holidays_of(rules.visits_holidays, first, last)
    working = {*days_of(rules.visits_workdays, rules.visits_except, first, last), *promised}
    days = working - off.keys()
    if not days:
        at = f"at {name} " if name else ""
        raise UsageError(
            f"There is no working day {at}from {_day(first)} to {_day(last)}: change "
            "visits.workdays or visits.except in the rules, or give another --from or --days."
        )
    most = rules.minutes_day if minutes is None else minutes
    holidays = {day: off[day] for day in sorted(working - days)}
    return Farm(name, tuple(sorted(days)), most, rules.visits_share_day, promised, holidays)


def _kept(
    promises: Iterable[Promise], farms: Sequence[str], rulebook: RuleBook, first: int, last: int
) -> dict[str, list[int]]:
    kept: dict[str, list[int]] = {}
    for promise in promises:
        farm, day = _whose(promise, farms), promise.day.toordinal()
        if not first <= day <= last:
            raise UsageError(
                f"The promised visit on {_day(day)} is not among the days planned, {_day(first)} "
                f"to {_day(last)}: take --keep away, or give another --from or --days."
            )
        rules = rulebook.for_farm(farm or None).visits
        if is_off(rules.visits_except, promise.day):
            raise UsageError(
                f"The promised visit on {_day(day)} is on a day that visits.except leaves out: "
                "take away one of the two."
            )
        if name := holidays_of(rules.visits_holidays, day, day).get(day):
            raise UsageError(
                f"The promised visit on {_day(day)} is on {name}, a public holiday of "
                "visits.holidays: take --keep away."
            )
        kept.setdefault(farm, []).append(day)
    _agree(kept, rulebook)
    return kept


def _whose(promise: Promise, farms: Sequence[str]) -> str:
    if promise.farm is not None:
        if promise.farm not in farms:
            raise UsageError(
                f"There is no farm {promise.farm} to visit on {promise.day.isoformat()}; there "
                f"{_are(farms)}."
            )
        return promise.farm
    if len(farms) != 1:
        raise UsageError(
            f"Which farm is promised {promise.day.isoformat()}? Write --keep "
            f'"{promise.day.isoformat()} FARM"; there {_are(farms)}.'
        )
    return farms[0]


def _agree(kept: dict[str, list[int]], rulebook: RuleBook) -> None:
    """Two farms promised one day, and one of them does not share it."""
    first_on: dict[int, str] = {}
    for farm, days in kept.items():
        for day in set(days):
            other = first_on.setdefault(day, farm)
            shares = (
                rulebook.for_farm(name or None).visits.visits_share_day for name in (farm, other)
            )
            if other != farm and not all(shares):
                raise UsageError(
                    f"Both {other or FARM_LESS} and {farm or FARM_LESS} are promised {_day(day)}, "
                    "and they do not share a day: take one --keep away, or set visits.share_day "
                    "for both."
                )


def _are(farms: Sequence[str]) -> str:
    named = [farm for farm in farms if farm]
    return f"{'is' if len(named) == 1 else 'are'} {list_words(named)}" if named else "is none"
