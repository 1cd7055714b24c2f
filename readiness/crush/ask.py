"""Questions that only ask, choose and go on, as data: what is asked, and of each answer its keys,
its words, what it says, and which question comes next."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, NamedTuple

from readiness.crush.pad import DONE, Key, Mode, Pad
from readiness.crush.slip import Slip
from readiness.trade.feet import FEET

FOOT_KEYS = {str(number): foot for number, foot in enumerate(FEET, start=1)}
"""As the feet stand on the screen: left and right fore, left and right hind."""

NOWHERE = ("", "")
FULL = "No more digits: Enter takes the number, Backspace the last digit away."
Says = Callable[..., Slip]
"""The slip that says more: given the slip and what an answer sets, by name."""


class Answer(NamedTuple):
    """``keys``: those that give it, parted by blanks, the first of them shown ("o 1", "Esc Enter").
    ``words``: what it means; without words it is not shown. ``then``: the next question; None is
    the first one. ``sets``: what is said by it. ``told``: what to think of. ``do``: what comes of
    it instead, where that depends on what is known or said of him."""

    keys: str
    words: str
    then: Mode | None = None
    sets: Mapping[str, Any] | None = None
    told: str = ""
    do: Callable[[Pad], Pad | None] | None = None


@dataclass(frozen=True, slots=True)
class Ask:
    """A question told by its words and its ``place`` (foot, claw). ``says``: how what an answer
    sets is said. ``span``: what is told of a digit that answers nothing."""

    asks: str
    answers: tuple[Answer, ...] = field(compare=False)
    place: tuple[str, str] = NOWHERE
    says: Says = field(default=Slip.put, compare=False)
    span: str = ""

    def question(self, pad: Pad) -> str:
        return self.asks

    def keys(self, pad: Pad) -> list[Key]:
        shown = (answer for answer in self.answers if answer.words)
        return [Key(answer.keys.split()[0], answer.words) for answer in shown]

    def press(self, pad: Pad, key: str) -> Pad | None:
        name = {"enter": "Enter", "escape": "Esc"}.get(key, key)
        answer = next((each for each in self.answers if name in each.keys.split()), None)
        if answer is None:
            return pad.tell(self.span) if self.span and is_digit(key) else None
        if answer.do is not None:
            return answer.do(pad)
        slip = self.says(pad.slip, **answer.sets) if answer.sets else None
        return pad.go(answer.then or pad.top, slip, answer.told)


@dataclass(frozen=True, slots=True)
class Number:
    """A whole number typed digit by digit, ``most`` of them; then ``after``. ``says``: how the
    number is said, as ``sets``; ``none``: what it means to give none."""

    asks: str
    unit: str
    sets: str
    says: Says = field(compare=False)
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
            return pad.tell(wrong) if wrong else pad.go(after, slip)
        if key in DONE:
            return pad.go(after)
        if not is_digit(key):
            return None
        full = len(self.typed) >= self.most
        return pad.tell(FULL) if full else pad.go(replace(self, typed=self.typed + key))


def is_digit(key: str) -> bool:
    return len(key) == 1 and key.isascii() and key.isdigit()


def refused(slip: Slip) -> str:
    """Why the book would not take what is said, such as a number out of range; empty where it
    would."""
    from readiness.entries.validate import validate  # late: only a number that is typed needs it

    problems = (problem for content in slip.contents for problem in validate(content)[1])
    return next((f"{problem.text}." for problem in problems), "")
