"""Which key means what on the Crush screen: the pad's answers first, then the screen's own."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from readiness.crush.modes_feet import AskFinding
from readiness.crush.modes_foot import FindCode

if TYPE_CHECKING:
    from readiness.tui.crush.screen import CrushScreen

ENTER_AGAIN = "Enter again saves him."
UNDO_AGAIN = "Not saved yet: Backspace takes back a key; u again, the last bull saved."
AGAIN = 0.7
"""Seconds: the same key sooner is taken for one held down, where it would decide once more."""


class Keys:
    """The keys of a Crush screen. Where a key decides something for good it has to be pressed
    anew: held down it decides once."""

    def __init__(self, screen: CrushScreen) -> None:
        self._screen = screen
        self._last = ("", float("-inf"))
        self._quit_asked = False
        self._undo_asked = False
        self._own: dict[str, Callable[[], None]] = {
            "enter": screen.action_save,
            "n": lambda: screen.action_skip(1),
            "p": lambda: screen.action_skip(-1),
            "/": screen.action_pick,
            "l": screen.action_line,
            "m": screen.action_note,
            "o": screen.action_other,
            "v": lambda: screen.action_form("vet-exam"),
            "g": screen.action_gather,
            "x": screen.action_drop,
            "e": screen.action_codes,
            "escape": screen.action_leave,
        }

    def press(self, key: str) -> bool:
        """One key: a character, or a name as enter; whether it means something here."""
        before, now = self._last, self._screen.tui.ticks()
        self._last = (key, now)
        held = key == before[0] and now - before[1] < AGAIN
        if key != "q" and self._quit_asked:
            self._quit_asked = False
            self._screen.say("")
        if key != "u" and self._undo_asked:
            self._undo_asked = False
            self._screen.say("")
        if key != "enter" and self._screen.message == ENTER_AGAIN:
            self._screen.say("")
        return self._answer(key, held=held) or self._screens(key, held=held)

    @property
    def rested(self) -> float:
        """Seconds since the last key."""
        return self._screen.tui.ticks() - self._last[1]

    def _answer(self, key: str, *, held: bool) -> bool:
        """The key as an answer to what is asked."""
        screen, pad = self._screen, self._screen.pad
        if pad is None:
            return False
        at_top = pad.mode == pad.top
        if key == "?":
            if isinstance(pad.mode, FindCode):
                screen.action_codes()
            return isinstance(pad.mode, FindCode)
        if at_top and key in ("enter", "escape"):
            return False
        if held and isinstance(pad.mode, AskFinding):
            screen.take(pad.tell(f"{key} again, not so soon: this is another finding."))
            return True
        pressed = pad.press(key)
        if pressed is None and at_top:
            return False
        if pressed is None:
            pressed = pad.tell(f"{key} means nothing here.")
        elif screen.unread:
            pressed = pad.tell("The line cannot be read yet: l mends it.")
        screen.take(pressed)
        return True

    def _screens(self, key: str, *, held: bool) -> bool:
        if key == "q":  # it lies beside w
            if self._quit_asked:
                self._screen.app.exit()
            self._quit_asked = True
            self._screen.say("q again ends the program; nothing is lost.")
            return True
        if key == "u":
            self._undo(held=held)
            return True
        if key == "enter" and held:  # the one before it ended something else
            self._screen.say(ENTER_AGAIN)
            return True
        if key in self._own:
            self._own[key]()
        return key in self._own

    def _undo(self, *, held: bool) -> None:
        """Take back the last bull saved; asked for twice where keys pressed for the one in the
        crush are not saved. Fingers that say "sole ulcer" where another question stands press it,
        and what follows would be said of another bull."""
        pad = self._screen.pad
        unsaved = pad is not None and bool(pad.steps) and bool(pad.slip)
        if held:
            self._screen.say("u again in a moment: held down, it takes back one bull only.")
        elif unsaved and not self._undo_asked:
            self._undo_asked = True
            self._screen.say(UNDO_AGAIN)
        else:
            self._undo_asked = False
            self._screen.action_undo()
