"""Measures of the horn, in millimetres."""

from __future__ import annotations

from dataclasses import dataclass, replace

from readiness.crush.answers import FULL, is_digit, refused
from readiness.crush.pad import DONE, Key, Mode, Pad
from readiness.trade.feet import MEASURES, spot_words

CLAWS = {"o": "outer", "i": "inner", "b": "both", "1": "outer", "2": "inner", "3": "both"}
WHAT = {word[0]: key for key, word in MEASURES.items()}
DIGITS = 3


@dataclass(frozen=True, slots=True)
class MeasureClaw:
    """Which claw is measured; then ``after``."""

    foot: str
    after: Mode

    @property
    def place(self) -> tuple[str, str]:
        return self.foot, ""

    def question(self, pad: Pad) -> str:
        return f"{self.foot}: measure which claw?"

    def keys(self, pad: Pad) -> list[Key]:
        return [Key("o", "outer"), Key("i", "inner"), Key("b", "both"), Key("Esc", "none")]

    def press(self, pad: Pad, key: str) -> Pad | None:
        if key in DONE:
            return pad.go(self.after)
        return pad.go(Measure(self.foot, CLAWS[key], self.after)) if key in CLAWS else None


@dataclass(frozen=True, slots=True)
class Measure:
    """What is measured, then how much; then ``after``."""

    foot: str
    claw: str
    after: Mode
    what: str = ""
    typed: str = ""

    @property
    def place(self) -> tuple[str, str]:
        return self.foot, self.claw

    def question(self, pad: Pad) -> str:
        spot = spot_words(self.foot, self.claw)
        if not self.what:
            return f"{spot}: measure what?"
        return f"{spot} {MEASURES[self.what]}: {self.typed or '…'} mm"

    def keys(self, pad: Pad) -> list[Key]:
        if self.what:
            return [Key("0-9", "millimetres"), Key("Enter", "done"), Key("Esc", "not measured")]
        return [*(Key(key, MEASURES[what]) for key, what in WHAT.items()), Key("Enter", "no more")]

    def press(self, pad: Pad, key: str) -> Pad | None:
        ask: Mode = replace(self, what="", typed="")
        if not self.what:
            if key in DONE:
                return pad.go(self.after)
            return pad.go(replace(self, what=WHAT[key])) if key in WHAT else None
        if key == "enter" and self.typed:
            slip = pad.slip.measure(self.foot, self.claw, self.what, int(self.typed))
            wrong = refused(slip)
            return pad.tell(wrong) if wrong else pad.go(ask, slip)
        if key in DONE:
            return pad.go(ask)
        if not is_digit(key):
            return None
        if len(self.typed) >= DIGITS:
            return pad.tell(FULL)
        return pad.go(replace(self, typed=self.typed + key))
