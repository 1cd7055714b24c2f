"""Where the next key goes: a pad of keys, each an answer, and what has been said so far.

Pure: a pad and a key give a pad. Every key that changed something can be taken back by one key.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import NamedTuple, Protocol

from readiness.crush.before import Before
from readiness.crush.slip import Slip

BACK = "backspace"
DONE = ("enter", "escape")


class Key(NamedTuple):
    """A key and what it means here."""

    key: str
    words: str


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


@dataclass(frozen=True, slots=True)
class Pad:
    """``top``: the first question, to which each answer leads back. ``said``: why a key did
    nothing, or what to think of. ``steps``: what each key back was."""

    before: Before
    slip: Slip
    mode: Mode
    top: Mode
    steps: tuple[tuple[Slip, Mode], ...] = ()
    said: str = ""

    @property
    def question(self) -> str:
        return self.mode.question(self)

    @property
    def keys(self) -> list[Key]:
        return self.mode.keys(self)

    def press(self, key: str) -> Pad | None:
        """The pad after this key. ``key``: a character, or enter, escape, backspace, left, right.
        None where the key means nothing here."""
        if key != BACK:
            return self.mode.press(self, key)
        if not self.steps:
            return None
        slip, mode = self.steps[-1]
        return replace(self, slip=slip, mode=mode, steps=self.steps[:-1], said="")

    def go(self, mode: Mode, slip: Slip | None = None, said: str = "") -> Pad:
        """On to another question, with what is said now."""
        now = self.slip if slip is None else slip
        if (now, mode) == (self.slip, self.mode):
            return replace(self, said=said)
        steps = (*self.steps, (self.slip, self.mode))
        return replace(self, slip=now, mode=mode, steps=steps, said=said)

    def done(self, slip: Slip | None = None, said: str = "") -> Pad:
        """Back to the first question."""
        return self.go(self.top, slip, said)

    def tell(self, words: str) -> Pad:
        """The same, with a word on why."""
        return replace(self, said=words)
