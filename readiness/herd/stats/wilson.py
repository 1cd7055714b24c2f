"""Wilson's score interval for a share."""

from __future__ import annotations

from math import sqrt

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
