"""The findings of one bull's feet: how each is opened, renamed, looked at and seen clear.

A finding's identity is (foot, claw, code). It *holds* by its severity or stage. A finding that
holds ends only when a lift of that foot on or after its plausible day lists it healed, or so low
that it no longer holds; said sooner, that is a look and no more. Silence and time clear nothing
that holds. A finding that does not hold ends when healed or at the next lift that does not list it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from readiness.rules.model import FindingRule, Rules

Key = tuple[str, str, str]


@dataclass(slots=True)
class Finding:
    """An open finding.

    ``first``: the day it was first found. ``clock``: the day it was first found, got more severe
    or began to hold, with the severity it had then. ``seen``: the day it was last found holding
    (0 where never). ``looked``: the last day a lift listed it. ``*_entry``: the entries saying so.
    """

    foot: str
    claw: str
    code: str
    severity: int
    stage: str | None
    zone: int | None
    size_mm: float | None
    holds: bool
    first: int
    clock: int
    clock_severity: int
    clock_entry: str
    seen: int
    seen_entry: str
    looked: int
    vet_reached: bool = False
    entries: list[str] = field(default_factory=list)

    @property
    def key(self) -> Key:
        return (self.foot, self.claw, self.code)

    @property
    def label(self) -> str:
        """What is written beside it in a drawing: code and severity, or code and stage."""
        grade = (self.stage or "") if self.code == "DD" else str(self.severity)
        return f"{self.code}{grade}"


@dataclass(frozen=True, slots=True)
class VetAsk:
    """A day from which a finding asks for a vet's look, and the finding that asks."""

    day: int
    finding: Finding
    rule: str
    entry: str


@dataclass(frozen=True, slots=True)
class TooSoon:
    """Said healed, or so low that it would not hold, before the plausible day: only a look."""

    entry: str
    key: Key
    plausible: int


@dataclass(frozen=True, slots=True)
class _Listed:
    """What one lift says of one finding, the worst spot standing for all."""

    severity: int | None
    stage: str | None
    zone: int | None
    size_mm: float | None
    was: str | None


def claws_of(claw: str) -> tuple[str, ...]:
    """``both`` means outer and inner."""
    return ("outer", "inner") if claw == "both" else (claw,)


def plausible_day(finding: Finding, rules: Rules) -> int:
    """The first day on which a finding that holds can be believed to have healed."""
    clear = rules.findings[finding.code].clear
    days = clear[finding.clock_severity - 1] if clear else 0
    return max(finding.clock + days, finding.seen + rules.limits.clear_after_open)


class Feet:
    """The open findings of four feet, moved on by one ``feet`` entry at a time."""

    __slots__ = ("clear_day", "clear_entry", "last_listed", "open", "rules", "too_soon", "vet_asks")

    def __init__(self, rules: Rules) -> None:
        self.rules = rules
        self.open: dict[Key, Finding] = {}
        self.vet_asks: list[VetAsk] = []
        self.too_soon: list[TooSoon] = []
        self.clear_day = 0
        self.clear_entry = ""
        self.last_listed: dict[str, int] = {}
        """Foot → last day on which a lift listed a finding there, of a code that can hold."""

    def lift(self, day: int, entry: str, body: Mapping[str, Any]) -> None:
        """Take in the findings and the healed of one ``feet`` entry."""
        found, healed = body.get("findings", ()), body.get("healed", ())
        if not (found or healed or self.open):
            return
        listed: set[Key] = set()
        if found:
            for key, said in self._by_finding(found).items():
                listed.add(key)
                self._found(day, entry, key, said)
        for key in _keys(healed):
            listed.add(key)
            self._healed(day, entry, key)
        lifted = body.get("lifted", ())
        for key in [
            key
            for key, finding in self.open.items()
            if not finding.holds and key not in listed and key[0] in lifted
        ]:
            del self.open[key]

    def _by_finding(self, found: Iterable[Mapping[str, Any]]) -> dict[Key, _Listed]:
        listed: dict[Key, _Listed] = {}
        for item in found:
            said = _Listed(
                item.get("severity"),
                item.get("stage"),
                item.get("zone"),
                item.get("size_mm"),
                item.get("was"),
            )
            for claw in claws_of(item["claw"]):
                key = (item["foot"], claw, item["code"])
                listed[key] = self._worse(key, listed[key], said) if key in listed else said
        return listed

    def _worse(self, key: Key, one: _Listed, two: _Listed) -> _Listed:
        """Two spots of one finding in one entry: the worst stands for both."""
        prior = self.open.get(key)
        rule = self.rules.findings[key[2]]

        def weight(said: _Listed) -> tuple[bool, int]:
            severity = said.severity or (prior.severity if prior else 1)
            stage = said.stage or (prior.stage if prior else None)
            return rule.holds(severity, stage), severity

        worst, other = (two, one) if weight(two) > weight(one) else (one, two)
        return _Listed(
            max(weight(one)[1], weight(two)[1]),
            worst.stage,
            worst.zone if worst.zone is not None else other.zone,
            worst.size_mm if worst.size_mm is not None else other.size_mm,
            worst.was or other.was,
        )

    def _found(self, day: int, entry: str, key: Key, said: _Listed) -> None:
        rule = self.rules.findings[key[2]]
        if not rule.never_holds:
            self.last_listed[key[0]] = day
        old = self.open.get((key[0], key[1], said.was)) if said.was else None
        prior = self.open.get(key)
        severity = said.severity or (prior.severity if prior else 1)
        stage = said.stage or (prior.stage if prior else None)
        holds = rule.holds(severity, stage)
        if old is not None and old is not prior:
            if not self._lowered(day, entry, old, holds):
                return
            del self.open[old.key]
            prior = self._renamed(old, prior, key)
        elif prior is not None and not self._lowered(day, entry, prior, holds):
            return
        if prior is None:
            prior = self._new(day, entry, key, severity, holds)
        elif severity > prior.severity or (holds and not prior.holds):
            prior.clock, prior.clock_severity, prior.clock_entry = day, severity, entry
        self._set(day, entry, prior, said, severity, stage, holds)
        self._ask_vet(day, entry, prior, rule)

    def _lowered(self, day: int, entry: str, prior: Finding, holds: bool) -> bool:
        """Whether a saying counts that may take ``prior`` from holding to not holding."""
        prior.entries.append(entry)
        prior.looked = day
        if holds or not prior.holds:
            return True
        plausible = plausible_day(prior, self.rules)
        if day < plausible:
            self.too_soon.append(TooSoon(entry, prior.key, plausible))
            return False
        self._seen_clear(day, entry)
        return True

    def _new(self, day: int, entry: str, key: Key, severity: int, holds: bool) -> Finding:
        finding = Finding(
            *key, severity, None, None, None, holds, day, day, severity, entry, 0, "", day
        )
        finding.entries.append(entry)
        self.open[key] = finding
        return finding

    def _renamed(self, old: Finding, prior: Finding | None, key: Key) -> Finding:
        """The finding under its new name; it inherits first day, looks and clock.

        Where the new name was open already, the two run on as one: the earlier first day, the
        later clock and sight, which is the cautious side.
        """
        new = Finding(
            *key,
            old.severity,
            old.stage,
            old.zone,
            old.size_mm,
            old.holds,
            old.first,
            old.clock,
            old.clock_severity,
            old.clock_entry,
            old.seen,
            old.seen_entry,
            old.looked,
            entries=list(old.entries),
        )
        if prior is not None:
            new.severity, new.holds = max(old.severity, prior.severity), old.holds or prior.holds
            new.first, new.vet_reached = min(old.first, prior.first), prior.vet_reached
            if prior.clock > old.clock:
                new.clock, new.clock_severity = prior.clock, prior.clock_severity
                new.clock_entry = prior.clock_entry
            new.seen = max(old.seen, prior.seen)
        self.open[key] = new
        return new

    def _set(
        self,
        day: int,
        entry: str,
        finding: Finding,
        said: _Listed,
        severity: int,
        stage: str | None,
        holds: bool,
    ) -> None:
        finding.severity, finding.stage, finding.holds = severity, stage, holds
        if said.zone is not None:
            finding.zone = said.zone
        if said.size_mm is not None:
            finding.size_mm = said.size_mm
        finding.looked = day
        if holds:
            finding.seen, finding.seen_entry = day, entry

    def _ask_vet(self, day: int, entry: str, finding: Finding, rule: FindingRule) -> None:
        if rule.vet_from and finding.severity >= rule.vet_from and not finding.vet_reached:
            finding.vet_reached = True
            self.vet_asks.append(VetAsk(day, finding, f"finding.{finding.code}.vet_from", entry))
        if rule.vet_open and day >= finding.first + rule.vet_open:
            self.vet_asks.append(VetAsk(day, finding, f"finding.{finding.code}.vet_open", entry))

    def _healed(self, day: int, entry: str, key: Key) -> None:
        prior = self.open.get(key)
        if prior is None:
            return
        if not self.rules.findings[key[2]].never_holds:
            self.last_listed[key[0]] = day
        if self._lowered(day, entry, prior, holds=False):
            del self.open[key]

    def _seen_clear(self, day: int, entry: str) -> None:
        self.clear_day, self.clear_entry = day, entry


def _keys(items: Iterable[Mapping[str, Any]]) -> list[Key]:
    return [(item["foot"], claw, item["code"]) for item in items for claw in claws_of(item["claw"])]
