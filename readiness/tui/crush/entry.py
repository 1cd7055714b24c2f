"""The line under the feet, while it is typed into."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import ClassVar

from textual import events, on
from textual.binding import Binding, BindingType
from textual.widgets import Input

from readiness.crush.keys import escaped
from readiness.crush.line import GIVE, LINE, NOTE, OF_A_BULL, PICK, Typing
from readiness.crush.session import Session, Step
from readiness.crush.typed import BEGINS, begun, choose, complete_word, entered, leave, typed
from readiness.engine.results import Board
from readiness.trade.tags import match_tag
from readiness.tui.shared.dialogs import PlainInput
from readiness.tui.shared.program import program_of
from readiness.tui.shared.view import View, bulls_in

HINTS = {
    LINE: "shorthand, as lf o su@4/2 pare; walk 1",
    NOTE: "in your own words",
    PICK: "the last digits of his tag, or his name",
    GIVE: "the last digits of its own bull's tag, or his name",
}


class Entry(PlainInput):
    """The line typed into; there only while something is typed. ``step``: takes the session on."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("tab", "complete", "complete the word", show=False),
        Binding("down", "choose(1)", "the next of those found", show=False),
        Binding("up", "choose(-1)", "the one before", show=False),
        Binding("escape", "leave", "done typing", show=False),
    ]

    def __init__(self, step: Callable[[Step], None]) -> None:
        super().__init__(id="entry", compact=True, select_on_focus=False)
        self.display = False
        self._step = step
        self.seen: events.Key | None = None
        """The last key that came here."""
        self.told = ""
        """The text as the session knows it."""

    def on_key(self, event: events.Key) -> None:
        """Keys that follow in one go on what closed the line are for the screen: what closes it is
        done at once, not by a binding, which is later."""
        self.seen = event if self.display else None
        if not self.display:
            event.prevent_default()
        elif event.key in ("enter", "escape", "tab") or self._begins(event.character or ""):
            event.prevent_default()
            event.stop()
            if event.key in ("enter", "escape", "tab"):
                self.late(event.key)

    def _enter(self) -> None:
        if self.value != self.told:
            self._typed()
        self._step(lambda session: entered(session, self.value))

    def show(self, typing: Typing | None) -> bool:
        """There while something is typed; whether that changed."""
        if typing is not None:
            self.placeholder = HINTS[typing.what]
        shown, self.display = self.display, typing is not None
        return shown != self.display

    def fill(self, text: str) -> None:
        self.value = text
        self.cursor_position = len(text)
        self.told = text

    def action_complete(self) -> None:
        self._step(lambda session: complete_word(session, self.value))

    def action_choose(self, step: int) -> None:
        self._step(lambda session: choose(session, step))

    def action_leave(self) -> None:
        at, text = program_of(self.screen).ticks(), self.value
        self._step(lambda session: escaped(leave(session, text), at))

    def late(self, key: str) -> None:
        """A key that was pressed before the line was open."""
        if key == "enter":
            self._enter()
        elif key == "escape":
            self.action_leave()
        elif key == "tab":
            self.action_complete()
        elif key == "backspace":
            self.action_delete_left()
            self._typed()
        elif len(key) == 1 and not self._begins(key):
            self.insert_text_at_cursor(key)
            self._typed()

    def _begins(self, key: str) -> bool:
        """Whether this key, behind what is typed, takes the bull and begins what is said of him."""
        took = False

        def step(session: Session) -> Session:
            nonlocal took
            after = begun(session, self.value, key, partial(bulls_like, session.board))
            took = after is not None
            return after or session

        if key in BEGINS:
            self._step(step)
        return took

    @on(Input.Changed)
    def _changed(self, event: Input.Changed) -> None:
        event.stop()
        self._typed()

    def _typed(self) -> None:
        """Have the text read as it is now."""
        text = self.told = self.value
        self._step(lambda session: typed(session, text, _found(session, text)))


def _found(session: Session, text: str) -> list[str]:
    """The bulls that the text may mean, where a bull is asked for."""
    asked = session.typing is not None and session.typing.what in OF_A_BULL
    return bulls_like(session.board, text) if asked else []


def bulls_like(board: Board | None, text: str) -> list[str]:
    """The bulls that a text may mean: by tag, else by name."""
    if board is None or not text.strip():
        return []
    by_tag = match_tag(text, [bull.key for bull in board.bulls])
    return by_tag or [bull.key for bull in bulls_in(board, View(find=text))]
