"""What is known of a bull before anything is said of him today: what there is to ask."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from readiness.card import Card
from readiness.crush.slip import Slip
from readiness.finding import claws_of
from readiness.rules.model import ConditionScale, MobilityScale
from readiness.shorthand import Scales
from readiness.trade.codes import finding_words
from readiness.trade.feet import spot_words
from readiness.trade.words import day_words


@dataclass(frozen=True, slots=True)
class Open:
    """A finding that is open. ``words``: "sole ulcer, moderate, RH outer, open since 2 Mar"."""

    foot: str
    claw: str
    code: str
    severity: int | None
    staged: bool
    holds: bool
    words: str


@dataclass(frozen=True, slots=True)
class Standing:
    """``blocks``: (foot, claw) of each block that is on. ``limb``: the one he is lame on."""

    walk: MobilityScale
    condition: ConditionScale
    open: tuple[Open, ...] = ()
    blocks: tuple[tuple[str, str], ...] = ()
    limb: str | None = None
    wanted: tuple[tuple[str, str], ...] = ()
    """(kind of entry, its word) of what is asked for today beside his feet."""

    @property
    def scales(self) -> Scales:
        return Scales(self.walk.id, self.condition.id)

    def unanswered(self, slip: Slip) -> list[Open]:
        """The findings that hold him on feet that were lifted, of which nothing is said yet:
        silence clears nothing."""
        return [
            found
            for found in self.open
            if found.holds
            and found.foot in slip.lifted
            and not slip.speaks_of(found.foot, found.claw, found.code)
        ]

    def known(self, foot: str, claw: str, code: str) -> Open | None:
        """This finding, where it is open; of both claws the worse."""
        claws = claws_of(claw)
        there = [f for f in self.open if (f.foot, f.code) == (foot, code) and f.claw in claws]
        return max(there, key=lambda f: (f.holds, f.severity or 0), default=None)


_ANSWERED_BY = {
    "mobility": ("mobility", "walk"),
    "walk-again": ("mobility", "walk"),
    "condition": ("condition", "condition"),
    "condition-again": ("condition", "condition"),
}


def _wanted(card: Card, on: int) -> Iterator[tuple[str, str]]:
    for check in card.assessment.outstanding:
        if check.check in _ANSWERED_BY and check.not_before <= on:
            yield _ANSWERED_BY[check.check]


def standing(card: Card, today: date) -> Standing:
    """How a bull stands on a day, from his card."""
    rules, state = card.rules, card.state
    found = sorted(state.feet.open.values(), key=lambda f: (not f.holds, f.first, f.key))
    return Standing(
        walk=rules.mobility[rules.default_mobility],
        condition=rules.condition[rules.default_condition],
        open=tuple(
            Open(
                foot=each.foot,
                claw=each.claw,
                code=each.code,
                severity=each.severity,
                staged=bool(rules.findings[each.code].holds_stages),
                holds=each.holds,
                words=(
                    f"{finding_words(each.code, each.severity, each.stage)}, "
                    f"{spot_words(each.foot, each.claw)}, open since "
                    f"{day_words(date.fromordinal(each.first), today)}"
                ),
            )
            for each in found
        ),
        blocks=tuple(state.blocks),
        limb=state.run.limb if state.run else None,
        wanted=tuple(dict.fromkeys(_wanted(card, today.toordinal()))),
    )
