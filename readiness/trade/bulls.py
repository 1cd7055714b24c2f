"""Words for what becomes of a bull, in the order in which they are offered."""

from __future__ import annotations

MOVES = ("out", "in", "left")
"""Out with females, in again, gone from the farm."""

FOR_GOOD = ("sold", "culled", "died")
REASONS = (*FOR_GOOD, "rested", "lame", "hired", "other")
"""Why he went; for good, the first three."""

CAME = BOUGHT, HIRED = ("bought", "hired")
"""How a bull came from elsewhere."""

ROLES = ("reserve", "worker")
"""What he is in a group."""

SUSPECTS = ("foot", "shoulder", "stifle", "back", "other")
"""Where a hurt is thought to be."""

IN_A_LIMB = ("foot", "shoulder", "stifle")
"""Lameness that is put down to a joint high up the limb often sits in the foot."""


def came_note(how: str, place: str) -> str:
    """What is noted of a bull who came from a place: "bought from Wathmoor"."""
    return f"{how} from {place}"


def came_by_note(note: str) -> bool:
    """Whether that stands in the note of a bull, among what else does."""
    return any(part.startswith(came_note(how, "")) for part in note.split("; ") for how in CAME)
