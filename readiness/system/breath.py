"""What is typed in one breath."""

from __future__ import annotations

BREATH = 0.3
"""Seconds: what follows a refused key sooner, and each other, was typed in one breath with it: it
was meant for something that is not asked."""
UNHEARD = "What was typed straight after it was not taken."
SEEN = 1.0
"""Seconds that a question stands before a key may write: nobody has read it sooner, and whoever
types on without looking never rests so long."""
