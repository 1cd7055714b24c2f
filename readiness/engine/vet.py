"""What asks for a vet's look, and whether a vet has looked since. The vet decides; we remind."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import date
from typing import NamedTuple

from readiness.engine import say
from readiness.engine.plan import Case, Plan
from readiness.history import History
from readiness.history.finding import VetAsk
from readiness.history.records import LameRun, Mark, VetLook
from readiness.trade.body import ABOUT, part_words


class Need(NamedTuple):
    """A reason for a vet to look, from ``day`` on: a finding on ``foot``, the lameness of ``run``,
    or his body. ``live``: still asked for, not only advised."""

    day: int
    rule: str
    text: str
    live: bool = True
    foot: str | None = None
    run: LameRun | None = None

    @property
    def of_body(self) -> bool:
        return self.foot is None and self.run is None


def vet_looks(case: Case) -> Iterator[Plan]:
    """The vet's look that is outstanding, and each one that he himself asked for."""
    asks = sorted(open_vet_asks(case.state, case.on), key=lambda ask: ask.day)
    if asks:
        why = "; ".join(dict.fromkeys(ask.text for ask in asks))
        yield Plan(
            "vet-look", asks[0].rule, "vet", f"vet to look: {why}",
            since=asks[0].day, due=asks[0].day + case.limits.vet_look,
            of_body=any(ask.of_body for ask in asks),
        )  # fmt: skip
    yield from _again(case)


def _again(case: Case) -> Iterator[Plan]:
    limits = case.limits
    count: Counter[tuple[str | None, ...]] = Counter()
    for look in case.state.again_looks:
        said = (date.fromordinal(look.day).isoformat(), look.about, look.part)
        limb = look.foot or look.limb
        count[(limb, *said)] += 1
        number = count[(limb, *said)]
        where = part_words(look.part, limb) if look.part else (limb or "")
        days = limits.vet_look_again if look.again_on is None else look.again_on - look.day
        days = max(days, 1)  # the same day answers nothing
        plan = Plan(
            "vet-again", "vet.look_again", "vet",
            f"vet to look again: {ABOUT[look.about]}{where and f' ({where})'}",
            foot=limb, mark=":".join([*filter(None, said), *([str(number)] if number > 1 else [])]),
            since=look.day, due=look.day + days + limits.vet_look, of_body=look.about == "body",
        )  # fmt: skip
        plan.after(Mark(look.day, look.entry), days, plan.rule, "the vet looks again")
        yield plan


def open_vet_asks(state: History, on: int) -> list[Need]:
    """What a vet has not looked at since, and still must."""
    return [need for need in _needs(state, on) if need.live]


def past_vet_asks(state: History, on: int) -> list[Need]:
    """What no vet has looked at, and is over or long ago: advice now."""
    return [need for need in _needs(state, on) if not need.live]


def _needs(state: History, on: int) -> Iterator[Need]:
    for found in state.body.values():
        if not found.looked:
            text = f"{part_words(found.part, found.limb)} wrong since {say.day(found.day, on)}"
            yield Need(found.day, "vet.look", text)
    for need in (*_of_findings(state, on), *_of_lameness(state, on)):
        if not any(_answers(look, need) for look in state.vet_looks):
            yield need


def _answers(look: VetLook, need: Need) -> bool:
    """Whether a vet's look settles this need: one of its day or later, about a foot or lameness. A
    look that names no foot settles all; one that does settles findings of that foot, a walk at the
    worst score on it, and other lameness where that run had asked for that foot."""
    if look.subject != "foot" or look.day < need.day:
        return False
    if look.foot is None or need.run is None or need.foot is not None:
        return look.foot in (None, need.foot)
    return need.run.asked_for(look.foot, look.day)


def _of_findings(state: History, on: int) -> Iterator[Need]:
    memory = state.rules.limits.vet_memory
    for ask in state.feet.vet_asks:
        finding = ask.finding
        open_still = state.feet.open.get(finding.key) is finding
        yield Need(
            ask.day, ask.rule, _finding_text(state, ask, on), open_still or on - ask.day <= memory,
            foot=finding.foot,
        )  # fmt: skip


def _finding_text(state: History, ask: VetAsk, on: int) -> str:
    finding = ask.finding
    text = f"{state.rules.findings[finding.code].name} {say.place(finding.foot, finding.claw)}"
    if ask.rule.endswith("open"):
        text += f", still open on {say.day(ask.day, on)}"
    return text


def _of_lameness(state: History, on: int) -> Iterator[Need]:
    limits = state.rules.limits
    for walk in state.worst_walks if limits.vet_worst_walk else ():
        text = f"walked at the worst score on {say.day(walk.day, on)}"
        live = on - walk.day <= limits.vet_memory
        yield Need(walk.day, "vet.worst_walk", text, live, foot=walk.limb, run=walk.run)
    if state.run is None:
        return
    if limits.vet_refused:
        yield from _refused(state, state.run, on)
    if limits.vet_nothing_found:
        yield from _nothing_found(state, state.run)
    yield from _lame_long(state, state.run, on)


def _refused(state: History, run: LameRun, on: int) -> Iterator[Need]:
    """A foot that was asked for and would not lift, each time, until it is."""
    asks = state.asked_in_run()
    for day, foot in state.refused:
        wanted = any(foot in ask.feet and day >= ask.since for ask in asks)
        if day >= run.first and wanted and state.last_lift(foot) < day:
            text = f"lame, and {foot} would not lift on {say.day(day, on)}"
            yield Need(day, "vet.refused", text, run=run)


def _nothing_found(state: History, run: LameRun) -> Iterator[Need]:
    """Lame, every foot asked for lifted, and nothing in them that could explain it."""
    if any(finding.holds for finding in state.feet.open.values()):
        return
    asked = [
        (foot, state.first_lift(foot, ask.since))
        for ask in state.asked_in_run()
        for foot in ask.feet
    ]
    if not all(lift for _, lift in asked):
        return
    if any(state.feet.explained.get(foot, 0) >= run.first for foot, _ in asked):
        return
    day = max(lift.day for _, lift in asked)
    yield Need(day, "vet.nothing_found", "lame, and nothing found in the feet", run=run)


def _lame_long(state: History, run: LameRun, on: int) -> Iterator[Need]:
    long = state.rules.limits.lame_long
    any_day = Need(0, "lame.long", "", run=run)
    base = max([run.first, *(look.day for look in state.vet_looks if _answers(look, any_day))])
    if on - base > long:
        yield Need(base + long, "lame.long", f"lame since {say.day(run.first, on)}", run=run)
