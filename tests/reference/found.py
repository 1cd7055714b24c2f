"""What a lift says about the findings of a bull's feet, each rule beside its code."""

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
        # of several spots one that holds goes first, then the more severe
        said = [(s.get("severity", severity), s.get("stage", stage)) for s in self.spots]
        return max(said, key=lambda each: (row.holds(*each), counted(each[0]), bool(each[0])))

    @property
    def said(self) -> bool:
        return any("severity" in spot for spot in self.spots)

    def all_say(self, what: str) -> bool:
        return all(what in spot for spot in self.spots)


def claws(claw: str) -> tuple[str, ...]:
    # both claws are two findings
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
    # what does not hold is over once that foot went up and nobody named it
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
        # a sole thinner than the least is a thin sole, unless this very entry already speaks of it
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
    # another name for what is open on that claw; of what is not open it is simply new
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
    # this could explain why he is lame: it holds, or its kind does at a moderate degree
    now = story.open.get(spots.key)
    if (now and now.holds) or story.rules["findings"][code].holds_when_moderate:
        story.could_hold.append((day, foot))


def _could_hold(story: Story, finding: Open, held: bool, day: int) -> None:
    row = story.rules["findings"][finding.key[2]]
    if held or row.holds_when_moderate:
        story.could_hold.append((day, finding.key[0]))


def _new(story: Story, spots: Spots, day: int) -> None:
    row = story.rules["findings"][spots.key[2]]
    # how bad a new one is may be unknown; then it holds
    severity, stage = spots.worst(row, None, None)
    holds = row.holds(severity, stage)
    story.meets("new, severity not said", severity is None)
    story.meets("new, DD of unknown stage", bool(row.holds_stages) and stage is None)
    # its days count from here
    new = Open(spots.key, day, day, counted(severity), severity, stage, holds, spots.said)
    new.looks.append(day)
    _stands(story, new, day)


def _found_again(story: Story, finding: Open, spots: Spots, day: int) -> None:
    row = story.rules["findings"][finding.key[2]]
    # what is not said again is as it was
    severity, stage = spots.worst(row, finding.severity, finding.stage)
    # being named is being looked at
    finding.looks.append(day)
    # the first word on how bad it is, under any of its names, is believed on the spot; a stage is
    # not
    first_said = spots.said and not finding.said and not row.holds_stages
    story.meets("severity said later for the first time", first_said)
    story.meets("severity said, once said under another name", spots.said and finding.said)
    finding.said = finding.said or spots.said
    holds = row.holds(severity, stage)
    if finding.holds and not holds:
        soonest = finding.never_before if first_said else _plausible(story, finding)
        story.meets("listed low, on its plausible day", day == soonest and not first_said)
        # too soon to be believed: it was looked at, no more
        if day < soonest:
            story.meets("listed low too soon")
            return
        # slight enough not to hold: seen clear today
        story.meets("taken at once: no longer holds" if first_said else "listed low in time")
        story.seen_clear.append(day)
    story.meets("holds as it did not before", holds and not finding.holds)
    _restart(finding, finding.severity, finding.holds, (severity, holds), day)
    finding.severity, finding.stage, finding.holds = severity, stage, holds
    _stands(story, finding, day)


def _renamed(story: Story, before: Open, spots: Spots, day: int) -> None:
    row = story.rules["findings"][spots.key[2]]
    into = story.open.get(spots.key)
    # what is not said of a new name is unknown; a name already open keeps what it had
    kept = (into.severity, into.stage) if into else (None, None)
    severity, stage = spots.worst(row, *kept)
    holds = row.holds(severity, stage)
    if before.holds and not holds:
        # a name that would not hold closes it only in time and only with the degree said; else it
        # stays
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
    # it keeps its age, its looks and its count of days under another name
    new = replace(before, key=spots.key, looks=[*before.looks, day], in_vet_column=False)
    new.severity, new.stage, new.holds = severity, stage, holds
    new.said = before.said or spots.said
    if before.holds and holds:
        # by another name it takes no shorter way
        new.never_before = _plausible(story, before)
    if row.anew:
        # these kinds have a course of their own
        story.meets(f"renamed to {spots.key[2]}")
        new.first, new.looks, new.seen = day, [day], 0
        new.clock, new.clock_severity = day, counted(severity)
    else:
        # worse, or holding only now: its days count from today
        story.meets("renamed, severity not said", severity is None and holds)
        story.meets("renamed and newly holding", holds and not before.holds)
        _restart(new, before.severity, before.holds, (severity, holds), day)
        story.meets("renamed, clock kept", holds and new.clock < day)
    _stands(story, new, day)


def _merged(story: Story, before: Open, into: Open, spots: Spots, day: int) -> None:
    # both are one now, as old as the older
    story.meets("renamed to a code that is open")
    plausible = max(_plausible(story, before), _plausible(story, into))
    del story.open[before.key]
    into.first = min(into.first, before.first)
    into.said = into.said or before.said
    if before.holds:
        # it takes no shorter way than either would have taken
        story.meets("renamed to an open code, both held", into.holds)
        story.meets("renamed to an open code, it was put off", plausible > _plausible(story, into))
        into.never_before = plausible
    _found_again(story, into, spots, day)
    if into.held_since is not None and before.held_since is not None:
        # it has held since the earlier of the two began to
        into.held_since = min(into.held_since, before.held_since)


def _restart(
    finding: Open, severity: int | None, held: bool, now: tuple[int | None, bool], day: int
) -> None:
    """Set the clock where the finding is more severe or holds as it did not before."""
    # new days where it is worse than it was, or begins to hold
    if counted(now[0]) > counted(severity) or (now[1] and not held):
        finding.clock, finding.clock_severity = day, counted(now[0])


def _stands(story: Story, finding: Open, day: int) -> None:
    """Keep a finding as open, and ask for the vet where the table does."""
    row = story.rules["findings"][finding.key[2]]
    story.open[finding.key] = finding
    if finding.holds:
        # found holding today
        finding.seen = day
        finding.held_since = finding.held_since or day
    else:
        finding.held_since = None
    # it comes under the vet from outside, as often as it does; not said is moderate
    now_in = bool(row.vet_from) and counted(finding.severity) >= row.vet_from
    if now_in and not finding.in_vet_column:
        story.meets("reaches the vet column")
        story.meets("reaches the vet column again", day > finding.first and len(finding.looks) > 2)
        story.vet_asks.append(VetAsk(day, finding))
    finding.in_vet_column = now_in
    # foul, swelling and toe lesions still there after their days: every time they are found
    if row.vet_open and day >= finding.first + row.vet_open:
        story.meets("open long after it was found")
        story.vet_asks.append(VetAsk(day, finding))


def _healed(story: Story, key: Key, said: dict[str, Any], day: int) -> None:
    finding = story.open.get(key)
    # healing what is not there is kept and does nothing
    story.meets("healed what is not open", finding is None)
    if finding is None:
        return
    # healed may explain why he was lame, too
    _could_hold(story, finding, finding.holds, day)
    finding.looks.append(day)
    if finding.holds:
        # healed in time, even if not gone, ends it; too soon it is a look
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
