"""The day's bulls over the Crush screen: who waits, who is left over, who is done. One key brings
one into the crush."""

from __future__ import annotations

from string import ascii_lowercase
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from readiness.crush.roll import Line, Part
from readiness.tui.shared.dialogs import Dialog
from readiness.tui.shared.looks import Glyphs

KEYS = "123456789" + ascii_lowercase.translate(dict.fromkeys(map(ord, "jkq")))
"""The key of each bull, from the top. j and k move as in every list, q goes back."""
NAME_MOST = 18


class Roll(Dialog[str | None]):
    """The list; it gives the look-up key of the bull chosen."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("tab,q", "dismiss(None)", "back", show=False),
        Binding("j", "focused.cursor_down", "next", show=False),
        Binding("k", "focused.cursor_up", "before", show=False),
    ]
    KIND = "roll"
    KEYS = "his key or Enter brings him, Esc goes back"

    def __init__(self, parts: list[Part]) -> None:
        self._parts = [part for part in parts if part.lines]
        self._lines = [line for part in self._parts for line in part.lines]
        super().__init__("Today's bulls" if self._lines else "Today no bull waits and none is done")

    def body(self) -> ComposeResult:
        yield OptionList(markup=False)
        yield Static(id="said", markup=False)

    def on_mount(self) -> None:
        self._fill()

    def on_resize(self) -> None:
        self._fill()

    def _fill(self) -> None:
        """The lines, as wide as there is room."""
        lines = self.query_one(OptionList)
        at, keys = lines.highlighted, iter(KEYS)
        lines.clear_options()
        room, glyphs = min(int(self.app.size.width * 0.9), 100) - 7, self.tui.glyphs
        for part in self._parts:
            heading = f"{part.heading}: {len(part.lines)}"
            lines.add_option(Option(Content(heading), disabled=True))
            lines.add_options(
                Option(_line(next(keys, " "), each, room, glyphs), id=each.key)
                for each in part.lines
            )
        lines.highlighted = at if at is not None else (1 if self._lines else None)

    def on_key(self, event: events.Key) -> None:
        at = KEYS.find(event.character or " ") if event.is_printable else -1
        if 0 <= at < len(self._lines):
            event.stop()
            self.dismiss(self._lines[at].key)

    @on(OptionList.OptionHighlighted)
    def _on_it(self, event: OptionList.OptionHighlighted) -> None:
        """All of what is to be known of him, where his line had no room for it."""
        one = next(line for line in self._lines if line.key == event.option_id)
        self.say(f"{one.called}: {one.words}", "quiet")

    @on(OptionList.OptionSelected)
    def _chosen(self, event: OptionList.OptionSelected) -> None:
        self.dismiss(event.option_id)


def _line(key: str, line: Line, room: int, glyphs: Glyphs) -> Content:
    """ "1 ■  00417 Corran        ! lift LF". No colours: the cursor gives them."""
    name = glyphs.padded(line.called, NAME_MOST)
    sign = f"{glyphs.sign(line.mark)} "[:2]
    late = f"{glyphs.late} " if line.late else ""
    words = glyphs.fit(late + glyphs.text(line.words), max(room - NAME_MOST - 5, 8))
    return Content.assemble((f"{key} ", "bold"), f"{sign} ", (name, "bold"), f" {words}")
