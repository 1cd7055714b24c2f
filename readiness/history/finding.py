"""A finding of a bull's foot: what is kept of it while it is open, and when it can have healed."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import NamedTuple

from readiness.history.records import NEVER, NOTHING, Mark
from readiness.rules.model import Rules
from readiness.trade.codes import STAGED

Key = tuple[str, str, str]


class Early(NamedTuple):
    """How bad a finding that holds was said to be on a day too early to be believed: ``severity``
    and ``stage`` as said or kept; ``healed``: gone."""

    day: int
    severity: int | None = None
    stage: str | None = None
    healed: bool = False


class Cleared(NamedTuple):
    """The day on which what held him was seen to hold him no more; ``healed``: on which it was seen
    gone, or fit to work though not gone."""

    day: int
    healed: bool = False


@dataclass(slots=True)
class Finding:
    """An open finding. Days are ordinals.

    ``severity``: None where it was not said; ``graded``: whether it ever was, under this name or
    one that it was renamed from. ``first``: the day it was first found. ``clock``: the day it was
    first found, got more severe, spread or began to hold, with the severity that counted then.
    ``held``: the day from which it has held, a rename counting on. ``seen``: the day it was last
    found holding. ``looked``: the last day a lift listed it. ``floor``: never believed healed
    before, since what held under another name is called by this one now; ``floor_from``: the clock
    that it comes from. ``early``: what the last look said, where that does not count yet.
    ``*_entry``: the entries saying so.
    """

    foot: str
    claw: str
    code: str
    severity: int | None
    graded: bool
    stage: str | None
    holds: bool
    first: int
    clock: int
    clock_severity: int
    clock_entry: str
    looked: int
    held: int = NEVER
    held_entry: str = ""
    seen: int = NEVER
    seen_entry: str = ""
    floor: int = NEVER
    floor_from: Mark = NOTHING
    zone: int | None = None
    zones: frozenset[int | None] = frozenset()
    """Every zone in which it holds (None: one that was not named, of several): of each the next
    look has to speak."""
    listed: frozenset[int | None] = frozenset()
    """Every zone in which it was listed, whether it held there or not."""
    size_mm: float | None = None
    in_vet_column: bool = False
    early: Early | None = None
    names: dict[str, int] = field(default_factory=dict)
    """Each name that it was called by before → the day it was first found under it."""
    entries: list[str] = field(default_factory=list)

    @property
    def key(self) -> Key:
        """(foot, claw, code)."""
        return (self.foot, self.claw, self.code)

    @property
    def label(self) -> str:
        """What is written beside it in a drawing: code and severity, or code and stage."""
        grade = (self.stage or "") if self.code == STAGED else str(self.severity or "?")
        return f"{self.code}{grade}"


@dataclass(frozen=True, slots=True)
class VetAsk:
    """A day from which a finding asks for a vet's look, and the finding that asks."""

    day: int
    finding: Finding
    rule: str
    entry: str


class TooSoon(NamedTuple):
    """Said healed, or so low that it would not hold, before the plausible day, or under another
    name without how bad it is: only a look."""

    entry: str
    key: Key
    plausible: int
    elsewhere: bool = False
    """It speaks of another spot than the one that holds him."""


def claws_of(claw: str) -> tuple[str, ...]:
    """The claws that the word of an entry means: "both" is outer and inner."""
    return ("outer", "inner") if claw == "both" else (claw,)


def weight(severity: int | None, rules: Rules) -> int:
    """The severity that counts for days and for the vet: one that was not said is not slight."""
    return severity or rules.limits.severity_unsaid


def plausible_day(finding: Finding, rules: Rules) -> int:
    """The first day on which a finding that holds can be believed to have healed."""
    clear = rules.findings[finding.code].clear
    days = clear[finding.clock_severity - 1] if clear else 0
    return max(finding.clock + days, finding.seen + rules.limits.clear_after_open, finding.floor)
