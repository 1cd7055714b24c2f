"""Correct an earlier entry: withdrawn and said again, in one batch that one undo takes back."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from functools import partial
from typing import TYPE_CHECKING, Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.widgets import Input, Static

from readiness.desk.writing import to_come
from readiness.entries.entry import Entry
from readiness.forms import day_typed, form_for, typed_of
from readiness.shorthand import WRITABLE, Scales, ShorthandError, read, words, write
from readiness.system.errors import BookBusy, CannotWrite, DataError, ReadinessError
from readiness.trade.words import full_day_words
from readiness.tui.shared.dialogs import Choice, Dialog, PlainInput
from readiness.tui.shared.errands import in_thread
from readiness.tui.shared.form import FormScreen
from readiness.tui.shared.looks import painted

if TYPE_CHECKING:
    from readiness.tui.shared.live import LiveScreen
    from readiness.tui.shared.reading import BullSheet

COMMON = ("kind", "on", "by", "bull")


@dataclass(frozen=True, slots=True)
class Correction:
    """What to say in place of an entry; nothing: it is withdrawn. ``typed``: the answers that said
    so, by field."""

    entry: Entry
    contents: tuple[dict[str, Any], ...]
    typed: Mapping[str, str]


class CorrectLine(Dialog[Correction | None]):
    """An entry as its day and its line of shorthand, to be changed. Returns the correction.

    ``typed``: what stands in the two at first, where that is not what the entry says.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("down", "app.focus_next", "next field", show=False),
        Binding("up", "app.focus_previous", "field before", show=False),
    ]

    KEYS = (
        "Enter takes the entry back and says this instead; an empty line only takes it back. "
        "u takes it back.  Esc: leave it as it is.  F1: help"
    )

    def __init__(
        self, entry: Entry, scales: Scales, today: date, typed: Mapping[str, str] | None = None
    ) -> None:
        super().__init__(f"Correct what was said of {entry.body['bull']}")
        self._entry = entry
        self._scales = scales
        # A day without a year is the last one: of an entry that lies ahead, the last up to it.
        self._latest = max(today, date.fromordinal(entry.day))
        self._before = typed or {"day": entry.body["on"], "line": write([entry.body], scales)}
        self._contents: tuple[dict[str, Any], ...] | None = None

    def body(self) -> ComposeResult:
        was = self.tui.glyphs.text(f"It says: {words(self._entry.body)}")
        yield Static(painted((was, "quiet")), markup=False)
        for key, label in (("day", "day"), ("line", "what")):
            with Horizontal(classes="field"):
                yield Static(label, markup=False, classes="label")
                yield PlainInput(
                    self._before[key], compact=True, id=f"correct-{key}", select_on_focus=False
                )
        yield Static(id="said", markup=False)

    def on_mount(self) -> None:
        self.query_one("#correct-line", Input).focus()

    @on(Input.Changed)
    def _changed(self, event: Input.Changed) -> None:
        event.stop()
        self._contents = None
        try:
            self._contents = self._read()
        except ShorthandError as problem:
            self.refuse(problem.why)
        except DataError as problem:
            self.refuse(problem)
        else:
            self.say(self._words())

    def would_lose(self) -> bool:
        return self._typed() != self._before

    def _typed(self) -> dict[str, str]:
        """What stands in the two."""
        return {key: self.query_one(f"#correct-{key}", Input).value for key in ("day", "line")}

    def _read(self) -> tuple[dict[str, Any], ...]:
        body, typed = self._entry.body, self._typed()
        day = day_typed(typed["day"], self._latest, past=True)
        if not typed["line"].strip():
            return ()
        by = body.get("by")
        said = read(typed["line"], bull=body["bull"], on=day, by=by, scales=self._scales)
        for content in said:
            for problem in to_come(content, self.tui.desk.clock.today().isoformat()):
                raise DataError(str(problem))
        return tuple(said)

    def _words(self) -> str:
        if not self._contents:
            return "Nothing is said instead: the entry is taken back."
        day = date.fromisoformat(self._contents[0]["on"])
        return f"{full_day_words(day)}: {' '.join(map(words, self._contents))}"

    @on(Input.Submitted)
    def _entered(self, event: Input.Submitted) -> None:
        event.stop()
        if self._contents is not None:
            self.dismiss(Correction(self._entry, self._contents, self._typed()))


def choose_entry(screen: LiveScreen[BullSheet], sheet: BullSheet) -> None:
    """Ask which of his entries is wrong, newest first."""
    entries = sheet.card.entries
    if screen.desk.readonly:
        screen.tui.tell("Nothing is corrected: the book was opened to be read only.", wrong=True)
        return
    if not entries:
        screen.say("Nothing is written down of him yet.")
        return

    choices = [
        Choice(_when(each), each, said) for each, said in zip(entries, sheet.words, strict=True)
    ]
    screen.choose("Which entry is to be corrected?", choices, partial(_correct, screen, sheet))


def _when(entry: Entry) -> str:
    by = f", {entry.body['by']}" if entry.body.get("by") else ""
    return f"{full_day_words(date.fromordinal(entry.day))}{by}"


def _correct(
    screen: LiveScreen[BullSheet],
    sheet: BullSheet,
    entry: Entry,
    typed: Mapping[str, str] | None = None,
) -> None:
    """Ask what is to be said instead. ``typed``: what was typed before, where it could not be
    written."""

    def answered(correction: Correction | None) -> None:
        if correction is not None:
            again = partial(_again, screen, sheet, correction)
            job = partial(_written, screen, correction)
            in_thread(screen, job, again, group="write", exit_on_error=False)

    rules = sheet.card.rules
    if entry.kind in WRITABLE:
        scales = Scales(rules.default_mobility, rules.default_condition)
        asked = CorrectLine(entry, scales, screen.desk.on, typed)
        screen.app.push_screen(asked, answered)
        return

    form = form_for(entry.kind, content=entry.body)

    def filled(said: dict[str, Any] | None) -> None:
        if said is not None:
            kept = {key: value for key, value in entry.body.items() if key in COMMON}
            answered(Correction(entry, ({**kept, **said},), typed_of(form, said)))

    title = f"Correct what was said on {_when(entry)}"
    before = typed_of(form, entry.body) if typed is None else typed
    day = date.fromordinal(entry.day)
    latest = max(day, screen.desk.on)
    screen.app.push_screen(FormScreen(form, day, before, title, latest), filled)


def _written(screen: LiveScreen[BullSheet], correction: Correction) -> Callable[[], None]:
    """Write it; then say what was withdrawn and what is said instead."""
    desk, entry = screen.desk, correction.entry
    if correction.contents:
        done = desk.correct(entry.id, correction.contents)
    else:
        done = desk.strike(entry.id, "withdrawn")
    said = " ".join(words(content) for content in correction.contents)
    odd = "".join(f" {warning.text}." for warning in done.warnings)
    told = f"Taken back: {words(entry.body)}" + (f" Said instead: {said}" if said else "") + odd

    def then() -> None:
        screen.tui.tell(told)
        screen.action_reread()

    return then


def _again(
    screen: LiveScreen[BullSheet],
    sheet: BullSheet,
    correction: Correction,
    problem: ReadinessError,
) -> None:
    """Say why it was not written. Where the book takes nothing just now, it is asked again, with
    all that was typed."""
    screen.refuse(problem)
    if isinstance(problem, BookBusy | CannotWrite) and screen.is_current:
        _correct(screen, sheet, correction.entry, correction.typed)
