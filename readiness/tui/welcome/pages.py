"""The first bulls, one short page at a time: their group, their tags, and what is known of each."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property, partial
from pathlib import Path
from typing import Any, TypeVar

from textual import events, on
from textual.app import ComposeResult
from textual.widgets import Input, Static

from readiness.desk.desk import Desk
from readiness.desk.writing import Outcome
from readiness.engine.results import Assessment
from readiness.forms import FieldError, problem_in
from readiness.forms.first import (
    GROUP,
    alike_words,
    as_known,
    bull_form,
    bulls_in,
    class_of,
    group_in,
    is_roster,
    may_be_birth,
    moved_words,
    one_tag_words,
    pasted,
    tags_in,
    tags_words,
    turnout_moved,
    unquoted,
)
from readiness.history.groups import Group, Key, key_of
from readiness.system.errors import DataError, ReadinessError
from readiness.system.plain import name_key
from readiness.trade.words import day_words, full_when_words
from readiness.tui.shared.dialogs import Dialog, WaitingInput, press
from readiness.tui.shared.errands import in_thread
from readiness.tui.shared.form import FieldInput, FormDialog
from readiness.tui.shared.looks import painted

Result = TypeVar("Result")
A_TAG = "Write at least one bull's tag, as UK 123456 200002 or as you call him"


@dataclass
class Begun:
    """What was typed so far, so that going back loses none of it. ``group``: the answers of the
    first page, ``said``: what they say; ``tags``: the line of the second.
    ``safe``: the tags of the bulls of whom the third says whether they are safe on heifers.
    ``left``: the field of the page before, where keys wait that were typed since its Enter."""

    left: WaitingInput | None = None
    group: dict[str, str] = field(default_factory=dict)
    said: dict[str, Any] = field(default_factory=dict)
    tags: str = ""
    safe: set[str] = field(default_factory=set)


class Page(Dialog[Result]):
    """One of the pages: what was typed after the last Enter goes into the next."""

    begun: Begun

    def on_mount(self) -> None:
        first = self.query(WaitingInput).first()
        self.set_focus(first)
        if self.begun.left is not None:
            press(first, self.begun.left.release())

    def hand_over(self, result: Result) -> None:
        self.begun.left = self.query(WaitingInput).last()
        self.dismiss(result)


class GroupPage(FormDialog[bool | None], Page[bool | None]):
    """Asks for the group; True where one goes on."""

    KEYS = "Arrows move.  Enter on the last goes on.  Esc: back.  F1: help"

    def __init__(self, desk: Desk, begun: Begun) -> None:
        typed = begun.group or {"farm": desk.settings.farm}
        super().__init__(GROUP, desk.on, typed, f"1 of 3: {GROUP.title.lower()}")
        self.begun = begun
        self._desk = desk
        self._asked = ""
        """The turnout that was asked about."""

    @on(Input.Changed)
    def _keep(self) -> None:
        self.begun.group = self.typed()

    def would_lose(self) -> bool:
        """What is typed stands there again."""
        return False

    @cached_property
    def _groups(self) -> Mapping[Key, Group]:
        return self._desk.groups()

    def _class_hint(self, box: FieldInput) -> str:
        named = name_key(self.typed()["group"]) if box.field.key in ("group", "turnout") else ""
        there = [group for (_, name), group in self._groups.items() if name_key(name) == named]
        if len(there) != 1:
            return super()._class_hint(box)
        out = day_words(there[0].turnout, self._today)
        return f"{there[0].name} is in the book, turnout {out}: an empty turnout leaves it so."

    def move(self, box: FieldInput, step: int) -> None:
        """Enter on the day that was asked about goes on with it at once."""
        if step > 0 and box.field.key == "turnout" and self._asked:
            self.save()
        else:
            super().move(box, step)

    def finish(self, content: dict[str, Any]) -> None:
        try:
            group_in(content, self._today, "")
            self.begun.said = said = as_known(content, self._groups)
            moved = turnout_moved(said, self._groups, self._today)
            if moved and self._asked != said["turnout"]:
                self._asked = said["turnout"]
                raise FieldError(GROUP.fields[1], moved)
        except FieldError as problem:
            self.refuse(problem)
        else:
            self.hand_over(True)


class TagsInput(WaitingInput):
    """Tags in one line; a list that is pasted becomes one, behind what stands there."""

    def _on_paste(self, event: events.Paste) -> None:
        event.stop()
        event.prevent_default()
        try:
            before = self.value[: self.cursor_position]
            apart = ", " if before and not before.endswith((",", ";", " ")) else ""
            self.insert_text_at_cursor(apart + pasted(event.text))
        except DataError as problem:
            page = self.screen
            assert isinstance(page, TagsPage)
            page.refuse(problem)


@dataclass(frozen=True, slots=True)
class Written:
    """What the second page wrote. ``tags``: the bulls of whom more may be said, tag and name."""

    outcome: Outcome
    tags: tuple[tuple[str, str], ...] = ()


class TagsPage(Page[Written | None]):
    """Asks for tags or a roster, and writes group and bulls in one batch; a new group without bulls
    only where that is meant; None: back."""

    KIND = "form"
    KEYS = "Enter writes them down.  Esc: the page before.  F1: help"

    def __init__(self, desk: Desk, begun: Begun) -> None:
        super().__init__("2 of 3: the bulls")
        self._desk = desk
        self.begun = begun
        self._writing = False
        self._asked: str | None = None
        """Tags that were asked about; none, where it was asked whether the group comes alone."""

    def body(self) -> ComposeResult:
        yield Static(painted((self._where(), "quiet")), markup=False)
        example = "tags, a comma between; or a roster.xlsx"
        yield TagsInput(
            self.begun.tags, placeholder=example, compact=True, id="tags", select_on_focus=False
        )
        yield Static(id="hint", markup=False)
        yield Static(id="said", markup=False)

    def _where(self) -> str:
        said = self.begun.said
        turnout = said.get("turnout")
        when = (
            f", turnout {full_when_words(date.fromisoformat(turnout), self._desk.on)}"
            if turnout
            else ""
        )
        place = f" at {said['farm']}" if "farm" in said else ""
        of = class_of(said, self._desk.groups())
        into = f"Into {said['group']}{place}, a group of {of}{when}. " if "group" in said else ""
        return self.tui.glyphs.text(
            f"{into}Type their tags, a comma between two, or paste a list of them, one a line; or "
            "name the file of a roster (.xlsx, .csv)."
        )

    @on(Input.Changed)
    def _typed(self, event: Input.Changed) -> None:
        event.stop()
        self.begun.tags = event.value
        self.say("")
        self._hint("")
        try:
            self._hint("" if is_roster(event.value) else self._read(tags_in(event.value)))
        except DataError as problem:
            self.refuse(problem)

    def _read(self, tags: Mapping[str, str]) -> str:
        """How the list was read, and who would be taken out of another group by it."""
        stands = {bull.key: bull.group for bull in self._bulls if bull.group is not None}
        words = (tags_words(tags), moved_words(self.begun.said, tags, stands))
        return ". ".join(filter(None, words))

    @cached_property
    def _bulls(self) -> tuple[Assessment, ...]:
        """The bulls of the book; none where it cannot be read yet: what is wrong with it is said
        when it is written to."""
        try:
            return self._desk.board().bulls
        except ReadinessError:
            return ()

    @property
    def _book(self) -> dict[str, str]:
        """A bull's key → his tag and name."""
        return {bull.key: f"{bull.bull} {bull.name or ''}".strip() for bull in self._bulls}

    def _hint(self, words: str) -> None:
        self.query_one("#hint", Static).update(painted((self.tui.glyphs.text(words), "")))

    @on(Input.Submitted)
    def _entered(self, event: Input.Submitted) -> None:
        event.stop()
        if self._writing:
            return
        said, desk = self.begun.said, self._desk
        groups = desk.groups()
        group = group_in(said, desk.on, desk.who, groups)
        before = [group] if group else []
        if is_roster(event.value):
            path = Path(unquoted(event.value)).expanduser()
            into, farm = said.get("group"), said.get("farm")
            self._write(
                lambda: Written(
                    desk.import_file(path, farm=farm, group=into, before=before, screen=True)
                )
            )
            return
        try:
            tags = tags_in(event.value)
        except DataError as problem:
            self.refuse(problem)
            return
        if not tags and not group:
            self.refuse(f"{A_TAG}.")
            return
        alone = "" if tags or key_of(said) in groups else f"{A_TAG}; Enter again: no bull yet"
        asks = alone or one_tag_words(tags) or alike_words(tags, self._book)
        if asks and self._asked != event.value:
            self._asked = event.value
            self.refuse(f"{asks}.")
            return
        contents = [*before, *bulls_in(said, tags, desk.on, desk.who)]
        self._write(lambda: Written(desk.add(contents), tuple(tags.items())))

    def _write(self, work: Any) -> None:
        self._writing = True
        in_thread(self, lambda: partial(self.hand_over, work()), self._refused)

    def _refused(self, problem: ReadinessError) -> None:
        self._writing = False
        self._hint("")
        self.refuse(problem)

    def refuse(self, why: object) -> None:
        super().refuse(why)
        self.query_one(TagsInput).release()


class BullPage(FormDialog[Outcome | bool | None], Page[Outcome | bool | None]):
    """Asks what is known of one bull, and writes it; True where nothing is, None: enough."""

    KEYS = "Arrows move.  Enter on the last saves.  Esc: the board.  F1: help"

    def __init__(
        self, desk: Desk, begun: Begun, bull: tuple[str, str], number: int, count: int
    ) -> None:
        tag, name = bull
        called = f"{tag} {name}" if name else tag
        place = f", bull {number} of {count}" if count > 1 else ""
        form = bull_form(class_of(begun.said, desk.groups()), name)
        super().__init__(form, desk.on, None, f"3 of 3: {called}{place}")
        self.begun = begun
        self._desk = desk
        self._tag = tag
        self._named = ""
        """What was typed for a name, and asked about."""
        self._writing = False

    def _problem(self, box: FieldInput) -> FieldError | None:
        """A day or an age is a name only where it is entered twice."""
        typed, found = box.value.strip(), super()._problem(box)
        if found is not None or box.field.key != "name" or typed == self._named:
            return found
        if not may_be_birth(typed, self._today):
            return None
        self._named = typed
        why = f'"{typed}" may be his birth or age: is it his name? Enter again keeps it.'
        return FieldError(box.field, why)

    def finish(self, content: dict[str, Any]) -> None:
        if self._writing:
            return
        if not content:
            self.hand_over(True)
            return
        by = {"by": self._desk.who} if self._desk.who else {}
        content = {
            "kind": "bull",
            "on": self._today.isoformat(),
            "bull": self._tag,
            **by,
            **content,
        }
        if problem := problem_in(self._form._replace(kind="bull"), content, self._today):
            self.refuse(problem)
            return
        self._writing = True
        in_thread(
            self, lambda: partial(self._said, content, self._desk.add([content])), self._refused
        )

    def _said(self, content: Mapping[str, Any], done: Outcome) -> None:
        if "heifer_safe" in content:
            self.begun.safe.add(self._tag)
        self.hand_over(done)

    def _refused(self, problem: ReadinessError) -> None:
        self._writing = False
        self.refuse(problem)
