"""The running program, as its screens know it: what they share, and how one asks for another.

``readiness.tui.app`` alone knows the screens; a screen names the one it wants.
"""

from __future__ import annotations

import os
from abc import abstractmethod
from collections.abc import Callable, Mapping
from threading import Lock
from time import monotonic
from typing import TYPE_CHECKING, Any, Literal

from textual import events
from textual.notifications import SeverityLevel
from textual.screen import Screen
from textual.widgets import Input

from readiness.settings.settings import DARK
from readiness.system.breath import BREATH, UNHEARD
from readiness.tui.shared.held import HoldsKeys
from readiness.tui.shared.keymap import AS_THEY_ARE, Keymap, character, key_name
from readiness.tui.shared.looks import THEMES, glyphs_for

if TYPE_CHECKING:
    from readiness.desk.desk import Desk
    from readiness.tui.shared.reading import BoardSheet, Early, Seen

POLL = 1.0
"""Seconds after which it is asked again whether the book changed."""
ScreenName = Literal["bull", "crush", "diary", "figures", "cover", "turnout"]


class Program(HoldsKeys):
    """The desk that is looked at, the characters that the terminal shows, and the few words and
    questions that any screen may put over itself.

    ``open_desk`` opens the desk when it is first needed; ``demo`` builds a throw-away book and
    gives its desk; ``encoding`` is what the terminal's text is sent in: where that is not UTF-8,
    marks and lines are drawn in ASCII; ``poll`` is how often, in seconds, it is asked whether the
    book changed; ``early`` is a board that is being read already; ``theme`` is one of ``THEMES``;
    ``keymaps``: the keys that are moved on each screen, by its class.
    """

    def __init__(
        self,
        open_desk: Callable[[], Desk],
        *,
        demo: Callable[[], Desk] | None = None,
        encoding: str | None = "utf-8",
        poll: float = POLL,
        early: Early | None = None,
        theme: str = DARK,
        keymaps: Mapping[type, Keymap] | None = None,
    ) -> None:
        # With NO_COLOR no colour at all is sent, not even greys: marks, words, bold and reverse.
        # Set to nothing, NO_COLOR asks for nothing; textual would heed it.
        if os.environ.get("NO_COLOR") == "":
            del os.environ["NO_COLOR"]
        super().__init__(ansi_color=True if "NO_COLOR" in os.environ else None)
        self._open_desk = open_desk
        self._desk: Desk | None = None
        self._opening = Lock()
        self.demo = demo
        self.glyphs = glyphs_for(encoding)
        self.poll = poll
        self.in_demo = False
        """What is looked at is the demo: every screen's head says so."""
        self.ticks: Callable[[], float] = monotonic
        """Seconds that only grow: what tells a key held down from one pressed twice."""
        self.breath = BREATH
        """Seconds that a key waits which has to stand alone; 0: not at all."""
        self._stray = float("-inf")
        """When a key was last pressed that does nothing, or what followed it in one breath."""
        self._unheard = False
        self._told_stray = False
        self._early = early
        self._keymaps = keymaps or {}
        for each in THEMES.values():
            self.register_theme(each)
        self.theme = THEMES[theme].name

    @property
    def desk(self) -> Desk:
        """The desk. The first to ask opens it, which loads the database: not the screen's thread,
        unless it is open."""
        with self._opening:
            if self._desk is None:
                self._desk = self._open_desk()
            return self._desk

    @property
    def desk_is_open(self) -> bool:
        return self._desk is not None

    def early_board(self) -> Seen[BoardSheet] | None:
        """The board that was read while the screen was made; once only."""
        early, self._early = self._early, None
        return early() if early is not None else None

    # ---- keys that are moved ---------------------------------------------------------------------

    def keymap_of(self, screen: Screen[Any]) -> Keymap:
        """The keys of a screen, as the settings of its person move them."""
        return self._keymaps.get(type(screen), AS_THEY_ARE)

    def meant(self, event: events.Key) -> events.Key | None:
        """A key that is moved is the one that it stands for, but where text is typed."""
        if not self._keymaps or isinstance(self.focused, Input):
            return event
        keymap = self.keymap_of(self.screen)
        key = keymap.meant(event.key)
        if key is None:
            now = key_name(keymap.moved[event.key])
            self.tell(f"{key_name(event.key)} is moved: by your settings it is {now}.")
            return None
        return event if key == event.key else events.Key(key, character(key))

    # ---- keys that mean nothing ------------------------------------------------------------------

    async def _check_bindings(self, key: str, priority: bool = False) -> bool:
        """Whether a key does something; of a character that does nothing it is said, once in a
        breath, and what would do something in the same breath was meant for something else."""
        typed = character(key) or "\n"
        written = typed.isprintable()
        if priority or isinstance(self.focused, Input) or not (written or key == "enter"):
            return await super()._check_bindings(key, priority)
        at, before = self.ticks(), self._stray
        if at - before < BREATH:
            self._stray = at
            self._not_heard(key)
            return True
        done = await super()._check_bindings(key, priority)
        if not done and written:
            self._stray, self._unheard = at, False
            keys = self.keymap_of(self.screen).now("?")
            self.tell_stray(f"{key_name(key)} means nothing here: {keys} shows the keys.")
        return done

    def _not_heard(self, key: str) -> None:
        """Say, once, that a key which means something was not taken."""
        means = any(key in each.key_to_bindings for _, each in self.screen._modal_binding_chain)
        if means and not self._unheard:
            self._unheard = True
            self.tell_stray(UNHEARD, beside=True)

    # ---- from screen to screen -----------------------------------------------------------------

    @abstractmethod
    def open(self, name: ScreenName, *what: object) -> None:
        """The screen of this name, made of ``what``; over the board alone, or over what is looked
        at."""

    @abstractmethod
    def back_to_board(self, key: str) -> None:
        """Leave the screen; on the board the cursor stands on this bull."""

    @abstractmethod
    def action_begin(self) -> None:
        """Where there is no bull yet: what one can begin with."""

    def tell(self, words: object, *, wrong: bool = False) -> None:
        """A few words that go away by themselves."""
        severity: SeverityLevel = "error" if wrong else "information"
        self._told_stray = False
        self.notify(self.glyphs.text(words), severity=severity, markup=False)

    def tell_stray(self, words: object, *, beside: bool = False) -> None:
        """As ``tell``, of a key that was not taken: of several keys the last alone (or ``beside``
        it), for they lie over what the keys are."""
        if self._told_stray and not beside:
            self.clear_notifications()
        self.tell(words)
        self._told_stray = True


def program_of(screen: Screen[Any]) -> Program:
    """The program that this screen belongs to."""
    assert isinstance(screen.app, Program)
    return screen.app
