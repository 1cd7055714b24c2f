"""What is known of one bull at the end of a day: plain lists, days as ordinals."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import Any

from .values import Finding

Entry = dict[str, Any]
Key = tuple[str, str, str]  # "Identity is (foot, claw, code)"


def day_of(text: str) -> int:
    return date.fromisoformat(text).toordinal()


@dataclass(eq=False)
class Open:
    """An open finding. ``clock_severity``: its severity on the day of its clock."""

    key: Key
    first: int
    clock: int
    clock_severity: int
    severity: int
    stage: str | None
    holds: bool
    seen: int
    looks: list[int]
    in_vet_column: bool = False

    def plausible(self, row: Finding, after_open: int) -> int:
        # "Its *plausible day* is the later of clock + clear.days (by its severity on the clock
        # day) and seen + clear.after_open."
        return max(self.clock + row.clear[self.clock_severity - 1], self.seen + after_open)


@dataclass
class Event:
    """A lame event: the feet that it asks for and the days within which."""

    day: int
    feet: tuple[str, ...]
    within: int


@dataclass
class Run:
    """A run of lameness."""

    events: list[Event]

    @property
    def first(self) -> int:
        return self.events[0].day

    @property
    def last(self) -> int:
        return self.events[-1].day


@dataclass
class VetAsk:
    """A finding on ``foot`` asks for a vet's look on ``day`` or later."""

    day: int
    foot: str
    finding: Open


@dataclass
class Story:
    """A bull's state at the end of the day it was told to."""

    rules: dict[str, Any]
    bull: dict[str, Any] = field(default_factory=dict)
    here: bool = False
    left: bool = False
    out: bool = False
    group: str | None = None
    role: str | None = None
    lifts: list[tuple[int, str]] = field(default_factory=list)
    open: dict[Key, Open] = field(default_factory=dict)
    listed: list[tuple[int, str, str]] = field(default_factory=list)
    seen_clear: list[int] = field(default_factory=list)
    blocks: dict[tuple[str, str], tuple[str, int]] = field(default_factory=dict)
    scores: list[tuple[int, bool, bool]] = field(default_factory=list)
    worst_scores: list[int] = field(default_factory=list)
    run: Run | None = None
    limb_asks: list[tuple[int, str]] = field(default_factory=list)
    hurt: list[int] = field(default_factory=list)
    ill: list[int] = field(default_factory=list)
    trims: list[int] = field(default_factory=list)
    pain: list[int] = field(default_factory=list)
    came_in: list[int] = field(default_factory=list)
    conditions: list[tuple[int, bool]] = field(default_factory=list)
    exams: list[Entry] = field(default_factory=list)
    vet_looks: list[tuple[int, str | None]] = field(default_factory=list)
    vet_asks: list[VetAsk] = field(default_factory=list)
    own: dict[str, list[tuple[int, str]]] = field(default_factory=dict)

    def on_block(self) -> list[tuple[str, str]]:
        return [place for place, (state, _) in self.blocks.items() if state == "on"]
