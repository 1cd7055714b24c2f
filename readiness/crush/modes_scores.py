"""How he walks, his condition and his weight."""

from __future__ import annotations

from dataclasses import dataclass

from readiness.crush.answers import FOOT_KEYS, FULL, NOWHERE, feet_keys, is_digit, refused
from readiness.crush.pad import DONE, Key, Pad
from readiness.trade.words import number_words

QUARTERS = {"0": 0.0, "2": 0.25, "5": 0.5, "7": 0.75}
HALVES = {"0": 0.0, "5": 0.5}
KG_DIGITS = 4


@dataclass(frozen=True, slots=True)
class WalkScore:
    """How he walks, in the farm's scale."""

    place = NOWHERE

    def question(self, pad: Pad) -> str:
        scale = pad.standing.walk
        return f"Walk, {scale.name}: lame from {scale.lame}"

    def keys(self, pad: Pad) -> list[Key]:
        scale = pad.standing.walk
        return [Key(f"{scale.low}-{scale.worst}", "his score"), Key("Esc", "not scored")]

    def press(self, pad: Pad, key: str) -> Pad | None:
        if key in DONE:
            return pad.done()
        if not is_digit(key):
            return None
        scale, score = pad.standing.walk, int(key)
        if not scale.low <= score <= scale.worst:
            return pad.tell(f"{scale.name} goes from {scale.low} to {scale.worst}.")
        slip = pad.slip.put("mobility", scale=scale.id, score=score)
        if score >= scale.lame:
            return pad.go(LameLimb(score), slip)
        return pad.done(slip)


@dataclass(frozen=True, slots=True)
class LameLimb:
    """On which limb he is lame."""

    score: int
    place = NOWHERE

    def question(self, pad: Pad) -> str:
        return f"Walk {self.score}: lame. On which limb?"

    def keys(self, pad: Pad) -> list[Key]:
        return [*feet_keys(), Key("Enter", "cannot tell")]

    def press(self, pad: Pad, key: str) -> Pad | None:
        if key in DONE:
            return pad.done()
        if key not in FOOT_KEYS:
            return None
        scale = pad.standing.walk.id
        limb = FOOT_KEYS[key]
        return pad.done(pad.slip.put("mobility", scale=scale, score=self.score, limb=limb))


@dataclass(frozen=True, slots=True)
class ConditionScore:
    """His condition in the farm's scale: the whole number, then the part of one."""

    whole: int | None = None
    place = NOWHERE

    def question(self, pad: Pad) -> str:
        scale = pad.standing.condition
        span = f"{number_words(scale.low)} to {number_words(scale.high)}"
        if self.whole is None:
            return f"{scale.name[:1].upper()}{scale.name[1:]}: {span}"
        return f"Condition {self.whole}, and?"

    def keys(self, pad: Pad) -> list[Key]:
        scale = pad.standing.condition
        if self.whole is None:
            low, high = number_words(scale.low), number_words(scale.high)
            return [Key(f"{low}-{high}", "the whole number"), Key("Esc", "not scored")]
        parts = _parts(scale.step)
        return [Key(key, number_words(self.whole + part)) for key, part in parts.items()]

    def press(self, pad: Pad, key: str) -> Pad | None:
        scale = pad.standing.condition
        if key == "escape":
            return pad.done()
        if self.whole is None:
            if not is_digit(key):
                return pad.done() if key == "enter" else None
            if not scale.low <= int(key) <= scale.high:
                return pad.tell(f"{scale.name} goes from {scale.low:g} to {scale.high:g}.")
            if int(key) == scale.high:
                return self._scored(pad, scale.high)
            return pad.go(ConditionScore(int(key)))
        part = 0.0 if key == "enter" else _parts(scale.step).get(key)
        return None if part is None else self._scored(pad, self.whole + part)

    def _scored(self, pad: Pad, score: float) -> Pad:
        told = int(score) if score == int(score) else score
        slip = pad.slip.put("condition", scale=pad.standing.condition.id, score=told)
        return pad.done(slip)


@dataclass(frozen=True, slots=True)
class Weight:
    """His weight in kilograms."""

    typed: str = ""
    place = NOWHERE

    def question(self, pad: Pad) -> str:
        return f"Weight: {self.typed or '…'} kg"

    def keys(self, pad: Pad) -> list[Key]:
        return [Key("0-9", "digits"), Key("Enter", "done"), Key("Esc", "not weighed")]

    def press(self, pad: Pad, key: str) -> Pad | None:
        if key == "escape" or (key == "enter" and not self.typed):
            return pad.done()
        if key == "enter":
            slip = pad.slip.put("weight", kg=int(self.typed))
            wrong = refused(slip)
            return pad.tell(wrong) if wrong else pad.done(slip)
        if not is_digit(key):
            return None
        if len(self.typed) >= KG_DIGITS:
            return pad.tell(FULL)
        return pad.go(Weight(self.typed + key))


def _parts(step: float) -> dict[str, float]:
    """Digit → part of one: the first decimal of the score."""
    return QUARTERS if step < HALVES["5"] else HALVES
