"""What a lift says about the findings of a bull's feet, each sentence beside its code.

Quotations are from the specification of the assessment.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from .state import Entry, Key, Open, Story, VetAsk
from .values import Finding


@dataclass
class Spots:
    """All the spots that one entry gives of one finding."""

    key: Key
    spots: list[dict[str, Any]]

    @property
    def was(self) -> str | None:
        return next((spot["was"] for spot in self.spots if "was" in spot), None)

    def worst(self, row: Finding, severity: int, stage: str | None) -> tuple[int, str | None]:
        """Severity and stage of the worst spot; what a spot does not say is as given."""
        # "the worst spot standing for all"
        said = [(s.get("severity", severity), s.get("stage", stage)) for s in self.spots]
        stages = [stage for level, stage in said if row.holds(level, stage)]
        return max(level for level, _ in said), (stages or [said[-1][1]])[0]


def claws(claw: str) -> tuple[str, ...]:
    # "`both` means outer and inner"
    return ("outer", "inner") if claw == "both" else (claw,)


def feet_findings(story: Story, entry: Entry, day: int) -> None:
    """Tell ``story`` what a ``feet`` entry found, found healed, and passed over."""
    found: dict[Key, Spots] = {}
    for spot in entry.get("findings", []):
        for claw in claws(spot["claw"]):
            key = spot["foot"], claw, spot["code"]
            found.setdefault(key, Spots(key, [])).spots.append(spot)
    for key, spots in found.items():
        _found(story, spots, day)
        story.listed.append((day, key[0], key[2]))
    for healed in entry.get("healed", []):
        for claw in claws(healed["claw"]):
            _healed(story, (healed["foot"], claw, healed["code"]), day)
    # "A finding that does not hold ends [...] at the next lift of that foot that does not list it."
    for key, finding in list(story.open.items()):
        if not finding.holds and key[0] in entry.get("lifted", []) and key not in found:
            del story.open[key]


def _found(story: Story, spots: Spots, day: int) -> None:
    foot, claw, _ = spots.key
    # "Renamed by `was` (a code open on the same claw [...])"; "a rename of what is not open is a
    # new finding"
    before = story.open.get((foot, claw, spots.was)) if spots.was else None
    if before is not None:
        story.listed.append((day, foot, before.key[2]))
        _renamed(story, before, spots, day)
    elif spots.key in story.open:
        _found_again(story, story.open[spots.key], spots, day)
    else:
        _new(story, spots, day)


def _new(story: Story, spots: Spots, day: int) -> None:
    row = story.rules["findings"][spots.key[2]]
    severity, stage = spots.worst(row, 1, None)
    holds = row.holds(severity, stage)
    # "`clock` is the day it was first found"; "`seen` the day it was last found holding"
    _stands(story, Open(spots.key, day, day, severity, severity, stage, holds, day, [day]), day)


def _found_again(story: Story, finding: Open, spots: Spots, day: int) -> None:
    row = story.rules["findings"][finding.key[2]]
    # "Found again, it keeps severity and stage unless said."
    severity, stage = spots.worst(row, finding.severity, finding.stage)
    # "A *look* at a finding is a `feet` entry that lists it"
    finding.looks.append(day)
    holds = row.holds(severity, stage)
    if finding.holds and not holds:
        # "Said sooner, it counts as a look [...] but the finding keeps its severity and stage and
        # holds until confirmed on or after the plausible day (`seen` does not move)."
        if day < _plausible(story, finding):
            return
        # "or stops holding when such an entry lists it so low that it would not hold: both are
        # seen clear"
        story.seen_clear.append(day)
    _restart(finding, finding.severity, finding.holds, (severity, holds), day)
    finding.severity, finding.stage, finding.holds = severity, stage, holds
    _stands(story, finding, day)


def _renamed(story: Story, before: Open, spots: Spots, day: int) -> None:
    row = story.rules["findings"][spots.key[2]]
    # "its severity 1 unless said"
    severity, stage = spots.worst(row, 1, None)
    holds = row.holds(severity, stage)
    if before.holds and not holds:
        # "A holding finding renamed to what would not hold is the same as one listed so low: on
        # or after its plausible day seen clear, sooner a look only, and it keeps its name."
        if day < _plausible(story, before):
            before.looks.append(day)
            if spots.key in story.open:
                _found_again(story, story.open[spots.key], spots, day)
            return
        story.seen_clear.append(day)
    del story.open[before.key]
    if spots.key in story.open:
        _merged(story, before, spots, day)
        return
    # "the new one inherits first day, looks and clock"
    new = replace(before, key=spots.key, looks=[*before.looks, day], in_vet_column=False)
    new.severity, new.stage, new.holds = severity, stage, holds
    # "more severe or newly holding, its clock is that day"
    _restart(new, before.severity, before.holds, (severity, holds), day)
    _stands(story, new, day)


def _merged(story: Story, before: Open, spots: Spots, day: int) -> None:
    """Renamed to a code that is open on that claw as well: one finding, found again."""
    into = story.open[spots.key]
    into.first = min(into.first, before.first)
    into.looks += before.looks
    if before.holds and into.holds and before.clock > into.clock:
        into.clock, into.clock_severity = before.clock, before.clock_severity
    _found_again(story, into, spots, day)


def _restart(finding: Open, severity: int, held: bool, now: tuple[int, bool], day: int) -> None:
    """Set the clock where the finding is more severe or holds as it did not before."""
    # "`clock` is the day it was first found, got a severity higher than before, or began to hold"
    if now[0] > severity or (now[1] and not held):
        finding.clock, finding.clock_severity = day, now[0]


def _stands(story: Story, finding: Open, day: int) -> None:
    """Keep a finding as open, and ask for the vet where the table does."""
    row = story.rules["findings"][finding.key[2]]
    story.open[finding.key] = finding
    if finding.holds:
        finding.seen = day
    # "a finding first reaching the vet column"
    if row.vet_from and finding.severity >= row.vet_from and not finding.in_vet_column:
        finding.in_vet_column = True
        story.vet_asks.append(VetAsk(day, finding.key[0], finding))
    # "one found open long after it was first found (IP 3 days or more, SW 7, TU and TN 14), each
    # time"
    if row.vet_open and day >= finding.first + row.vet_open:
        story.vet_asks.append(VetAsk(day, finding.key[0], finding))


def _healed(story: Story, key: Key, day: int) -> None:
    finding = story.open.get(key)
    # "healing [...] what is not open [...] changes nothing"
    if finding is None:
        return
    story.listed.append((day, key[0], key[2]))
    finding.looks.append(day)
    if finding.holds:
        # "A finding that holds ends when a `feet` entry on or after its plausible day lists it
        # healed (`stable` [...] ends all the same)"; sooner it "counts as a look"
        if day < _plausible(story, finding):
            return
        story.seen_clear.append(day)
    del story.open[key]


def _plausible(story: Story, finding: Open) -> int:
    row = story.rules["findings"][finding.key[2]]
    return finding.plausible(row, story.rules["clear.after_open"])
