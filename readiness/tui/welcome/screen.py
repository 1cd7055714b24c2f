"""What one can begin with: the demo, a roster or a file of entries, a first group and bull."""

from __future__ import annotations

from pathlib import Path
from typing import ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from readiness.desk.desk import Desk
from readiness.desk.writing import Outcome
from readiness.system.errors import ReadinessError
from readiness.trade.words import plural
from readiness.tui.shared.dialogs import Choice, Paper, choice_words
from readiness.tui.shared.live import SLOW
from readiness.tui.shared.looks import ORANGE, QUIET, TEXT, Glyphs
from readiness.tui.shared.program import Program, program_of
from readiness.tui.welcome.first_bull import FirstBull

_WORDS = (
    "For people who get breeding bulls ready for turnout: who can go, who cannot and why, which "
    "checks are outstanding, and how early he can be ready. The vet decides; this informs."
)
DEMO, IMPORT, FIRST = range(3)
CHOICES = (
    Choice("look at the demo", "36 bulls of an invented estate, kept apart"),
    Choice("import a file", "a roster (.xlsx, .csv) or entries (.jsonl)"),
    Choice("write down a group and a bull", "a small form"),
)


class Welcome(ModalScreen[Desk | None]):
    """Returns the desk to look at from now on; None: the one there is."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "dismiss(None)", "board", show=False),
        *(
            Binding(str(at), f"begin({at - 1})", choice.words, show=False)
            for at, choice in enumerate(CHOICES, start=1)
        ),
    ]

    @property
    def tui(self) -> Program:
        return program_of(self)

    def compose(self) -> ComposeResult:
        glyphs = self.tui.glyphs
        with Vertical(classes="dialog welcome"):
            yield Static(Content.assemble(("readiness", f"bold {TEXT}")), markup=False)
            yield Static(Content.assemble((_WORDS, TEXT)), markup=False)
            options = [
                Option(choice_words(at, choice, glyphs)) for at, choice in enumerate(CHOICES, 1)
            ]
            yield OptionList(*options, markup=False)
            yield Static(id="said", markup=False)
            keys = "Enter or a digit chooses.  Esc: board.  q: quit"
            where = f"your book: {glyphs.text(self.tui.desk.book.path)}"  # last: it may be long
            yield Static(Content.assemble((f"{keys}\n{where}", QUIET)), markup=False)

    @on(OptionList.OptionSelected)
    def _picked(self, event: OptionList.OptionSelected) -> None:
        self.action_begin(event.option_index)

    def action_begin(self, what: int) -> None:
        """Begin with one of ``CHOICES``."""
        glyphs = self.tui.glyphs
        if what == DEMO:
            self._say("Building the demo.")
            self._build_demo()
        elif what == IMPORT:
            self.app.push_screen(ImportFile(self.tui.desk, glyphs), self._taken_in)
        else:
            self.app.push_screen(FirstBull(self.tui.desk, glyphs), self._taken_in)

    def _taken_in(self, done: Outcome | None) -> None:
        """Say what was written; where more than one thing is odd, all of them, to be read."""
        if done is None:
            return
        self.tui.tell(outcome_words(done))
        if len(done.warnings) < 2:
            self.dismiss(None)
            return
        glyphs = self.tui.glyphs
        said = [Content.assemble((glyphs.text(warning.text), TEXT)) for warning in done.warnings]
        paper = Paper("Odd, but kept", Content("\n\n").join(said))
        self.app.push_screen(paper, lambda _: self.dismiss(None))

    @work(thread=True, group="write")
    def _build_demo(self) -> None:
        if self.tui.demo is None:
            self.app.call_from_thread(self._say, "This program came without its demo.")
            return
        try:
            desk = self.tui.demo()
        except ReadinessError as problem:
            self.app.call_from_thread(self._say, str(problem))
            return
        self.app.call_from_thread(self.dismiss, desk)

    def _say(self, words: str) -> None:
        words = self.tui.glyphs.text(words)
        self.query_one("#said", Static).update(Content.assemble((words, f"bold {ORANGE}")))


def outcome_words(done: Outcome) -> str:
    """What a writing did, and the first things that are odd about it."""
    words = f"Written: {plural(len(done.written), 'entry', 'entries')}."
    if done.skipped:
        words += f" {len(done.skipped)} were in the book already."
    odd = [warning.text for warning in done.warnings]
    if odd:
        words += f" Odd, but kept ({len(odd)}): {odd[0]}"
    return words


class ImportFile(ModalScreen[Outcome | None]):
    """Asks for a file and takes it in, all or nothing."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "dismiss(None)", "back", show=False),
    ]

    def __init__(self, desk: Desk, glyphs: Glyphs) -> None:
        super().__init__()
        self._desk = desk
        self._glyphs = glyphs
        self._reading = False

    def compose(self) -> ComposeResult:
        with Vertical(classes="dialog"):
            title = "Import a roster or entries, all or nothing"
            yield Static(Content.assemble((title, f"bold {TEXT}")), markup=False)
            yield Input(placeholder="path of a .xlsx, .csv or .jsonl file", compact=True, id="path")
            yield Static(id="said", markup=False)
            yield Static(Content.assemble(("Enter: import.  Esc: back", QUIET)), markup=False)

    @on(Input.Submitted)
    def _entered(self, event: Input.Submitted) -> None:
        event.stop()
        path = event.value.strip()
        if path and not self._reading:
            self._reading = True
            self.set_timer(SLOW, self._say_reading)
            self._import(Path(path).expanduser())

    @work(thread=True, group="write")
    def _import(self, path: Path) -> None:
        try:
            done = self._desk.import_file(path)
        except ReadinessError as problem:
            self.app.call_from_thread(self._refused, str(problem))
            return
        self.app.call_from_thread(self.dismiss, done)

    def _say_reading(self) -> None:
        if self._reading:
            said = "Reading the file. It is taken in whole or not at all."
            self.query_one("#said", Static).update(Content.assemble((said, TEXT)))

    def _refused(self, words: str) -> None:
        self._reading = False
        words = f"{self._glyphs.late} {self._glyphs.text(words)}"
        self.query_one("#said", Static).update(Content.assemble((words, f"bold {ORANGE}")))
