"""Measures of the horn, in millimetres."""

from __future__ import annotations

from functools import partial

from readiness.crush.ask import CLAW_KEYS, Answer, Choice, Number
from readiness.crush.pad import Mode, Pad
from readiness.crush.slip import Slip
from readiness.trade.feet import HORN_CLAWS, MEASURES, spot_words


def measure_claw(foot: str, after: Mode) -> Choice:
    """Which claw is measured; then ``after``."""
    claws = (
        Answer(keys, claw, measure(foot, claw, after))
        for keys, claw in CLAW_KEYS.items()
        if claw in HORN_CLAWS
    )
    none = Answer("Esc Enter", "none", after)
    return Choice(f"{foot}: measure which claw?", (*claws, none), (foot, ""))


def measure(foot: str, claw: str, after: Mode) -> Choice:
    """What is measured, then how much, until there is no more; then ``after``."""
    spot = spot_words(foot, claw)

    def amount(what: str, pad: Pad) -> Pad:
        says = partial(Slip.measure, foot=foot, claw=claw, key=what)
        again = measure(foot, claw, after)
        return pad.go(Number(f"{spot} {MEASURES[what]}", "mm", "mm", says, again, (foot, claw)))

    answers = (Answer(word[0], word, do=partial(amount, key)) for key, word in MEASURES.items())
    no_more = Answer("Enter Esc", "no more", after)
    return Choice(f"{spot}: measure what?", (*answers, no_more), (foot, claw))
