"""Advice: worth a person's thought, and never a reason to hold.

Of each text what matters comes first: where there is little room it is cut behind it
(``report/rows.py``), and has to say the same then.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil

from readiness.engine import say
from readiness.engine.bull_checks import came_unsaid, low_figures, settling
from readiness.engine.feet_checks import named, wrong_block
from readiness.engine.own import last_of, own_checks
from readiness.engine.plan import Case, Plan
from readiness.engine.reasons import remark
from readiness.engine.results import Remark
from readiness.engine.vet import past_vet_asks
from readiness.history.records import NEVER, LameRun
from readiness.rules.limits import Limits
from readiness.trade.body import part_words
from readiness.trade.codes import SOUND_STAGE
from readiness.trade.scales import score_words

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
            *_figures(case),
            *_doubts(case),
            *_tests(case),
            *_unsaid(case),
            *_ahead(case),
            *_transport(case),
            *_walk_at_work(case),
            *_stable(case),
            *_watched(case),
            *_weight(case),
            *_withdrawal(case),
            *_not_known(case),
            *_heifers(case),
        ]
    )


def _scores(case: Case) -> Iterator[Remark]:
    state = case.state
    rules, walk, condition = state.rules, state.walk, state.condition
    if walk is not None and not walk.lame and walk.score >= rules.mobility[walk.scale].advise:
        scored = score_words(walk.score, walk.scale)
        text = f"walk {scored} on {say.day(walk.day, case.on)}: watch how he goes"
        yield remark(rules, f"mobility.advise.{walk.scale}", text, since=walk.day)
    if condition is not None:
        low, high = rules.condition[condition.scale].target
        if not low <= condition.score <= high:
            scored = score_words(condition.score, condition.scale)
            text = f"condition {scored}, target {low:g} to {high:g}"
            yield remark(rules, f"condition.target.{condition.scale}", text, since=condition.day)


def _advised_days(case: Case, plans: list[Plan]) -> Iterator[Remark]:
    for plan in plans:
        if plan.advised_by is not None and plan.advised_by < case.on:
            rule = "feet.advised" if plan.check == "feet" else "vet.advised"
            text = f"{plan.text}: advised by {say.day(plan.advised_by, case.on)}"
            yield remark(case.state.rules, rule, text, since=plan.advised_by)
    trim, promised = case.state.trim, case.promised
    if trim and promised is not None and trim.day > promised - case.limits.feet_due:
        span = f"in the {case.limits.feet_due} days before turnout"
        text = f"trimmed on {say.day(trim.day, case.on)}, {span}"
        yield remark(case.state.rules, "feet.due", text, since=trim.day)


def _feet(case: Case) -> Iterator[Remark]:
    state, rules = case.state, case.state.rules
    for finding in state.feet.open.values():
        days = rules.findings[finding.code].advise_look
        if days and not finding.holds and finding.stage != SOUND_STAGE:
            advised = finding.looked + days
            on, what = say.day(advised, case.on), named(finding, rules)
            rule, text = f"finding.{finding.code}.advise_look", f"look at {what} about {on}"
            if case.on > advised + ceil(days * rules.limits.look_slack):
                rule = "look.slack"
                text = f"{what}: a look was advised about {on}, and nobody has looked"
            yield remark(
                rules, rule, text,
                foot=finding.foot, claw=finding.claw, code=finding.code, since=finding.first,
            )  # fmt: skip


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
        ill = f"was ill on {say.day(state.illness.day, on)}"
        text = f"{ill}, and the semen of that time is gone by {until}: ask the vet"
        yield remark(state.rules, "vet.after_illness", text, since=state.illness.day)
    exam = state.exam
    if exam is not None and exam.outcome == "satisfactory":
        for run in [*state.spells, *([state.run] if state.run else [])]:
            days = _lame_days(run, exam.day, run.ended - 1 if run.ended else on)
            if days >= limits.vet_lame_days:
                passed = say.day(exam.day, on)
                lame = f"{'was lame' if run.ended else 'lame'} for {days} days"
                text = f"{lame} since the vet passed him on {passed}: ask the vet"
                yield remark(state.rules, "vet.lame_days", text, since=run.first)
    for run in state.spells if exam is None else ():
        last, looks = run.ended - 1, state.vet_looks
        seen = any(look.subject == "foot" and look.day >= run.first for look in looks)
        if not seen and run.ended - run.first > limits.lame_long and on - last <= limits.vet_memory:
            text = f"no vet has looked: lame from {say.day(run.first, on)} to {say.day(last, on)}"
            yield remark(state.rules, "lame.long", text, since=run.first)
    for need in past_vet_asks(state, on):
        text = f"no vet has looked: {need.text}"
        yield remark(state.rules, need.rule, text, foot=need.foot, since=need.day)


def _lame_days(run: LameRun, since: int, until: int) -> int:
    """How many days of this run lie on ``since`` or later, first and last counted."""
    return max(0, until - max(run.first, since) + 1) if until >= since else 0


_AHEAD = {
    "feet": "a lift",
    "block-off": "a block off",
    "mobility": "a walk",
    "condition": "a condition score",
    "vet-exam": "an examination",
    "vet-look": "a vet's look",
    "check": "a test",
}


def _ahead(case: Case) -> Iterator[Remark]:
    """What somebody wrote before its day stands among what was seen, and nobody had seen it."""
    for kind, ahead in case.state.ahead.items():
        day, written = say.day(ahead.day, case.on), say.day(ahead.written, case.on)
        text = (
            f"{_AHEAD[kind]} of {day} was written on {written}, before that day: it clears nothing"
        )
        yield remark(case.state.rules, "seen.ahead", text, since=ahead.day)


def _transport(case: Case) -> Iterator[Remark]:
    """Whether he may be loaded while he is lame: law and vet decide, this reminds."""
    state, rules = case.state, case.state.rules
    if state.run is None or not case.limits.lame_transport:
        return
    walk = state.walk
    text = "lame: ask a vet before he is loaded"
    if walk is not None and walk.score >= rules.mobility[walk.scale].worst:
        scored = f"walk {score_words(walk.score, walk.scale)}"
        text = f"{scored}: not to be loaded, he is not fit to be moved"
    yield remark(rules, "lame.transport", text, since=state.run.first)


def _walk_at_work(case: Case) -> Iterator[Remark]:
    """A working bull that was hurt, healed or given pain relief since he walked sound: no walk is
    asked of him, so that it is said until he has walked."""
    state, walk = case.state, case.state.walk
    if not state.out or state.run is not None:
        return
    seen = walk.day if walk is not None and not walk.lame and walk.counts else NEVER
    unseen = [
        (rule != "trim.settle", mark.day + days, mark, rule, why)
        for mark, days, rule, why in settling(state)
        if mark.day >= state.out.day and seen < mark.day + days
    ]
    if unseen:  # what hurt him is told before a trim that came later
        _, first, mark, rule, why = max(unseen)
        text = f"see him walk from {say.day(first, case.on)}: {why}"
        yield remark(state.rules, rule, text, since=mark.day)


def _stable(case: Case) -> Iterator[Remark]:
    """What the last lift of a foot found fit to work though not gone, of what can hold him."""
    state, rules = case.state, case.state.rules
    for (foot, claw, code), day in state.feet.stable.items():
        if not rules.findings[code].never_holds and state.last_lift(foot) == day:
            name = f"{rules.findings[code].name} {say.place(foot, claw)}"
            text = f"{name}: fit to work though not gone, said on {say.day(day, case.on)}"
            yield remark(
                rules, "clear.after_open", text, foot=foot, claw=claw, code=code, since=day
            )


def _figures(case: Case) -> Iterator[Remark]:
    exam = case.state.exam
    for figure in low_figures(case.state):
        if exam is not None and figure.stood:
            text = f"{figure.text}: the vet stands by it"
            yield remark(case.state.rules, figure.rule, text, since=exam.day)


def _doubts(case: Case) -> Iterator[Remark]:
    """What the examination that passed him left open, or one before it, and none settled since."""
    exam, on = case.state.exam, case.on
    if exam is None or exam.outcome != "satisfactory" or not exam.left_open:
        return
    if case.limits.vet_doubts:
        found = [
            each.words if each.day == exam.day else f"{each.words} ({say.day(each.day, on)})"
            for each in exam.left_open
        ]
        passed = say.day(exam.day, on)
        text = f"{', '.join(found)}, though satisfactory on {passed}: ask the vet"
        yield remark(case.state.rules, "vet.doubts", text, since=exam.day)


def _otherwise(reading: str) -> str:
    from readiness.trade.readings import reads_otherwise  # seldom: laboratories write little

    return reads_otherwise(reading)


def _tests(case: Case) -> Iterator[Remark]:
    """Tests failed that no rule asks for: one that is asked for holds him. And those passed of
    which the laboratory's words say otherwise."""
    state = case.state
    asked = {own.name.casefold() for own in own_checks(state)}
    for name, tests in state.checks.items():
        last = last_of(tests)
        on, why = say.day(last.day, case.on), ""
        if not last.passed and name not in asked:
            why = f"{name}: failed on {on}, and no rule of this farm asks for it: ask the vet"
        elif last.passed and last.reading and (word := _otherwise(last.reading)):
            why = f"{name}: they wrote {word}, though passed on {on}: ask the vet"
        if why and case.limits.test_doubts:
            yield remark(state.rules, "test.doubts", why, since=last.day)


def _unsaid(case: Case) -> Iterator[Remark]:
    """What he was given since shortly before he walked, and nobody said whether it relieves
    pain."""
    state, walk = case.state, case.state.walk
    if state.unsaid is None:
        return
    day, product, _ = state.unsaid
    if walk is None or walk.day < day + case.limits.pain_settle:
        given = f"{product} on {say.day(day, case.on)}"
        text = f"given what may be pain relief, nobody said: {given}"
        yield remark(state.rules, "pain.settle", text, since=day)


def _watched(case: Case) -> Iterator[Remark]:
    for (part, limb), mark in case.state.watched.items():
        text = f"{part_words(part, limb)}: watch, said on {say.day(mark.day, case.on)}"
        yield remark(case.state.rules, "vet.look", text, foot=limb, since=mark.day)


def _weight(case: Case) -> Iterator[Remark]:
    """Weight lost since the heaviest of the last while."""
    if text := weight_lost(case.state.weights, case.limits, case.on):
        yield remark(case.state.rules, "weight.drop", text, since=case.state.weights[-1][0])


def weight_lost(weights: Sequence[tuple[int, float]], limits: Limits, on: int) -> str:
    """What the last of these weights (day, kg) is, and from which, where that is much less; else
    "". ``on``: the day on which it is told."""
    if len(weights) < 2:
        return ""
    day, now = weights[-1]
    before = max([kg for at, kg in weights if at >= day - limits.weight_drop_days])
    if now > before * (100 - limits.weight_drop) / 100:
        return ""
    return (
        f"lost weight, {say.number(now)} kg on {say.day(day, on)}, {say.number(before)} kg within "
        f"{limits.weight_drop_days} days before"
    )


def _withdrawal(case: Case) -> Iterator[Remark]:
    ends = case.state.withdrawal
    if ends is not None and case.on <= ends[0] and case.limits.withdrawal_shown:
        text = f"{ends[1]}: withdrawal until {say.day(ends[0], case.on)}, not for slaughter before"
        yield remark(case.state.rules, "withdrawal.shown", text)


def _not_known(case: Case) -> Iterator[Remark]:
    """What nobody has said, and would decide whether he is held: his birth, the day he came."""
    state, limits = case.state, case.limits
    if not state.born and limits.age_least:
        text = f"nobody has said when he was born: is he {limits.age_least} months old?"
        yield remark(state.rules, "age.least", text)
    if came_unsaid(state) and limits.quarantine_days:
        text = "he came from elsewhere, and nobody has said when: is his quarantine over?"
        yield remark(state.rules, "quarantine.days", text)


def _heifers(case: Case) -> Iterator[Remark]:
    if case.heifers and "heifer_safe" not in case.state.profile and case.limits.heifers_safe:
        text = "in a group of heifers, and nobody has said whether he is safe with them"
        yield remark(case.state.rules, "heifers.safe", text)
