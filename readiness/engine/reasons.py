"""The reasons to hold: what is true of him today, in the order in which a person asks."""

from __future__ import annotations

from collections.abc import Iterator

from readiness.engine import say
from readiness.engine.bull_checks import (
    birthday,
    doubtful_figures,
    in_quarantine,
    old_enough,
)
from readiness.engine.feet_checks import named
from readiness.engine.own import failed, own_checks
from readiness.engine.plan import Case, Plan
from readiness.engine.results import Remark
from readiness.history import History
from readiness.history.finding import Finding
from readiness.rules.model import Rules
from readiness.trade.body import ABOUT, part_words
from readiness.trade.checks import SHORT
from readiness.trade.scales import score_words

NOTED = "out.told"
"""The rule of the one remark among the reasons that holds nobody: why he was let out."""


def sourced(rules: Rules, rule: str) -> tuple[str, str]:
    """(standing, source) of a rule."""
    value = rules.values[rule]
    return value.standing, value.source


def remark(rules: Rules, rule: str, text: str, **place: str | int | None) -> Remark:
    standing, source = sourced(rules, rule)
    return Remark(rule, text, standing=standing, source=source, **place)  # type: ignore[arg-type]


def holds_rule(finding: Finding, rules: Rules) -> str:
    staged = bool(rules.findings[finding.code].holds_stages)
    return f"finding.{finding.code}.{'holds_stages' if staged else 'holds_from'}"


def reasons(case: Case, plans: list[Plan]) -> tuple[Remark, ...]:
    """Every reason that stands on the case's day; ``plans`` are the outstanding checks."""
    state, on = case.state, case.on
    found = [
        *_at_odds(state),
        *_went_without(state, plans),
        *_lame(state, on),
        *_findings(state, on),
        *_body(state, on),
        *_blocks(state, on),
        *_vet(state, on),
        *_asked(state, plans, on),
        *_condition(state, on),
        *_rest(case),
    ]
    return (*found, *_noted(case)) if found else ()


def _lame(state: History, on: int) -> Iterator[Remark]:
    run = state.run
    if run is not None:
        limb = f" {run.limb}" if run.limb else ""
        scale = state.walk.scale if state.walk else state.rules.default_mobility
        text = f"lame{limb} since {say.day(run.first, on)}"
        yield remark(state.rules, f"mobility.lame.{scale}", text, foot=run.limb, since=run.first)


def _findings(state: History, on: int) -> Iterator[Remark]:
    rules = state.rules
    for finding in sorted(state.feet.open.values(), key=lambda f: (f.first, f.key)):
        if finding.holds:
            staged = bool(rules.findings[finding.code].holds_stages)
            how = say.grade(finding.severity, finding.stage, staged)
            yield remark(
                rules,
                holds_rule(finding, rules),
                f"{named(finding, rules)}, {how}, open since {say.day(finding.first, on)}",
                foot=finding.foot, claw=finding.claw, code=finding.code, since=finding.first,
            )  # fmt: skip


def _blocks(state: History, on: int) -> Iterator[Remark]:
    for block in state.blocks.values():
        text = f"block on {say.place(block.foot, block.claw)} since {say.day(block.day, on)}"
        yield remark(
            state.rules, "block.least", text, foot=block.foot, claw=block.claw, since=block.day
        )

    for wrap in state.wraps.values():
        text = f"wrap on {wrap.foot} since {say.day(wrap.day, on)}"
        yield remark(state.rules, "wrap.most", text, foot=wrap.foot, since=wrap.day)


def _body(state: History, on: int) -> Iterator[Remark]:
    for found in state.body.values():
        where = part_words(found.part, found.limb)
        text = f"{where} wrong since {say.day(found.day, on)}: the vet decides"
        yield remark(state.rules, "vet.look", text, foot=found.limb, since=found.day)


def _vet(state: History, on: int) -> Iterator[Remark]:
    exam = state.exam
    if exam is not None:
        day = say.day(exam.day, on)
        if exam.outcome != "satisfactory":
            text = f"vet: {exam.outcome} on {day}"
            yield remark(state.rules, "vet.required", text, since=exam.day)
        for figure in doubtful_figures(state):
            text = f"{figure.text}, passed on {day}: held until the vet stands by it"
            yield remark(state.rules, figure.rule, text, since=exam.day)
    for look in state.unfit:
        where = part_words(look.part, look.limb) if look.part else look.foot
        about = f"{ABOUT[look.about]}{f' ({where})' if where else ''}"
        text = f"vet looked at {about} on {say.day(look.day, on)}: unfit"
        limb = look.foot or look.limb
        yield remark(state.rules, "vet.required", text, foot=limb, since=look.day)


def _asked(state: History, plans: list[Plan], on: int) -> Iterator[Remark]:
    for plan in plans:
        if plan.check == "lift":
            since = f", asked for {say.day(plan.since, on)}" if plan.since else ""
            text = f"lift {say.listed(plan.feet)}{since}, not done"
            foot = plan.feet[0] if len(plan.feet) == 1 else None
            yield remark(state.rules, plan.rule, text, foot=foot, since=plan.since)
        elif plan.check in ("vet-look", "vet-again"):
            yield remark(state.rules, plan.rule, plan.text, since=plan.since)


def _condition(state: History, on: int) -> Iterator[Remark]:
    last = state.condition
    if last is not None and last.outside:
        low, high = state.rules.condition[last.scale].hold
        text = (
            f"condition {score_words(last.score, last.scale)} on {say.day(last.day, on)}, "
            f"outside {low:g} to {high:g}"
        )
        yield remark(state.rules, f"condition.hold.{last.scale}", text, since=last.day)


def _rest(case: Case) -> Iterator[Remark]:
    state, on = case.state, case.on
    if in_quarantine(state, on):
        until = say.day(state.apart.day + state.rules.limits.quarantine_days, on)
        yield remark(
            state.rules, "quarantine.days", f"in quarantine until {until}", since=state.apart.day
        )
    old = old_enough(state)
    if old is not None and (on if case.turnout is None else case.turnout) < old:
        months = case.limits.age_least
        text = f"too young, under {months} months until {say.day(old, on)}"
        if birthday(state) is None and state.birth:
            text = f"{text} at the latest (born {state.birth.words})"
        yield remark(state.rules, "age.least", text, since=birthday(state))
    if state.ill:
        text = f"ill on {say.day(state.ill.day, on)}, and no vet has said that he is fit"
        yield remark(state.rules, "illness.settle", text, since=state.ill.day)
    if not_for_heifers(case):
        text = "not safe with heifers, and in a group of them"
        yield remark(state.rules, "heifers.safe", text, since=state.joined.day)
    for own in own_checks(state):
        if last := failed(state, own.name):
            text = f"{own.name}: failed on {say.day(last.day, on)}"
            yield remark(state.rules, f"check.{own.name}", text, since=last.day)


def not_booked(state: History) -> bool:
    """Whether his booking was taken back by somebody while entries speak of him: only copies of a
    book that were put together can say so, and a person has to say which of the two is right."""
    return bool(state.unbooked.day) and state.rules.limits.booking_stands


def at_odds(state: History) -> bool:
    """Whether copies of a book that were put together say otherwise of him what cannot both be."""
    return bool(state.at_odds) and state.rules.limits.copies_agree


def _at_odds(state: History) -> Iterator[Remark]:
    if at_odds(state):
        for text in state.at_odds:
            yield remark(state.rules, "copies.agree", text)
    elif not_booked(state):
        text = "booking taken back, but entries speak of him: book him again, or take those back"
        yield remark(state.rules, "booking.stands", text, since=state.unbooked.day)


def not_for_heifers(case: Case) -> bool:
    """Whether he is in a group of heifers and somebody said that he is not safe with them."""
    said = case.state.profile.get("heifer_safe")
    return case.heifers and said is False and case.limits.heifers_safe


def _went_without(state: History, plans: list[Plan]) -> Iterator[Remark]:
    """Going out clears nothing: what he lacked on that day he lacks until somebody has looked."""
    missing = [plan for plan in plans if plan.check in state.owed]
    if missing:
        names = ", ".join(SHORT.get(plan.check, plan.check) for plan in missing)
        yield remark(
            state.rules, missing[0].rule, f"went out without: {names}", since=state.out.day
        )


def _noted(case: Case) -> Iterator[Remark]:
    """Why he was let out, as it was noted then. It holds nobody: it stands behind what does."""
    state = case.state
    if state.out_note and case.limits.out_told:
        text = f"let out on {say.day(state.out.day, case.on)}, noted: {state.out_note}"
        yield remark(state.rules, NOTED, text, since=state.out.day)
