"""A foot in the hand: which claw, what is on it, where and how bad, and what is done."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace
from functools import partial

from readiness.crush.before import asked, how, severity_of
from readiness.crush.modes_block import block_claw, block_of, carries
from readiness.crush.modes_finding import (
    HOW_BAD,
    SKIN_ZONE,
    SKIN_ZONES_WORDS,
    TEN,
    WHICH_STAGE,
    changed,
    codes_like,
    far_zone,
    grades,
    healed_here,
    measure,
    measure_claw,
    spelled,
)
from readiness.crush.modes_work import ACT_KEYS, work, wrap, wrap_words
from readiness.crush.pad import (
    ANYWHERE,
    CLAW_KEYS,
    FOOT_KEYS,
    Answer,
    Asking,
    Choice,
    Key,
    Pad,
    is_digit,
)
from readiness.crush.slip import Content
from readiness.shorthand.lexicon import FEET_LISTS
from readiness.trade.codes import CODES, SEVERITIES, STAGED, STAGES, UNNAMED
from readiness.trade.feet import (
    BLOCK_CLAWS,
    FEET,
    FOOT_NAMES,
    SKIN_ZONES,
    ZONES,
    partner,
    spot_words,
)

FOUND_SHOWN = 9
ENOUGH = 2
"""Letters after which a digit or Enter chooses among the findings that fit: a walk or a condition
scored from habit, with a claw in the hand, begins with one."""

ZONE, HOW = "zone", "how bad"
"""What a digit on a claw says."""
ON_SKIN = ",".join(str(zone) for zone in SKIN_ZONES if zone < TEN)
NO_DISEASE = f"{STAGES[0]} is no disease: another stage, or Backspace takes the finding back."
GRADES = ", ".join(f"{number} {words}" for number, words in SEVERITIES.items())


@dataclass(frozen=True, slots=True)
class InHand:
    """A foot, and the claw of it that is meant, where one is."""

    foot: str
    claw: str = ""

    @property
    def place(self) -> tuple[str, str]:
        return self.foot, self.claw

    def elsewhere(self, pad: Pad, key: str) -> Pad | None:
        """The answer to the first question that means the same anywhere: the foot is done."""
        on = pad.top.press(pad, key) if key in ANYWHERE else None
        left = on is not None and self.foot not in (*on.slip.lifted, *on.slip.refused)
        return on.tell(f"{self.foot} is left, not lifted.") if on and left else on


class OnFoot(InHand, Asking):
    """One foot is up: which claw, or what is done to the foot as a whole."""

    def question(self, pad: Pad) -> str:
        wrapped = ", wrapped" if self.foot in pad.before.wraps else ""
        return f"{FOOT_NAMES[self.foot].capitalize()}{wrapped}: which claw?"

    def offers(self, pad: Pad) -> Iterator[Answer]:
        quiet = self._quiet(pad)
        yield from _claws(self.foot, CLAW_KEYS.values())
        yield from self._codes_begun(pad, quiet)
        yield from work(self.foot, None, self)
        yield Answer("r", wrap_words(pad, self.foot), do=partial(wrap, self.foot, self))
        yield Answer("b", "block", do=partial(block_of, self.foot, self))
        yield Answer("z", "measure", measure_claw(self.foot, self))
        yield Answer("x", "would not lift", says=lambda slip: slip.refuse(self.foot))
        yield from healed_here(self.foot, self, pad)
        yield Answer("1-4", "another foot")
        if not quiet:
            yield Answer("s", "rest sound", do=lambda pad: pad.top.press(pad, "s"))
        done = "nothing to note" if quiet else "done"
        lifted = f"{self.foot}: nothing to note. Enter saves him."
        told = lifted if quiet and self.foot in pad.slip.lifted else ""
        yield Answer("Enter", done, says=lambda slip: slip.lift(self.foot), told=told)
        yield Answer("Esc", "")
        yield from _beside(self.foot)

    def otherwise(self, pad: Pad, key: str) -> Pad | None:
        """To another foot, or to what is asked anywhere: what was not said of this one is not."""
        return turned_by(pad, key, self.foot) if key in FOOT_KEYS else self.elsewhere(pad, key)

    def _codes_begun(self, pad: Pad, quiet: bool) -> Iterator[Answer]:
        """Keys that begin a code whose claw was not said: taken for sound, or for a dressing said
        and taken away again, the finding would be lost."""
        if quiet:
            claws = f"First which claw: {' '.join(CLAW_KEYS)} (all four sound: Esc, s)."
            yield Answer("s", "", do=lambda pad: pad.refuse(claws))
        if {"foot": self.foot, "act": ACT_KEYS["d"]} in pad.slip.feet.get("work", ()):
            skin = "Dressed already: Backspace takes it back. Digital dermatitis: , d d."
            yield Answer("d", "", do=lambda pad: pad.refuse(skin))

    def _quiet(self, pad: Pad) -> bool:
        said = (item for key in FEET_LISTS for item in pad.slip.feet.get(key, ()))
        return all(item["foot"] != self.foot for item in said)


def _claws(foot: str, shown: Collection[str]) -> Iterator[Answer]:
    """The claws of the foot in the hand, by key."""
    for key, claw in CLAW_KEYS.items():
        yield Answer(key, claw if claw in shown else "", FindCode(foot, claw))


def turned_by(pad: Pad, key: str, foot: str) -> Pad | None:
    """Another foot in place of this one, and what that leaves of this one."""
    there = FOOT_KEYS[key]
    on = turned(pad, there)
    if on is None:
        return None
    left = "is done" if foot in pad.slip.lifted else "is left, not lifted"
    return on.tell(f"{foot} {left}: now the {FOOT_NAMES[there]}.")


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
        typed = f" {self.typed.upper()}…" if self.typed else ""
        return f"{spot}: which finding?{typed}"

    def keys(self, pad: Pad) -> list[Key]:
        fits = self.fits()
        few = len(self.typed) >= ENOUGH and len(fits) <= FOUND_SHOWN
        named = [(code, CODES[code].name) for code in fits]
        shown = [
            Key(str(number), f"{name} ({code})") if few else Key(code.lower(), name, spare=True)
            for number, (code, name) in enumerate(named, start=1)
        ]
        spelt = spelled(self.claw, self.typed)
        meant = spelt and not pad.refused  # else it was meant for another code
        skin = [Key(SKIN_ZONE, f"{CODES[spelt].name} ({spelt})")] if meant else []
        work = [] if self.typed else [Key("Enter", "no finding, only work")]
        return [*shown, *skin, *work, Key("?", "what each is")]

    def fits(self) -> list[str]:
        return codes_like(self.claw, self.typed)

    def press(self, pad: Pad, key: str) -> Pad | None:
        fits, spelt = self.fits(), spelled(self.claw, self.typed)
        if key == "escape":
            return pad.go(OnFoot(self.foot))
        if spelt and key == SKIN_ZONE and not pad.refused:
            slip = pad.slip.find(self.foot, "skin", spelt, zone=int(SKIN_ZONE))
            return pad.go(OnClaw(self.foot, "skin", spelt, HOW), slip)
        if spelt and key == "enter":
            return pad.tell(f"Is {spelt} meant? {SKIN_ZONE} {CODES[spelt].name}; or another digit.")
        if key == "enter":
            if not self.typed:
                return pad.go(OnClaw(self.foot, self.claw))
            if len(self.typed) >= ENOUGH and len(fits) == 1:
                return self._found(pad, fits[0])
            return pad.refuse("Which of these is it? By its letters, or after two by its digit.")
        if is_digit(key) and self.typed:
            if len(self.typed) >= ENOUGH and 0 < int(key) <= len(fits):
                return self._found(pad, fits[int(key) - 1])
            said = f"{key} means nothing here, and nothing is found yet: two letters first."
            return pad.go(replace(self, typed="")).refuse(said)
        if len(key) != 1 or not key.isalpha():
            return None
        further = replace(self, typed=self.typed + key.lower())
        if not (further.fits() or spelled(self.claw, further.typed)):
            said = f'No finding of {self.claw} has "{further.typed}" in code or name.'
            return pad.go(replace(self, typed="")).refuse(f"{said} Its letters from the first.")
        exact = further.typed.upper()
        return self._found(pad, exact) if exact in further.fits() else pad.go(further)

    def _found(self, pad: Pad, code: str) -> Pad:
        slip = pad.slip.find(self.foot, self.claw, code)
        placed = "zone" in (slip.finding(self.foot, self.claw, code) or {})
        said = "Say in a note what it is: m." if code == UNNAMED else ""
        return pad.go(OnClaw(self.foot, self.claw, code, HOW if placed else ZONE), slip, said)


@dataclass(frozen=True, slots=True)
class OnClaw(InHand, Asking):
    """A finding (``code`` empty: none) on a claw: where on it, how bad, and what is done.

    ``asks``: what a digit says now. The place first; straight after it, always, how bad; any other
    key goes past that, and then a digit turns to a foot.
    """

    code: str = ""
    asks: str = ""

    def question(self, pad: Pad) -> str:
        spot, found = spot_words(self.foot, self.claw), self._found(pad)
        if found is None:
            return f"{spot}: what is done?"
        said = [CODES[self.code].name, self._how(pad, found), self._zone(pad, found)]
        return f"{spot}: {', '.join(filter(None, said))}{self._asked(pad)}"

    def _asked(self, pad: Pad) -> str:
        how_asked = WHICH_STAGE if self.code == STAGED else HOW_BAD
        return {ZONE: ": zone?", HOW: how_asked, "": ""}[self._asks(pad)]

    def _how(self, pad: Pad, found: Content) -> str:
        """How bad it is; that this is not said only once it is asked no more."""
        if self.code == STAGED:
            unsaid = "" if self._asks(pad) else "stage as before or unknown"
            return f"stage {found['stage']}" if "stage" in found else unsaid
        open_question = self._asks(pad) and severity_of(pad.before, found) is None
        return "" if open_question else how(pad.before, found)

    def _zone(self, pad: Pad, found: Content) -> str:
        """Its zone, in words where these are not the longest of what has to be said."""
        zone = found.get("zone")
        if zone is None:
            return ""
        if self._asks(pad) and self.code == STAGED:
            return ""  # six stages fill the rows
        short = not self._asks(pad) and asked(pad.before, found)
        return f"zone {zone}" if short else f"zone {zone} ({ZONES[zone]})"

    def _found(self, pad: Pad) -> Content | None:
        return pad.slip.finding(self.foot, self.claw, self.code)

    def _asks(self, pad: Pad) -> str:
        """What a digit says: a place is not said twice."""
        found = self._found(pad)
        if found is None or (self.asks == ZONE and "zone" in found):
            return ""
        return self.asks

    def offers(self, pad: Pad) -> Iterator[Answer]:
        asks, past = self._asks(pad), self._past()
        if asks == ZONE:
            far = far_zone(self._key(), replace(self, asks=HOW), self)
            yield Answer(ON_SKIN if self.claw == "skin" else f"0-{TEN - 1}", "zone")
            yield Answer(".", f"{TEN}-{max(ZONES)}", far)
        elif asks == HOW:
            if self.code == STAGED and not pad.before.known(*self._key()):
                yield Answer("0", "", do=lambda pad: pad.refuse(NO_DISEASE))
            yield from grades(self._key(), replace(self, asks=""))
        else:
            yield Answer("1-4", "foot")
        # Six stages fill the rows: the other keys mean what they mean, and are not shown.
        crowded = asks == HOW and self.code == STAGED
        for answer in self._more(pad, asks, past):
            yield answer._replace(words="") if crowded else answer
        yield Answer(
            "Enter Esc", "done", says=lambda slip: slip if self.code else slip.lift(self.foot)
        )

    def _more(self, pad: Pad, asks: str, past: OnClaw) -> Iterator[Answer]:
        """What a digit does not say."""
        if self.code:
            yield from self._of_finding(pad, asks)
        yield from work(self.foot, self.claw, past)
        yield Answer("r", wrap_words(pad, self.foot), do=partial(wrap, self.foot, past))
        yield Answer("b", "block other claw", do=self._block)
        measured = measure(self.foot, self.claw, past, self.code)
        yield Answer("z", "measure", measured)
        yield from _claws(self.foot, BLOCK_CLAWS)
        yield Answer("s", "rest sound", do=lambda pad: pad.top.press(pad, "s"))
        yield from _beside(self.foot)

    def _of_finding(self, pad: Pad, asks: str) -> Iterator[Answer]:
        key = self._key()
        shown = asks != HOW
        yield Answer("+", "worse" if shown else "", do=partial(changed, key, self._past(), 1))
        yield Answer("-", "less" if shown else "", do=partial(changed, key, self._past(), -1))
        if pad.before.known(*key):
            yield Answer("h", "healed", do=self._healed)

    def _healed(self, pad: Pad) -> Pad:
        """Where he was asked what became of it and it was said to be there, that is asked again."""
        known = pad.before.known(*self._key())
        if known is None or not known.holds:
            return self._gone(pad)
        words = f"{spot_words(self.foot, self.claw)}: {CODES[self.code].name} was said to be there"
        still = Answer("Enter Esc", "still there", self)
        healed = Answer("h", "healed", do=self._gone)
        return pad.go(Choice(f"{words}: healed all the same?", (healed, still), self.place))

    def _gone(self, pad: Pad) -> Pad:
        words = f"{spot_words(self.foot, self.claw)}: {CODES[self.code].name}, healed."
        return pad.go(OnFoot(self.foot), pad.slip.heal(*self._key()), words)

    def _key(self) -> tuple[str, str, str]:
        return self.foot, self.claw, self.code

    def _past(self) -> OnClaw:
        """After another key than a digit: how bad it is is asked no more, its place still is."""
        return self if self.asks == ZONE else replace(self, asks="")

    def otherwise(self, pad: Pad, key: str) -> Pad | None:
        """A digit says what is asked; once nothing is, the foot that is turned to."""
        asks = self._asks(pad)
        if not is_digit(key):
            return self.elsewhere(pad, key)
        if asks == ZONE and self.claw == "skin" and int(key) not in SKIN_ZONES:
            return pad.refuse(f"Zone {key} is of the horn: of the skin {SKIN_ZONES_WORDS}.")
        if asks == ZONE:
            return pad.go(replace(self, asks=HOW), pad.slip.find(*self._key(), zone=int(key)))
        if asks == HOW:
            return pad.refuse(f"{key} is not how bad it is: {GRADES}; another key goes on.")
        on = turned_by(pad, key, self.foot) if key in FOOT_KEYS else None
        return on or pad.refuse("The zone is said already: Backspace takes it back.")

    def _block(self, pad: Pad) -> Pad:
        other = partner(self.claw)
        if other == self.claw:
            return pad.go(block_claw(self.foot, self._past()))
        return carries(self.foot, other, self._past(), pad)
