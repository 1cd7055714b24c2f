"""A part of him beside his feet: which, and whether it is wrong, to watch, or right again.

What is wrong there holds him until the vet has looked; it names nothing and advises nothing.
"""

from __future__ import annotations

from dataclasses import dataclass

from readiness.crush.answers import FOOT_KEYS, NOWHERE, feet_keys
from readiness.crush.pad import DONE, Key, Pad
from readiness.trade.body import JOINT, PARTS, part_words

PART_KEYS = {str(number): part for number, part in enumerate(PARTS, start=1)}
STATE_KEYS = {"w": "wrong", "k": "watch", "r": "right"}
STATE_WORDS = {
    "wrong": "wrong: it holds him until a vet says fit",
    "watch": "keep an eye on it",
    "right": "right again",
}
NONE = Key("Esc", "none")
ONLY_A_VET = "It was wrong before: only a vet's look ends that."


@dataclass(frozen=True, slots=True)
class BodyPart:
    """Which part of him."""

    place = NOWHERE

    def question(self, pad: Pad) -> str:
        return "Which part of him?"

    def keys(self, pad: Pad) -> list[Key]:
        return [*(Key(key, part) for key, part in PART_KEYS.items()), NONE]

    def press(self, pad: Pad, key: str) -> Pad | None:
        if key in DONE:
            return pad.done()
        if key not in PART_KEYS:
            return None
        part = PART_KEYS[key]
        return pad.go(JointLimb() if part == JOINT else BodyState(part))


@dataclass(frozen=True, slots=True)
class JointLimb:
    """The joint of which limb."""

    place = NOWHERE

    def question(self, pad: Pad) -> str:
        return f"A {JOINT} of which limb?"

    def keys(self, pad: Pad) -> list[Key]:
        return [*feet_keys(), Key("Enter", "cannot tell"), NONE]

    def press(self, pad: Pad, key: str) -> Pad | None:
        if key == "escape":
            return pad.done()
        if key == "enter" or key in FOOT_KEYS:
            return pad.go(BodyState(JOINT, FOOT_KEYS.get(key)))
        return None


@dataclass(frozen=True, slots=True)
class BodyState:
    """How the part is. ``limb``: of a joint, where it is said."""

    part: str
    limb: str | None = None
    place = NOWHERE

    def question(self, pad: Pad) -> str:
        words = part_words(self.part, self.limb)
        return f"{words[:1].upper()}{words[1:]}: how is it?"

    def keys(self, pad: Pad) -> list[Key]:
        states = [Key(key, STATE_WORDS[state]) for key, state in STATE_KEYS.items()]
        return [*states, Key("Esc", "nothing said of it")]

    def press(self, pad: Pad, key: str) -> Pad | None:
        if key == "escape":
            return pad.done(pad.slip.without("body", part=self.part, limb=self.limb))
        if key not in STATE_KEYS:
            return None
        state = STATE_KEYS[key]
        was_wrong = (self.part, self.limb) in pad.standing.wrong
        said = ONLY_A_VET if was_wrong and state != "wrong" else ""
        return pad.done(pad.slip.body(self.part, self.limb, state), said)
