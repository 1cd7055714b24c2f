"""What asks for a vet's look, and whether a vet has looked since. The vet decides; we remind."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from readiness.engine import say
from readiness.findings import VetAsk
from readiness.history import History


class Need(NamedTuple):
    """A reason for a vet to look, from ``day`` on; ``foot`` where a finding there asks, else
    lameness asks. ``live``: still asked for, not only advised."""

    day: int
    foot: str | None
    rule: str
    text: str
    live: bool


def open_vet_asks(state: History, on: int) -> list[Need]:
    """What a vet has not looked at since, and still must."""
    return [need for need in _needs(state, on) if need.live and not _answered(state, need)]


def past_vet_asks(state: History, on: int) -> list[Need]:
    """What no vet has looked at, and is over or long ago: advice now."""
    return [need for need in _needs(state, on) if not need.live and not _answered(state, need)]


def _answered(state: History, need: Need) -> bool:
    """A look that names a foot answers findings of that foot only, and lameness."""
    return any(
        look.day >= need.day and (need.foot is None or look.foot in (None, need.foot))
        for look in state.vet_looks
    )


def _needs(state: History, on: int) -> Iterator[Need]:
    limits = state.rules.limits
    for ask in state.feet.vet_asks:
        yield _finding_need(state, ask, on)
    for mark in state.worst_walks if limits.vet_worst_walk else ():
        live = on - mark.day <= limits.vet_memory
        text = f"walked at the worst score on {say.day(mark.day, on)}"
        yield Need(mark.day, None, "vet.worst_walk", text, live)
    if limits.vet_nothing_found:
        yield from _nothing_found(state)
    yield from _lame_long(state, on)


def _finding_need(state: History, ask: VetAsk, on: int) -> Need:
    finding = ask.finding
    live = (
        state.feet.open.get(finding.key) is finding or on - ask.day <= state.rules.limits.vet_memory
    )
    name = state.rules.findings[finding.code].name
    text = f"{name} {say.place(finding.foot, finding.claw)}"
    if ask.rule.endswith("open"):
        text += f", still open on {say.day(ask.day, on)}"
    return Need(ask.day, finding.foot, ask.rule, text, live)


def _nothing_found(state: History) -> Iterator[Need]:
    """Lame, every foot asked for lifted, and nothing in them that could explain it."""
    run = state.run
    if run is None or any(finding.holds for finding in state.feet.open.values()):
        return
    asked = [(foot, state.first_lift(foot, ask.since)) for ask in state.asks() for foot in ask.feet]
    if not all(lift for _, lift in asked):
        return
    if any(state.feet.last_listed.get(foot, 0) >= run.first for foot, _ in asked):
        return
    yield Need(
        max(lift.day for _, lift in asked),
        None,
        "vet.nothing_found",
        "lame, and nothing found in the feet",
        True,
    )


def _lame_long(state: History, on: int) -> Iterator[Need]:
    run, long = state.run, state.rules.limits.lame_long
    if run is None:
        return
    base = max([run.first, *(look.day for look in state.vet_looks)])
    if on - base > long:
        yield Need(base + long, None, "lame.long", f"lame since {say.day(run.first, on)}", True)
