"""Ages in bands: those by which the trade says how many females a bull can serve."""

from __future__ import annotations

from readiness.history import ordinal
from readiness.trade.ages import months_old

UNKNOWN = "unknown"

_UPTO = (
    (14, "under 15 months"),
    (17, "15 to under 18 months"),
    (23, "18 to under 24 months"),
    (35, "24 to under 36 months"),
    (72, "36 months to 6 years"),
)
"""(whole months up to and including, the band's name)."""

_OVER = "over 6 years"
AGES = (*(name for _, name in _UPTO), _OVER, UNKNOWN)
"""Every band, from young to old."""


def age_band(born: object, day: int) -> str:
    """The band of a bull born on ``born`` (an ISO date) on ``day`` (an ordinal).

    In whole months; he is over 6 years from 73 months on. ``UNKNOWN`` where the birthday is not
    known, or lies after that day.
    """
    if not isinstance(born, str) or ordinal(born) > day:
        return UNKNOWN
    months = months_old(ordinal(born), day)
    return next((name for upto, name in _UPTO if months <= upto), _OVER)
