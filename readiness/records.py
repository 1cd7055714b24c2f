"""What is kept of a bull's entries: small frozen facts, each with its day and the entry it is from.

Days are ordinals.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

NEVER = 0
"""The day of what never happened: before every day in use."""


class Mark(NamedTuple):
    """A day that counts and the entry that says so."""

    day: int = NEVER
    entry: str = ""

    def __bool__(self) -> bool:
        return self.day != NEVER


NOTHING = Mark()


class Block(NamedTuple):
    """A block on ``claw`` (or the last one taken off it) since ``day``."""

    foot: str
    claw: str
    day: int
    entry: str
    lost: bool = False


class Walk(NamedTuple):
    """A walk score. One taken on a block counts only when lame."""

    day: int
    entry: str
    scale: str
    score: int
    limb: str | None
    lame: bool
    counts: bool


class Condition(NamedTuple):
    """A body condition score; ``outside`` the hold band of its scale."""

    day: int
    entry: str
    scale: str
    score: float
    outside: bool


class Ask(NamedTuple):
    """A demand to lift feet: ``feet`` not lifted on ``since`` or later are missing."""

    feet: tuple[str, ...]
    since: int
    day: int
    worst: bool
    entry: str


@dataclass(slots=True)
class LameRun:
    """A run of lameness: from its first lame event to its last, open until a sound walk counts."""

    first: int
    first_entry: str
    last: int
    last_entry: str
    asks: list[Ask]
    limb: str | None = None


class VetLook(NamedTuple):
    day: int
    foot: str | None


class Exam(NamedTuple):
    """The last breeding examination by a vet."""

    day: int
    entry: str
    outcome: str
    again_on: int | None
    scrotum_cm: float | None
    motility_pct: float | None
    normal_pct: float | None
