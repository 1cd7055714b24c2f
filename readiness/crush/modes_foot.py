"""A foot in the hand: which claw, what is on it, where and how bad, and what is done."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial

from readiness.crush.before import asked, how, severity_of
from readiness.crush.modes_block import block_claw, fit
from readiness.crush.modes_finding import (
    TEN,
    codes_like,
    far_zone,
    grades,
    measure,
    measure_claw,
    severity,
    size,
    stage,
)
from readiness.crush.pad import CLAW_KEYS, FOOT_KEYS, Answer, Asking, Key, Mode, Pad, is_digit
from readiness.crush.slip import Content, Slip
from readiness.shorthand.lexicon import FEET_LISTS
from readiness.trade.codes import CODES, SEVERITIES, STAGED, UNNAMED
from readiness.trade.feet import ACTS, CLAW_NAMES, FEET, FOOT_NAMES, ZONES, partner, spot_words

UNWRAP = "unwrap"
CLAW_ACTS = {act[0]: act for act in ACTS if act != UNWRAP}
# A wrap is round the foot. "u" takes back what was saved, and by habit would take a wrap off here.
FOOT_ACTS = CLAW_ACTS | {"r": UNWRAP}
FOUND_SHOWN = 9

ZONE, HOW = "zone", "how bad"
"""What a digit on a claw says."""
GRADES = ", ".join(f"{number} {words}" for number, words in SEVERITIES.items())
_ASKED = {ZONE: ": zone?", HOW: ": how bad?", "": ""}


@dataclass(frozen=True, slots=True)
class InHand:
    """A foot, and the claw of it that is meant, where one is."""

    foot: str
    claw: str = ""

    @property
    def place(self) -> tuple[str, str]:
        return self.foot, self.claw


class OnFoot(InHand, Asking):
    """One foot is up: which claw, or what is done to the foot as a whole."""

    def question(self, pad: Pad) -> str:
        wrapped = ", wrapped" if self.foot in pad.before.wraps else ""
        return f"{FOOT_NAMES[self.foot].capitalize()}{wrapped}: which claw?"

    def offers(self, pad: Pad) -> Iterator[Answer]:
        for keys, claw in CLAW_KEYS.items():
            yield Answer(keys, CLAW_NAMES[claw], FindCode(self.foot, claw))
        yield from _work(FOOT_ACTS, self.foot, None, self)
        yield Answer("m", "measure", measure_claw(self.foot, self))
        yield Answer("x", "would not lift", says=lambda slip: slip.refuse(self.foot))
        done = "nothing to note" if self._quiet(pad) else "done"
        yield Answer("Enter", done, says=lambda slip: slip.lift(self.foot))
        yield Answer("Esc", "")
        yield from _beside(self.foot)

    def _quiet(self, pad: Pad) -> bool:
        said = (item for key in FEET_LISTS for item in pad.slip.feet.get(key, ()))
        return all(item["foot"] != self.foot for item in said)


def _work(keys: Mapping[str, str], foot: str, claw: str | None, after: Mode) -> Iterator[Answer]:
    """What may be done there, by key."""
    for key, act in keys.items():
        yield Answer(key, act, after, partial(Slip.work, foot=foot, claw=claw, act=act))


def _beside(foot: str) -> Iterator[Answer]:
    """The foot before this one and the one after it, round the end."""
    at = FEET.index(foot)
    yield Answer("left", "", do=partial(turned, foot=FEET[at - 1]))
    yield Answer("right", "", do=partial(turned, foot=FEET[(at + 1) % len(FEET)]))


def turned(pad: Pad, foot: str) -> Pad | None:
    """Another foot, as the first question turns to it."""
    return pad.top.press(pad, next(key for key, each in FOOT_KEYS.items() if each == foot))


@dataclass(frozen=True, slots=True)
class FindCode(InHand):
    """Which finding: by its code, or by any word of its name."""

    typed: str = ""

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
                return pad.go(OnClaw(self.foot, self.claw))
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
        if code == STAGED and not pad.before.known(self.foot, self.claw, code):
            return pad.go(stage((self.foot, self.claw, code), on), slip)
        said = "Say in a note what it is: m, once you are done here." if code == UNNAMED else ""
        return pad.go(on, slip, said)


@dataclass(frozen=True, slots=True)
class OnClaw(InHand, Asking):
    """A finding (``code`` empty: none) on a claw: where on it, how bad, and what is done.

    ``asks``: what a digit says now. The place first; straight after it how bad, where that matters
    and is not said; any other key goes past that, and then a digit turns to a foot.
    """

    code: str = ""
    asks: str = ""

    def question(self, pad: Pad) -> str:
        spot, found = spot_words(self.foot, self.claw), self._found(pad)
        if found is None:
            return f"{spot}: what is done?"
        said = [CODES[self.code].name, self._how(pad, found), self._zone(pad, found)]
        return f"{spot}: {', '.join(filter(None, said))}{_ASKED[self._asks(pad)]}"

    def _how(self, pad: Pad, found: Content) -> str:
        """How bad it is; that this is not said only once it is asked no more."""
        if self.code == STAGED:
            return f"stage {found.get('stage', 'as before or unknown')}"
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

    def offers(self, pad: Pad) -> Iterator[Answer]:
        asks, past = self._asks(pad), self._past()
        if asks == ZONE:
            far = far_zone(self._key(), replace(self, asks=HOW), self)
            yield Answer(f"0-{TEN - 1}", "zone")
            yield Answer(".", f"{TEN}-{max(ZONES)}", far)
        elif asks == HOW:
            yield from grades(self._key(), replace(self, asks=""))
        else:
            yield Answer("1-4", "another foot")
        if self.code:
            yield from self._of_finding(pad, asks)
        yield from _work(CLAW_ACTS, self.foot, self.claw, past)
        yield Answer("b", "block other claw", do=self._block)
        if self.claw != "skin":
            yield Answer("m", "measure", measure(self.foot, self.claw, past))
        yield Answer("s", "rest sound", do=lambda pad: pad.top.press(pad, "s"))
        yield Answer(", Space", "more", OnFoot(self.foot))
        yield Answer(
            "Enter Esc", "done", says=lambda slip: slip if self.code else slip.lift(self.foot)
        )
        yield from _beside(self.foot)

    def _of_finding(self, pad: Pad, asks: str) -> Iterator[Answer]:
        key, past = self._key(), self._past()
        if self.code == STAGED:
            yield Answer("g", "stage", stage(key, past))
        else:
            yield Answer("v", "severity" if asks != HOW else "", severity(key, past))
        if pad.before.known(*key):
            yield Answer("h", "healed", says=lambda slip: slip.heal(*key))
        yield Answer("z", "size", size(key, past))

    def _key(self) -> tuple[str, str, str]:
        return self.foot, self.claw, self.code

    def _past(self) -> OnClaw:
        """After another key than a digit: how bad it is is asked no more, its place still is."""
        return self if self.asks == ZONE else replace(self, asks="")

    def otherwise(self, pad: Pad, key: str) -> Pad | None:
        """A digit says what is asked; once nothing is, the foot that is turned to."""
        if not is_digit(key):
            return None
        asks = self._asks(pad)
        if asks == ZONE:
            return pad.go(replace(self, asks=HOW), pad.slip.find(*self._key(), zone=int(key)))
        if asks == HOW:
            return pad.tell(f"{key} is not how bad it is: {GRADES}; another key goes on.")
        foot = FOOT_KEYS.get(key)
        on = turned(pad, foot) if foot else None
        if foot and on:
            return on.tell(f"{self.foot} is done: now the {FOOT_NAMES[foot]}.")
        return pad.tell("The zone is said already: Backspace takes it back.")

    def _block(self, pad: Pad) -> Pad:
        other = partner(self.claw)
        if other == self.claw:
            return pad.go(block_claw(self.foot))
        return fit(self.foot, other, pad, self._past())
