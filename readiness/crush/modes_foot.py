"""A foot in the hand: which claw, what is on it, where and how bad, and what is done."""

from __future__ import annotations

from dataclasses import dataclass, replace

from readiness.crush.ask import FOOT_KEYS, is_digit
from readiness.crush.modes_block import block_claw, fit
from readiness.crush.modes_finding import TEN, codes_like, far_zone, severity, size, stage
from readiness.crush.modes_measure import measure, measure_claw
from readiness.crush.pad import DONE, Key, Pad
from readiness.crush.severity import asked, how, severity_of
from readiness.crush.slip import Content
from readiness.trade.codes import CODES, SEVERITIES
from readiness.trade.feet import ACTS, CLAW_NAMES, FEET, FOOT_NAMES, ZONES, partner, spot_words

CLAW_KEYS = {
    "o": "outer", "i": "inner", "b": "both", "s": "skin",
    "1": "outer", "2": "inner", "3": "both", "4": "skin",
}  # fmt: skip
UNWRAP = "unwrap"
CLAW_ACTS = {act[0]: act for act in ACTS if act != UNWRAP}
# A wrap is round the foot. "u" takes back what was saved, and by habit would take a wrap off here.
FOOT_ACTS = CLAW_ACTS | {"r": UNWRAP}
ANOTHER = (",", " ")
FOUND_SHOWN = 9

ZONE, HOW = "zone", "how bad"
"""What a digit on a claw says."""
GRADES = ", ".join(f"{number} {words}" for number, words in SEVERITIES.items())
_ASKED = {ZONE: ": zone?", HOW: ": how bad?", "": ""}
_DIGITS = {
    ZONE: [Key(f"0-{TEN - 1}", "zone"), Key(".", f"{TEN}-{max(ZONES)}")],
    HOW: [Key(str(number), words) for number, words in SEVERITIES.items()],
    "": [Key("1-4", "another foot")],
}


@dataclass(frozen=True, slots=True)
class OnFoot:
    """One foot is up: which claw, or what is done to the foot as a whole."""

    foot: str

    @property
    def place(self) -> tuple[str, str]:
        return self.foot, ""

    def question(self, pad: Pad) -> str:
        wrapped = ", wrapped" if self.foot in pad.before.wraps else ""
        return f"{FOOT_NAMES[self.foot].capitalize()}{wrapped}: which claw?"

    def keys(self, pad: Pad) -> list[Key]:
        return [
            *(Key(key, CLAW_NAMES[claw]) for key, claw in CLAW_KEYS.items() if key.isalpha()),
            *(Key(key, act) for key, act in FOOT_ACTS.items()),
            Key("m", "measure"),
            Key("x", "would not lift"),
            Key("Enter", "nothing to note" if self._quiet(pad) else "done"),
        ]

    def _quiet(self, pad: Pad) -> bool:
        lists = ("findings", "healed", "work", "measures")
        return not any(i["foot"] == self.foot for k in lists for i in pad.slip.feet.get(k, ()))

    def press(self, pad: Pad, key: str) -> Pad | None:
        if key == "enter":
            return pad.done(pad.slip.lift(self.foot))
        if key == "escape":
            return pad.done()
        if key in ("left", "right"):
            return turned(pad, beside(self.foot, key))
        if key in CLAW_KEYS:
            return pad.go(FindCode(self.foot, CLAW_KEYS[key]))
        if key in FOOT_ACTS:
            return pad.go(self, pad.slip.work(self.foot, None, FOOT_ACTS[key]))
        if key == "x":
            return pad.done(pad.slip.refuse(self.foot))
        if key == "m":
            return pad.go(measure_claw(self.foot, self))
        return None


def beside(foot: str, key: str) -> str:
    """The foot after (right) or before (left), round the end."""
    return FEET[(FEET.index(foot) + (1 if key == "right" else -1)) % len(FEET)]


def turned(pad: Pad, foot: str) -> Pad | None:
    """Another foot, as the first question turns to it."""
    return pad.top.press(pad, next(key for key, each in FOOT_KEYS.items() if each == foot))


@dataclass(frozen=True, slots=True)
class FindCode:
    """Which finding: by its code, or by any word of its name."""

    foot: str
    claw: str
    typed: str = ""

    @property
    def place(self) -> tuple[str, str]:
        return self.foot, self.claw

    def question(self, pad: Pad) -> str:
        spot = spot_words(self.foot, self.claw)
        return f"{spot}: which finding? {self.typed.upper()}…" if self.typed else f"{spot}: code?"

    def keys(self, pad: Pad) -> list[Key]:
        fits = self.fits()
        few = self.typed and len(fits) <= FOUND_SHOWN
        shown = [
            Key(str(number), f"{code} {CODES[code].name}") if few else Key(code.lower(), "")
            for number, code in enumerate(fits, start=1)
        ]
        work = [] if self.typed else [Key("Enter", "no finding, only work")]
        return [*shown, *work, Key("?", "what each is")]

    def fits(self) -> list[str]:
        return codes_like(self.claw, self.typed)

    def press(self, pad: Pad, key: str) -> Pad | None:
        fits = self.fits()
        if key == "escape":
            return pad.go(OnFoot(self.foot))
        if key == "enter":
            if not self.typed:
                return pad.go(OnClaw(self.foot, self.claw, ""))
            return self._found(pad, fits[0])
        if is_digit(key) and self.typed and 0 < int(key) <= len(fits):
            return self._found(pad, fits[int(key) - 1])
        if len(key) != 1 or not key.isalpha():
            return None
        further = replace(self, typed=self.typed + key.lower())
        if not further.fits():
            return pad.tell(f'No finding of {self.claw} has "{further.typed}" in code or name.')
        exact = further.typed.upper()
        return self._found(pad, exact) if exact in further.fits() else pad.go(further)

    def _found(self, pad: Pad, code: str) -> Pad:
        slip = pad.slip.find(self.foot, self.claw, code)
        placed = "zone" in (slip.finding(self.foot, self.claw, code) or {})
        on = OnClaw(self.foot, self.claw, code, asks=HOW if placed else ZONE)
        if code == "DD" and not pad.before.known(self.foot, self.claw, code):
            return pad.go(stage((self.foot, self.claw, code), on), slip)
        said = "Say in a note what it is: m, once you are done here." if code == "XX" else ""
        return pad.go(on, slip, said)


@dataclass(frozen=True, slots=True)
class OnClaw:
    """A finding (``code`` empty: none) on a claw: where on it, how bad, and what is done.

    ``asks``: what a digit says now. The place first; straight after it how bad, where that matters
    and is not said; any other key goes past that, and then a digit turns to a foot.
    """

    foot: str
    claw: str
    code: str
    asks: str = ""

    @property
    def place(self) -> tuple[str, str]:
        return self.foot, self.claw

    def question(self, pad: Pad) -> str:
        spot, found = spot_words(self.foot, self.claw), self._found(pad)
        if found is None:
            return f"{spot}: what is done?"
        asks = self._asks(pad)
        staged = f"stage {found.get('stage', 'as before or unknown')}" if self.code == "DD" else ""
        said = [CODES[self.code].name, staged or self._how(pad, found), self._zone(pad, found)]
        return f"{spot}: {', '.join(filter(None, said))}{_ASKED[asks]}"

    def _how(self, pad: Pad, found: Content) -> str:
        """How bad it is; that this is not said only once it is asked no more."""
        open_question = self._asks(pad) and severity_of(pad.before, found) is None
        return "" if open_question else how(pad.before, found)

    def _zone(self, pad: Pad, found: Content) -> str:
        """Its zone, in words where these are not the longest of what has to be said."""
        zone = found.get("zone")
        if zone is None:
            return ""
        short = not self._asks(pad) and asked(pad.before, found)
        return f"zone {zone}" if short else f"zone {zone} ({ZONES[zone]})"

    def _found(self, pad: Pad) -> Content | None:
        return pad.slip.finding(self.foot, self.claw, self.code)

    def _asks(self, pad: Pad) -> str:
        """What a digit says: a place not said twice, nor how bad it is."""
        found = self._found(pad)
        if found is None or (self.asks == HOW and not asked(pad.before, found)):
            return ""
        return "" if self.asks == ZONE and "zone" in found else self.asks

    def keys(self, pad: Pad) -> list[Key]:
        asks = self._asks(pad)
        grade = [Key("v", "severity")] if asks != HOW else []
        grade = [Key("g", "stage")] if self.code == "DD" else grade
        if self.code and pad.before.known(self.foot, self.claw, self.code):
            grade.append(Key("h", "healed"))
        return [
            *_DIGITS[asks],
            *((*grade, Key("z", "size")) if self.code else ()),
            *(Key(key, act) for key, act in CLAW_ACTS.items()),
            Key("b", "block other claw"),
            *([Key("m", "measure")] if self.claw != "skin" else ()),
            Key("s", "rest sound"),
            Key(",", "more"),
            Key("Enter", "done"),
        ]

    def press(self, pad: Pad, key: str) -> Pad | None:
        if key in DONE:
            slip = pad.slip if self.code else pad.slip.lift(self.foot)
            return pad.done(slip)
        if key in CLAW_ACTS:
            slip = pad.slip.work(self.foot, self.claw, CLAW_ACTS[key])
            return pad.go(self._past(), slip)
        if key == "s":
            return pad.top.press(pad, key)
        if key in ANOTHER:
            return pad.go(OnFoot(self.foot))
        if key in ("left", "right"):
            return turned(pad, beside(self.foot, key))
        if key == "b":
            return self._block(pad)
        if key == "m" and self.claw != "skin":
            return pad.go(measure(self.foot, self.claw, self._past()))
        if is_digit(key):
            return self._digit(pad, int(key))
        return self._of_finding(pad, key) if self.code else None

    def _of_finding(self, pad: Pad, key: str) -> Pad | None:
        place = (self.foot, self.claw, self.code)
        if key == "." and self._asks(pad) == ZONE:
            return pad.go(far_zone(place, replace(self, asks=HOW), self))
        if key == "v" and self.code != "DD":
            return pad.go(severity(place, self._past()))
        if key == "g" and self.code == "DD":
            return pad.go(stage(place, self._past()))
        if key == "z":
            return pad.go(size(place, self._past()))
        healed = key == "h" and pad.before.known(*place) is not None
        return pad.done(pad.slip.heal(*place)) if healed else None

    def _past(self) -> OnClaw:
        """After another key than a digit: how bad it is is asked no more, its place still is."""
        return self if self.asks == ZONE else replace(self, asks="")

    def _digit(self, pad: Pad, digit: int) -> Pad:
        """What is asked; once nothing is, the foot that is turned to."""
        asks, place = self._asks(pad), (self.foot, self.claw, self.code)
        if asks == ZONE:
            return pad.go(replace(self, asks=HOW), pad.slip.find(*place, zone=digit))
        if asks == HOW:
            if digit not in SEVERITIES:
                return pad.tell(f"{digit} is not how bad it is: {GRADES}; another key goes on.")
            return pad.go(replace(self, asks=""), pad.slip.find(*place, severity=digit))
        foot = FOOT_KEYS.get(str(digit))
        on = turned(pad, foot) if foot else None
        if foot and on:
            return on.tell(f"{self.foot} is done: now the {FOOT_NAMES[foot]}.")
        return pad.tell("The zone is said already: Backspace takes it back.")

    def _block(self, pad: Pad) -> Pad:
        other = partner(self.claw)
        if other == self.claw:
            return pad.go(block_claw(self.foot))
        return fit(self.foot, other, pad, self._past())
