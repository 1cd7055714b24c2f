"""What a lift says about the findings of a bull's feet, each sentence beside its code.

Quotations are from the specification of the assessment.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from .state import Entry, Key, Open, Story, VetAsk
from .values import Finding, counted


@dataclass
class Spots:
    """All the spots that one entry gives of one finding."""

    key: Key
    spots: list[dict[str, Any]]

    def worst(
        self, row: Finding, severity: int | None, stage: str | None
    ) -> tuple[int | None, str | None]:
        """Severity and stage that stand; what a spot does not say is as given."""
        # "Two spots of one finding in one entry: the worse stands for both: one that holds before
        # one that does not, then the more severe."
        said = [(s.get("severity", severity), s.get("stage", stage)) for s in self.spots]
        return max(said, key=lambda each: (row.holds(*each), counted(each[0]), bool(each[0])))

    @property
    def said(self) -> bool:
        return any("severity" in spot for spot in self.spots)

    def all_say(self, what: str) -> bool:
        return all(what in spot for spot in self.spots)


def claws(claw: str) -> tuple[str, ...]:
    # "`both` means outer and inner"
    return ("outer", "inner") if claw == "both" else (claw,)


def keys(items: list[dict[str, Any]]) -> list[Key]:
    return [(each["foot"], claw, each["code"]) for each in items for claw in claws(each["claw"])]


def feet_findings(story: Story, entry: Entry, day: int) -> None:
    """Tell ``story`` what a ``feet`` entry found, found healed, and passed over."""
    found = _spots(story, entry)
    for spots in found.values():
        story.meets("same finding twice in one entry", len(spots.spots) > 1)
        _found(story, spots, day)
    for healed in entry.get("healed", []):
        for claw in claws(healed["claw"]):
            _healed(story, (healed["foot"], claw, healed["code"]), healed, day)
    # "A finding that does not hold ends [...] at the next lift of that foot that does not list it."
    for key, finding in list(story.open.items()):
        lifted = key[0] in entry.get("lifted", [])
        story.meets("silence leaves what holds", lifted and finding.holds and key not in found)
        if not finding.holds and lifted and key not in found:
            story.meets("silence ends what does not hold")
            del story.open[key]


def _spots(story: Story, entry: Entry) -> dict[Key, Spots]:
    found: dict[Key, Spots] = {}
    for spot in entry.get("findings", []):
        for key in keys([spot]):
            found.setdefault(key, Spots(key, [])).spots.append(spot)
    listed = [*found, *keys(entry.get("healed", []))]
    for measure in entry.get("measures", []):
        # "A sole measured under sole.thin is TS of that claw, found that day, unless the entry
        # lists TS there, found or healed."
        sole = measure.get("sole_mm")
        if sole is None or sole >= story.rules["sole.thin"]:
            continue
        for key in keys([measure | {"code": "TS"}]):
            story.meets("thin sole measured, TS listed", key in listed)
            if key not in listed:
                story.meets("thin sole measured")
                found[key] = Spots(key, [{}])
    return found


def _found(story: Story, spots: Spots, day: int) -> None:
    foot, claw, code = spots.key
    # "Renamed by `was` (a code open on the same claw [...])"; "a rename of what is not open is a
    # new finding"
    names = dict.fromkeys(spot.get("was") for spot in spots.spots)
    befores = [story.open.get((foot, claw, name)) if name else None for name in names]
    for before in befores:
        if before is not None:
            _could_hold(story, before, before.holds, day)
            _renamed(story, before, spots, day)
    if None in befores:
        story.meets("rename of what is not open", any(names))
        if spots.key in story.open:
            _found_again(story, story.open[spots.key], spots, day)
        else:
            _new(story, spots, day)
    # "found and holding after that entry [...] or [...] whose code holds from 2 or less or by
    # stage"
    now = story.open.get(spots.key)
    if (now and now.holds) or story.rules["findings"][code].holds_when_moderate:
        story.could_hold.append((day, foot))


def _could_hold(story: Story, finding: Open, held: bool, day: int) -> None:
    row = story.rules["findings"][finding.key[2]]
    if held or row.holds_when_moderate:
        story.could_hold.append((day, finding.key[0]))


def _new(story: Story, spots: Spots, day: int) -> None:
    row = story.rules["findings"][spots.key[2]]
    # "(new and not said: not known, and it holds)"
    severity, stage = spots.worst(row, None, None)
    holds = row.holds(severity, stage)
    story.meets("new, severity not said", severity is None)
    story.meets("new, DD of unknown stage", bool(row.holds_stages) and stage is None)
    # "`clock` is the day it was first found"
    new = Open(spots.key, day, day, counted(severity), severity, stage, holds, spots.said)
    new.looks.append(day)
    _stands(story, new, day)


def _found_again(story: Story, finding: Open, spots: Spots, day: int) -> None:
    row = story.rules["findings"][finding.key[2]]
    # "Found again, it keeps severity and stage unless said."
    severity, stage = spots.worst(row, finding.severity, finding.stage)
    # "A *look* at a finding is a `feet` entry that lists it"
    finding.looks.append(day)
    # "said later for the first time (of a code that holds by severity, not by stage) it is taken
    # at once, whatever the day [...]; not so where a severity was once said of it, under this name
    # or one that it was renamed from"
    first_said = spots.said and not finding.said and not row.holds_stages
    story.meets("severity said later for the first time", first_said)
    story.meets("severity said, once said under another name", spots.said and finding.said)
    finding.said = finding.said or spots.said
    holds = row.holds(severity, stage)
    if finding.holds and not holds:
        soonest = finding.never_before if first_said else _plausible(story, finding)
        story.meets("listed low, on its plausible day", day == soonest and not first_said)
        # "Said sooner, it counts as a look [...] but the finding keeps its severity and stage and
        # holds until confirmed on or after the plausible day (`seen` does not move)."
        if day < soonest:
            story.meets("listed low too soon")
            return
        # "or stops holding when such an entry lists it so low that it would not hold: both are
        # seen clear"; "where it then no longer holds that day is one of seen clear"
        story.meets("taken at once: no longer holds" if first_said else "listed low in time")
        story.seen_clear.append(day)
    story.meets("holds as it did not before", holds and not finding.holds)
    _restart(finding, finding.severity, finding.holds, (severity, holds), day)
    finding.severity, finding.stage, finding.holds = severity, stage, holds
    _stands(story, finding, day)


def _renamed(story: Story, before: Open, spots: Spots, day: int) -> None:
    row = story.rules["findings"][spots.key[2]]
    into = story.open.get(spots.key)
    # "its severity not said unless said"; where that code is open: "the other counts as found",
    # and "found again, it keeps severity and stage unless said"
    kept = (into.severity, into.stage) if into else (None, None)
    severity, stage = spots.worst(row, *kept)
    holds = row.holds(severity, stage)
    if before.holds and not holds:
        # "A holding finding renamed to what would not hold is the same as one listed so low: on
        # or after its plausible day, *and with its severity (of DD: its stage) said*, seen clear;
        # else a look only, and it keeps its name."
        said = spots.all_say("stage" if row.holds_stages else "severity")
        soon = day < _plausible(story, before)
        if soon or not said:
            story.meets("renamed low too soon" if soon else "renamed low, not said")
            before.looks.append(day)
            if into:
                _found_again(story, into, spots, day)
            return
        story.meets("renamed low in time")
        story.seen_clear.append(day)
    if into:
        _merged(story, before, into, spots, day)
        return
    del story.open[before.key]
    # "the new one inherits first day, looks and clock"
    new = replace(before, key=spots.key, looks=[*before.looks, day], in_vet_column=False)
    new.severity, new.stage, new.holds = severity, stage, holds
    new.said = before.said or spots.said
    if row.anew:
        # "TU, TN, SW, IP and DD begin anew."
        story.meets(f"renamed to {spots.key[2]}")
        new.first, new.looks, new.seen = day, [day], 0
        new.clock, new.clock_severity = day, counted(severity)
    else:
        # "more severe or newly holding, its clock is that day"
        story.meets("renamed, severity not said", severity is None and holds)
        story.meets("renamed and newly holding", holds and not before.holds)
        _restart(new, before.severity, before.holds, (severity, holds), day)
        story.meets("renamed, clock kept", holds and new.clock < day)
    _stands(story, new, day)


def _merged(story: Story, before: Open, into: Open, spots: Spots, day: int) -> None:
    # "Renamed to a code that is open there, the old one goes and the other counts as found, with
    # the earlier first day of the two"
    story.meets("renamed to a code that is open")
    plausible = max(_plausible(story, before), _plausible(story, into))
    del story.open[before.key]
    into.first = min(into.first, before.first)
    into.said = into.said or before.said
    if before.holds:
        # "if the old one held, the other is never believed healed before either one's plausible
        # day as it stood before that entry"
        story.meets("renamed to an open code, both held", into.holds)
        story.meets("renamed to an open code, it was put off", plausible > _plausible(story, into))
        into.never_before = plausible
    _found_again(story, into, spots, day)
    if into.held_since is not None and before.held_since is not None:
        # "and, where both held, the earlier day from which it has held"
        into.held_since = min(into.held_since, before.held_since)


def _restart(
    finding: Open, severity: int | None, held: bool, now: tuple[int | None, bool], day: int
) -> None:
    """Set the clock where the finding is more severe or holds as it did not before."""
    # "`clock` is the day it was first found, got a severity higher than before, or began to hold"
    if counted(now[0]) > counted(severity) or (now[1] and not held):
        finding.clock, finding.clock_severity = day, counted(now[0])


def _stands(story: Story, finding: Open, day: int) -> None:
    """Keep a finding as open, and ask for the vet where the table does."""
    row = story.rules["findings"][finding.key[2]]
    story.open[finding.key] = finding
    if finding.holds:
        # "`seen` the day it was last found holding"
        finding.seen = day
        finding.held_since = finding.held_since or day
    else:
        finding.held_since = None
    # "a finding reaching the vet column ([...] each time from outside it; severity not said is 2)"
    now_in = bool(row.vet_from) and counted(finding.severity) >= row.vet_from
    if now_in and not finding.in_vet_column:
        story.meets("reaches the vet column")
        story.meets("reaches the vet column again", day > finding.first and len(finding.looks) > 2)
        story.vet_asks.append(VetAsk(day, finding))
    finding.in_vet_column = now_in
    # "one found open long after it was first found (IP 3 days or more, SW 7, TU and TN 14), each
    # time"
    if row.vet_open and day >= finding.first + row.vet_open:
        story.meets("open long after it was found")
        story.vet_asks.append(VetAsk(day, finding))


def _healed(story: Story, key: Key, said: dict[str, Any], day: int) -> None:
    finding = story.open.get(key)
    # "healing [...] what is not open [...] changes nothing"
    story.meets("healed what is not open", finding is None)
    if finding is None:
        return
    # "or healed and holding before it, or (healed: if it was open) whose code holds [...]"
    _could_hold(story, finding, finding.holds, day)
    finding.looks.append(day)
    if finding.holds:
        # "A finding that holds ends when a `feet` entry on or after its plausible day lists it
        # healed (`stable` [...] ends all the same)"; sooner it "counts as a look"
        if day < _plausible(story, finding):
            story.meets("healed too soon")
            return
        story.meets("healed on its plausible day", day == _plausible(story, finding))
        story.meets("healed in time")
        story.meets("healed stable", said.get("stable", False))
        story.seen_clear.append(day)
    del story.open[key]


def _plausible(story: Story, finding: Open) -> int:
    row = story.rules["findings"][finding.key[2]]
    return finding.plausible(row, story.rules["clear.after_open"])
