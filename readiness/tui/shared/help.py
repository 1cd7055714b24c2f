"""The help over a screen: what the marks mean, its keys, and beside them its topic of the guide."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import ClassVar

from rich.table import Table
from rich.text import Text
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, VerticalScroll
from textual.widgets import Static

from readiness.guide import Topic, contents
from readiness.guide.paint import Shown
from readiness.report.look import Look
from readiness.tui.shared.dialogs import Choice, Choose, Paper
from readiness.tui.shared.looks import ROLES, TEXT, Glyphs, in_colour

_STATES = (
    ("reason", "HOLD", "for a reason that is true of him today"),
    ("checks", "HOLD", "only because checks are still to come"),
    ("go", "GO", "nothing is outstanding"),
    ("care", "GO", "the same, but there is something to ask the vet or to watch first"),
)


class Help(Paper):
    """``keys`` are (keys, what they do); ``colours``: the theme's variables."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("g", "topics", "the guide's other topics", show=False),
    ]
    KIND = "paper help"
    KEYS = "arrows scroll, g shows another topic of the guide, Esc goes back"

    def __init__(
        self, keys: Iterable[tuple[str, str]], topic: Topic, glyphs: Glyphs,
        colours: Mapping[str, str],
    ) -> None:  # fmt: skip
        super().__init__("Help", _table(keys, glyphs, colours))
        self._topic = topic

    def body(self) -> ComposeResult:
        with VerticalScroll(can_focus=True), Container(id="pair"):
            yield Static(self._words, markup=False, id="left")
            yield Static(self._told(self._topic), markup=False, id="told")

    def _told(self, topic: Topic) -> Shown:
        return Shown(Look(marks=not self.tui.glyphs.ascii_only).plain_marks(topic.text))

    def action_topics(self) -> None:
        """Choose another topic to read."""
        choices = [Choice(each.title, each, f"readiness guide {each.name}") for each in contents()]
        self.app.push_screen(Choose("The guide", choices), self._chosen)

    def _chosen(self, choice: Choice[Topic] | None) -> None:
        if choice is not None:
            self.query_one("#told", Static).update(self._told(choice.of))
            self.query_one("#told").scroll_visible(top=True, animate=False)


def _table(keys: Iterable[tuple[str, str]], glyphs: Glyphs, colours: Mapping[str, str]) -> Table:
    """What the marks mean, then each key: two columns."""
    table = Table.grid(padding=(0, 2, 0, 0))
    table.add_column(justify="right", no_wrap=True)
    text = in_colour(TEXT, colours)
    table.add_column(style=text)
    for state, word, words in _STATES:
        style = f"bold {in_colour(ROLES[state], colours)}"
        table.add_row(Text(f"{glyphs.sign(state)} {word}", style), words)
    table.add_row()
    for key, words in keys:
        table.add_row(Text(key, f"bold {text}"), Text(words))
    return table
