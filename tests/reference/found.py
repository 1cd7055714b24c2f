"""What a lift says about the findings of a bull's feet, each rule beside its code."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any, NamedTuple

from .state import Entry, Key, Open, Story, VetAsk
from .values import STAGES, UNSAID, Finding, counted


class Grade(NamedTuple):
    """How bad a finding is and where; None is not said."""

    severity: int | None
    stage: str | None
    zone: int | None


@dataclass
class Spots:
    """All the spots that one entry gives of one finding."""

    key: Key
    spots: list[dict[str, Any]]

    def worst(self, row: Finding, old: Open | None) -> Grade:
        """What stands of them all; ``old``: the finding as it is open under this very name."""
        severity, stage = self._kept(row, old)
        each = [
            Grade(s.get("severity", severity), s.get("stage", stage), s.get("zone"))
            for s in self.spots
        ]
        # one that holds goes first, then the more severe, then the later stage
        worst = max(
            each,
            key=lambda grade: (
                row.holds(grade.severity, grade.stage),
                counted(grade.severity),
                bool(grade.severity),
                STAGES.index(grade.stage) if grade.stage else -1,
            ),
        )
        # where the worst spot names no zone, the first that any names
        zones = [grade.zone for grade in (worst, *each) if grade.zone is not None]
        return worst._replace(zone=zones[0] if zones else None)

    def _kept(self, row: Finding, old: Open | None) -> tuple[int | None, str | None]:
        """What a spot that does not say is taken to be."""
        severity, stage = (old.severity, old.stage) if old else (None, None)
        if old and (len(self.spots) > 1 or self._in_another_zone(old)):
            # of several spots, or of one in another zone, one that does not say is as the finding
            # was only where that was bad enough; a slight one may be another spot
            severity = severity if old.holds and counted(severity) >= UNSAID else None
            stage = stage if stage in row.holds_stages else None
        return severity, stage

    def _in_another_zone(self, old: Open) -> bool:
        return old.zone is not None and self.spots[0].get("zone", old.zone) != old.zone

    @property
    def zones(self) -> set[int]:
        return {spot["zone"] for spot in self.spots if "zone" in spot}

    def holding_zones(self, row: Finding, old: Open | None) -> set[int]:
        """The zones of those spots that hold, each looked at by itself."""
        severity, stage = self._kept(row, old)
        return {
            spot["zone"]
            for spot in self.spots
            if "zone" in spot
            and row.holds(spot.get("severity", severity), spot.get("stage", stage))
        }

    @property
    def said(self) -> bool:
        return any("severity" in spot for spot in self.spots)

    def renamed_saying(self, was: str, what: str) -> bool:
        """Whether what calls ``was`` by this name says that of it itself."""
        return all(what in spot for spot in self.spots if spot.get("was") == was)


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
    healed = keys(entry.get("healed", []))
    for measure in entry.get("measures", []):
        # a sole thinner than the least is a thin sole; nobody who measures it sees it healed
        sole = measure.get("sole_mm")
        if sole is None or sole >= story.rules["sole.thin"]:
            continue
        for key in keys([measure | {"code": "TS"}]):
            story.meets("thin sole measured, TS listed", key in found)
            story.meets("thin sole measured, TS listed healed", key in healed)
            if key not in found:
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
    severity, stage, zone = spots.worst(row, None)
    holds = row.holds(severity, stage)
    story.meets("new, severity not said", severity is None)
    story.meets("new, DD of unknown stage", bool(row.holds_stages) and stage is None)
    # its days count from here
    new = Open(spots.key, day, day, counted(severity), severity, stage, holds, spots.said, zone)
    new.looks.append(day)
    new.named[spots.key[2]] = day
    new.zones = spots.holding_zones(row, None)
    _stands(story, new, day)


def _found_again(story: Story, finding: Open, spots: Spots, day: int) -> None:
    row = story.rules["findings"][finding.key[2]]
    # what is not said again is as it was
    grade = spots.worst(row, finding)
    # being named is being looked at
    finding.looks.append(day)
    # the first word on how bad it is, under any of its names, is believed on the spot; a stage is
    # not
    first_said = spots.said and not finding.said and not row.holds_stages
    story.meets("severity said later for the first time", first_said)
    story.meets("severity said, once said under another name", spots.said and finding.said)
    _told_on_the_day(finding, finding, grade, day)
    finding.said = finding.said or spots.said
    holds = row.holds(grade.severity, grade.stage)
    if finding.holds and not holds:
        # a look that names zones has to name every one in which it holds
        if _elsewhere(finding, spots):
            story.meets("listed low in another zone" + ", said first" * first_said)
            return
        soonest = finding.never_before if first_said else _plausible(story, finding)
        story.meets("listed low in the same zone", bool(finding.zones and spots.zones))
        story.meets("listed low, on its plausible day", day == soonest and not first_said)
        # too soon to be believed: it was looked at, no more
        if day < soonest:
            story.meets(
                "said first to be slight, too soon" if first_said else "listed low too soon"
            )
            return
        # slight enough not to hold: seen clear today
        story.meets("taken at once: no longer holds" if first_said else "listed low in time")
        story.seen_clear.append(day)
    story.meets("holds as it did not before", holds and not finding.holds)
    if _later_stage(row, finding.stage, grade.stage):
        story.meets("a later stage that holds", finding.holds)
        finding.clock, finding.clock_severity = day, counted(grade.severity)
    _restart(finding, finding.severity, finding.holds, (grade.severity, holds), day)
    finding.zones = finding.zones | spots.holding_zones(row, finding) if holds else set()
    finding.severity, finding.stage, finding.holds = grade.severity, grade.stage, holds
    finding.zone = finding.zone if grade.zone is None else grade.zone
    _stands(story, finding, day)


def _elsewhere(finding: Open, spots: Spots) -> bool:
    return bool(spots.zones) and not finding.zones <= spots.zones


def _told_on_the_day(finding: Open, before: Open, grade: Grade, day: int) -> None:
    # said for the first time on the very day of its clock, that is its severity on that day
    first = before.severity is None and not before.said and grade.severity is not None
    if first and day == before.clock:
        finding.clock_severity = counted(grade.severity)


def _later_stage(row: Finding, old: str | None, now: str | None) -> bool:
    # it has become another stage that holds, and not the smallest; both are known
    return old is not None and now in row.holds_stages and now not in (old, "M1")


def _renamed(story: Story, before: Open, spots: Spots, day: int) -> None:
    row = story.rules["findings"][spots.key[2]]
    into = story.open.get(spots.key)
    # what is not said of a new name is unknown; a name already open keeps what it had
    grade = spots.worst(row, into)
    if before.holds and not row.holds(grade.severity, grade.stage):
        # a name that would not hold closes it only in time and only with the degree said by what
        # renames it; else it stays, and was found open
        said = spots.renamed_saying(before.key[2], "stage" if row.holds_stages else "severity")
        soon = day < _plausible(story, before)
        if soon or not said:
            story.meets("renamed low too soon" if soon else "renamed low, not said")
            story.meets("renamed low, another spot says", not (soon or said) and spots.said)
            before.looks.append(day)
            _open_long(story, before, day)
            if into:
                _found_again(story, into, spots, day)
            return
        story.meets("renamed low in time")
        story.meets("renamed low in another zone", _elsewhere(before, spots))
        story.seen_clear.append(day)
    if into:
        _merged(story, before, into, spots, day)
    else:
        _another_name(story, before, spots, grade, day)


def _another_name(story: Story, before: Open, spots: Spots, grade: Grade, day: int) -> None:
    code = spots.key[2]
    row = story.rules["findings"][code]
    severity, holds = grade.severity, row.holds(grade.severity, grade.stage)
    del story.open[before.key]
    here = spots.holding_zones(row, None)
    # it keeps its age, its looks and its count of days under another name
    new = replace(before, key=spots.key, looks=[*before.looks, day], in_vet_column=False)
    new.severity, new.stage, new.holds = severity, grade.stage, holds
    new.zone = before.zone if grade.zone is None else grade.zone
    new.said, new.named = before.said or spots.said, {**before.named}
    new.zones = here | before.zones if holds else set()
    if before.holds and holds:
        # by another name it takes no shorter way
        new.never_before = _plausible(story, before)
    if row.anew:
        # these kinds have a course of their own
        story.meets(f"renamed to {code}")
        new.looks, new.seen, new.zone = [day], 0, grade.zone
        new.clock, new.clock_severity = day, counted(severity)
        # but a name that it bore before is no new name: it was first found then
        story.meets("renamed back to what begins anew", code in new.named)
        new.first = new.named.get(code, day)
    else:
        # worse, or holding only now: its days count from today
        _told_on_the_day(new, before, grade, day)
        story.meets("renamed, severity not said", severity is None and holds)
        story.meets("renamed and newly holding", holds and not before.holds)
        _restart(new, before.severity, before.holds, (severity, holds), day)
        story.meets("renamed, clock kept", holds and new.clock < day)
    new.named.setdefault(code, day)
    _stands(story, new, day)


def _merged(story: Story, before: Open, into: Open, spots: Spots, day: int) -> None:
    # both are one now, as old as the older
    story.meets("renamed to a code that is open")
    plausible = max(_plausible(story, before), _plausible(story, into))
    del story.open[before.key]
    into.first = min(into.first, before.first)
    for name, since in before.named.items():
        into.named[name] = min(since, into.named.get(name, since))
    into.said = into.said or before.said
    if before.holds:
        # it takes no shorter way than either would have taken
        story.meets("renamed to an open code, both held", into.holds)
        story.meets("renamed to an open code, it was put off", plausible > _plausible(story, into))
        into.never_before = plausible
        into.zones = into.zones | before.zones
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
    _open_long(story, finding, day)


def _open_long(story: Story, finding: Open, day: int) -> None:
    # foul, swelling and toe lesions still there after their days: every time they are found
    row = story.rules["findings"][finding.key[2]]
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
