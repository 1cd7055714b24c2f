"""A bull's temper, and the words that warn of it."""

from __future__ import annotations

CAUTION = {"watch": "watch him", "dangerous": "DANGEROUS"}
"""Temper → what to say beside his name; a quiet one needs no words."""
