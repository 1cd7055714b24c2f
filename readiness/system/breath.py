"""What is typed in one breath, what is a key held down, and what came twice from one press."""

from __future__ import annotations

BREATH = 0.3
"""Seconds: what follows a refused key sooner, and each other, was typed in one breath with it: it
was meant for something that is not asked."""
UNHEARD = "What was typed straight after it was not taken."
SEEN = 1.0
"""Seconds that a question stands before a key may write: nobody has read it sooner, and whoever
types on without looking never rests so long."""
AGAIN, REPEATED = 0.7, 0.25
"""Seconds: the same key sooner is taken for one held down, where it would decide once more; sooner
after one that was so taken, it is held still. Else it was pressed again, as it was asked for."""
DOUBLED = 0.1
"""Seconds: the same key sooner came twice from one press, of a cold finger or a worn key."""


def held_down(since: float, was_held: bool) -> bool:
    """Whether a key is held down that was pressed so many seconds before, too. ``was_held``: that
    one was so taken."""
    return since < (REPEATED if was_held else AGAIN)
