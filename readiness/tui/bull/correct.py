"""Correct an earlier entry: withdrawn and said again, in one step that one undo takes back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from readiness.entries.entry import Entry
from readiness.forms import day_typed
from readiness.shorthand import Scales, ShorthandError, read, words, write
from readiness.system.errors import DataError
from readiness.trade.words import full_day_words
from readiness.tui.shared.looks import ORANGE, QUIET, TEXT, Glyphs
from readiness.tui.shared.plain_input import PlainInput


@dataclass(frozen=True, slots=True)
class Correction:
    """What to say in place of an entry; nothing: it is withdrawn. ``typed``: the answers that said
    so, by field."""

    entry: Entry
    contents: tuple[dict[str, Any], ...]
    typed: Mapping[str, str]


class CorrectLine(ModalScreen[Correction | None]):
    """An entry as its day and its line of shorthand, to be changed. Returns the correction.

    ``typed``: what stands in the two at first, where that is not what the entry says.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "dismiss(None)", "back", show=False),
        Binding("down", "app.focus_next", "next field", show=False),
        Binding("up", "app.focus_previous", "field before", show=False),
    ]

    def __init__(
        self,
        entry: Entry,
        scales: Scales,
        glyphs: Glyphs,
        today: date,
        typed: Mapping[str, str] | None = None,
    ) -> None:
        super().__init__()
        self._entry = entry
        self._scales = scales
        self._glyphs = glyphs
        # A day without a year is the last one: of an entry that lies ahead, the last up to it.
        self._latest = max(today, date.fromordinal(entry.day))
        self._before = typed or {"day": entry.body["on"], "line": write([entry.body], scales)}
        self._contents: tuple[dict[str, Any], ...] | None = None

    def compose(self) -> ComposeResult:
        body = self._entry.body
        with Vertical(classes="dialog"):
            title = f"Correct what was said of {body['bull']}"
            yield Static(Content.assemble((self._glyphs.text(title), f"bold {TEXT}")), markup=False)
            was = f"It says: {words(body)}"
            yield Static(Content.assemble((self._glyphs.text(was), QUIET)), markup=False)
            for key, label in (("day", "day"), ("line", "what")):
                with Horizontal(classes="field"):
                    yield Static(label, markup=False, classes="label")
                    yield PlainInput(
                        self._before[key], compact=True, id=f"correct-{key}", select_on_focus=False
                    )
            yield Static(id="said", markup=False)
            keys = (
                "Enter withdraws the entry and says this instead; an empty line only withdraws it. "
                "u takes it back.  Esc: leave it as it is"
            )
            yield Static(Content.assemble((keys, QUIET)), markup=False)

    def on_mount(self) -> None:
        self.query_one("#correct-line", Input).focus()

    @on(Input.Changed)
    def _changed(self, event: Input.Changed) -> None:
        event.stop()
        try:
            self._contents = self._read()
        except ShorthandError as problem:
            self._refused(problem.why)
        except DataError as problem:
            self._refused(str(problem))
        else:
            self._say(self._words(), wrong=False)

    def _typed(self) -> dict[str, str]:
        """What stands in the two."""
        return {key: self.query_one(f"#correct-{key}", Input).value for key in ("day", "line")}

    def _read(self) -> tuple[dict[str, Any], ...]:
        body, typed = self._entry.body, self._typed()
        day = day_typed(typed["day"], self._latest, past=True)
        if not typed["line"].strip():
            return ()
        by = body.get("by")
        return tuple(read(typed["line"], bull=body["bull"], on=day, by=by, scales=self._scales))

    def _words(self) -> str:
        if not self._contents:
            return "Nothing is said instead: the entry is withdrawn."
        day = date.fromisoformat(self._contents[0]["on"])
        return f"{full_day_words(day)}: {' '.join(map(words, self._contents))}"

    def _refused(self, why: str) -> None:
        self._contents = None
        self._say(why, wrong=True)

    def _say(self, said: str, *, wrong: bool) -> None:
        lead = f"{self._glyphs.late} " if wrong else ""
        style = f"bold {ORANGE}" if wrong else TEXT
        shown = Content.assemble((lead + self._glyphs.text(said), style))
        self.query_one("#said", Static).update(shown)

    @on(Input.Submitted)
    def _entered(self, event: Input.Submitted) -> None:
        event.stop()
        if self._contents is not None:
            self.dismiss(Correction(self._entry, self._contents, self._typed()))
