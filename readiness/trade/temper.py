"""A bull's temper, and the words that warn of it."""

from __future__ import annotations

TEMPERS = ("quiet", "watch", "dangerous")
"""From mild to dangerous."""

CAUTION = {"watch": "watch him", "dangerous": "DANGEROUS"}
"""Temper → what to say beside his name; a quiet one needs no words."""

MARK = {"watch": "!", "dangerous": "!!"}
"""Temper → the same in a column of names."""


def warned(name: str, temper: str | None) -> str:
    """The name, with ``MARK`` behind it where one has to be careful of him."""
    mark = MARK.get(temper or "")
    return f"{name} {mark}" if mark else name
