"""Where the next key goes: a pad on which something is asked, and questions as data: of each answer
its keys, its words, what it says, and which question comes next.

Pure: a pad and a key give a pad. Every key that changed something can be taken back by one key.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from typing import NamedTuple, Protocol

from readiness.crush.before import Before
from readiness.crush.slip import Slip
from readiness.trade.feet import FEET

BACK = "backspace"
DONE = ("enter", "escape")


class Key(NamedTuple):
    """A key and what it means here. ``spare``: its words go where not all of them have room."""

    key: str
    words: str
    spare: bool = False


class Mode(Protocol):
    """What is being asked. ``place``: the foot and the claw that are meant, as far as said."""

    @property
    def place(self) -> tuple[str, str]: ...

    def question(self, pad: Pad) -> str:
        """What is asked, in a few words."""

    def keys(self, pad: Pad) -> list[Key]:
        """The keys that answer it."""

    def press(self, pad: Pad, key: str) -> Pad | None:
        """The pad after this key; None where it means nothing here."""


Steps = tuple[tuple[Slip, Mode], ...]


@dataclass(frozen=True, slots=True)
class Pad:
    """``top``: the first question, to which each answer leads back. ``said``: why a key did
    nothing, or what to think of. ``refused``: the last key meant nothing here, and ``said`` says
    so. ``steps``: what each key back was."""

    before: Before
    slip: Slip
    mode: Mode
    top: Mode
    steps: Steps = ()
    said: str = ""
    refused: bool = False

    @property
    def question(self) -> str:
        return self.mode.question(self)

    @property
    def keys(self) -> list[Key]:
        return self.mode.keys(self)

    @property
    def takes_back(self) -> str:
        """What Backspace does with what stands on a pad that was brought back."""
        return f"Backspace takes back {'key by key' if self.steps else 'entry by entry'}."

    def press(self, key: str) -> Pad | None:
        """The pad after this key. ``key``: a character, or enter, escape, backspace, left, right.
        None where the key means nothing here."""
        if key != BACK:
            return self.mode.press(self, key)
        if not self.steps:
            return None
        slip, mode = self.steps[-1]
        return replace(self, slip=slip, mode=mode, steps=self.steps[:-1], said="", refused=False)

    def go(self, mode: Mode, slip: Slip | None = None, said: str = "") -> Pad:
        """On to another question, with what is said now."""
        now = self.slip if slip is None else slip
        steps = self.steps
        if (now, mode) != (self.slip, self.mode):
            steps = (*steps, (self.slip, self.mode))
        return replace(self, slip=now, mode=mode, steps=steps, said=said, refused=False)

    def done(self, slip: Slip | None = None, said: str = "") -> Pad:
        """Back to the first question."""
        return self.go(self.top, slip, said)

    def tell(self, words: str) -> Pad:
        """The same, with a word on why."""
        return replace(self, said=words, refused=False)

    def refuse(self, words: str) -> Pad:
        """The same: the key meant nothing here, and why."""
        return replace(self, said=words, refused=True)


# ---- questions -----------------------------------------------------------------------------------

FOOT_KEYS = {str(number): foot for number, foot in enumerate(FEET, start=1)}
"""As the feet stand on the screen: left and right fore, left and right hind."""

CLAW_KEYS = {"o": "outer", "i": "inner", "j": "both", ",": "skin"}
"""Key → the claw; the skin lies between the two."""

ANYWHERE = ("s", "t", "b", "w", "c", "k", "a")
"""The answers to the first question that mean the same wherever no question of its own takes them:
whoever goes on to them has no more to say to what is asked, as by Enter."""

NOWHERE = ("", "")
FULL = "No more digits: Enter takes the number, Backspace the last digit away."
_NAMES = {"enter": "Enter", "escape": "Esc", " ": "Space"}


class Answer(NamedTuple):
    """``keys``: those that give it, parted by blanks, the first of them shown ("o 1", "Esc Enter");
    a range ("1-4") is only shown. ``words``: what it means; without words it is not shown.
    ``then``: the next question; None is the first one. ``says``: the slip that says it. ``told``:
    what to think of. ``do``: what comes of it instead, where that depends on what is known or said
    of him."""

    keys: str
    words: str
    then: Mode | None = None
    says: Callable[[Slip], Slip] | None = None
    told: str = ""
    do: Callable[[Pad], Pad | None] | None = None


class Asking(ABC):
    """A question that states each of its keys once, as an answer."""

    __slots__ = ()

    @abstractmethod
    def offers(self, pad: Pad) -> Iterable[Answer]:
        """The answers that can be given now, in the order shown."""

    def otherwise(self, pad: Pad, key: str) -> Pad | None:
        """What comes of a key that gives none of them."""
        return onward(pad, key)

    def keys(self, pad: Pad) -> list[Key]:
        shown = (answer for answer in self.offers(pad) if answer.words)
        return [Key(answer.keys.split()[0], answer.words) for answer in shown]

    def press(self, pad: Pad, key: str) -> Pad | None:
        name = _NAMES.get(key, key)
        answer = next((each for each in self.offers(pad) if name in each.keys.split()), None)
        if answer is None:
            return self.otherwise(pad, key)
        if answer.do is not None:
            return answer.do(pad)
        slip = answer.says(pad.slip) if answer.says else None
        return pad.go(answer.then or pad.top, slip, answer.told)


@dataclass(frozen=True, slots=True)
class Choice(Asking):
    """A question that only asks, chooses and goes on, told by its words and its ``place`` (foot,
    claw). ``span``: what is told of a digit that answers nothing. ``answered``: half of it is said,
    and whoever goes on to something else says that, as by Enter."""

    asks: str
    answers: tuple[Answer, ...] = field(compare=False)
    place: tuple[str, str] = NOWHERE
    span: str = ""
    answered: bool = False

    def question(self, pad: Pad) -> str:
        return self.asks

    def offers(self, pad: Pad) -> Iterable[Answer]:
        return self.answers

    def otherwise(self, pad: Pad, key: str) -> Pad | None:
        if self.span and is_digit(key):
            return pad.refuse(self.span)
        return onward(pad, key)


@dataclass(frozen=True, slots=True)
class Number:
    """A whole number typed digit by digit, ``most`` of them; then ``after``. ``says``: how the
    number is said, as ``sets``; ``none``: what it means to give none."""

    asks: str
    unit: str
    sets: str
    says: Callable[..., Slip] = field(compare=False)
    after: Mode | None = None
    place: tuple[str, str] = NOWHERE
    shown: tuple[str, str] = ("millimetres", "not measured")
    most: int = 3
    typed: str = ""

    def question(self, pad: Pad) -> str:
        return f"{self.asks}: {self.typed or '…'} {self.unit}"

    def keys(self, pad: Pad) -> list[Key]:
        digits, none = self.shown
        return [Key("0-9", digits), Key("Enter", "done"), Key("Esc", none)]

    def press(self, pad: Pad, key: str) -> Pad | None:
        after = self.after or pad.top
        if key == "enter" and self.typed:
            slip = self.says(pad.slip, **{self.sets: int(self.typed)})
            wrong = refused(slip)
            return pad.refuse(wrong) if wrong else pad.go(after, slip)
        if key in DONE:
            return pad.go(after)
        if not is_digit(key):
            return onward(pad, key)
        full = len(self.typed) >= self.most
        return pad.refuse(FULL) if full else pad.go(replace(self, typed=self.typed + key))


def onward(pad: Pad, key: str) -> Pad | None:
    """Past what is asked, as by Enter, to a key that means the same anywhere; None where it is none
    or where Enter is no answer here."""
    if key not in ANYWHERE or pad.mode == pad.top:
        return None
    past = pad.mode.press(pad, "enter")
    if past is None:
        return None
    on = past if past.refused else past.mode.press(past, key)
    if on is None or on.refused:
        return pad.refuse(on.said) if on is not None else None
    # One key is one step back.
    return pad.go(on.mode, on.slip, on.said or past.said)


def is_digit(key: str) -> bool:
    return len(key) == 1 and key.isascii() and key.isdigit()


def refused(slip: Slip) -> str:
    """Why the book would not take what is said, such as a number out of range; empty where it
    would."""
    from readiness.entries.validate import validate  # late: only a number that is typed needs it

    problems = (problem for content in slip.contents for problem in validate(content)[1])
    return next((f"{problem.text}." for problem in problems), "")
