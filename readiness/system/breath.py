"""What is typed in one breath."""

from __future__ import annotations

BREATH = 0.3
"""Seconds: what follows a refused key sooner, and each other, was typed in one breath with it: it
was meant for something that is not asked."""
