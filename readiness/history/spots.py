"""The spots of one finding that a lift lists: of several the worst stands for all."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from readiness.history.finding import Finding, weight
from readiness.rules.model import FindingRule, Rules
from readiness.trade.codes import SOUND_STAGE, STAGES, UNNAMED

Item = Mapping[str, Any]
"""What a lift says of one spot, as an entry writes it."""


class Spot(NamedTuple):
    """What one lift says of one finding. ``severity`` and ``stage``: those that stand after it,
    said or kept; ``graded``: whether what decides that it holds was said by this lift. ``named``:
    every zone that was named, None for a spot beside others of which none was; ``held``: those of
    the spots that hold him."""

    severity: int | None
    stage: str | None
    graded: bool
    holds: bool
    zone: int | None
    size_mm: float | None
    named: frozenset[int | None] = frozenset()
    held: frozenset[int | None] = frozenset()

    def passes_over(self, zones: frozenset[int | None]) -> bool:
        """Whether it speaks of some zones, and not of all of these. What names no zone speaks of
        every one."""
        return bool(self.named - {None}) and not zones <= self.named

    def spreads(self, zones: frozenset[int | None]) -> bool:
        """Whether it holds him in a zone in which it did not hold before."""
        return bool(zones) and None not in zones and not self.held - {None} <= zones


def worst(rules: Rules, rule: FindingRule, prior: Finding | None, items: Sequence[Item]) -> Spot:
    """What a lift says of one finding: its spots as one. ``prior``: the finding as it was open
    before, None where it was not. ``items``: at least one."""
    severity, stage = _kept(rules, rule, prior, items)
    spots = [_spot(rule, item, severity, stage) for item in items]

    def badness(spot: Spot) -> tuple[bool, int, bool, int]:
        """Of two that count alike, the one of which something was said."""
        stage_order = STAGES.index(spot.stage) if spot.stage else -1
        counts = weight(spot.severity, rules)
        return spot.holds, counts, spot.severity is not None, stage_order

    bad = max(spots, key=badness)
    alone = {None} if len(spots) == 1 else set()  # the only one there is needs no zone
    return bad._replace(
        graded=any(spot.graded for spot in spots),
        zone=next((spot.zone for spot in (bad, *spots) if spot.zone is not None), None),
        size_mm=next((spot.size_mm for spot in (bad, *spots) if spot.size_mm is not None), None),
        named=frozenset(spot.zone for spot in spots) - alone,
        held=frozenset(spot.zone for spot in spots if spot.holds) - alone,
    )


def graded(rule: FindingRule, item: Item) -> bool:
    """Whether a lift says that by which this finding holds or does not."""
    return ("stage" if rule.holds_stages else "severity") in item


def _kept(
    rules: Rules, rule: FindingRule, prior: Finding | None, items: Sequence[Item]
) -> tuple[int | None, str | None]:
    """(severity, stage) of a spot of which they are not said: as before. Of several spots, of one
    in another zone or of another name, and of what has no name of its own, nobody knows whether it
    was graded before: the slight one was not it."""
    if prior is None:
        return None, None
    severity, stage = prior.severity, prior.stage
    zone = items[0].get("zone")
    elsewhere = bool(prior.listed) and zone is not None and zone not in prior.listed
    another = len(items) > 1 or elsewhere or rule.code == UNNAMED
    slight = not rule.holds(severity, None) or (severity or 0) < weight(None, rules)
    if slight and (another or "was" in items[0]):
        severity = None
    if another and not rule.holds(None, stage):
        stage = None
    return severity, stage


def _spot(rule: FindingRule, item: Item, severity: int | None, stage: str | None) -> Spot:
    """``severity``, ``stage``: those kept where the item does not say them. What was found is in no
    stage without a lesion, what had another name in none that is known; and graded without its
    stage, it is in none that is known to be mild."""
    mild = "severity" in item and not rule.holds(None, stage)
    if stage == SOUND_STAGE or "was" in item or mild:
        stage = None
    severity, stage = item.get("severity") or severity, item.get("stage") or stage
    return Spot(
        severity,
        stage,
        graded(rule, item),
        rule.holds(severity, stage),
        item.get("zone"),
        item.get("size_mm"),
    )
