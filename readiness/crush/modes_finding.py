"""Which finding it is, and what is asked of one besides: its zone, its stage, its size."""

from __future__ import annotations

from dataclasses import dataclass, replace

from readiness.crush.answers import FULL, is_digit, refused
from readiness.crush.pad import DONE, Key, Mode, Pad
from readiness.trade.codes import CODES, SEVERITIES, STAGE_NAMES, STAGES, claw_words
from readiness.trade.feet import ZONES, spot_words

STAGE_KEYS = {str(number): stage for number, stage in enumerate(STAGES)}
SIZE_DIGITS = 3
TEN = 10
FAR_ZONES = {str(zone - TEN): zone for zone in ZONES if zone >= TEN}
"""Last digit → zone, of those that take two."""


def codes_like(claw: str, typed: str) -> list[str]:
    """The codes that can be here and begin as typed; then those with such a word in their name."""
    here = [code for code in CODES if claw in claw_words(code)]
    by_code = [code for code in here if code.startswith(typed.upper())]
    by_name = [code for code in here if code not in by_code and _has_word(code, typed)]
    return [*by_code, *by_name]


def _has_word(code: str, typed: str) -> bool:
    words = CODES[code].name.replace("(", "").split()
    return any(word.startswith(typed) for word in words)


@dataclass(frozen=True, slots=True)
class FarZone:
    """A zone from ten on, by its last digit; then ``after``, and where none is said ``otherwise``.

    One digit alone is a zone at once, so that the next can say how bad it is: a one and a two are
    never zone twelve.
    """

    foot: str
    claw: str
    code: str
    after: Mode
    otherwise: Mode

    @property
    def place(self) -> tuple[str, str]:
        return self.foot, self.claw

    def question(self, pad: Pad) -> str:
        zones = "; ".join(f"{zone} {ZONES[zone]}" for zone in FAR_ZONES.values())
        return f"{spot_words(self.foot, self.claw)} {CODES[self.code].name}: {zones}?"

    def keys(self, pad: Pad) -> list[Key]:
        zones = [Key(key, f"zone {zone}") for key, zone in FAR_ZONES.items()]
        return [*zones, Key("Esc", "another")]

    def press(self, pad: Pad, key: str) -> Pad | None:
        if key in DONE:
            return pad.go(self.otherwise)
        if key not in FAR_ZONES:
            return None
        slip = pad.slip.find(self.foot, self.claw, self.code, zone=FAR_ZONES[key])
        return pad.go(self.after, slip)


@dataclass(frozen=True, slots=True)
class Stage:
    """The stage of digital dermatitis; then ``after``."""

    foot: str
    claw: str
    code: str
    after: Mode

    @property
    def place(self) -> tuple[str, str]:
        return self.foot, self.claw

    def question(self, pad: Pad) -> str:
        return f"{self.foot} {CODES[self.code].name}: which stage?"

    def keys(self, pad: Pad) -> list[Key]:
        stages = [Key(key, f"{stage} {STAGE_NAMES[stage]}") for key, stage in STAGE_KEYS.items()]
        return [*stages, Key("Enter", "unknown")]

    def press(self, pad: Pad, key: str) -> Pad | None:
        if key in DONE:
            return pad.go(self.after)
        if key not in STAGE_KEYS:
            return None
        stage = STAGE_KEYS[key]
        return pad.go(self.after, pad.slip.find(self.foot, self.claw, self.code, stage=stage))


@dataclass(frozen=True, slots=True)
class Severity:
    """How bad the finding is; then ``after``."""

    foot: str
    claw: str
    code: str
    after: Mode

    @property
    def place(self) -> tuple[str, str]:
        return self.foot, self.claw

    def question(self, pad: Pad) -> str:
        return f"{spot_words(self.foot, self.claw)} {CODES[self.code].name}: how bad?"

    def keys(self, pad: Pad) -> list[Key]:
        grades = [Key(str(number), words) for number, words in SEVERITIES.items()]
        return [*grades, Key("Enter", "as it is")]

    def press(self, pad: Pad, key: str) -> Pad | None:
        if key in DONE:
            return pad.go(self.after)
        if not is_digit(key) or int(key) not in SEVERITIES:
            return None
        slip = pad.slip.find(self.foot, self.claw, self.code, severity=int(key))
        return pad.go(self.after, slip)


@dataclass(frozen=True, slots=True)
class Size:
    """How large the finding is, in millimetres."""

    foot: str
    claw: str
    code: str
    after: Mode
    typed: str = ""

    @property
    def place(self) -> tuple[str, str]:
        return self.foot, self.claw

    def question(self, pad: Pad) -> str:
        return f"{spot_words(self.foot, self.claw)} {CODES[self.code].name}: {self.typed or '…'} mm"

    def keys(self, pad: Pad) -> list[Key]:
        return [Key("0-9", "millimetres"), Key("Enter", "done"), Key("Esc", "not measured")]

    def press(self, pad: Pad, key: str) -> Pad | None:
        if key in DONE:
            size = int(self.typed) if key == "enter" and self.typed else None
            if size is None:
                return pad.go(self.after)
            slip = pad.slip.find(self.foot, self.claw, self.code, size_mm=size)
            wrong = refused(slip)
            return pad.tell(wrong) if wrong else pad.go(self.after, slip)
        if not is_digit(key):
            return None
        if len(self.typed) >= SIZE_DIGITS:
            return pad.tell(FULL)
        return pad.go(replace(self, typed=self.typed + key))
