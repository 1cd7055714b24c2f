"""The reasons to hold: what is true of him today, in the order in which a person asks."""

from __future__ import annotations

from collections.abc import Iterator

from readiness.engine import say
from readiness.engine.bull_checks import in_quarantine, own_checks
from readiness.engine.feet_checks import named
from readiness.engine.plan import Plan
from readiness.engine.results import Remark
from readiness.findings import Finding
from readiness.history import History
from readiness.rules.model import Rules


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


def reasons(state: History, plans: list[Plan], on: int) -> tuple[Remark, ...]:
    """Every reason that stands on day ``on``; ``plans`` are the outstanding checks."""
    return tuple(
        [
            *_lame(state, on),
            *_findings(state, on),
            *_blocks(state, on),
            *_exam(state, on),
            *_asked(state, plans, on),
            *_condition(state, on),
            *_rest(state, on),
        ]
    )


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


def _exam(state: History, on: int) -> Iterator[Remark]:
    exam = state.exam
    if exam is not None and exam.outcome != "satisfactory":
        text = f"vet: {exam.outcome} on {say.day(exam.day, on)}"
        yield remark(state.rules, "vet.required", text, since=exam.day)


def _asked(state: History, plans: list[Plan], on: int) -> Iterator[Remark]:
    for plan in plans:
        if plan.check == "lift":
            since = f", asked for {say.day(plan.since, on)}" if plan.since else ""
            text = f"lift {say.listed(plan.feet)}{since}, not done"
            foot = plan.feet[0] if len(plan.feet) == 1 else None
            yield remark(state.rules, plan.rule, text, foot=foot, since=plan.since)
        elif plan.check == "vet-look":
            yield remark(state.rules, plan.rule, plan.text, since=plan.since)


def _condition(state: History, on: int) -> Iterator[Remark]:
    last = state.condition
    if last is not None and last.outside:
        low, high = state.rules.condition[last.scale].hold
        text = (
            f"condition {last.score:g} ({last.scale}) on {say.day(last.day, on)}, "
            f"outside {low:g} to {high:g}"
        )
        yield remark(state.rules, f"condition.hold.{last.scale}", text, since=last.day)


def _rest(state: History, on: int) -> Iterator[Remark]:
    if in_quarantine(state, on):
        until = say.day(state.arrived.day + state.rules.limits.quarantine_days, on)
        yield remark(
            state.rules, "quarantine.days", f"in quarantine until {until}", since=state.arrived.day
        )
    for own in own_checks(state):
        results = state.checks.get(own.name)
        if results and not results[-1][1]:
            day = results[-1][0]
            yield remark(
                state.rules,
                f"check.{own.name}",
                f"{own.name}: failed on {say.day(day, on)}",
                since=day,
            )
