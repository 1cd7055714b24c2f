"""What is known of a bull before anything is said of him today: what there is to ask."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from datetime import date

from readiness.crush.slip import Slip
from readiness.herd.card import Card
from readiness.history.finding import Finding, claws_of
from readiness.rules.model import ConditionScale, MobilityScale, Rules
from readiness.shorthand import Scales
from readiness.trade.codes import finding_words, severity_words
from readiness.trade.feet import spot_words
from readiness.trade.words import day_words


@dataclass(frozen=True, slots=True)
class Open:
    """A finding that is open. ``severity``: None where it was never said. ``words``: "sole ulcer,
    moderate, RH outer, open since 2 Mar"."""

    foot: str
    claw: str
    code: str
    severity: int | None
    staged: bool
    holds: bool
    words: str


@dataclass(frozen=True, slots=True)
class Before:
    """``blocks``: (foot, claw) of each block that is on. ``wraps``: foot → the day (ordinal) of the
    wrap that is on it. ``wrong``: (part, limb) of what is wrong with him beside his feet."""

    walk: MobilityScale
    condition: ConditionScale
    open: tuple[Open, ...] = ()
    blocks: tuple[tuple[str, str], ...] = ()
    wraps: Mapping[str, int] = field(default_factory=dict)
    wrong: tuple[tuple[str, str | None], ...] = ()
    wanted: tuple[tuple[str, str], ...] = ()
    """(kind of entry, its word) of what is asked for today beside his feet."""
    grades: Mapping[str, bool] = field(default_factory=dict)
    """The codes of which it matters how severe a finding is, each with whether one that does not
    say so holds him."""

    @property
    def scales(self) -> Scales:
        return Scales(self.walk.id, self.condition.id)

    def unanswered(self, slip: Slip, feet: Collection[str] = ()) -> list[Open]:
        """The findings that hold him on these feet (none: on those lifted), of which nothing is
        said yet: silence clears nothing."""
        return [
            found
            for found in self.open
            if found.holds
            and found.foot in (feet or slip.lifted)
            and not slip.speaks_of(found.foot, found.claw, found.code)
        ]

    def known(self, foot: str, claw: str, code: str) -> Open | None:
        """This finding, where it is open; of both claws the worse."""
        claws = claws_of(claw)
        there = [f for f in self.open if (f.foot, f.code) == (foot, code) and f.claw in claws]
        return max(there, key=lambda f: (f.holds, f.severity or 0), default=None)


def grades(rules: Rules) -> dict[str, bool]:
    """What ``Before.grades`` says, by the rules in force: it matters where holding, the vet's look
    or the days until healed depend on the severity."""
    return {
        code: rule.holds_from > 0 and not rule.holds_stages
        for code, rule in rules.findings.items()
        if rule.holds_from > 1 or rule.vet_from > 1 or len(set(rule.clear)) > 1
    }


_ANSWERED_BY = {
    "mobility": ("mobility", "walk"),
    "walk-again": ("mobility", "walk"),
    "condition": ("condition", "condition"),
    "condition-again": ("condition", "condition"),
}


def before_of(card: Card, today: date) -> Before:
    """How a bull stands on a day, from his card."""
    rules, state = card.rules, card.state
    found = sorted(state.feet.open.values(), key=lambda f: (not f.holds, f.first, f.key))
    matters = grades(rules)
    due = (c.check for c in card.assessment.outstanding if c.not_before <= today.toordinal())
    return Before(
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
                words=_open_words(each, each.code in matters, today),
            )
            for each in found
        ),
        blocks=tuple(state.blocks),
        wraps={foot: wrap.day for foot, wrap in state.wraps.items()},
        wrong=tuple(state.body),
        wanted=tuple(dict.fromkeys(_ANSWERED_BY[c] for c in due if c in _ANSWERED_BY)),
        grades=matters,
    )


def _open_words(found: Finding, severity_matters: bool, today: date) -> str:
    what = finding_words(found.code, found.severity, found.stage)
    if severity_matters and found.severity is None:
        what += f", {severity_words(None)}"
    since = day_words(date.fromordinal(found.first), today)
    return f"{what}, {spot_words(found.foot, found.claw)}, open since {since}"
