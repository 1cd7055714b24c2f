"""What the figures say: shares of what was lifted, row by row and place by place, each with how far
it can be trusted: Wilson's score interval."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

from readiness.trade.words import Day

Z_95 = 1.959963984540054
"""The normal deviate that leaves 2.5 % on each side."""


def wilson(n: int, of: int, z: float = Z_95) -> tuple[float, float]:
    """The interval (low, high), each 0 to 1, for a share of ``n`` out of ``of``; 95 % by default.

    Wilson, E. B. (1927), Journal of the American Statistical Association 22:209-212. Raises
    ``ValueError`` where ``n`` is no part of ``of``, or ``of`` is nothing.
    """
    if not 0 <= n <= of or of == 0:
        raise ValueError(f"{n} of {of} is no share")
    share = n / of
    middle = share + z * z / (2 * of)
    half = z * sqrt(share * (1 - share) / of + z * z / (4 * of * of))
    whole = 1 + z * z / of
    low = 0.0 if n == 0 else max(0.0, (middle - half) / whole)
    high = 1.0 if n == of else min(1.0, (middle + half) / whole)
    return low, high


BY = ("code", "foot", "claw", "zone", "breed", "age", "year")
FEET_LIFTED, CLAWS_LIFTED = "feet", "claws"
SKIN = "skin"
NOT_SAID = "not said"


@dataclass(frozen=True, slots=True)
class Part:
    """``n`` out of ``of``, with its share (0 to 1) and Wilson 95 % interval.

    ``bulls``: on how many bulls the n were. ``few``: it rests on fewer feet lifted than the rule
    ``stats.few`` wants.
    """

    n: int
    of: int
    share: float
    low: float
    high: float
    bulls: int
    few: bool


def part(hits: Sequence[str], lifts: int, per: int, few: int) -> Part:
    """The part of ``lifts`` feet lifted, each of which counts for ``per`` feet or claws.

    ``hits``: the bull's key for each foot or claw that counts; ``few``: the rule.
    """
    of = lifts * per
    n = len(hits)
    return Part(n, of, n / of, *wilson(n, of), len(set(hits)), lifts < few)


@dataclass(frozen=True, slots=True)
class StatsRow:
    """``by`` is one of ``BY``; ``unit``: what ``part`` counts, feet or claws."""

    by: str
    value: str
    part: Part
    unit: str


@dataclass(frozen=True, slots=True)
class Place:
    """A place on a foot, of the lifts of that foot. ``claw``: outer, inner or skin; ``zone`` None:
    it was not said where."""

    foot: str
    claw: str
    zone: int | None
    part: Part


@dataclass(frozen=True, slots=True)
class Figures:
    """``on``, ``since`` (None: from the first), ``first`` and ``last`` (days of the first and last
    lift that counts, 0 where there is none) are ordinals. ``farm``: only this one, None for all.
    ``feet``, ``bulls``: how many were lifted; ``found``: feet with any finding, None where none was
    lifted. ``few``: the rule. ``rows`` in the order of ``BY``; ``cells`` where anything was found.
    ``farms``: every farm on which a foot was lifted, whichever is asked for; "" has no name.
    """

    on: Day
    since: Day | None
    farm: str | None
    few: int
    feet: int
    bulls: int
    first: int
    last: int
    found: Part | None
    rows: tuple[StatsRow, ...]
    cells: tuple[Place, ...]
    farms: tuple[str, ...]

    def by(self, by: str) -> tuple[StatsRow, ...]:
        """The rows of one table."""
        return tuple(row for row in self.rows if row.by == by)

    def lifts_of(self, foot: str) -> int:
        """How often this foot was lifted."""
        return next((row.part.of for row in self.by("foot") if row.value == foot), 0)
