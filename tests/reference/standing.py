"""How a finding stands among those that are open: until when, where, and whom it asks for."""

from __future__ import annotations

from .spots import Listing
from .state import Key, Open, Story, VetAsk, Zone
from .values import Finding, counted


def row_of(story: Story, key: Key) -> Finding:
    row: Finding = story.rules["findings"][key[2]]
    return row


def plausible(story: Story, finding: Open) -> int:
    return finding.plausible(row_of(story, finding.key), story.rules["clear.after_open"])


def plausible_by_clock(story: Story, finding: Open) -> int:
    """The day to which its clock alone counts."""
    return finding.clock + row_of(story, finding.key).clear[finding.clock_severity - 1]


def may_explain(story: Story, key: Key, held: bool, day: int) -> None:
    # this could be why he is lame: it holds, or its kind does at a moderate degree
    if held or row_of(story, key).holds_when_moderate:
        story.could_hold.append((day, key[0]))


def lies_in(finding: Open, listing: Listing, holding: set[Zone]) -> None:
    """Keep where a finding lies, and in which of those zones it holds."""
    if finding.holds:
        # silence about a zone is no look at it
        finding.where = finding.where | listing.named_zones
        finding.zones = finding.zones | holding
    else:
        finding.where = listing.named_zones or finding.where
        finding.zones = set()


def stands(story: Story, finding: Open, day: int) -> None:
    """Keep a finding as open, and ask for the vet where the table does."""
    row = row_of(story, finding.key)
    story.open[finding.key] = finding
    if finding.holds:
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
    open_long(story, finding, day)


def open_long(story: Story, finding: Open, day: int) -> None:
    # foul, swelling and toe lesions still there after their days: every time they are found
    row = row_of(story, finding.key)
    if row.vet_open and day >= finding.first + row.vet_open:
        story.meets("open long after it was found")
        story.vet_asks.append(VetAsk(day, finding))
