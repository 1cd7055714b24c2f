"""Dialogs: each returns one value and nothing else."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from readiness.tui.shared.looks import QUIET, TEXT, Glyphs


@dataclass(frozen=True, slots=True)
class Choice:
    """One line to choose, with quieter words under it."""

    words: str
    below: str = ""


class Choose(ModalScreen[int | None]):
    """Choose one of a list by arrows and Enter, or by its digit. Returns its place; None: none."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q", "dismiss(None)", "back", show=False),
        Binding("j", "step(1)", "next", show=False),
        Binding("k", "step(-1)", "before", show=False),
        *(Binding(str(digit), f"pick({digit})", "choose", show=False) for digit in range(1, 10)),
    ]

    def __init__(self, title: str, choices: Sequence[Choice], glyphs: Glyphs) -> None:
        super().__init__()
        self._title = title
        self._choices = list(choices)
        self._glyphs = glyphs

    def compose(self) -> ComposeResult:
        with Vertical(classes="dialog"):
            yield Static(Content.assemble((self._title, f"bold {TEXT}")), markup=False)
            options = [
                Option(choice_words(number, choice, self._glyphs))
                for number, choice in enumerate(self._choices, start=1)
            ]
            yield OptionList(*options, markup=False)
            yield Static(
                Content.assemble(("Enter or a digit chooses, Esc goes back", QUIET)), markup=False
            )

    def action_step(self, step: int) -> None:
        options = self.query_one(OptionList)
        if step > 0:
            options.action_cursor_down()
        else:
            options.action_cursor_up()

    def action_pick(self, digit: int) -> None:
        if digit <= len(self._choices):
            self.dismiss(digit - 1)

    @on(OptionList.OptionSelected)
    def _picked(self, event: OptionList.OptionSelected) -> None:
        self.dismiss(event.option_index)


def choice_words(number: int, choice: Choice, glyphs: Glyphs) -> Content:
    """A choice with its digit, where it has one. No colour of its own: the cursor gives it."""
    lead = f" {number}  " if number <= 9 else "    "
    parts = [(lead, ""), (glyphs.text(choice.words), "bold")]
    if choice.below:
        parts.append((f"\n    {glyphs.text(choice.below)}", ""))
    return Content.assemble(*parts)


class Paper(ModalScreen[None]):
    """Something to read: scrolled with the arrows, closed with any of the keys that go back."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q,enter,question_mark,s", "dismiss(None)", "back", show=False),
        Binding("j", "scroll(1)", "down", show=False),
        Binding("k", "scroll(-1)", "up", show=False),
    ]

    def __init__(self, title: str, words: Content) -> None:
        super().__init__()
        self._title = title
        self._words = words

    def compose(self) -> ComposeResult:
        with Vertical(classes="dialog paper"):
            yield Static(Content.assemble((self._title, f"bold {TEXT}")), markup=False)
            with VerticalScroll(can_focus=True):
                yield Static(self._words, markup=False)
            yield Static(Content.assemble(("arrows scroll, Esc goes back", QUIET)), markup=False)

    def action_scroll(self, step: int) -> None:
        self.query_one(VerticalScroll).scroll_relative(y=step, animate=False)
