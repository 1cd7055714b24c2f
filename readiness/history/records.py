"""What is kept of a bull's entries: small frozen facts, each with its day and the entry it is from.

Days are ordinals.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

from readiness.trade.body import WALKED_ON

NEVER = 0
"""The day of what never happened: before every day in use."""


class Mark(NamedTuple):
    """A day that counts and the entry that says so."""

    day: int = NEVER
    entry: str = ""

    def __bool__(self) -> bool:
        return self.day != NEVER


NOTHING = Mark()


class Ahead(NamedTuple):
    """What was ``written`` before its ``day``, so that nobody had seen it."""

    day: int
    entry: str
    written: int


class Outing(NamedTuple):
    """Out from one day to another, ``NEVER`` while he still is: with the group he was in when he
    went, or was said to be in first since, None where he was in none."""

    out: int
    back: int
    group: str | None
    hired: bool


class Trouble(NamedTuple):
    """A day on which he was said to be ``what``: lame, injured or ill."""

    day: int
    what: str


class Block(NamedTuple):
    """A block on ``claw`` (or the last one taken off it) since ``day``."""

    foot: str
    claw: str
    day: int
    entry: str
    lost: bool = False


class Wrap(NamedTuple):
    """A wrap on ``foot`` since ``day``."""

    foot: str
    day: int
    entry: str


class Walk(NamedTuple):
    """A walk score. One taken on a block or a wrap counts only when lame."""

    day: int
    entry: str
    scale: str
    score: int
    limb: str | None
    lame: bool
    counts: bool


class Tested(NamedTuple):
    """A check of the farm's own, passed or not. ``until``: the last day on which that pass holds,
    where it says so. ``reading``: the result as the laboratory wrote it."""

    day: int
    passed: bool
    entry: str
    until: int | None = None
    reading: str = ""


class Condition(NamedTuple):
    """A body condition score; ``outside`` the hold band of its scale."""

    day: int
    entry: str
    scale: str
    score: float
    outside: bool


class Ask(NamedTuple):
    """A demand to lift feet, made on ``day``: ``feet`` not lifted on ``since`` or later are
    missing."""

    feet: tuple[str, ...]
    since: int
    day: int
    worst: bool
    entry: str


@dataclass(slots=True)
class LameRun:
    """A run of lameness: from its first lame event until a sound walk ends it, on ``ended``.

    ``base``: the day from which its lame events ask for feet. ``lame``: its last lame event.
    ``mild``: the first sound walk since that is not the best of its scale, and came late enough.
    """

    first: int
    base: int
    lame: Mark = NOTHING
    mild: Mark = NOTHING
    asks: list[Ask] = field(default_factory=list)
    limb: str | None = None
    ended: int = NEVER

    @property
    def last(self) -> Mark:
        """The day from which it takes a while until a sound walk can count, and its entry."""
        return max(self.lame, self.mild)

    def asked_for(self, foot: str, until: int) -> bool:
        """Whether one of its lame events up to ``until`` asked for this foot."""
        return any(foot in ask.feet and ask.day <= until for ask in self.asks)


class WorstWalk(NamedTuple):
    """A walk at the worst score of its scale, in a run of lameness."""

    day: int
    entry: str
    run: LameRun
    limb: str | None


Part = tuple[str, str | None]
"""A part of the body, and of a joint its limb."""


@dataclass(slots=True)
class BodyFinding:
    """A part that is wrong since ``day``; ``looked``: a vet has looked at it since."""

    part: str
    limb: str | None
    day: int
    entry: str
    looked: bool = False


class VetLook(NamedTuple):
    """A vet's look, or an examination at which the vet saw the feet (then without an outcome).

    ``about``: as it was said. It may name a foot, or a part and of a joint its limb.
    """

    day: int
    entry: str
    about: str
    outcome: str | None = None
    again_on: int | None = None
    foot: str | None = None
    part: str | None = None
    limb: str | None = None

    @property
    def subject(self) -> str:
        """What it is about; feet and lameness are the same."""
        return "foot" if self.about == "lame" else self.about

    @property
    def of_how_he_walks(self) -> bool:
        """Whether what it is about may change how he walks: feet, lameness, a joint, his back, or
        his body without a word of where."""
        return self.subject == "foot" or (
            self.subject == "body" and (self.part is None or self.part in WALKED_ON)
        )

    @property
    def place(self) -> tuple[str | None, str | None, str | None]:
        """(foot, part, limb), each None where it names none."""
        return (self.foot, self.part, self.limb)

    @property
    def names_no_place(self) -> bool:
        return self.foot is None and self.part is None

    def speaks_of(self, other: VetLook) -> bool:
        """Whether it is about the same as another look, and names no place or the very same."""
        same = self.names_no_place or self.place == other.place
        return same and self.subject == other.subject


class Figure(NamedTuple):
    """A figure of an examination, and the day on which it was measured. ``stood``: the vet said
    since, or then, that he stands by satisfactory though a figure is low."""

    day: int
    value: float
    stood: bool


class LeftOpen(NamedTuple):
    """What an examination of this day left open, of which no later one says more: the field that
    says so, and its words."""

    day: int
    field: str
    words: str


class Exam(NamedTuple):
    """The last breeding examination by a vet; of several of its day the worst."""

    day: int
    entry: str
    outcome: str
    again_on: int | None
    figures: Mapping[str, tuple[Figure, ...]]
    """Name of a figure → as it was measured last, on one day, in every examination of that day."""
    left_open: tuple[LeftOpen, ...]
