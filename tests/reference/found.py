"""What becomes of the findings of a bull's feet at a lift, each rule beside its code."""

from __future__ import annotations

from typing import Any

from .spots import Grade, Listing, keys
from .standing import (
    lies_in,
    may_explain,
    open_long,
    plausible,
    plausible_by_clock,
    row_of,
    stands,
)
from .state import Entry, Key, Open, Story
from .values import counted


def feet_findings(story: Story, entry: Entry, day: int) -> None:
    """Tell ``story`` what a ``feet`` entry found, found healed, and passed over."""
    listed = _listed(story, entry)
    thin = _measured_thin(story, entry)
    for key in thin:
        story.meets("thin sole measured, TS listed", key in listed)
        story.meets("thin sole measured", key not in listed)
        if key not in listed:
            listed[key] = Listing(key, [{}], row_of(story, key))
    # when each could be believed healed, before anything that this entry says
    stood = {key: plausible(story, finding) for key, finding in story.open.items()}
    for listing in listed.values():
        story.meets("same finding twice in one entry", len(listing.items) > 1)
        _take(story, listing, stood, day)
    for item in entry.get("healed", []):
        for key in keys(item):
            # a sole that was measured and is thin has not healed, whoever says so
            story.meets("thin sole measured, TS listed healed", key in thin)
            if key not in thin:
                _healed(story, key, item, day)
    for key, finding in list(story.open.items()):
        passed_over = key[0] in entry.get("lifted", []) and key not in listed
        story.meets("silence leaves what holds", passed_over and finding.holds)
        # what does not hold is over once that foot went up and nobody named it
        if passed_over and not finding.holds:
            story.meets("silence ends what does not hold")
            del story.open[key]


def _listed(story: Story, entry: Entry) -> dict[Key, Listing]:
    listed: dict[Key, Listing] = {}
    for item in entry.get("findings", []):
        for key in keys(item):
            listing = listed.setdefault(key, Listing(key, [], row_of(story, key)))
            listing.items.append(item)
    return listed


def _measured_thin(story: Story, entry: Entry) -> list[Key]:
    return [
        key
        for measure in entry.get("measures", [])
        if measure.get("sole_mm", story.rules["sole.thin"]) < story.rules["sole.thin"]
        for key in keys(measure, "TS")
    ]


def _take(story: Story, listing: Listing, stood: dict[Key, int], day: int) -> None:
    """Take in what an entry lists of one finding."""
    foot, claw, _ = listing.key
    names = dict.fromkeys(item["was"] for item in listing.items if "was" in item)
    named = [story.open.get((foot, claw, name)) for name in names]
    story.meets("rename of what is not open", None in named)
    olds = [old for old in named if old is not None]
    kept = [old for old in olds if not _believed(story, old, listing, day)]
    for old in olds:
        # what holds and is called less is listed so low; what did not hold is called that only
        if old.holds:
            may_explain(story, old.key, True, day)
    for old in kept:
        # still there, and somebody has looked at it
        old.looks.append(day)
        open_long(story, old, day)
    # what is said of those is said of them alone; the other spots stand for themselves
    left = listing.standing_for({old.key[2] for old in kept})
    for old in olds:
        if old not in kept:
            _renamed(story, old, left, stood, day)
    if len(kept) == len(olds):
        story.meets("spot beside a rename that is not believed", bool(kept and left.items))
        known = story.open.get(listing.key)
        if known:
            _again(story, known, left if left.items else listing, stood, day)
        elif left.items:
            _new(story, left, day)
    now = story.open.get(listing.key)
    may_explain(story, listing.key, bool(now and now.holds), day)


def _new(story: Story, listing: Listing, day: int) -> None:
    grade = listing.worst(None)
    story.meets("new, severity not said", grade.severity is None)
    story.meets("new, DD of unknown stage", bool(listing.row.holds_stages) and grade.stage is None)
    finding = Open(
        listing.key,
        first=day,
        clock=day,
        clock_severity=counted(grade.severity),
        severity=grade.severity,
        stage=grade.stage,
        holds=listing.row.holds(*grade),
        said=listing.said,
        looks=[day],
    )
    lies_in(finding, listing, listing.zones_that_hold(None))
    stands(story, finding, day)


def _again(story: Story, finding: Open, listing: Listing, stood: dict[Key, int], day: int) -> None:
    """Found once more under the name that it has."""
    finding.looks.append(day)
    for corner in listing.not_kept(finding):
        story.meets(corner)
    grade, said_before = listing.worst(finding), finding.said
    holding = listing.zones_that_hold(finding)
    _said_on_its_first_day(finding, finding, grade, day)
    first_word = listing.said and not said_before and not listing.row.holds_stages
    story.meets("severity said later for the first time", first_word)
    story.meets("severity said, once said under another name", listing.said and said_before)
    finding.said = said_before or listing.said
    holds = listing.row.holds(*grade)
    if finding.holds and not holds and not _lowered(story, finding, listing, first_word, day):
        # looked at, no more: it stays as it was
        open_long(story, finding, day)
        return
    story.meets("holds as it did not before", holds and not finding.holds)
    # of dermatitis, a stage that it has come to
    came_to = finding.stage not in (None, grade.stage) and grade.stage in ("M2", "M4.1")
    story.meets("a later stage that holds", came_to and finding.holds)
    worse = counted(grade.severity) > counted(finding.severity)
    spread = finding.holds and finding.spreads_to(holding)
    story.meets("holds in another zone, too", spread)
    if came_to or worse or spread or (holds and not finding.holds):
        why = "worse" if worse else "in another zone" if spread else "holding or of a later stage"
        _begins_again(story, finding, grade, stood.get(finding.key, 0), day, why)
    finding.severity, finding.stage, finding.holds = grade.severity, grade.stage, holds
    lies_in(finding, listing, holding)
    stands(story, finding, day)


def _begins_again(
    story: Story, finding: Open, grade: Grade, stood: int, day: int, why: str
) -> None:
    """Its days count from ``day``, by how bad it is then.

    ``stood``: its plausible day before the entry.
    """
    floor = finding.floor
    finding.clock, finding.clock_severity = day, counted(grade.severity)
    if finding.holds:
        # slight days do not end what was severe any sooner
        finding.floor = max(floor, stood)
        later = finding.floor > floor and stood > plausible_by_clock(story, finding)
        story.meets(f"begins again {why}, no sooner healed", later)


def _lowered(story: Story, finding: Open, listing: Listing, first_word: bool, day: int) -> bool:
    """Whether what holds is believed to be so slight now that it would not; then it is clear."""
    if not listing.names_all(finding):
        story.meets("listed low in another zone" + ", said first" * first_word)
        unnamed = None in finding.zones and not listing.zones >= {None}
        story.meets("listed low, not in the zone that nobody named", unnamed)
        return False
    story.meets("listed low in the same zone", bool(finding.zones and listing.named_zones))
    both = None in finding.zones and bool(listing.named_zones)
    story.meets("listed low, in the zone that nobody named, too", both)
    # how bad it is, heard for the first time, is believed on any day; but no name that it had,
    # nothing that became one with it, and no clock that began again is got round in that way
    soonest = finding.floor if first_word else plausible(story, finding)
    spread = first_word and not finding.names and finding.clock > finding.first
    story.meets("said first to be slight, too soon after it spread", spread and day < soonest)
    story.meets("listed low, on its plausible day", day == soonest and not first_word)
    if day < soonest:
        story.meets("said first to be slight, too soon" if first_word else "listed low too soon")
        return False
    story.meets("taken at once: no longer holds" if first_word else "listed low in time")
    story.seen_clear.append(day)
    return True


def _said_on_its_first_day(finding: Open, before: Open, grade: Grade, day: int) -> None:
    # nobody had said how bad it is; said on the very day from which its days count, it was so then
    unheard = before.severity is None and not before.said
    if unheard and grade.severity is not None and day == before.clock:
        finding.clock_severity = grade.severity


def _renamed(story: Story, old: Open, listing: Listing, stood: dict[Key, int], day: int) -> None:
    """``old`` has the name of the listing from now on."""
    into = story.open.get(listing.key)
    grade = listing.worst(into)
    slight = into is not None and not into.holds and listing.row.holds(*grade)
    story.meets("renamed to a slight one, not said", slight and not listing.said)
    if old.holds and not listing.row.holds(*grade):
        story.seen_clear.append(day)
    if into:
        _become_one(story, old, into, listing, stood, day)
    else:
        _another_name(story, old, listing, grade, day)


def _believed(story: Story, old: Open, listing: Listing, day: int) -> bool:
    # what holds is not slight only because it is called what would not hold
    low = not listing.row.holds(*listing.worst(story.open.get(listing.key)))
    return not (old.holds and low) or _believed_low(story, old, listing, day)


def _believed_low(story: Story, old: Open, listing: Listing, day: int) -> bool:
    """Whether calling what holds by a name that would not is believed: as one listed so low."""
    # how bad it is must stand in the very item that gives the other name; of dermatitis its stage
    # does, for else it would hold
    said = bool(listing.row.holds_stages) or listing.renames(old.key[2], "severity")
    soon = day < plausible(story, old)
    story.meets("renamed low too soon", soon)
    story.meets("renamed low, not said", not soon and not said)
    story.meets("renamed low, another spot says", not soon and not said and listing.said)
    if soon or not said:
        return False
    story.meets("renamed low in another zone", not listing.names_all(old))
    story.meets("renamed low in every zone", bool(listing.named_zones) and listing.names_all(old))
    story.meets("renamed low in time", listing.names_all(old))
    return listing.names_all(old)


def _another_name(story: Story, old: Open, listing: Listing, grade: Grade, day: int) -> None:
    code, row = listing.key[2], listing.row
    del story.open[old.key]
    names = old.names_until_now()
    new = Open(
        listing.key,
        first=min(old.first, names.get(code, day)),
        clock=old.clock,
        clock_severity=old.clock_severity,
        severity=grade.severity,
        stage=grade.stage,
        holds=row.holds(*grade),
        said=old.said or listing.said,
        where=set(old.where),
        zones=set(old.zones),
        held_since=old.held_since,
        seen=old.seen,
        looks=[*old.looks, day],
        names=names,
        # no name is a shorter way to being healed
        floor=plausible(story, old) if old.holds else old.floor,
    )
    newly = new.holds and not old.holds
    holding = listing.zones_that_hold(None)
    spread = new.holds and old.spreads_to(holding)
    story.meets("renamed, holds in another zone, too", spread and not row.anew)
    if row.anew:
        story.meets(f"renamed to {code}")
        story.meets("renamed back to what begins anew", code in names)
        # a course of its own; under a name that it had before, that course has begun already
        new.first, new.looks, new.seen, new.where = names.get(code, day), [day], 0, set()
        new.clock, new.clock_severity = day, counted(grade.severity)
    elif newly or spread or counted(grade.severity) > counted(old.severity):
        new.clock, new.clock_severity = day, counted(grade.severity)
    else:
        _said_on_its_first_day(new, old, grade, day)
    story.meets("renamed, severity not said", grade.severity is None and new.holds)
    story.meets("renamed and newly holding", newly)
    story.meets("renamed, clock kept", new.holds and new.clock < day)
    lies_in(new, listing, holding)
    stands(story, new, day)


def _become_one(
    story: Story, old: Open, into: Open, listing: Listing, stood: dict[Key, int], day: int
) -> None:
    """``old`` is called what is open there already."""
    story.meets("renamed to a code that is open")
    del story.open[old.key]
    names = old.names_until_now()
    borne = names.get(into.key[2], day)
    story.meets("one with another, a name borne before", borne < min(into.first, old.first))
    into.first = min(into.first, old.first, borne)
    for name, since in names.items():
        into.names[name] = min(since, into.names.get(name, since))
    into.said = into.said or old.said
    if old.holds:
        own = stood.get(into.key, 0)
        floor = max(into.floor, stood.get(old.key, 0), own)
        story.meets("renamed to an open code, both held", into.holds)
        story.meets("renamed to an open code, it was put off", floor > own)
        into.floor = floor
        into.zones |= old.zones
    _again(story, into, listing, stood, day)
    if into.held_since is not None and old.held_since is not None:
        # it has held for as long as either has
        into.held_since = min(into.held_since, old.held_since)


def _healed(story: Story, key: Key, said: dict[str, Any], day: int) -> None:
    finding = story.open.get(key)
    # healing what is not there is kept and does nothing
    story.meets("healed what is not open", finding is None)
    if finding is None:
        return
    # healed may explain why he was lame, too
    may_explain(story, key, finding.holds, day)
    finding.looks.append(day)
    if finding.holds:
        # healed in time, even if not gone, ends it; too soon it is a look
        if day < plausible(story, finding):
            story.meets("healed too soon")
            return
        story.meets("healed on its plausible day", day == plausible(story, finding))
        story.meets("healed in time")
        story.meets("healed stable", said.get("stable", False))
        story.seen_clear.append(day)
    del story.open[key]
