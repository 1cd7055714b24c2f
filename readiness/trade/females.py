"""The females that a group of bulls runs with."""

from __future__ import annotations

FEMALES = COWS, HEIFERS = "cows", "heifers"
"""Cows where nothing is said."""
