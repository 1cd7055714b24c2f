"""A form: one line a field, read back as it is typed, and a wrong answer said where it stands."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from datetime import date
from typing import TYPE_CHECKING, Any, ClassVar, TypeVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.widgets import Input, Static

from readiness.forms import ON, Field, FieldError, Form, answer, content_of, problem_in, value_of
from readiness.system.plain import plain
from readiness.trade.ages import Birth
from readiness.trade.examination import PARTS, WAYS
from readiness.trade.females import read_as
from readiness.trade.tags import tag_problem
from readiness.trade.words import full_day_words, when_words
from readiness.tui.shared.dialogs import Dialog, WaitingInput, press
from readiness.tui.shared.looks import Glyphs, painted

Result = TypeVar("Result")


MOVES = {"down": 1, "tab": 1, "up": -1, "shift+tab": -1}
"""Keys that leave a field for the next one or the one before."""


class FieldInput(WaitingInput):
    """What is typed into one field. In a choice a digit chooses at once where nothing stands, or a
    choice that stood there when the cursor came; where typing goes on, it was a digit. No key
    empties what was typed: a slip is mended where it stands."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+u,ctrl+k,super+backspace", "keep", show=False),
    ]
    LEAVES: ClassVar[Collection[str]] = ("enter", *MOVES)

    def __init__(self, field: Field, typed: str, glyphs: Glyphs) -> None:
        example, shown = glyphs.text(field.example), glyphs.text(typed)
        super().__init__(
            shown, placeholder=example, compact=True, id=f"field-{field.key}", select_on_focus=False
        )
        self.field = field
        self._glyphs = glyphs
        self._given = (shown, typed)
        self._came_to = shown
        """What stood there when the cursor came."""
        self._digit = ""
        """The one that has chosen since the cursor came."""

    @property
    def answer(self) -> str:
        """What is typed; while nothing is changed, as it was given or chosen, though the terminal
        may not be able to show it."""
        shown, meant = self._given
        return meant if self.value == shown else self.value

    def on_key(self, event: events.Key) -> None:
        """The next field or the one before, at once: by a binding it would be later than letters
        typed after it. The choice of a digit, unless a text is being typed."""
        if (step := MOVES.get(event.key)) is not None:
            event.stop()
            event.prevent_default()
            form = self.screen
            assert isinstance(form, FormDialog)
            form.move(self, step)
            return
        if word := self._choice_of(event.character or ""):
            self._given = (self._glyphs.text(word), word)
            self._digit = event.character or ""
            self._put(self._given[0])
            event.stop()
            event.prevent_default()
        elif event.is_printable and self._just_chosen:
            self._put(self._digit)  # a figure, and no choice: the letter comes behind it
            self._digit = ""

    def _put(self, text: str) -> None:
        self.value = text
        self.cursor_position = len(text)

    @property
    def _just_chosen(self) -> bool:
        return bool(self._digit) and self.value == self._given[0] and self.cursor_at_end

    def _choice_of(self, typed: str) -> str:
        """The word that a key chooses; "" where it is a letter like others, as one that a name
        begins with is."""
        words = self.field.words if self.field.choices else ()
        if not (len(typed) == 1 and typed in "123456789" and int(typed) <= len(words)):
            return ""
        stood = self.answer in words and self.value == self._came_to and not self._digit
        named = any(word.startswith(typed) for word in words)
        return words[int(typed) - 1] if (not self.value or stood) and not named else ""

    def on_focus(self) -> None:
        """What stands here now is what the cursor comes to."""
        self._came_to, self._digit = self.value, ""

    def action_delete_left(self) -> None:
        """A choice that one key made, one key takes away: nobody typed its letters."""
        if self._just_chosen:
            self._put("")
        else:
            super().action_delete_left()

    def action_keep(self) -> None:
        """Keys that empty a line elsewhere."""


class FormDialog(Dialog[Result]):
    """Asks for the fields of a form. What is done with the answers, ``finish`` says.

    ``typed``: what stands in the fields at first, by key. ``latest``: the last day that what is
    said can be of, today unless said.
    """

    NOT_SAVED = "Not saved yet: Enter on the last saves it, Esc again leaves it out."
    KIND = "form"
    KEYS = "Arrows.  Enter on last saves.  Esc: back. F1: help"
    DEFAULT_CSS = """
    FormDialog .fields { height: auto; max-height: 10; scrollbar-size: 1 1; }
    FormDialog.-tall .fields { max-height: 20; }
    FormDialog #hint { height: auto; max-height: 3; }
    FormDialog #said { max-height: 5; }
    FormDialog .label.-here { color: $foreground; text-style: bold; }
    """

    def __init__(
        self,
        form: Form,
        today: date,
        typed: Mapping[str, str] | None = None,
        title: str | None = None,
        latest: date | None = None,
    ) -> None:
        super().__init__(form.title if title is None else title)
        self._form = form
        self._today = today
        self._latest = latest or today
        self.AUTO_FOCUS = f"#field-{form.begin.key}"  # type: ignore[misc]  # of this form
        self._before = {key: plain(text) for key, text in (typed or {}).items()}
        self._wrong: str | None = None
        """The key of the field that the message is about; "" for the form as a whole."""

    def body(self) -> ComposeResult:
        with VerticalScroll(classes="fields", can_focus=False):
            for field in self._form.fields:
                with Horizontal(classes="field"):
                    yield Static(
                        _label(field), markup=False, classes="label", id=f"label-{field.key}"
                    )
                    yield FieldInput(field, self._before.get(field.key, ""), self.tui.glyphs)
        yield Static(id="hint", markup=False)
        yield Static(id="said", markup=False)

    # ---- what is typed -------------------------------------------------------------------------

    def typed(self) -> dict[str, str]:
        """What stands in each field."""
        return {box.field.key: box.answer for box in self.query(FieldInput)}

    @on(Input.Changed)
    def _changed(self, event: Input.Changed) -> None:
        event.stop()
        assert isinstance(event.input, FieldInput)
        if self._wrong in (event.input.field.key, ""):
            self._wrong = None
            self.say("")
        if event.input.has_focus:
            self._hint(event.input)

    @on(events.DescendantFocus)
    def _entered(self, event: events.DescendantFocus) -> None:
        for box in self.query(FieldInput):
            label = self.query_one(f"#label-{box.field.key}", Static)
            here = box is event.widget
            label.set_class(here, "-here")
            label.update(f"{'>' if here else ' '} {_label(box.field)[2:]}")
        if isinstance(event.widget, FieldInput):
            self._hint(event.widget)

    @on(events.DescendantBlur)
    def _left(self, event: events.DescendantBlur) -> None:
        """Say at once what is wrong with the field just left, and have the cursor there again."""
        if not (isinstance(event.widget, FieldInput) and self.is_current and self.app.app_focus):
            return
        if (problem := self._problem(event.widget)) is not None:
            self.refuse(problem)

    def _day_for(self, field: Field) -> date:
        """What a day in it is read by."""
        return self._latest if field.key == ON else self._today

    def _problem(self, box: FieldInput) -> FieldError | None:
        """What is wrong with what stands in a field; nothing where it is empty."""
        if answer(box.field, box.value):
            try:
                value_of(box.field, box.answer, self._day_for(box.field))
            except FieldError as problem:
                return problem
        return None

    @on(Input.Submitted)
    def _submitted(self, event: Input.Submitted) -> None:
        event.stop()
        box = event.input
        assert isinstance(box, FieldInput)
        if box is self.query(FieldInput).last() and self._problem(box) is None:
            self.save()
        else:
            self.move(box, 1)

    def move(self, box: FieldInput, step: int) -> None:
        """From this field to the next one (1) or the one before (-1), where it says nothing wrong;
        what was typed in the same breath goes there."""
        if (problem := self._problem(box)) is not None:
            self.refuse(problem)
            return
        self.focus_next() if step > 0 else self.focus_previous()
        press(self.focused, box.release())

    # ---- what is said --------------------------------------------------------------------------

    def _hint(self, box: FieldInput) -> None:
        """Under the fields: the choices, or the day in full; which class a group is read as."""
        words = (hint_words(box.field, box.value, self._day_for(box.field)), self._class_hint(box))
        text = "\n".join(map(self.tui.glyphs.text, filter(None, words)))
        self.query_one("#hint", Static).update(painted((text, "")))

    def _class_hint(self, box: FieldInput) -> str:
        """Of a group what it counts as by its name, while nothing else is said."""
        typed = self.typed() if box.field.key in ("group", "class") else {}
        named = plain(typed.get("group", "")).strip()
        return read_as(named) if named and typed.get("class") == "" else ""

    def refuse(self, why: object) -> None:
        """Say what is wrong; where that is a field, the cursor goes to its end. What was typed in
        the same breath was meant for another place: it is gone."""
        for box in self.query(FieldInput):
            box.release()
        super().refuse(why)
        if isinstance(why, FieldError):
            self._wrong = why.key
            box = self.query_one(f"#field-{why.key}", FieldInput)
            self.set_focus(box)
            box.cursor_position = len(box.value)
        else:
            self._wrong = ""
            self.query_one("#hint", Static).update("")

    # ---- back ----------------------------------------------------------------------------------

    def would_lose(self) -> bool:
        """Whether something is typed that did not stand there at first."""
        return any(text != self._before.get(key, "") for key, text in self.typed().items())

    # ---- the end -------------------------------------------------------------------------------

    def save(self) -> None:
        """Read the answers, and go on with them where they stand."""
        try:
            content = content_of(self._form, self.typed(), self._today, self._latest)
        except FieldError as problem:
            self.refuse(problem)
            return
        self.finish(content)

    if TYPE_CHECKING:

        def finish(self, content: dict[str, Any]) -> None:
            """What a form fills in: do something with the answers, the entry's fields as
            ``content_of`` gives them."""


class FormScreen(FormDialog[dict[str, Any] | None]):
    """A form of one entry: returns its fields without bull, day and person; None: gone back.

    What the entries' validation refuses is said here, while all that was typed still stands.
    """

    def finish(self, content: dict[str, Any]) -> None:
        problem = problem_in(self._form, content, self._today)
        if problem is None:
            self.dismiss(content)
        else:
            self.refuse(problem)


def _label(field: Field) -> str:
    return f"  {field.label}{' *' if field.needed else ''}"


def hint_words(field: Field, typed: str, today: date) -> str:
    """What helps with a field while something is typed into it; "" where nothing does."""
    if field.choices:
        numbered = enumerate(field.words, 1)
        return "   ".join(f"{number} {word}" if number <= 9 else word for number, word in numbered)
    if field.kind == "parts":
        return f"{', '.join(WAYS)}: then {', '.join(PARTS)}"
    if field.kind == "tag":
        return tag_problem(typed.strip()) or ""
    if field.kind not in ("day", "birth") or not typed.strip():
        return ""
    try:
        value = value_of(field, typed, today)
    except FieldError:
        return ""
    if value is None:
        return ""
    if isinstance(value, Birth):
        return f"{field.label} {value.words}, {value.age_words(today.toordinal())}"
    day = date.fromisoformat(value)
    return f"{field.label} {full_day_words(day)}, {when_words(day, today)}"
