"""A bull's temper, and the words that warn of it."""

from __future__ import annotations

CAUTION = {"watch": "watch him", "dangerous": "DANGEROUS"}
"""Temper → what to say beside his name; a quiet one needs no words."""


def warned(name: str, temper: str | None) -> str:
    """The name, with a mark behind it where one has to be careful of him."""
    return f"{name} !" if temper in CAUTION else name
