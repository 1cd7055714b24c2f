"""Advice: worth a person's thought, and never a reason to hold."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from readiness.engine import say
from readiness.engine.feet_checks import named, wrong_block
from readiness.engine.plan import Case, Plan
from readiness.engine.reasons import remark
from readiness.engine.results import Remark
from readiness.engine.vet import past_vet_asks
from readiness.records import LameRun
from readiness.trade.codes import SOUND_STAGE

WEEK = 7


def advice(case: Case, plans: list[Plan]) -> tuple[Remark, ...]:
    """What to think about today; ``plans`` are the outstanding checks."""
    return tuple(
        [
            *_scores(case),
            *_advised_days(case, plans),
            *_feet(case),
            *_blocks(case),
            *_heavy(case),
            *_vet(case),
            *_form(case),
            *_transport(case),
        ]
    )


def _scores(case: Case) -> Iterator[Remark]:
    state = case.state
    rules, walk, condition = state.rules, state.walk, state.condition
    if walk is not None and not walk.lame and walk.score == rules.mobility[walk.scale].advise:
        text = (
            f"walk {walk.score} ({walk.scale}) on {say.day(walk.day, case.on)}: watch how he goes"
        )
        yield remark(rules, f"mobility.advise.{walk.scale}", text, since=walk.day)
    if condition is not None:
        low, high = rules.condition[condition.scale].target
        if not low <= condition.score <= high:
            text = f"condition {condition.score:g} ({condition.scale}), target {low:g} to {high:g}"
            yield remark(rules, f"condition.target.{condition.scale}", text, since=condition.day)


def _advised_days(case: Case, plans: list[Plan]) -> Iterator[Remark]:
    for plan in plans:
        if plan.advised_by is not None and plan.advised_by < case.on:
            rule = "feet.advised" if plan.check == "feet" else "vet.advised"
            text = f"{plan.text}: advised by {say.day(plan.advised_by, case.on)}"
            yield remark(case.state.rules, rule, text, since=plan.advised_by)
    trim, promised = case.state.trim, case.promised
    if trim and promised is not None and trim.day > promised - case.limits.feet_due:
        text = f"trimmed on {say.day(trim.day, case.on)}, in the week before turnout"
        yield remark(case.state.rules, "feet.due", text, since=trim.day)


def _feet(case: Case) -> Iterator[Remark]:
    state, rules = case.state, case.state.rules
    for finding in state.feet.open.values():
        days = rules.findings[finding.code].advise_look
        if days and not finding.holds and finding.stage != SOUND_STAGE:
            on = say.day(finding.looked + days, case.on)
            yield remark(
                rules, f"finding.{finding.code}.advise_look",
                f"look at {named(finding, rules)} about {on}",
                foot=finding.foot, claw=finding.claw, code=finding.code, since=finding.first,
            )  # fmt: skip
    for (foot, claw, what), (day, mm) in sorted(state.measures.items()):
        if what == "sole_mm" and mm < case.limits.sole_thin:
            text = f"thin sole {say.place(foot, claw)}: {mm:g} mm on {say.day(day, case.on)}"
            yield remark(rules, "sole.thin", text, foot=foot, claw=claw, since=day)


def _blocks(case: Case) -> Iterator[Remark]:
    state, rules = case.state, case.state.rules
    for block in state.blocks.values():
        open_here = [
            f for f in state.feet.open.values() if (f.foot, f.claw) == (block.foot, block.claw)
        ]
        if wrong_block(state, block) or open_here:
            where = say.place(block.foot, block.claw)
            text = f"block on {where}, which carries a finding: take it off"
            yield remark(
                rules, "block.wrong", text, foot=block.foot, claw=block.claw, since=block.day
            )
    for block in state.block_off.values():
        hurting = any(f.holds and f.foot == block.foot for f in state.feet.open.values())
        if block.lost and (hurting or state.last_lift(block.foot) < block.day):
            text = (
                f"block lost {say.place(block.foot, block.claw)} by {say.day(block.day, case.on)}: "
                "fit again?"
            )
            yield remark(
                rules, "block.least", text, foot=block.foot, claw=block.claw, since=block.day
            )


def _heavy(case: Case) -> Iterator[Remark]:
    state, rules = case.state, case.state.rules
    if state.weight is None or state.weight[1] < case.limits.heavy_kg:
        return
    blocked = {foot for foot, _ in state.blocks}
    for finding in state.feet.open.values():
        slight = finding.severity == 1 and rules.findings[finding.code].claw == "claw"
        if slight and not rules.findings[finding.code].never_holds and finding.foot not in blocked:
            text = (
                f"{say.number(state.weight[1])} kg with a slight {named(finding, rules)}: "
                "consider a block on the sound claw"
            )
            yield remark(
                rules, "heavy.kg", text,
                foot=finding.foot, claw=finding.claw, code=finding.code, since=finding.first,
            )  # fmt: skip


def _vet(case: Case) -> Iterator[Remark]:
    state, limits, on = case.state, case.limits, case.on
    if state.illness and on < state.illness.day + limits.vet_after_illness:
        until = say.day(state.illness.day + limits.vet_after_illness, on)
        text = f"ill on {say.day(state.illness.day, on)}: ask the vet; one sperm cycle ends {until}"
        yield remark(state.rules, "vet.after_illness", text, since=state.illness.day)
    exam = state.exam
    if exam is not None and exam.outcome == "satisfactory":
        for run in [*state.spells, *([state.run] if state.run else [])]:
            days = _lame_days(run, exam.day, on if run is state.run else run.last)
            if days >= limits.vet_lame_days:
                passed = say.day(exam.day, on)
                text = f"lame for {days} days since the vet passed him on {passed}: ask the vet"
                yield remark(state.rules, "vet.lame_days", text, since=run.first)
    for need in past_vet_asks(state, on):
        text = f"no vet has looked: {need.text}"
        yield remark(state.rules, need.rule, text, foot=need.foot, since=need.day)


def _lame_days(run: LameRun, since: int, until: int) -> int:
    """How many days of this run lie on ``since`` or later, first and last counted."""
    return max(0, until - max(run.first, since) + 1) if until >= since else 0


def age_months(state_born: object, on: int) -> int | None:
    """Whole months of age, None where the birthday is unknown."""
    if not isinstance(state_born, str):
        return None
    born, day = date.fromisoformat(state_born), date.fromordinal(on)
    months = (day.year - born.year) * 12 + day.month - born.month
    return months - (day.day < born.day)


def _transport(case: Case) -> Iterator[Remark]:
    """Whether he may be loaded while he is lame: law and vet decide, this reminds."""
    state, rules = case.state, case.state.rules
    if state.run is None or not case.limits.lame_transport:
        return
    walk = state.walk
    text = "lame: ask a vet before he is loaded"
    if walk is not None and walk.score >= rules.mobility[walk.scale].worst:
        text = f"walk {walk.score} ({walk.scale}): not to be loaded, he is not fit to be moved"
    yield remark(rules, "lame.transport", text, since=state.run.first)


def _form(case: Case) -> Iterator[Remark]:
    """Figures under the least beside "satisfactory" ask to check the form: the vet decides."""
    exam, rules, limits = case.state.exam, case.state.rules, case.limits
    if exam is None or exam.outcome != "satisfactory":
        return
    least = _least_scrotum(case, exam.day)
    for value, limit, rule, words in (
        (exam.scrotum_cm, least, "scrotum.least", "scrotum {:g} cm, least {:g} at his age"),
        (exam.motility_pct, limits.motility_least, "motility.least", "motility {:g} %, least {:g}"),
        (exam.normal_pct, limits.normal_least, "normal.least", "normal sperm {:g} %, least {:g}"),
    ):
        if value is not None and limit is not None and value < limit:
            text = f"check the vet's form: {words.format(value, limit)}"
            yield remark(rules, rule, text, since=exam.day)


def _least_scrotum(case: Case, day: int) -> float | None:
    months = age_months(case.state.profile.get("born"), day)
    return None if months is None else case.state.rules.least_scrotum(months)
