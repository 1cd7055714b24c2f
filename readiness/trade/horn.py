"""How old horn is, from how far it has grown out.

The wall grows down from the coronet at the rate of the rule ``horn.growth`` (5 mm a month in adult
cattle: MSD Veterinary Manual; Greenough; beef heifers slower, 4.6 in summer and 3.2 in winter:
Greenough & Petrie 1998). An age from it is derived, and says roughly when, never exactly.
"""

from __future__ import annotations


def months_of_growth(mm: float, mm_per_month: float) -> float:
    """Months since the horn ``mm`` below the coronet was made.

    For a groove, its distance from the coronet (``groove_mm``); for the tip of the toe, the length
    of the wall (``wall_mm``).
    """
    if mm_per_month <= 0:
        raise ValueError("horn growth must be more than 0 mm a month")
    return mm / mm_per_month
