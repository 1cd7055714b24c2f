"""The females that a group of bulls runs with."""

from __future__ import annotations

from typing import Any

FEMALES = COWS, HEIFERS = "cows", "heifers"
"""Cows where nothing is said."""


def with_class(said: dict[str, Any]) -> dict[str, Any]:
    """What is said of a new group: of heifers where its name says so and nothing else is said."""
    return {"class": HEIFERS, **said} if named_heifers(said["group"]) else said


def named_heifers(group: str) -> bool:
    """Whether a group's name says that it is of heifers, whatever was said of its class."""
    return "heifer" in group.casefold()
