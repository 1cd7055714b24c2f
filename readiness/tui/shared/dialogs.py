"""Dialogs: each returns one value and nothing else."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Collection, Sequence
from typing import ClassVar, Generic, NamedTuple, TypeVar

from textual import events, on
from textual.app import ComposeResult
from textual.await_complete import AwaitComplete
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.events import Key
from textual.message import Message
from textual.screen import ModalScreen
from textual.visual import VisualType
from textual.widget import Widget
from textual.widgets import Input, OptionList, Static

from readiness.system.breath import DEAF, held_down
from readiness.system.errors import DataError
from readiness.system.plain import plain
from readiness.tui.shared.keymap import HELP_TOO
from readiness.tui.shared.looks import Glyphs, painted
from readiness.tui.shared.program import Program, program_of

Result = TypeVar("Result")
Value = TypeVar("Value")
DIGITS = "123456789"


class Dialog(ModalScreen[Result]):
    """A box over a screen: its heading, what it asks with (``body``), its keys. Esc gives None."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "back", show=False),
        Binding(f"question_mark,{HELP_TOO}", "app.help", "help", show=False),
    ]
    TOPIC: ClassVar[str] = ""
    """What the guide tells of it under; none: as of the screen below."""

    KIND: ClassVar[str] = ""
    _deaf = float("-inf")
    """When a key was last refused, or what followed it in one breath."""
    KEYS: ClassVar[str] = ""
    NOT_SAVED: ClassVar[str] = "Not saved yet: Enter saves it, Esc again leaves it out."
    _shown = ""
    _escaped = (float("-inf"), False)
    """When Esc was last pressed, and whether it was taken for held down."""

    def __init__(self, heading: str) -> None:
        super().__init__()
        self._heading = heading

    @property
    def tui(self) -> Program:
        return program_of(self)

    def compose(self) -> ComposeResult:
        with Vertical(classes=f"dialog {self.KIND}"):
            yield Static(painted((self.tui.glyphs.text(self._heading), "head")), markup=False)
            yield from self.body()
            yield Static(painted((self.keys(), "quiet")), markup=False)

    @abstractmethod
    def body(self) -> ComposeResult:
        """What stands between the heading and the keys; ``#said`` is what ``say`` fills."""

    def keys(self) -> str:
        return self.KEYS

    def dismiss(self, result: Result | None = None) -> AwaitComplete:
        """Once: a second key that was on its way would take the screen below with it."""
        return super().dismiss(result) if self in self.app.screen_stack else AwaitComplete()

    def would_lose(self) -> bool:
        """Whether something was said here that stands nowhere else."""
        return False

    def action_leave(self) -> None:
        """Back; what was said and not saved is not dropped by one key, nor by one held down."""
        at, (when, was_held) = self.tui.ticks(), self._escaped
        self._escaped = at, held_down(at - when, was_held)
        if not self.would_lose():
            self.dismiss(None)
        elif not self._shown.endswith(self.NOT_SAVED):
            self.refuse(self.NOT_SAVED)
        elif not self._escaped[1]:
            self.dismiss(None)

    def say(self, words: object, role: str = "") -> None:
        """Show a few words in the dialog; none: take them away."""
        self._shown = str(words)
        said = painted((self.tui.glyphs.text(words), role))
        self.query_one("#said", Static).update(said if words else "")

    def refuse(self, why: object) -> None:
        """Say what is wrong; many things, each by itself, on a page that scrolls."""
        parts = why.parts if isinstance(why, DataError) and len(str(why)) > FITS else ()
        if len(parts) > 1:
            text = self.tui.glyphs.text
            said = Content("\n\n").join(painted((text(part), "")) for part in parts)
            self.app.push_screen(Paper("Nothing was written", said))
            why = f"{len(parts)} things are wrong, nothing was written. Enter shows them again."
        self.say(f"{self.tui.glyphs.late} {why}", "alert")


FITS = 240
"""So many characters of what is wrong stand in a dialog without being cut, at 60 columns, too."""
EDITS = {
    "backspace": "delete_left", "delete": "delete_right", "left": "cursor_left",
    "right": "cursor_right", "home": "home", "end": "end",
}  # fmt: skip


class PlainInput(Input):
    """What is pasted into it may carry controls, which painted as they are would drive the
    terminal: they never get in."""

    def validate_value(self, value: str) -> str:
        return plain(value)

    async def _on_key(self, event: events.Key) -> None:
        """Keys that edit are done at once: by their bindings they would be later than letters that
        were typed after them, where somebody types faster than it is painted."""
        if (action := EDITS.get(event.key)) is not None:
            event.stop()
            event.prevent_default()
            getattr(self, f"action_{action}")()


class WaitingInput(PlainInput):
    """After Enter, or another key that ``LEAVES``, what is typed waits until it is known where the
    cursor goes (``release``)."""

    LEAVES: ClassVar[Collection[str]] = ("enter",)
    waiting: list[events.Key] | None = None

    def post_message(self, message: Message) -> bool:
        if isinstance(message, events.Key):
            if self.waiting is not None:
                self.waiting.append(message)
                return True
            if message.key in self.LEAVES:
                self.waiting = []
        return super().post_message(message)

    async def _on_key(self, event: events.Key) -> None:
        if event.key == "enter":
            event.stop()
            event.prevent_default()
            await self.action_submit()

    def release(self) -> list[events.Key]:
        """The keys that waited; from now on none does."""
        keys, self.waiting = self.waiting or [], None
        return keys


def press(widget: Widget | None, keys: Sequence[events.Key]) -> None:
    """Press keys that waited, where the cursor is now."""
    for key in keys:
        assert widget is not None
        widget.post_message(events.Key(key.key, key.character))


class Choice(NamedTuple, Generic[Value]):
    """One line to choose, what it stands for, and quieter lines under it."""

    words: str
    of: Value
    below: str = ""


class Choose(Dialog[Choice[Value] | None]):
    """Choose one of a list by arrows and Enter, or by its digit; ``letters``: one for each choice,
    in place of digits where a tag may be typed before the question is seen."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("q", "dismiss(None)", "back", show=False),
        Binding("j", "focused.cursor_down", "next", show=False),
        Binding("k", "focused.cursor_up", "before", show=False),
    ]

    def __init__(self, title: str, choices: Sequence[Choice[Value]], letters: str = "") -> None:
        super().__init__(title)
        self._choices = choices
        self._by = letters or DIGITS

    def keys(self) -> str:
        by = "a digit" if self._by == DIGITS else " or ".join(self._by)
        return f"Enter or {by} chooses, Esc goes back"

    def body(self) -> ComposeResult:
        yield options(self._choices, self.tui.glyphs, self._by)

    async def on_key(self, event: Key) -> None:
        """A character that chooses nothing says so, and what follows it in one breath chooses
        nothing either: a tag typed too soon is no answer. A digit chooses at once: by a binding it
        would be later than keys typed after it, which are for what comes then."""
        if not self.is_current:
            return
        at, by = self.tui.ticks(), self._by[: len(self._choices)]
        answers = by + "jkq?"
        in_breath = at - self._deaf < DEAF
        if not in_breath and (not event.is_printable or (event.character or " ") in answers):
            if event.key in by:
                event.stop()
                event.prevent_default()
                self.dismiss(self._choices[by.index(event.key)])
            return
        if not in_breath:
            self.tui.tell_stray(f"{event.character} means nothing here: {self.keys()}.")
        self._deaf = at
        event.stop()
        event.prevent_default()

    @on(OptionList.OptionSelected)
    def _picked(self, event: OptionList.OptionSelected) -> None:
        self.dismiss(self._choices[event.option_index])


def options(choices: Sequence[Choice[Value]], glyphs: Glyphs, by: str = DIGITS) -> OptionList:
    """Choices, each with its digit or letter (``by``), where it has one. No colours of their own:
    the cursor gives them."""
    lines = []
    for key, choice in zip(by.ljust(len(choices)), choices, strict=False):
        lead = f" {key}  "
        below = [f"\n    {glyphs.text(line)}" for line in choice.below.splitlines()]
        lines.append(Content.assemble(lead, (glyphs.text(choice.words), "bold"), *below))
    return OptionList(*lines, markup=False)


class Paper(Dialog[None]):
    """Something to read: scrolled with the arrows, closed with any of the keys that go back."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(f"q,enter,question_mark,{HELP_TOO},s", "dismiss(None)", "back", show=False),
        Binding("j", "scroll(1)", "down", show=False),
        Binding("k", "scroll(-1)", "up", show=False),
    ]
    KIND = "paper"
    KEYS = "arrows scroll, Esc goes back"

    def __init__(self, title: str, words: VisualType) -> None:
        super().__init__(title)
        self._words = words

    def body(self) -> ComposeResult:
        with VerticalScroll(can_focus=True):
            yield Static(self._words, markup=False)

    def action_scroll(self, step: int) -> None:
        self.query_one(VerticalScroll).scroll_relative(y=step, animate=False)
