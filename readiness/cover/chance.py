"""The chance that bulls who fail one by one are enough all the same: exact, in whole numbers.

Each bull fails on his own with a chance in per cent. A weight is a count of so many equally likely
cases out of ``100 ** bulls``, so that no rounding decides whether a chance is reached.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction

from readiness.cover.results import Carrier

HUNDRED = 100


def chance(carriers: Sequence[Carrier], females: int) -> Fraction:
    """The chance that those who last carry so many females together."""
    return _part(_cases(carriers), females, len(carriers))


def _cases(carriers: Sequence[Carrier]) -> Counter[int]:
    """Females carried by those who last → in how many of the equally likely cases."""
    cases = Counter({0: 1})
    for carrier in carriers:
        grown: Counter[int] = Counter()
        for carried, count in cases.items():
            grown[carried + carrier.females] += count * (HUNDRED - carrier.fails)
            grown[carried] += count * carrier.fails
        cases = grown
    return cases


def _part(cases: Counter[int], females: int, bulls: int) -> Fraction:
    enough = sum(count for carried, count in cases.items() if carried >= females)
    return Fraction(enough, HUNDRED**bulls)


def spares(
    carriers: Sequence[Carrier], females: int, spare: Carrier, most: int, wanted: int
) -> int | None:
    """How many bulls like ``spare`` to add for a chance of ``wanted`` per cent; None where ``most``
    of them are too few."""
    for added in range(most + 1):
        if chance([*carriers, *[spare] * added], females) * HUNDRED >= wanted:
            return added
    return None
