"""What is typed in one breath, what is a key held down, and what came twice from one press."""

from __future__ import annotations

BREATH = 0.3
"""Seconds: keys that follow each other sooner were typed in one breath, without a look between."""
UNHEARD = "What followed at once was not taken: look first."
SEEN = 1.0
"""Seconds that a question stands before a key may write: nobody has read it sooner, and whoever
types on without looking never rests so long."""
DEAF = 0.7
"""Seconds: what follows a refused key sooner, and each other, was meant for something that is not
asked: nobody has seen yet that it was refused."""
AGAIN, REPEATED = 0.7, 0.25
"""Seconds: the same key sooner is taken for one held down, where it would decide once more; sooner
after one that was so taken, it is held still. Else it was pressed again, as it was asked for."""
HELD = 0.12
"""Seconds: sooner after itself comes only a key that is held down; a hand is not so fast."""
DOUBLED = 0.1
"""Seconds: the same key sooner came twice from one press, of a cold finger or a worn key."""


def held_down(since: float, was_held: bool) -> bool:
    """Whether a key is held down that was pressed so many seconds before, too. ``was_held``: that
    one was so taken."""
    return since < (REPEATED if was_held else AGAIN)
