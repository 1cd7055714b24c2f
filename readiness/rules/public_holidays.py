"""Public holidays of a country, or of a part of one, as the library ``holidays`` lists them.

It is imported only where its days are asked for: the board must not wait for it.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from readiness.rules.model import RuleBook
from readiness.rules.where import Where
from readiness.system.plain import plain

NONE = "none"
KEY = "visits.holidays"


def holidays_of(place: str, first: int, last: int) -> Mapping[int, str]:
    """The public holidays of a place from ``first`` to ``last``: day (ordinals) → name.

    Raises ``ValueError`` where no such place is known.
    """
    if place == NONE:
        return {}
    import holidays

    country, _, part = place.partition("-")
    start, end = date.fromordinal(first), date.fromordinal(last)
    years = range(start.year, end.year + 1)
    try:
        listed = holidays.country_holidays(country, subdiv=part or None, years=years)
    except NotImplementedError:
        raise ValueError(_unknown(country, part)) from None
    return {day.toordinal(): plain(name) for day, name in listed.items() if start <= day <= end}


def check_places(book: RuleBook, file: str) -> None:
    """Whether the public holidays are known of every place that the rules in ``file`` name.

    Raises ``RulesError`` for the first of which they are not.
    """
    tables = {"rules": book.common, **{f'farm."{at}".rules': own for at, own in book.farms.items()}}
    for table, rules in tables.items():
        check_place(rules.visits.visits_holidays, Where(file, table), KEY)


def check_place(place: str, where: Where, key: str) -> None:
    """Raise ``RulesError`` where nobody knows the public holidays of a place, named there."""
    try:
        holidays_of(place, 1, 1)
    except ValueError as problem:
        remedy = f'Write a code of ISO 3166, as "GB-SCT", or "{NONE}".'
        raise where.wrong(key, str(problem), remedy) from problem


def _unknown(country: str, part: str) -> str:
    import holidays

    known: Any = getattr(holidays, country, None)
    if not part or known is None:
        return f"the public holidays of {country} are not known"
    places = [country, *(f"{country}-{each}" for each in known.subdivisions if len(each) <= 3)]
    return f"no holidays of {part} in {country} are known; known are {', '.join(places)}"
