"""Numbers as people write them, read alike by every form, line, roster and vet's sheet: a point or
a comma before the part of one, commas between thousands, the unit behind."""

from __future__ import annotations

import re
from functools import cache

UNIT_OF = {"kg": "kg", "scrotum_cm": "cm", "motility_pct": "%", "normal_pct": "%"}
"""Field of an entry → the unit that may stand behind its number in a line."""

UNITS = {
    "kg": ("kg", "kgs", "kilo", "kilos"),
    "cm": ("cm", "cms"),
    "mm": ("mm",),
    "%": ("%", "per cent", "percent"),
    "weeks": ("weeks", "week", "wks", "wk"),
}
"""Unit of a field → how it is written behind a number."""

NUMBER = r"[1-9]\d{0,2}(?:,\d{3})+(?!\d)|\d{1,9}(?:[.,]\d{1,20})?"
"""A number within a text. Three digits behind a comma are thousands: no field has both a range that
goes so far and a part of one to that length."""


def read_number(text: str, unit: str = "") -> int | float | None:
    """The number that a text is, a whole one as an int: "36.5", "36,5", "1,025"; with the ``unit``
    of its field, where it has one: "38 cm", "65%". None where it is anything else."""
    match = _form(unit).fullmatch(text.strip())
    return as_number(match[1]) if match else None


def as_number(digits: str) -> int | float:
    """What ``NUMBER`` takes, as a number."""
    grouped = re.fullmatch(r"[1-9]\d{0,2}(?:,\d{3})+", digits, re.ASCII)
    value = float(digits.replace(",", "" if grouped else "."))
    return int(value) if value.is_integer() else value


@cache
def _form(unit: str) -> re.Pattern[str]:
    words = "|".join(map(re.escape, UNITS.get(unit, ())))
    return re.compile(rf"({NUMBER})(?:\s*(?:{words}))?", re.ASCII | re.IGNORECASE)
