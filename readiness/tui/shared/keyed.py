"""Dialogs that are answered by single keys, and the day and the code that they may ask for."""

from __future__ import annotations

from abc import abstractmethod
from datetime import date
from typing import TypeVar

from textual import events, on
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.widgets import Input, Static

from readiness.crush.modes_finding import codes_like
from readiness.crush.pad import CLAW_KEYS
from readiness.forms import day_typed
from readiness.system.breath import DEAF
from readiness.system.errors import DataError
from readiness.trade.codes import CODES
from readiness.trade.words import full_day_words
from readiness.tui.shared.dialogs import Dialog, PlainInput
from readiness.tui.shared.keymap import bindings_of
from readiness.tui.shared.looks import painted

Result = TypeVar("Result")
SHOWN = 6
"""Findings named at most while a code is typed."""


class Keyed(Dialog[Result]):
    """One key for each answer. ``#said`` takes a row only while something stands in it."""

    @abstractmethod
    def press(self, key: str) -> bool:
        """A character; whether it means something."""

    async def on_key(self, event: events.Key) -> None:
        """What is typed in one breath with a key that means nothing is not taken."""
        if not self.is_active:
            return  # the one before it closed this, or opened another: it is for that
        for binding in bindings_of(self.BINDINGS):
            if event.key == binding.key:  # at once, or what was typed after it would come first
                event.stop()
                event.prevent_default()
                await self.run_action(binding.action)
                return
        at, key = self.tui.ticks(), event.character or ""
        if not event.is_printable or key == "?":
            return
        event.stop()
        event.prevent_default()
        if at - self._deaf < DEAF:
            self._deaf = at
        elif not self.press(key):
            self._deaf = at
            self.refuse(f"{key} means nothing here.")

    def say(self, words: object, role: str = "") -> None:
        super().say(words, role)
        self.query_one("#said").display = bool(words)


class AskDay(Dialog[date | None]):
    """On which day it was. ``today``: the last day it can have been."""

    KEYS = "Enter takes it.  Esc: back.  F1: help"

    def __init__(self, day: date, today: date) -> None:
        super().__init__("On which day was it?")
        self._day, self._today = day, today

    def body(self) -> ComposeResult:
        with Horizontal(classes="field"):
            yield Static("day", markup=False, classes="label")
            yield PlainInput(self._day.isoformat(), compact=True, id="mend-day")
        yield Static(id="said", markup=False)

    def _read(self, text: str) -> date | None:
        try:
            day = day_typed(text, self._today, past=True)
        except DataError as problem:
            self.refuse(problem)
            return None
        if day > self._today:
            self.refuse(f"{full_day_words(day)} is still to come.")
            return None
        self.say(full_day_words(day))
        return day

    @on(Input.Changed)
    def _changed(self, event: Input.Changed) -> None:
        event.stop()
        self._read(event.value)

    @on(Input.Submitted)
    def _entered(self, event: Input.Submitted) -> None:
        event.stop()
        if (day := self._read(event.value)) is not None:
            self.dismiss(day)


class AskCode(Dialog[tuple[str, str] | None]):
    """Which finding it was: code, and claw ("" where none was typed). ``was``: what was said;
    ``claw``: where."""

    KEYS = "Enter takes it.  Esc: back.  F1: help"

    def __init__(self, was: str, claw: str) -> None:
        super().__init__("Which finding was it?")
        self._was, self._claw = was, claw

    def body(self) -> ComposeResult:
        yield Static(painted((self.tui.glyphs.text(self._was), "quiet")), markup=False)
        with Horizontal(classes="field"):
            yield Static("code", markup=False, classes="label")
            yield PlainInput(placeholder="su, ulcer, o su", compact=True, id="mend-code")
        yield Static(id="said", markup=False)

    def _read(self, text: str) -> tuple[list[str], str]:
        """The codes that it may be, one where it is that; and the claw typed before it."""
        first, _, rest = text.strip().casefold().partition(" ")
        claw = CLAW_KEYS.get(first, "") if rest else ""
        typed = rest.strip() if claw else text.strip().casefold()
        where = (claw,) if claw else (self._claw, *CLAW_KEYS.values())
        found = [code for each in where for code in codes_like(each, typed)] if typed else []
        exact = [code for code in found if code.casefold() == typed]
        return list(dict.fromkeys(exact or found)), claw

    @on(Input.Changed)
    def _changed(self, event: Input.Changed) -> None:
        event.stop()
        found, _ = self._read(event.value)
        shown = ", ".join(f"{code} {CODES[code].name}" for code in found[:SHOWN])
        if event.value.strip() and not found:
            self.refuse("No finding has that in its code or name.")
        else:
            self.say(f"{shown} ..." if len(found) > SHOWN else shown)

    @on(Input.Submitted)
    def _entered(self, event: Input.Submitted) -> None:
        event.stop()
        found, claw = self._read(event.value)
        if len(found) == 1:
            self.dismiss((found[0], claw))
        elif found:
            self.refuse(f"Which of them? {', '.join(found)}")
