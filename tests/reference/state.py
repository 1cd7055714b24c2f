"""What is known of one bull at the end of a day: plain lists, days as ordinals."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import Any, NamedTuple

from .values import Finding

Entry = dict[str, Any]
Key = tuple[str, str, str]  # "Identity is (foot, claw, code)"
Part = tuple[str, str | None]  # a part of the body; of a joint its limb
Zone = int | None  # None: one that nobody named


def day_of(text: str) -> int:
    return date.fromisoformat(text).toordinal()


@dataclass(eq=False)
class Open:
    """An open finding.

    ``severity``: None where it is not said. ``said``: a severity was once said of it, under this
    name or one that it was renamed from. ``clock_severity``: what its severity counted as on the
    day of its clock. ``held_since``: the day from which it has held, a rename counting on; None
    where it does not hold. ``seen``: the day it was last found holding, 0 for never. ``where``: the
    named zones in which it is known to lie; ``zones``: those in which it holds. ``names``: the
    names that it bore before, each with its first day under it. ``floor``: a day before which it is
    never believed healed, from such a name, from a finding that became one with it, or from before
    its clock began again.
    """

    key: Key
    first: int
    clock: int
    clock_severity: int
    severity: int | None
    stage: str | None
    holds: bool
    said: bool
    where: set[Zone] = field(default_factory=set)
    zones: set[Zone] = field(default_factory=set)
    held_since: int | None = None
    seen: int = 0
    looks: list[int] = field(default_factory=list)
    names: dict[str, int] = field(default_factory=dict)
    floor: int = 0
    in_vet_column: bool = False

    def plausible(self, row: Finding, after_open: int) -> int:
        # healed can be believed from here
        healing = self.clock + row.clear[self.clock_severity - 1]
        return max(healing, self.seen + after_open, self.floor)

    def spreads_to(self, holding: set[Zone]) -> bool:
        """Whether it holds in a zone in which it did not, all that it held in being known."""
        return bool(self.zones) and None not in self.zones and not holding - {None} <= self.zones

    def names_until_now(self) -> dict[str, int]:
        """The names that it has borne, this one too, each with its first day under it."""
        name = self.key[2]
        return {**self.names, name: min(self.first, self.names.get(name, self.first))}


class Ask(NamedTuple):
    """A foot to be lifted on ``since`` or later.

    ``made``: the day of the lame event or incident that asked.
    """

    foot: str
    since: int
    due: int
    made: int


@dataclass(frozen=True)
class Step:
    """A lame event, or a sound walk, in the order in which they were told.

    Of a lame event: ``feet`` that it asks for, ``limb`` that it names, ``within`` how many days
    they are lifted, ``own_day`` whether only a lift from that very day on will do, ``worst``
    whether it is the worst score. Of a sound walk: ``best`` of its scale, ``hidden`` by what he
    walked on or by what may still work in him, ``masked`` by the latter.
    """

    day: int
    lame: bool
    feet: tuple[str, ...] = ()
    limb: str | None = None
    within: int = 0
    own_day: bool = False
    worst: bool = False
    best: bool = False
    hidden: bool = False
    masked: bool = False


@dataclass(eq=False)
class Run:
    """A run of lameness.

    ``last``: the later of its last lame event and its mild day. ``asked``: the feet that its lame
    events asked for, each with the day of that event.
    """

    first: int
    last: int
    asked: list[tuple[int, str]] = field(default_factory=list)


class VetAsk(NamedTuple):
    """A finding asks for a vet's look on ``day`` or later."""

    day: int
    finding: Open


@dataclass(eq=False)
class Sick:
    """A part of the body that is wrong, said by the ``place``-th entry."""

    part: Part
    day: int
    place: int


@dataclass(eq=False)
class Look:
    """What a vet has looked at: a ``vet-look``, or an examination with ``feet_seen``.

    ``matter``: what it is about, feet and lameness being the same.
    """

    day: int
    place: int
    matter: str
    about: str
    outcome: str
    foot: str | None = None
    part: str | None = None
    limb: str | None = None
    again_on: int | None = None

    @property
    def names(self) -> tuple[str | None, str | None, str | None]:
        return self.foot, self.part, self.limb

    @property
    def in_his_walk(self) -> bool:
        """What it is about may show in his walk."""
        body = self.matter == "body" and self.part in ("joint", "back", None)
        return self.matter == "feet" or body

    def answers(self, named: tuple[str | None, str | None, str | None]) -> bool:
        # of all of it, or of exactly that
        return (self.foot is None and self.part is None) or self.names == named


@dataclass
class Story:
    """A bull's state at the end of the day it was told to.

    ``place`` counts the entries told. ``corners`` names what was come across, for counting what
    random books reach; nothing is worked out from it. ``steps`` is all that is told of his walk;
    ``run``, ``worst_scores`` and the asks of lameness are read off it at the end. ``ill_told`` and
    ``well_told``: the places of the last entry that tells of an illness and of the last by which a
    vet takes him for well.
    """

    rules: dict[str, Any]
    place: int = 0
    corners: set[str] = field(default_factory=set)
    bull: dict[str, Any] = field(default_factory=dict)
    here: bool = False
    left: bool = False
    out: bool = False
    went_out: int | None = None
    on_hire: bool = False
    back_again: int | None = None
    group: str | None = None
    role: str | None = None
    lifts: list[tuple[int, str]] = field(default_factory=list)
    refused: list[tuple[int, str]] = field(default_factory=list)
    open: dict[Key, Open] = field(default_factory=dict)
    could_hold: list[tuple[int, str]] = field(default_factory=list)
    seen_clear: list[int] = field(default_factory=list)
    blocks: dict[tuple[str, str], tuple[str, int]] = field(default_factory=dict)
    wraps: dict[str, int] = field(default_factory=dict)
    unwrapped: list[int] = field(default_factory=list)
    scores: list[tuple[int, bool, bool]] = field(default_factory=list)
    worst_scores: list[tuple[Step, Run]] = field(default_factory=list)
    steps: list[Step] = field(default_factory=list)
    run: Run | None = None
    asks: list[Ask] = field(default_factory=list)
    hurt: list[tuple[int, bool]] = field(default_factory=list)
    ill: list[int] = field(default_factory=list)
    ill_told: int = 0
    well_told: int = 0
    trims: list[int] = field(default_factory=list)
    pain: list[int] = field(default_factory=list)
    came_in: list[int] = field(default_factory=list)
    body: dict[Part, Sick] = field(default_factory=dict)
    body_ended: list[int] = field(default_factory=list)
    unfit_ended: list[int] = field(default_factory=list)
    conditions: list[tuple[int, bool]] = field(default_factory=list)
    exams: list[Entry] = field(default_factory=list)
    looks: list[Look] = field(default_factory=list)
    unfit: list[Look] = field(default_factory=list)
    vet_asks: list[VetAsk] = field(default_factory=list)
    own: dict[str, list[tuple[int, str, int | None]]] = field(default_factory=dict)

    def on_block(self) -> list[tuple[str, str]]:
        return [place for place, (state, _) in self.blocks.items() if state == "on"]

    def settled(self) -> int:
        """The day from which neither pain relief nor a block that is off shows in his walk."""
        relieved = [day + int(self.rules["pain.settle"]) for day in self.pain]
        off = [day for state, day in self.blocks.values() if state == "off"]
        return max([0, *relieved, *(day + int(self.rules["block.settle"]) for day in off)])

    @property
    def ill_still(self) -> bool:
        """No vet has taken him for well since he was last ill."""
        return self.ill_told > self.well_told

    def walks_on(self) -> set[str]:
        """The feet that carry a block or a wrap."""
        return {foot for foot, _ in self.on_block()} | set(self.wraps)

    def meets(self, corner: str, really: bool = True) -> None:
        if really:
            self.corners.add(corner)
