"""How he walks, his condition and his weight."""

from __future__ import annotations

from functools import partial

from readiness.crush.pad import FOOT_KEYS, Answer, Choice, Number, Pad
from readiness.crush.slip import Slip
from readiness.trade.words import number_words

HALVES = {"0": 0.0, "5": 0.5}
QUARTERS = {"0": 0.0, "2": 0.25, "5": 0.5, "7": 0.75}
"""Digit → part of one: the first decimal of the score."""
NOT_SCORED = Answer("Esc Enter", "not scored")
WEIGHT = Number(
    "Weight", "kg", "kg", partial(Slip.put, kind="weight"), shown=("digits", "not weighed"), most=4
)


def walk_score(pad: Pad) -> Choice:
    """How he walks, in the farm's scale; where he is lame, then on which limb."""
    scale = pad.before.walk
    says = partial(Slip.put, kind="mobility", scale=scale.id)

    def limb(score: int) -> Choice:
        feet = (
            Answer(key, foot, None, partial(says, score=score, limb=foot))
            for key, foot in FOOT_KEYS.items()
        )
        cannot_tell = Answer("Enter Esc", "cannot tell", told="Lame, on no limb that is said.")
        return Choice(f"Walk {score}: lame. On which limb?", (*feet, cannot_tell))

    scores = (
        Answer(
            str(score),
            "",
            limb(score) if score >= scale.lame else None,
            partial(says, score=score),
        )
        for score in range(scale.low, scale.worst + 1)
    )
    return Choice(
        f"Walk, {scale.name}: lame from {scale.lame}",
        (Answer(f"{scale.low}-{scale.worst}", "his score"), *scores, NOT_SCORED),
        span=f"{scale.name} goes from {scale.low} to {scale.worst}.",
    )


def condition_score(pad: Pad) -> Choice:
    """His condition in the farm's scale: the whole number, then the part of one."""
    scale = pad.before.condition
    low, high = number_words(scale.low), number_words(scale.high)
    says = partial(Slip.put, kind="condition", scale=scale.id)

    def scored(keys: str, words: str, score: float) -> Answer:
        number = int(score) if score == int(score) else score
        return Answer(keys, words, None, partial(says, score=number))

    def and_(whole: int) -> Choice:
        parts = QUARTERS if scale.step < HALVES["5"] else HALVES
        answers = (
            scored(f"{key} Enter" if key == "0" else key, number_words(whole + part), whole + part)
            for key, part in parts.items()
        )
        return Choice(f"Condition {whole}, and?", (*answers, Answer("Esc", "")), answered=True)

    wholes = (
        scored(str(whole), "", scale.high) if whole == scale.high
        else Answer(str(whole), "", and_(whole))
        for whole in range(10) if scale.low <= whole <= scale.high
    )  # fmt: skip
    return Choice(
        f"{scale.name[:1].upper()}{scale.name[1:]}: {low} to {high}",
        (Answer(f"{low}-{high}", "the whole number"), *wholes, NOT_SCORED),
        span=f"{scale.name} goes from {scale.low:g} to {scale.high:g}.",
    )
