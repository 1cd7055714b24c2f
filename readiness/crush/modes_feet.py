"""A foot in the hand: what is on it, what is done, and what became of what was open."""

from __future__ import annotations

from dataclasses import dataclass, replace

from readiness.crush.answers import FOOT_KEYS, is_digit
from readiness.crush.modes_block import BlockClaw, fit
from readiness.crush.modes_finding import Severity, Size, Stage, codes_like
from readiness.crush.modes_measure import Measure, MeasureClaw
from readiness.crush.pad import DONE, Key, Mode, Pad
from readiness.crush.slip import Slip
from readiness.crush.standing import Open
from readiness.entry import FEET
from readiness.trade.codes import CODES, SEVERITIES, severity_words
from readiness.trade.feet import ACTS, CLAW_NAMES, FOOT_NAMES, ZONES, partner, spot_words

CLAW_KEYS = {
    "o": "outer", "i": "inner", "b": "both", "s": "skin",
    "1": "outer", "2": "inner", "3": "both", "4": "skin",
}  # fmt: skip
ACT_KEYS = {act[0]: act for act in ACTS}
ANOTHER = (",", " ")
MOST_SEVERE = max(SEVERITIES)
FOUND_SHOWN = 9


def begin_foot(pad: Pad, foot: str, slip: Slip | None = None) -> Pad:
    """Turn to a foot: first what became of what holds him there, then what is new."""
    now = pad.slip if slip is None else slip
    holding = [
        found
        for found in pad.standing.open
        if found.holds
        and found.foot == foot
        and not now.speaks_of(found.foot, found.claw, found.code)
    ]
    if holding:
        return pad.go(Asking(tuple(holding), foot), slip)
    return pad.go(OnFoot(foot), slip)


def sound(pad: Pad) -> Pad:
    """The feet not spoken of are lifted and sound; what is open on them is asked for."""
    rest = pad.slip.untouched
    slip = pad.slip.lift(*rest)
    asked = pad.standing.unanswered(slip)
    if asked:
        return pad.go(Asking(tuple(asked)), slip)
    return pad.done(slip, said="" if rest else "All four are said already.")


def trimmed(pad: Pad) -> Pad:
    """The feet not refused are lifted and trimmed."""
    slip = pad.slip.trim(*(foot for foot in FEET if foot not in pad.slip.refused))
    asked = pad.standing.unanswered(slip)
    return pad.go(Asking(tuple(asked)), slip) if asked else pad.done(slip)


@dataclass(frozen=True, slots=True)
class Asking:
    """What became of a finding that holds him: the first of ``queue``; then the foot that was
    turned to, or (``foot`` empty) the first question.

    Its keys are none of those that follow "all sound" by habit (walk, condition, Enter): fingers
    that go on as with a sound bull answer nothing for him.
    """

    queue: tuple[Open, ...]
    foot: str = ""

    @property
    def place(self) -> tuple[str, str]:
        return self.queue[0].foot, self.queue[0].claw

    def question(self, pad: Pad) -> str:
        words = self.queue[0].words
        return f"{words[:1].upper()}{words[1:]}: and now?"

    def keys(self, pad: Pad) -> list[Key]:
        return [
            Key("h", "healed"),
            Key("o", "open still"),
            Key("v", "worse"),
            Key("l", "less"),
            Key("f", "fit to work, not gone"),
            Key("Esc", "not looked at"),
        ]

    def press(self, pad: Pad, key: str) -> Pad | None:
        found, slip = self.queue[0], pad.slip
        place = (found.foot, found.claw, found.code)
        if key == "escape":
            return self._on(pad, slip, answered=False)
        if key in ("h", "f"):
            return self._on(pad, slip.heal(*place, stable=key == "f"))
        if key == "o":
            return self._on(pad, slip.find(*place))
        if key not in ("v", "l"):
            return None
        if found.staged:
            return pad.go(Stage(*place, after=self._rest(pad, listed=True)), slip.find(*place))
        if key == "l" and found.severity == 1:
            return pad.tell("It is slight already: h healed, o open still.")
        if found.severity is None:
            return pad.tell("How bad it was, nobody has said: o open still, then v and 1 to 3.")
        severity = found.severity + (1 if key == "v" else -1)
        return self._on(pad, slip.find(*place, severity=min(severity, MOST_SEVERE)))

    def _on(self, pad: Pad, slip: Slip, *, answered: bool = True) -> Pad:
        listed = answered and slip.finding(*self._key()) is not None
        return pad.go(self._rest(pad, listed=listed), slip)

    def _key(self) -> tuple[str, str, str]:
        found = self.queue[0]
        return found.foot, found.claw, found.code

    def _rest(self, pad: Pad, *, listed: bool) -> Mode:
        """The next question: another finding; then the claw just spoken of, where it has one to
        work on; then the foot."""
        if len(self.queue) > 1:
            return replace(self, queue=self.queue[1:])
        if not self.foot:
            return pad.top
        return OnClaw(*self._key(), placed=True) if listed else OnFoot(self.foot)


@dataclass(frozen=True, slots=True)
class OnFoot:
    """One foot is up: which claw, or what is done to the foot as a whole."""

    foot: str

    @property
    def place(self) -> tuple[str, str]:
        return self.foot, ""

    def question(self, pad: Pad) -> str:
        return f"{FOOT_NAMES[self.foot].capitalize()}: which claw?"

    def keys(self, pad: Pad) -> list[Key]:
        return [
            *(Key(key, CLAW_NAMES[claw]) for key, claw in CLAW_KEYS.items() if key.isalpha()),
            *(Key(key, act) for key, act in ACT_KEYS.items()),
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
            return begin_foot(pad, beside(self.foot, key))
        if key in CLAW_KEYS:
            return pad.go(FindCode(self.foot, CLAW_KEYS[key]))
        if key in ACT_KEYS:
            return pad.go(self, pad.slip.work(self.foot, None, ACT_KEYS[key]))
        if key == "x":
            return pad.done(pad.slip.refuse(self.foot))
        if key == "m":
            return pad.go(MeasureClaw(self.foot, self))
        return None


def beside(foot: str, key: str) -> str:
    """The foot after (right) or before (left), round the end."""
    return FEET[(FEET.index(foot) + (1 if key == "right" else -1)) % len(FEET)]


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
        on = OnClaw(self.foot, self.claw, code)
        if code == "DD" and not pad.standing.known(self.foot, self.claw, code):
            return pad.go(Stage(self.foot, self.claw, code, after=on), slip)
        said = "Say in a note what it is: m, once you are done here." if code == "XX" else ""
        return pad.go(on, slip, said)


@dataclass(frozen=True, slots=True)
class OnClaw:
    """A finding (``code`` empty: none) on a claw: where on it, how bad, and what is done."""

    foot: str
    claw: str
    code: str
    placed: bool = False
    """It was asked for by its place: no zone is wanted."""
    tens: bool = False
    """The zone was given as 1 with the key before: 10, 11 and 12 may yet be meant."""

    @property
    def place(self) -> tuple[str, str]:
        return self.foot, self.claw

    def question(self, pad: Pad) -> str:
        spot = spot_words(self.foot, self.claw)
        found = pad.slip.finding(self.foot, self.claw, self.code)
        if found is None:
            return f"{spot}: what is done?"
        zone = found.get("zone")
        where = f", zone {zone} ({ZONES[zone]})" if zone is not None else ""
        where = where or ("" if self.placed else ": zone?")
        return f"{spot}: {CODES[self.code].name}, {self._how(pad)}{where}"

    def _how(self, pad: Pad) -> str:
        found = pad.slip.finding(self.foot, self.claw, self.code) or {}
        if self.code == "DD":
            return f"stage {found.get('stage', 'as before or unknown')}"
        return severity_words(self._severity(pad))

    def _severity(self, pad: Pad) -> int | None:
        """As said; else as it was; of a new one nobody knows."""
        found = pad.slip.finding(self.foot, self.claw, self.code) or {}
        known = pad.standing.known(self.foot, self.claw, self.code)
        severity: int | None = found.get("severity") or (known.severity if known else None)
        return severity

    def keys(self, pad: Pad) -> list[Key]:
        how = [Key("v", "severity")]
        if self.code == "DD":
            how = [Key("g", "stage")]
        if self.code and pad.standing.known(self.foot, self.claw, self.code):
            how.append(Key("h", "healed"))
        digits = Key("1-4", "another foot") if self._placed(pad) else Key("0-9", "zone")
        return [
            digits,
            *((*how, Key("z", "size")) if self.code else ()),
            *(Key(key, act) for key, act in ACT_KEYS.items()),
            Key("b", "block other claw"),
            *([Key("m", "measure")] if self.claw != "skin" else ()),
            Key("s", "other feet sound"),
            Key(",", "more here"),
            Key("Enter", "done"),
        ]

    def press(self, pad: Pad, key: str) -> Pad | None:
        if key in DONE:
            slip = pad.slip if self.code else pad.slip.lift(self.foot)
            return pad.done(slip)
        if key in ACT_KEYS:
            slip = pad.slip.work(self.foot, self.claw, ACT_KEYS[key])
            return pad.go(self._zoned(), slip)
        if key == "s":
            return sound(pad)
        if key in ANOTHER:
            return pad.go(OnFoot(self.foot))
        if key in ("left", "right"):
            return begin_foot(pad, beside(self.foot, key))
        if key == "b":
            return self._block(pad)
        if key == "m" and self.claw != "skin":
            return pad.go(Measure(self.foot, self.claw, self._zoned()))
        if is_digit(key):
            return self._digit(pad, key)
        return self._of_finding(pad, key) if self.code else None

    def _of_finding(self, pad: Pad, key: str) -> Pad | None:
        place = (self.foot, self.claw, self.code)
        if key == "v" and self.code != "DD":
            return pad.go(Severity(*place, after=self._zoned()))
        if key == "g" and self.code == "DD":
            return pad.go(Stage(*place, after=self._zoned()))
        if key == "z":
            return pad.go(Size(*place, after=self._zoned()))
        healed = key == "h" and pad.standing.known(*place) is not None
        return pad.done(pad.slip.heal(*place)) if healed else None

    def _zoned(self) -> OnClaw:
        """The same after another key than a zone's: a digit then is a zone of its own."""
        return replace(self, tens=False)

    def _placed(self, pad: Pad) -> bool:
        """Whether a digit can be no zone: there is no finding, or it has its zone."""
        found = pad.slip.finding(self.foot, self.claw, self.code)
        return found is None or self.placed or "zone" in found

    def _digit(self, pad: Pad, key: str) -> Pad:
        """A zone, until one is said; then the foot that is turned to."""
        if not self._placed(pad) or (self.tens and 10 + int(key) in ZONES):
            return self._zone(pad, int(key))
        if key in FOOT_KEYS:
            foot = FOOT_KEYS[key]
            return begin_foot(pad, foot).tell(f"{self.foot} is done: now the {FOOT_NAMES[foot]}.")
        return pad.tell("The zone is said already: Backspace takes it back.")

    def _zone(self, pad: Pad, digit: int) -> Pad:
        zone = 10 + digit if self.tens else digit
        slip = pad.slip.find(self.foot, self.claw, self.code, zone=zone)
        return pad.go(replace(self, tens=zone == 1), slip)

    def _block(self, pad: Pad) -> Pad:
        other = partner(self.claw)
        if other == self.claw:
            return pad.go(BlockClaw(self.foot))
        return fit(pad, self.foot, other, self._zoned())
