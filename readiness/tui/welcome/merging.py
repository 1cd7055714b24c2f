"""Another copy of the book taken in: its file named, what would come in shown, and one key."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widgets import Input, Static

from readiness.desk.merging import Merging
from readiness.forms.first import unquoted
from readiness.report.merging_text import merging_lines
from readiness.system.errors import ReadinessError
from readiness.trade.words import plural
from readiness.tui.shared.decide import SeenFirst
from readiness.tui.shared.dialogs import Dialog, Paper, PlainInput
from readiness.tui.shared.errands import in_thread
from readiness.tui.shared.live import SLOW

WIDEST, MARGIN = 72, 14
"""Cells beside the words: of the screen, the frame and the bar that scrolls."""


class MergeFile(Dialog[Merging | None]):
    """Asks for another copy of the book, shows what it would bring, and takes it in; what came in,
    or None."""

    TOPIC = "merge"
    KEYS = "Enter: look what would come in.  Esc: back"

    def __init__(self) -> None:
        super().__init__("Take in another copy of the book")
        self._reading = False

    def body(self) -> ComposeResult:
        example = "path of a book, a backup, an export or a journal"
        yield PlainInput(placeholder=example, compact=True, id="path")
        yield Static(id="said", markup=False)

    @on(Input.Submitted)
    def _entered(self, event: Input.Submitted) -> None:
        event.stop()
        path = unquoted(event.value)
        if path and not self._reading:
            self._work(Path(path).expanduser(), check=True)

    def _work(self, other: Path, *, check: bool) -> None:
        self._reading = True
        self.set_timer(SLOW, self._say_reading)
        desk, then = self.tui.desk, self._looked if check else self.dismiss
        in_thread(self, lambda: partial(then, desk.merge(other, check=check)), self._refused)

    def _looked(self, found: Merging) -> None:
        self._reading = False
        self.say("")

        def decided(take: bool | None) -> None:
            if take:
                self._work(Path(found.other), check=False)

        self.app.push_screen(Look(found, self.app.size.width - MARGIN), decided)

    def _say_reading(self) -> None:
        if self._reading:
            self.say("Reading it. It is taken in whole or not at all.")

    def _refused(self, problem: ReadinessError) -> None:
        self._reading = False
        self.refuse(problem)


class Look(SeenFirst[None], Paper):
    """What would come in, and what disagrees; ``t`` takes it in."""

    TOPIC = "merge"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("t", "dismiss(True)", "take it in", show=False),
    ]
    KEYS = "t takes it in, arrows scroll, Esc goes back and writes nothing"

    def __init__(self, found: Merging, width: int) -> None:
        lines = [*found.remarks, *merging_lines(found, min(width, WIDEST))]
        super().__init__(f"Out of {Path(found.other).name}", Content("\n".join(lines)))


def merged_words(done: Merging) -> str:
    """What a merge did, in a line."""
    words = f"Taken in: {plural(len(done.written), 'entry', 'entries')}"
    if done.disagreements:
        words += f"; {plural(len(done.disagreements), 'disagreement')}, as was shown"
    return f"{words}. u puts it out again." if done.written else "Nothing new came in."
