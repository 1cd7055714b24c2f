"""What one can begin with: the demo, a roster or a file of entries, a first group and bull."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from functools import partial
from pathlib import Path
from typing import Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widgets import Input, OptionList, Static

from readiness.desk.desk import Desk
from readiness.desk.writing import Outcome
from readiness.forms import FORMS, FieldError, problem_in
from readiness.system.errors import ReadinessError
from readiness.trade.words import plural
from readiness.tui.shared.dialogs import Choice, Dialog, Paper, options
from readiness.tui.shared.errands import in_thread
from readiness.tui.shared.form import FormDialog
from readiness.tui.shared.live import SLOW
from readiness.tui.shared.looks import painted

_WORDS = (
    "For people who get breeding bulls ready for turnout: who can go, who cannot and why, which "
    "checks are outstanding, and how early he can be ready. The vet decides; this informs."
)
DEMO, IMPORT, FIRST = range(3)
CHOICES = (
    Choice("look at the demo", DEMO, "36 bulls of an invented estate, kept apart"),
    Choice("import a file", IMPORT, "a roster (.xlsx, .csv) or entries (.jsonl)"),
    Choice("write down a group and a bull", FIRST, "a small form"),
)


class Welcome(Dialog[Desk | None]):
    """Returns the desk to look at from now on; None: the one there is."""

    TOPIC = "start"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(str(choice.of + 1), f"begin({choice.of})", choice.words, show=False)
        for choice in CHOICES
    ]

    KIND = "welcome"

    def __init__(self) -> None:
        super().__init__("readiness")

    def body(self) -> ComposeResult:
        yield Static(painted((_WORDS, "")), markup=False)
        yield options(CHOICES, self.tui.glyphs)
        yield Static(id="said", markup=False)

    def keys(self) -> str:
        where = self.tui.glyphs.text(self.tui.desk.book.path)  # last: it may be long
        return f"Enter or a digit chooses.  Esc: board.  q: quit\nyour book: {where}"

    @on(OptionList.OptionSelected)
    def _picked(self, event: OptionList.OptionSelected) -> None:
        self.action_begin(event.option_index)

    def action_begin(self, what: int) -> None:
        """Begin with one of ``CHOICES``."""
        if what == DEMO:
            self._alert("Building the demo.")
            in_thread(self, self._build_demo, self._alert)
        elif what == IMPORT:
            self.app.push_screen(ImportFile(), self._taken_in)
        else:
            self.app.push_screen(FirstBull(self.tui.desk), self._taken_in)

    def _taken_in(self, done: Outcome | None) -> None:
        """Say what was written; where more than one thing is odd, all of them, to be read."""
        if done is None:
            return
        self.tui.tell(outcome_words(done))
        if len(done.warnings) < 2:
            self.dismiss(None)
            return
        said = [painted((self.tui.glyphs.text(warning.text), "")) for warning in done.warnings]
        paper = Paper("Odd, but kept", Content("\n\n").join(said))
        self.app.push_screen(paper, lambda _: self.dismiss(None))

    def _build_demo(self) -> Callable[[], object]:
        if self.tui.demo is None:
            return partial(self._alert, "This program came without its demo.")
        return partial(self.dismiss, self.tui.demo())

    def _alert(self, words: object) -> None:
        self.say(words, "alert")


def outcome_words(done: Outcome) -> str:
    """What a writing did, and the first things that are odd about it."""
    words = f"Written: {plural(len(done.written), 'entry', 'entries')}."
    if done.skipped:
        words += f" {len(done.skipped)} were in the book already."
    odd = [warning.text for warning in done.warnings]
    if odd:
        words += f" Odd, but kept ({len(odd)}): {odd[0]}"
    return words


class ImportFile(Dialog[Outcome | None]):
    """Asks for a file and takes it in, all or nothing."""

    KEYS = "Enter: import.  Esc: back"

    def __init__(self) -> None:
        super().__init__("Import a roster or entries, all or nothing")
        self._reading = False

    def body(self) -> ComposeResult:
        yield Input(placeholder="path of a .xlsx, .csv or .jsonl file", compact=True, id="path")
        yield Static(id="said", markup=False)

    @on(Input.Submitted)
    def _entered(self, event: Input.Submitted) -> None:
        event.stop()
        path = event.value.strip()
        if path and not self._reading:
            self._reading = True
            self.set_timer(SLOW, self._say_reading)
            file, desk = Path(path).expanduser(), self.tui.desk
            in_thread(self, lambda: partial(self.dismiss, desk.import_file(file)), self._refused)

    def _say_reading(self) -> None:
        if self._reading:
            self.say("Reading the file. It is taken in whole or not at all.")

    def _refused(self, problem: ReadinessError) -> None:
        self._reading = False
        self.refuse(problem)


# ---- a group and a bull --------------------------------------------------------------------------

FORM = FORMS["first-bull"]
FIELDS = FORM.fields
_OF = {
    "group": ("group", "turnout", "females", "class", "farm"),
    "bull": ("bull", "name", "breed", "born", "temper", "farm"),
    "join": ("bull", "group"),
}
"""Kind of entry → the fields of the form that go into it."""


def contents_of(said: Mapping[str, Any], today: date, who: str) -> list[dict[str, Any]]:
    """The entries that the form's fields mean: a group where a turnout was given, the bull, his
    joining. Raises ``FieldError`` where something is said of a group without its name, or of a new
    one without its turnout."""
    of_group = [key for key in ("turnout", "females", "class") if key in said]
    if of_group and "group" not in said:
        raise _wrong("group", "name the group that is turned out then.")
    if of_group and "turnout" not in said:
        raise _wrong("turnout", "say when the group is turned out.")
    kinds = ["bull"]
    if of_group:
        kinds.insert(0, "group")
    if "group" in said:
        kinds.append("join")
    common: dict[str, Any] = {"on": today.isoformat()} | ({"by": who} if who else {})
    return [
        {"kind": kind, **common, **{key: said[key] for key in _OF[kind] if key in said}}
        for kind in kinds
    ]


def _wrong(key: str, text: str) -> FieldError:
    return FieldError(next(field for field in FIELDS if field.key == key), text)


class FirstBull(FormDialog[Outcome | None]):
    """Asks, writes, and returns what was written; None where one went back."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(FORM, desk.on)
        self._desk = desk
        self._writing = False

    def finish(self, content: dict[str, Any]) -> None:
        if self._writing:
            return
        try:
            contents = contents_of(content, self._today, self._desk.who)
            for each in contents:
                if problem := problem_in(FORM._replace(kind=each["kind"]), each, self._today):
                    raise problem
        except FieldError as problem:
            self.refuse(problem)
            return
        self._writing = True
        in_thread(self, lambda: partial(self.dismiss, self._desk.add(contents)), self._refused)

    def _refused(self, problem: ReadinessError) -> None:
        self._writing = False
        self.refuse(problem)
