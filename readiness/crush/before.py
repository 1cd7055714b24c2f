"""What is known of a bull before anything is said of him today: what there is to ask, how bad what
is open is, what there is to do and what was done last."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from typing import NamedTuple

from readiness.crush.slip import WRAPS, Content, Slip
from readiness.engine.results import Assessment, Check
from readiness.engine.say import UNSAID_HOLDS, early
from readiness.engine.say import found as said_found
from readiness.herd.card import Card
from readiness.herd.done import Done, feet_left
from readiness.history.finding import Finding, claws_of
from readiness.rules.model import ConditionScale, MobilityScale, Rules
from readiness.shorthand import Scales, words
from readiness.trade.codes import finding_words, severity_words
from readiness.trade.feet import spot_words
from readiness.trade.words import column_day as day
from readiness.trade.words import day_words, sentence


@dataclass(frozen=True, slots=True)
class Open:
    """A finding that is open. ``severity``, ``zone``, ``stage``: None where they were never said.
    ``words``: "sole ulcer, moderate, RH outer, open since 2 Mar"."""

    foot: str
    claw: str
    code: str
    severity: int | None
    staged: bool
    holds: bool
    words: str
    zone: int | None = None
    stage: str | None = None


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
    feet: tuple[str, ...] = ()
    """The feet that he is asked for today."""
    grades: Mapping[str, bool] = field(default_factory=dict)
    """The codes of which it matters how severe a finding is, each with whether one that does not
    say so holds him."""
    on: date | None = None
    """The day on which he stands so, where that is known."""

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
        on=today,
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
                words=_open_words(each, rules, today),
                zone=each.zone,
                stage=each.stage,
            )
            for each in found
        ),
        blocks=tuple(state.blocks),
        wraps={foot: wrap.day for foot, wrap in state.wraps.items()},
        wrong=tuple(state.body),
        wanted=tuple(dict.fromkeys(_ANSWERED_BY[c] for c in due if c in _ANSWERED_BY)),
        feet=tuple(feet_left(card.assessment, today.toordinal(), Done())),
        grades=matters,
    )


def _open_words(found: Finding, rules: Rules, today: date) -> str:
    what = finding_words(found.code, found.severity, found.stage)
    if found.code in grades(rules) and found.severity is None:
        what += f", {severity_words(None)}"
    since = day_words(date.fromordinal(found.first), today)
    words = f"{what}, {spot_words(found.foot, found.claw)}, open since {since}"
    last = early(found, bool(rules.findings[found.code].holds_stages), today)
    return f"{words} ({last})" if last else words


# ---- how bad a finding is: a severity not said is not a slight one -------------------------------


def severity_of(before: Before, found: Content) -> int | None:
    """As this item says; else as it was, if it has its old name; of both claws the worse. None
    where of a claw it was never said."""
    said: int | None = found.get("severity")
    if said or "was" in found:
        return said
    places = ((found["foot"], claw, found["code"]) for claw in claws_of(found["claw"]))
    known = [before.known(*place) for place in places]
    severities = [each.severity if each else None for each in known]
    return None if None in severities else max(filter(None, severities))


def asked(before: Before, found: Content) -> bool:
    """Whether it matters how bad this one is and nobody has said so yet."""
    return found["code"] in before.grades and severity_of(before, found) is None


def how(before: Before, found: Content) -> str:
    """How bad it is, in words; empty where that is not said and does not matter."""
    severity = severity_of(before, found)
    if severity is None and found["code"] not in before.grades:
        return ""
    holds = severity is None and before.grades[found["code"]]
    return UNSAID_HOLDS if holds else severity_words(severity)


def unsaid(before: Before, slip: Slip) -> list[str]:
    """A line for each finding on the slip whose severity matters and is not said."""
    return [
        f"{said_found(found['code'], found['foot'], claw)}: {how(before, found)}"
        for said in slip.all_of("feet")
        for found in said.get("findings", ())
        if asked(before, found)
        for claw in claws_of(found["claw"])
        if severity_of(before, {**found, "claw": claw}) is None
    ]


def ending(before: Before, slip: Slip, in_hand: str = "") -> list[str]:
    """A line for each finding that holds nobody, and each wrap, that ends with this lift, since
    nothing is said of it; not yet of the foot ``in_hand``."""
    wraps = [
        f"wrap on {foot} counts as off, since {foot} was lifted"
        for foot, since in before.wraps.items()
        if foot != in_hand
        and not {*slip.acts(foot)}.intersection(WRAPS)
        and slip.unwraps(foot, since)
    ]
    return wraps + [
        f"not spoken of, so it ends: {found.words}"
        for found in before.open
        if not found.holds
        and found.foot in slip.lifted
        and found.foot != in_hand
        and not slip.speaks_of(found.foot, found.claw, found.code)
    ]


def without_asked(before: Before, slip: Slip, in_hand: tuple[str, str]) -> Slip:
    """Without the findings on this foot and claw of which it may yet be said how bad they are."""

    def kept(content: Content) -> Content:
        findings = [
            found
            for found in content.get("findings", ())
            if (found["foot"], found["claw"]) != in_hand or not asked(before, found)
        ]
        return {**content, "findings": findings} if "findings" in content else content

    return replace(slip, contents=tuple(map(kept, slip.contents)))


# ---- what there is to do, and what was done last -------------------------------------------------


class Task(NamedTuple):
    """One thing that can be done today. ``late``: it is overdue."""

    words: str
    late: bool


def tasks(bull: Assessment, on: int) -> list[Task]:
    """What can be done today, the most pressing first; the vet's own last."""
    open_today = [check for check in bull.outstanding if check.not_before <= on]
    open_today.sort(key=lambda c: (c.who == "vet", not c.overdue, c.last_day))
    return [Task(_task_words(check, on), check.overdue) for check in open_today]


def _task_words(check: Check, on: int) -> str:
    if check.overdue and check.due is not None:
        return f"{check.text} (was due {day(check.due, on)})"
    if not check.has_last_day:
        return check.text
    return f"{check.text} (by {day(check.plan_by, on)})"


def blocks_to_stay(card: Card, on: int) -> list[str]:
    """The blocks that are on and not due to come off yet."""
    found = []
    for check in card.assessment.outstanding:
        if check.check == "block-off" and check.not_before > on:
            spot = spot_words(check.foot or "", check.claw)
            found.append(f"block on {spot} stays until {day(check.not_before, on)}")
    return found


def advised(card: Card) -> list[str]:
    """The looks that are advised at what holds nobody."""
    looks = (f"finding.{each.code}.advise_look" for each in card.state.feet.open.values())
    rules = {"look.slack", *looks}
    return [each.text for each in card.assessment.advice if each.rule in rules]


def wraps_on(card: Card, on: int) -> list[str]:
    """The wraps that are on, since when and until when at the longest."""
    due = {c.foot: c.due for c in card.assessment.outstanding if c.check == "wrap-off"}
    found = []
    for wrap in card.state.wraps.values():
        last = due.get(wrap.foot)
        off = f", off by {day(last, on)}" if last is not None else ""
        found.append(f"wrap on {wrap.foot} since {day(wrap.day, on)}{off}: no walk counts on it")
    return found


def last_visit(card: Card, on: int) -> str:
    """When his feet were last lifted and what was seen; empty where they never were."""
    lifts = (each for each in card.entries if each.kind == "feet" and each.body["lifted"])
    last = next((lift for lift in lifts if lift.day <= on), None)
    if last is None:
        return ""
    when = day_words(date.fromordinal(last.day), date.fromordinal(on))
    by = f" ({last.body['by']})" if last.body.get("by") else ""
    return sentence(f"last lifted {when}{by}: {words(last.body)}")
