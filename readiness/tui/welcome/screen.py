"""What one can begin with: the demo, a roster or a file of entries, a first group and bull."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial
from pathlib import Path
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widgets import Input, OptionList, Static

from readiness.book.copies import refuse_for_new
from readiness.desk.desk import Desk
from readiness.desk.writing import Outcome
from readiness.engine.warnings.history import NOT_SAID_SAFE
from readiness.roster.preview import begun
from readiness.roster.roster import bulls_words
from readiness.system.errors import CannotWrite, ReadinessError
from readiness.system.grouped import grouped
from readiness.trade.words import plural, sentence
from readiness.tui.shared.decide import SeenFirst
from readiness.tui.shared.dialogs import DIGITS, Choice, Dialog, Paper, options
from readiness.tui.shared.errands import in_thread
from readiness.tui.shared.live import SLOW
from readiness.tui.shared.looks import painted
from readiness.tui.welcome.pages import Begun, BullPage, GroupPage, TagsPage, Written

_WORDS = (
    "For people who get breeding bulls ready for turnout: who can go, who cannot and why, which "
    "checks are outstanding, and how early he can be ready. The vet decides; this informs."
)
DEMO, IMPORT, FIRST, BACK = range(4)
CHOICES = (
    Choice("look at the demo", DEMO, "36 bulls of an invented estate, kept apart"),
    Choice("import a file", IMPORT, "a roster (.xlsx, .csv) or entries (.jsonl)"),
    Choice("write down a group and its bulls", FIRST, "three short pages; paste tags, or a roster"),
)
BACK_TO_BOARD = Choice("back to the board", BACK, "your bulls stand there")


class Welcome(SeenFirst[Desk | None]):
    """Returns the desk to look at from now on; None: the one there is. ``begun``: it has bulls, and
    Enter goes back to them."""

    TOPIC = "start"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(str(choice.of + 1), f"begin({choice.of})", choice.words, show=False)
        for choice in CHOICES
    ]

    KIND = "welcome"
    AT_ONCE = frozenset(str(what + 1) for what in (IMPORT, FIRST))

    def __init__(self, *, begun: bool = False) -> None:
        super().__init__("readiness")
        self._begun = Begun()
        self._building = False
        self._choices = [BACK_TO_BOARD, *CHOICES] if begun else [*CHOICES]
        self.careful = begun

    def body(self) -> ComposeResult:
        yield Static(painted((_WORDS, "")), markup=False)
        by = DIGITS if len(self._choices) == len(CHOICES) else f" {DIGITS}"
        yield options(self._choices, self.tui.glyphs, by)
        yield Static(id="said", markup=False)

    def on_mount(self) -> None:
        """That the book has gone from beside its journal is no first start: said before anything
        is typed."""
        book = self.tui.desk.book
        try:
            if not book.exists():
                refuse_for_new(book.path)
        except CannotWrite as gone:
            self.refuse(gone)

    def keys(self) -> str:
        where = self.tui.glyphs.text(self.tui.desk.book.path)  # last: it may be long
        return f"Enter or a digit chooses.  Esc: board.  q: quit\nyour book: {where}"

    @on(OptionList.OptionSelected)
    def _picked(self, event: OptionList.OptionSelected) -> None:
        self.action_begin(self._choices[event.option_index].of)

    def action_begin(self, what: int) -> None:
        """Begin with one of ``CHOICES``, once."""
        if self._building or not self.is_current:
            return
        if what == BACK:
            self.dismiss(None)
        elif what == DEMO:
            self._building = True
            self.say("Building the demo.", "alert")
            in_thread(self, self._build_demo, self._refused)
        elif what == IMPORT:
            self.app.push_screen(ImportFile(), self._taken_in)
        else:
            self._ask_group()

    def _ask_group(self) -> None:
        page = GroupPage(self.tui.desk, self._begun)
        self.app.push_screen(page, lambda go_on: self._ask_tags() if go_on else None)

    def _ask_tags(self) -> None:
        self.app.push_screen(TagsPage(self.tui.desk, self._begun), self._written)

    def _written(self, done: Written | None) -> None:
        if done is None:
            self._ask_group()
        elif done.tags:
            self._ask_bull(done.tags, 0, [done.outcome])
        else:
            self._taken_in(done.outcome)

    def _ask_bull(self, tags: Sequence[tuple[str, str]], at: int, done: list[Outcome]) -> None:
        """What is known of one bull after the other, until somebody has enough."""

        def told(result: Outcome | bool | None) -> None:
            if isinstance(result, Outcome):
                done.append(result)
            if result is None or at + 1 == len(tags):
                self._taken_in(together(done))
            else:
                self._ask_bull(tags, at + 1, done)

        page = BullPage(self.tui.desk, self._begun, tags[at], at + 1, len(tags))
        self.app.push_screen(page, told)

    def _taken_in(self, done: Outcome | None) -> None:
        """Say what was written; where more than one thing is odd, all of them, to be read."""
        if done is None:
            return
        odd = list(self._odd_of(done))
        words = f"{outcome_words(done)}{' Odd, but kept' if odd else ''}"
        if len(odd) < 2:
            self.tui.tell(": ".join([words, *odd]))
            self.dismiss(None)
            return
        said = [painted((self.tui.glyphs.text(text), "")) for text in odd]
        paper = Paper(words, Content("\n\n").join(said))
        self.app.push_screen(paper, lambda _: self.dismiss(None))

    def _odd_of(self, done: Outcome) -> Iterator[str]:
        """What is odd, each text once, with the tags of those whom these pages wrote down. Whether
        one is safe on heifers is told before his page is answered: not of whom it was."""
        entries = self.tui.desk.entries([each.entry for each in done.warnings if each.entry])
        tags = {entry.id: entry.body.get("bull", "") for entry in entries}
        for text, same in grouped(done.warnings, lambda each: each.text).items():
            whose = list(dict.fromkeys(tags.get(each.entry, "") for each in same))
            if NOT_SAID_SAFE in text:
                whose = [tag for tag in whose if tag not in self._begun.safe]
            if whose:
                said = bulls_words((tag, "") for tag in whose if tag)
                yield f"{said}: {text}" if said and done.roster is None else text

    def _build_demo(self) -> Callable[[], object]:
        if self.tui.demo is None:
            return partial(self._refused, "This program came without its demo.")
        return partial(self.dismiss, self.tui.demo())

    def _refused(self, words: object) -> None:
        self._building = False
        self.say(words, "alert")


def outcome_words(done: Outcome) -> str:
    """What a writing did."""
    words = f"Written: {plural(len(done.written), 'entry', 'entries')}."
    if done.skipped:
        words += f" {len(done.skipped)} were in the book already."
    groups = begun(done.roster) if done.roster is not None else ()
    return " ".join([words, *map(sentence, groups)])


def together(outcomes: Sequence[Outcome]) -> Outcome:
    """Several writings as one."""
    written, skipped, warnings = zip(
        *((one.written, one.skipped, one.warnings) for one in outcomes), strict=True
    )
    return Outcome(sum(written, ()), sum(skipped, ()), sum(warnings, ()))


class ImportFile(Dialog[Outcome | None]):
    """Asks for a file and takes it in, all or nothing."""

    KEYS = "Enter: import.  Esc: back.  F1: help"

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
            take_in = partial(desk.import_file, file, screen=True)
            in_thread(self, lambda: partial(self.dismiss, take_in()), self._refused)

    def _say_reading(self) -> None:
        if self._reading:
            self.say("Reading the file. It is taken in whole or not at all.")

    def _refused(self, problem: ReadinessError) -> None:
        self._reading = False
        self.refuse(problem)
