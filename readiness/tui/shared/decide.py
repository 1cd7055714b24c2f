"""Questions whose answer writes: they are answered only once they were seen."""

from __future__ import annotations

from typing import ClassVar

from textual import events
from textual.binding import Binding, BindingType
from textual.widgets import OptionList

from readiness.system.breath import SEEN
from readiness.trade.words import list_words
from readiness.tui.shared.dialogs import Choice, Choose, Dialog, Result, Value

NOT_READ = "What was typed before this could be read was not taken: read it, then press again."
LEFT = "Nothing was written."
LEAVE = "n"
"""The letter of the line that leaves all as it is."""


class SeenFirst(Dialog[Result]):
    """A dialog in which keys write. What comes before it was painted, or in one go with that or
    with a key that it refused, was meant for something else: it is swallowed, aloud. Arrows only
    look, and Esc always leaves."""

    careful = True
    """Whether what was typed before may do any harm here."""
    AT_ONCE: ClassVar[frozenset[str]] = frozenset()
    """Keys that only ask on: they may be typed before it was read."""
    _stands = _told = False

    def on_mount(self) -> None:
        self.call_after_refresh(self._painted)

    def _painted(self) -> None:
        self._stands, self._deaf = True, self.tui.ticks()

    async def on_key(self, event: events.Key) -> None:
        typed = event.is_printable or event.key in ("enter", "tab")
        if not (self.careful and self.is_current and typed) or event.key in self.AT_ONCE:
            return
        at = self.tui.ticks()
        if self._stands and at - self._deaf >= SEEN:
            self._told = False
            return
        event.stop()
        event.prevent_default()
        self._deaf = at
        if not self._told:
            self._told = True
            self.tui.tell(NOT_READ, wrong=True)


class Decide(SeenFirst[Choice[Value] | None], Choose[Value]):
    """What is to be written, if anything. The first line leaves all as it is: the cursor stands
    there, and Enter takes no other; those have a letter each."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding(LEAVE, "dismiss(None)", "back", show=False)]

    def keys(self) -> str:
        return f"{list_words(self._by[1:], 'or')} does it.  Enter, {self._by[0]} or Esc leaves it"

    async def on_key(self, event: events.Key) -> None:
        at = self.query_one(OptionList).highlighted
        if event.key == "enter" and at and self.is_current:
            event.stop()
            event.prevent_default()
            self._deaf = self.tui.ticks()
            self.tui.tell(f"Enter writes nothing here: {self._by[at]} does it.", wrong=True)
