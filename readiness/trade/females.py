"""The females that a group of bulls runs with."""

from __future__ import annotations

FEMALES = COWS, HEIFERS = "cows", "heifers"
"""Cows where nothing is said."""


def named_heifers(group: str) -> bool:
    """Whether a group's name says that it is of heifers, whatever was said of its class."""
    return "heifer" in group.casefold()
