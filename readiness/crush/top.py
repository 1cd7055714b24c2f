"""The first question: every answer begins here and leads back here."""

from __future__ import annotations

from dataclasses import dataclass

from readiness.crush import modes_feet as feet
from readiness.crush.answers import FOOT_KEYS, NOWHERE, feet_keys
from readiness.crush.modes_block import begin_block
from readiness.crush.modes_body import BodyPart
from readiness.crush.modes_scores import ConditionScore, WalkScore, Weight
from readiness.crush.modes_trouble import Cause
from readiness.crush.pad import DONE, Key, Mode, Pad
from readiness.crush.slip import Slip
from readiness.crush.standing import Standing
from readiness.trade.words import list_words


def pad_for(standing: Standing, slip: Slip) -> Pad:
    """A pad at its first question."""
    return Pad(standing, slip, Top(), Top())


@dataclass(frozen=True, slots=True)
class Top:
    """Nothing in particular is asked: every answer begins here."""

    place = NOWHERE

    def question(self, pad: Pad) -> str:
        if not pad.slip:
            return "What is seen and done?"
        missing = self._missing(pad)
        if not missing:
            return "What else? Enter saves."
        return f"What else? Not yet: {', '.join(missing)}. Enter saves."

    def _missing(self, pad: Pad) -> list[str]:
        """What one may have forgotten: feet, once one is lifted, and what is asked for today."""
        left = pad.slip.untouched if pad.slip.lifted else ()
        feet_left = [f"{list_words(left)} lifted"] if left else []
        wanted = [word for kind, word in pad.standing.wanted if not pad.slip.last(kind)]
        return [*feet_left, *wanted]

    def keys(self, pad: Pad) -> list[Key]:
        said = (*pad.slip.lifted, *pad.slip.refused)
        rest = "the others sound" if said else "all four sound"
        return [
            Key("s", rest),
            Key("1-4", "a foot"),
            Key("t", "trimmed"),
            Key("b", "block"),
            Key("w", "walk"),
            Key("c", "condition"),
            Key("k", "weight"),
            Key("i", "fight or trouble"),
            Key("a", "a part of him"),
        ]

    def press(self, pad: Pad, key: str) -> Pad | None:
        if key in FOOT_KEYS:
            return feet.begin_foot(pad, FOOT_KEYS[key])
        if key == "s":
            return feet.sound(pad)
        if key == "t":
            return feet.trimmed(pad)
        if key == "b":
            return begin_block(pad)
        return pad.go(_QUESTIONS[key]) if key in _QUESTIONS else None


@dataclass(frozen=True, slots=True)
class WhichFoot:
    """Which foot is meant."""

    place = NOWHERE

    def question(self, pad: Pad) -> str:
        return "Which foot?"

    def keys(self, pad: Pad) -> list[Key]:
        return [*feet_keys(), Key("Esc", "none")]

    def press(self, pad: Pad, key: str) -> Pad | None:
        if key in FOOT_KEYS:
            return feet.begin_foot(pad, FOOT_KEYS[key])
        return pad.done() if key in DONE else None


_QUESTIONS: dict[str, Mode] = {
    "f": WhichFoot(),
    "w": WalkScore(),
    "c": ConditionScore(),
    "k": Weight(),
    "i": Cause(),
    "a": BodyPart(),
}
