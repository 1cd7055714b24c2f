"""The findings of one bull's feet: how each is opened, renamed, looked at and seen healed.

A finding's identity is (foot, claw, code). It *holds* by its severity or stage; a severity that was
not said holds wherever the code can. A finding that holds ends only when a lift of that foot on or
after its plausible day lists it healed, or so low that it no longer holds; said sooner, that is a
look and no more. Silence and time clear nothing that holds. A finding that does not hold ends when
healed or at the next lift that does not list it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any

from readiness.history.finding import (
    Cleared,
    Early,
    Finding,
    Key,
    TooSoon,
    VetAsk,
    claws_of,
    plausible_day,
    weight,
)
from readiness.history.records import NEVER, Mark
from readiness.history.spots import Spot, graded, worst
from readiness.rules.model import FindingRule, Rules
from readiness.trade.codes import SMALLEST_STAGE, THIN_SOLE

_TELLING = frozenset(("findings", "healed", "measures"))
"""The fields of a lift that can change a finding."""


class Feet:
    """The open findings of four feet, moved on by one ``feet`` entry at a time."""

    __slots__ = (
        "clear_day", "clear_entry", "cleared", "explained", "open", "rules", "stable", "too_soon",
        "vet_asks",
    )  # fmt: skip

    def __init__(self, rules: Rules) -> None:
        self.rules = rules
        self.open: dict[Key, Finding] = {}
        self.vet_asks: list[VetAsk] = []
        self.too_soon: list[TooSoon] = []
        self.clear_day = NEVER
        self.clear_entry = ""
        self.cleared: dict[Key, Cleared] = {}
        """What held him, and when it was last seen to hold him no more."""
        self.explained: dict[str, int] = {}
        """Foot → last day on which a lift listed a finding there that could explain lameness."""
        self.stable: dict[Key, int] = {}
        """What was seen fit to work though not gone, and the day on which it was."""

    def holds(self, key: Key) -> bool:
        """Whether a finding is open there that holds."""
        return key in self.open and self.open[key].holds

    def tried(self, day: int, body: Mapping[str, Any]) -> list[TooSoon]:
        """What a ``feet`` entry of ``day`` (an ordinal) would say too soon; nothing is taken in."""
        trial = Feet(self.rules)
        trial.open = {
            key: replace(finding, entries=list(finding.entries))
            for key, finding in self.open.items()
        }
        trial.lift(day, "", body)
        return trial.too_soon

    def lift(self, day: int, entry: str, body: Mapping[str, Any]) -> None:
        """Take in the findings and the healed of one ``feet`` entry: its day, id and body."""
        if not (self.open or body.keys() & _TELLING):
            return
        found = [*body.get("findings", ()), *self._thin_soles(body)]
        healed = body.get("healed", ())
        spots = _by_finding(found)
        for key, items in spots.items():
            self._listed(day, entry, key, items)
        gone = {}
        for item in healed:
            for claw in claws_of(item["claw"]):
                gone[item["foot"], claw, item["code"]] = bool(item.get("stable"))
        for key, stable in gone.items():
            self._healed(day, entry, key, stable)
        lifted = body.get("lifted", ())
        for key in [
            key
            for key, finding in self.open.items()
            if not finding.holds and key[0] in lifted and key not in spots and key not in gone
        ]:
            del self.open[key]

    def _thin_soles(self, body: Mapping[str, Any]) -> list[dict[str, str]]:
        """A sole measured thin is a thin sole found, unless the lift lists it itself. Healed in
        words it is found all the same: the gauge is the fresh look."""
        if "measures" not in body:
            return []
        listed = {
            (item["foot"], claw)
            for item in body.get("findings", ())
            if item["code"] == THIN_SOLE
            for claw in claws_of(item["claw"])
        }
        thin = self.rules.limits.sole_thin
        return [
            {"foot": foot, "claw": claw, "code": THIN_SOLE}
            for foot, claw in dict.fromkeys(
                (measure["foot"], claw)
                for measure in body.get("measures", ())
                if "sole_mm" in measure and measure["sole_mm"] < thin
                for claw in claws_of(measure["claw"])
            )
            if (foot, claw) not in listed
        ]

    def _listed(self, day: int, entry: str, key: Key, items: list[Mapping[str, Any]]) -> None:
        """A finding that one lift lists, in one spot or several."""
        rule = self.rules.findings[key[2]]
        prior = self.open.get(key)
        spot = worst(self.rules, rule, prior, items)
        olds: dict[str, tuple[Finding, bool]] = {}
        for item in items:
            old = self.open.get((key[0], key[1], item.get("was", "")))
            if old is not None:
                all_say = olds.get(old.code, (old, True))[1] and graded(rule, item)
                olds[old.code] = (old, all_say)
        renamed = [old for old, says in olds.values() if self._renames(day, entry, old, spot, says)]
        if prior is not None:
            self._found_again(day, entry, prior, spot, renamed)
        elif renamed:
            prior = self._inherit(day, entry, key, spot, renamed[0])
            for other in renamed[1:]:
                self._join(prior, other)
        elif plain := [item for item in items if item.get("was") not in olds]:
            prior = self._new(day, entry, key, worst(self.rules, rule, None, plain))
        else:
            return  # only a look at what keeps its name
        if prior.holds or self.could_explain(rule):
            self.explained[key[0]] = day
        self._ask_vet(day, entry, prior, rule)

    def _renames(self, day: int, entry: str, old: Finding, spot: Spot, graded: bool) -> bool:
        """Whether ``old`` gives its name up. What holds, and would not by its new name, keeps it
        until somebody says from the plausible day on how bad it is now."""
        if old.holds and not spot.holds:
            if self.could_explain(self.rules.findings[old.code]):
                self.explained[old.foot] = day
            plausible = plausible_day(old, self.rules)
            elsewhere = spot.passes_over(old.zones)
            if day < plausible or not graded or elsewhere:
                self._only_a_look(day, entry, old, plausible, elsewhere=elsewhere)
                self._ask_vet(day, entry, old, self.rules.findings[old.code])
                return False
            self._seen_clear(day, entry, old)
        del self.open[old.key]
        return True

    def _only_a_look(
        self,
        day: int,
        entry: str,
        finding: Finding,
        plausible: int,
        graded: bool = False,
        elsewhere: bool = False,
    ) -> None:
        finding.entries.append(entry)
        finding.looked = day
        finding.graded |= graded
        self.too_soon.append(TooSoon(entry, finding.key, plausible, elsewhere))

    def _new(self, day: int, entry: str, key: Key, spot: Spot) -> Finding:
        rule = self.rules.findings[key[2]]
        graded = spot.severity is not None
        counts = weight(spot.severity, self.rules)
        finding = Finding(
            *key, spot.severity, graded, spot.stage, False, day, day, counts, entry, day
        )
        finding.holds = rule.holds(spot.severity, spot.stage)
        self.open[key] = finding
        self._take(day, entry, finding, spot)
        if finding.holds:
            finding.held, finding.held_entry = day, entry
        return finding

    def _inherit(self, day: int, entry: str, key: Key, spot: Spot, old: Finding) -> Finding:
        """The finding under its new name: first day, looks and clock run on, but for those that
        begin anew."""
        if key[2] in self.rules.limits.rename_anew:
            new = self._new(day, entry, key, spot)
            new.entries = [*old.entries, entry]
            new.names = {**old.names, old.code: old.first}
            new.first = new.names.get(new.code, day)
            new.zone = new.zone if new.zone is not None else old.zone
        else:
            names = {**old.names, old.code: old.first}
            first = min(old.first, names.get(key[2], old.first))
            new = replace(
                old, code=key[2], in_vet_column=False, entries=list(old.entries), names=names,
                first=first,
            )  # fmt: skip
            self.open[key] = new
            self._worse(day, entry, new, spot)
            self._take(day, entry, new, spot)
        new.graded |= old.graded
        if new.holds and old.holds:
            new.held, new.held_entry = old.held, old.held_entry
            new.zones |= old.zones
            self._not_before(new, old)
        return new

    def _found_again(
        self, day: int, entry: str, prior: Finding, spot: Spot, renamed: list[Finding]
    ) -> None:
        for old in renamed:
            self._join(prior, old)
        if prior.holds and not spot.holds:
            first_said = prior.severity is None and not prior.graded and spot.graded
            by_severity = not self.rules.findings[prior.code].holds_stages
            at_once = first_said and by_severity and day >= prior.floor
            plausible = plausible_day(prior, self.rules)
            elsewhere = spot.passes_over(prior.zones)
            if elsewhere or (not at_once and day < plausible):
                self._only_a_look(day, entry, prior, plausible, spot.graded, elsewhere)
                said = Early(day, spot.severity, spot.stage)
                prior.early = None if elsewhere else said
                return
            self._seen_clear(day, entry, prior)
        self._worse(day, entry, prior, spot)
        self._take(day, entry, prior, spot)

    def _join(self, other: Finding, old: Finding) -> None:
        """``old`` is called by the name of ``other``, which is open there already."""
        if old.holds:
            self._not_before(other, other)
            self._not_before(other, old)
            other.zones |= old.zones
            if not other.holds or old.held < other.held:
                other.held, other.held_entry = old.held, old.held_entry
        for name, first in (*old.names.items(), (old.code, old.first)):
            other.names[name] = min(first, other.names.get(name, first))
        other.first = min(other.first, old.first, other.names.get(other.code, old.first))
        other.graded |= old.graded

    def _not_before(self, finding: Finding, held: Finding) -> None:
        """What held is healed no sooner for being called otherwise."""
        plausible = plausible_day(held, self.rules)
        if plausible > finding.floor:
            finding.floor, finding.floor_from = plausible, Mark(held.clock, held.clock_entry)

    def _worse(self, day: int, entry: str, finding: Finding, spot: Spot) -> None:
        """A finding that got more severe, grew to a later stage, spread to another zone or began to
        hold starts its clock again; healed it is believed no sooner for that."""
        counts, plausible = weight(spot.severity, self.rules), plausible_day(finding, self.rules)
        since = Mark(finding.clock, finding.clock_entry)
        first_said = finding.severity is None and not finding.graded and spot.severity is not None
        if first_said and day == finding.clock:
            finding.clock_severity = counts
        begins = spot.holds and not finding.holds
        known = finding.stage is not None and spot.stage not in (finding.stage, None)
        grown = spot.holds and known and spot.stage != SMALLEST_STAGE
        grown = grown or spot.spreads(finding.zones)
        if counts > weight(finding.severity, self.rules) or grown or begins:
            if finding.holds and plausible > finding.floor:
                finding.floor, finding.floor_from = plausible, since
            finding.clock, finding.clock_severity, finding.clock_entry = day, counts, entry
        if begins and finding.held == NEVER:
            finding.held, finding.held_entry = day, entry

    def _take(self, day: int, entry: str, finding: Finding, spot: Spot) -> None:
        finding.severity, finding.stage, finding.holds = spot.severity, spot.stage, spot.holds
        finding.graded |= spot.severity is not None or spot.graded
        if spot.zone is not None:
            finding.zone = spot.zone
            # a spot that does not hold, and is not listed, is over; silence about one that does is
            # no look at it
            finding.listed = (finding.listed | spot.named) if spot.holds else spot.named
        if spot.size_mm is not None:
            finding.size_mm = spot.size_mm
        finding.looked, finding.early = day, None
        finding.entries.append(entry)
        self.stable.pop(finding.key, None)
        if spot.holds:
            finding.seen, finding.seen_entry = day, entry
            finding.zones |= spot.held
        else:
            finding.held, finding.zones = NEVER, frozenset()

    def _ask_vet(self, day: int, entry: str, finding: Finding, rule: FindingRule) -> None:
        reached = 0 < rule.vet_from <= weight(finding.severity, self.rules)
        if reached and not finding.in_vet_column:
            self.vet_asks.append(VetAsk(day, finding, f"finding.{finding.code}.vet_from", entry))
        finding.in_vet_column = reached
        if rule.vet_open and day >= finding.first + rule.vet_open:
            self.vet_asks.append(VetAsk(day, finding, f"finding.{finding.code}.vet_open", entry))

    def could_explain(self, rule: FindingRule) -> bool:
        """Whether such a finding may be what lames a bull."""
        return bool(rule.holds_stages) or 0 < rule.holds_from <= self.rules.limits.vet_explains

    def _healed(self, day: int, entry: str, key: Key, stable: bool) -> None:
        prior = self.open.get(key)
        if prior is None:
            return
        if prior.holds or self.could_explain(self.rules.findings[key[2]]):
            self.explained[key[0]] = day
        plausible = plausible_day(prior, self.rules)
        if prior.holds and day < plausible:
            self._only_a_look(day, entry, prior, plausible)
            prior.early = Early(day, healed=True)
            return
        if prior.holds:
            self._seen_clear(day, entry, prior)
        if key in self.cleared:
            self.cleared[key] = Cleared(day, healed=True)
        if stable:
            self.stable[key] = day
        del self.open[key]

    def _seen_clear(self, day: int, entry: str, finding: Finding) -> None:
        self.clear_day, self.clear_entry = day, entry
        self.cleared[finding.key] = Cleared(day)


def _by_finding(found: Iterable[Mapping[str, Any]]) -> dict[Key, list[Mapping[str, Any]]]:
    """What one lift says of each finding, one item a spot."""
    spots: dict[Key, list[Mapping[str, Any]]] = {}
    for item in found:
        for claw in claws_of(item["claw"]):
            spots.setdefault((item["foot"], claw, item["code"]), []).append(item)
    return spots
