"""A small form that writes down a group and a bull of it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any, ClassVar, NamedTuple

from textual import on, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from readiness.desk import Desk, Outcome
from readiness.errors import DataError, ReadinessError
from readiness.trade.words import full_day_words, when_words
from readiness.tui.looks import ORANGE, QUIET, TEXT, Glyphs


class Field(NamedTuple):
    """One line of the form: its key in the entry, its words, an example."""

    key: str
    label: str
    example: str


FIELDS = (
    Field("farm", "farm", "may stay empty"),
    Field("group", "group", "Heifers"),
    Field("turnout", "turnout", "9 apr, or 2027-04-09"),
    Field("females", "females in it", "60; may stay empty"),
    Field("class", "cows or heifers", "cows"),
    Field("bull", "bull's tag *", "UK 123456 700002, or as you call him"),
    Field("name", "his name", "may stay empty"),
    Field("breed", "breed", "may stay empty"),
    Field("born", "born", "2023-03-14; may stay empty"),
    Field("temper", "temper", "quiet, watch or dangerous"),
)
_DAYS = ("turnout", "born")
_OF_BULL = ("bull", "name", "breed", "born", "temper", "farm")


def day_typed(text: str, today: date) -> date:
    """A day as typed: "2027-04-09", "9 apr 2027" or "9 apr" (the next one). Raises ``DataError``
    where it is none, or reads two ways."""
    from readiness.shorthand.cursor import Cursor
    from readiness.shorthand.dates import take_day

    cursor = Cursor(text.strip(), 1)
    found = take_day(cursor, today.isoformat())
    if found is None or not cursor.done:
        raise DataError(f'"{text.strip()}" is not a day; write it as 9 apr or 2027-04-09')
    return date.fromisoformat(found)


def contents_of(typed: Mapping[str, str], today: date, who: str) -> list[dict[str, Any]]:
    """The entries that the form means: a group where a turnout was given, the bull, his joining.

    Raises ``DataError`` that names the field; what else is wrong the desk says.
    """
    said: dict[str, Any] = {key: text.strip() for key, text in typed.items() if text.strip()}
    for key in _DAYS:
        if key in said:
            said[key] = _in_field(key, said[key], today)
    if "bull" not in said:
        raise DataError("bull's tag: it is needed. Any name you know him by will do.")
    if "females" in said:
        if not said["females"].isdecimal():
            raise DataError(f'females: "{said["females"]}" is not a whole number.')
        said["females"] = int(said["females"])
    if "turnout" in said and "group" not in said:
        raise DataError("group: name the group that is turned out then.")
    common: dict[str, Any] = {"on": today.isoformat()} | ({"by": who} if who else {})
    found: list[dict[str, Any]] = []
    if "turnout" in said:
        keys = ("group", "turnout", "females", "class", "farm")
        found.append({"kind": "group", **common, **{k: said[k] for k in keys if k in said}})
    found.append({"kind": "bull", **common, **{k: said[k] for k in _OF_BULL if k in said}})
    if "group" in said:
        found.append({"kind": "join", **common, "bull": said["bull"], "group": said["group"]})
    return found


def _in_field(key: str, text: str, today: date) -> str:
    from readiness.shorthand import ShorthandError

    try:
        return day_typed(text, today).isoformat()
    except ShorthandError as problem:
        raise DataError(f"{key}: {problem.why}") from problem
    except DataError as problem:
        raise DataError(f"{key}: {problem}") from problem


class FirstBull(ModalScreen[Outcome | None]):
    """Asks, writes, and returns what was written; None where one went back."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "dismiss(None)", "back", show=False),
        Binding("down", "app.focus_next", "next field", show=False),
        Binding("up", "app.focus_previous", "field before", show=False),
    ]

    def __init__(self, desk: Desk, glyphs: Glyphs) -> None:
        super().__init__()
        self._desk = desk
        self._glyphs = glyphs
        self._writing = False

    def compose(self) -> ComposeResult:
        with VerticalScroll(classes="dialog form", can_focus=False):
            title = "A group and a bull"
            yield Static(Content.assemble((title, f"bold {TEXT}")), markup=False)
            for field in FIELDS:
                with Horizontal(classes="field"):
                    yield Static(field.label, markup=False, classes="label")
                    yield Input(placeholder=field.example, compact=True, id=f"field-{field.key}")
            yield Static(id="said", markup=False)
            keys = "Enter: next field, on the last one save.  Esc: back"
            yield Static(Content.assemble((keys, QUIET)), markup=False)

    @on(Input.Changed, "#field-turnout")
    def _turnout_typed(self, event: Input.Changed) -> None:
        """Read the day back in full, so that nobody wonders which year."""
        today = self._desk.on
        try:
            day = day_typed(event.value, today)
        except DataError:
            self._say("")
            return
        self._say(f"turnout {full_day_words(day)}, {when_words(day, today)}")

    @on(Input.Submitted)
    def _entered(self, event: Input.Submitted) -> None:
        event.stop()
        if event.input.id == f"field-{FIELDS[-1].key}":
            self._save()
        else:
            self.focus_next()

    def _say(self, words: str, *, wrong: bool = False) -> None:
        style = f"bold {ORANGE}" if wrong else TEXT
        lead = f"{self._glyphs.late} " if wrong else ""
        words = self._glyphs.text(words)
        self.query_one("#said", Static).update(Content.assemble((lead + words, style)))

    def _save(self) -> None:
        if self._writing:
            return
        typed = {f.key: self.query_one(f"#field-{f.key}", Input).value for f in FIELDS}
        try:
            contents = contents_of(typed, self._desk.on, self._desk.who)
        except DataError as problem:
            self._say(str(problem), wrong=True)
            return
        self._writing = True
        self._write(contents)

    @work(thread=True, group="write")
    def _write(self, contents: list[dict[str, Any]]) -> None:
        try:
            done = self._desk.add(contents)
        except ReadinessError as problem:
            self.app.call_from_thread(self._refused, str(problem))
            return
        self.app.call_from_thread(self.dismiss, done)

    def _refused(self, words: str) -> None:
        self._writing = False
        self._say(words, wrong=True)
