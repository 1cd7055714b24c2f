"""The Crush screen: one bull at a time, one key for each answer, nothing lost."""

from __future__ import annotations

import gc
from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from datetime import date
from functools import partial
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.keys import _character_to_key
from textual.widgets import Digits, Input, Static

from readiness.book.drafts import Half, Halves
from readiness.crush.pad import Pad
from readiness.crush.slip import Slip
from readiness.crush.top import pad_for
from readiness.engine.results import Assessment
from readiness.entries.ids import typed_id
from readiness.herd.card import Card
from readiness.report.rows import rows
from readiness.shorthand import ShorthandError
from readiness.system.errors import ReadinessError
from readiness.tui.crush.desk import (
    Back,
    CrushSheet,
    card_of,
    read_crush,
    save,
    stands,
    take_back,
)
from readiness.tui.crush.gate import Gate
from readiness.tui.crush.keys import Keys
from readiness.tui.crush.paint import Paint
from readiness.tui.crush.typing import Entry, Typing
from readiness.tui.crush.unsaved import Unsaved
from readiness.tui.crush.views import Saved
from readiness.tui.shared.errands import Errands
from readiness.tui.shared.keys import KeyLine
from readiness.tui.shared.live import LiveScreen
from readiness.tui.shared.undoing import told
from readiness.tui.shared.view import Team

REST = 1.5
"""Seconds without a key after which the book is looked at again."""
PATIENCE = 10
"""Looks put off at most: whoever never rests sees what others wrote after so many seconds."""


class CrushScreen(LiveScreen[CrushSheet]):
    """The race, the bull in the crush, and what is said of him. ``key``: the bull to begin with;
    ``team``: only the bulls of this farm or group are expected."""

    AUTO_FOCUS: ClassVar[str | None] = ""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "save", "save", tooltip="save what is said of him; the next bull comes"),
        Binding("n", "skip(1)", "next", tooltip="let the others go before him"),
        Binding("slash", "pick", "bull", key_display="/", tooltip="another bull, by tag or name"),
        Binding("u", "undo", "undo", tooltip="take back what was last saved, to say it again"),
        Binding("l", "line", "line", tooltip="type it as one line of shorthand"),
        Binding("m", "note", "note", tooltip="a note in your own words"),
        Binding("o", "other", "other", tooltip="vet, treatment, own check, out, group, his card"),
        Binding("v", "form('vet-exam')", "the vet examined him", show=False),
        Binding("g", "gather", "group", tooltip="let a whole group or farm into the race"),
        Binding("p", "skip(-1)", "the last one in the race comes first", show=False),
        Binding("x", "drop", "he does not come today", show=False),
        Binding("e", "codes", "what each code means, with its source", show=False),
        Binding("escape", "leave", "board", tooltip="back to the board; nothing is lost"),
    ]

    def __init__(self, key: str | None = None, team: Team | None = None) -> None:
        super().__init__()
        self.gate = Gate(self, team or Team(), key)
        self.sheet: CrushSheet | None = None
        self.card: Card | None = None
        self.pad: Pad | None = None
        self.unread = ""
        self.message = ""
        self.last: Saved | None = None
        self.handled: set[str] = set()
        self.unsaved = Unsaved()
        self._called: dict[str, str] = {}
        self._saves: list[frozenset[str]] = []
        self._waited = 0

    def compose(self) -> ComposeResult:
        yield Static(id="top", markup=False)
        with Horizontal(id="head"):
            yield Digits("", id="tag")
            yield Static(id="person", markup=False)
        yield Static(id="due", markup=False)
        with Horizontal(id="middle"):
            yield Static(id="feet", markup=False)
            yield Static(id="saved", markup=False)
        yield Static(id="slip", markup=False)
        yield Entry()
        yield Static(id="words", markup=False)
        with Horizontal(id="asking"):
            yield Static(id="big", markup=False)
            yield Static(id="question", markup=False)
        yield Static(id="coming", markup=False)
        yield Static(id="line", markup=False)
        yield KeyLine([*self.BINDINGS, *self.tui.BINDINGS])

    def on_mount(self) -> None:
        self.paint = Paint(self)
        self.typing = Typing(self)
        self.keys = Keys(self)
        self.errands = Errands(self, self._late, self.say)
        self.errands.busy = True  # until the race stands: keys pressed before it wait
        super().on_mount()

    # ---- reading -------------------------------------------------------------------------------

    def read(self) -> CrushSheet:
        import readiness.desk.writing  # noqa: F401 - what saving needs, before it is needed

        self.unsaved.open(self.desk)
        return read_crush(self.desk, self.key)

    @property
    def key(self) -> str | None:
        """The bull in the crush."""
        return self.card.assessment.key if self.card else None

    @property
    def bulls(self) -> dict[str, Assessment]:
        """The bulls on the board, by key."""
        return {bull.key: bull for bull in self.sheet.board.bulls} if self.sheet else {}

    @property
    def today(self) -> date:
        return self.desk.on

    def show(self, seen: CrushSheet) -> None:
        first = self.sheet is None
        self.sheet = seen
        self._called = {row.key: row.bull for row in rows(seen.board)}
        self.handled = set(seen.handled)
        if first:
            # The entries of a big book stay all day: to look through them for garbage again and
            # again holds up keys.
            gc.freeze()
            self.gate.open(self.unsaved.halves)
            return
        self.gate.refresh()
        if seen.card is not None and self.pad is not None and seen.card.assessment.key == self.key:
            self.card = seen.card
            self.pad = replace(self.pad, before=stands(seen.card, self.today))
        elif self.card is None and not self.errands.busy:
            self.turn(self.gate.race.first)
        self.paint.all()

    def lined_up(self) -> None:
        """The race stands: the first one comes."""
        names = ", ".join(self.called(key) for key in self.unsaved.keys if key in self.bulls)
        if names:
            self.say(f"Half entered and not saved: {names}. / and his tag brings each back.")
        self.turn(self.gate.race.first)

    def fail(self, error: BaseException) -> None:
        self.errands.stop()
        super().fail(error)

    # ---- who stands in the crush ---------------------------------------------------------------

    def called(self, key: str) -> str:
        """His tag and name, as short as on the board."""
        return self._called.get(key, key)

    def turn(self, key: str | None) -> None:
        """This bull comes into the crush."""
        if key is None:
            self.card = self.pad = None
            self.errands.stop()
            self.paint.all()
            return
        self.errands.run(partial(self._fetch, key))

    def _fetch(self, key: str) -> Callable[[], None]:
        return partial(self._arrived, key, card_of(self.desk, key))

    def _arrived(self, key: str, card: Card | None) -> None:
        if card is not None:
            self._stand(card)
            return
        self.gate.change(self.gate.race.done(key))
        self.turn(self.gate.race.first)

    def _stand(self, card: Card, slip: Slip | None = None) -> None:
        """The bull of this card stands in the crush, with what was half said of him."""
        self.card, self.unread = card, ""
        before = stands(card, self.today)
        key = card.assessment.key
        empty = Slip(card.assessment.bull, self.today, self.desk.who)
        self.pad = pad_for(before, slip or empty)
        half = self.unsaved.of(key)
        if slip is None and half is not None:
            begun = replace(empty, on=date.fromisoformat(half.on))
            try:
                self.pad = pad_for(before, begun.read(half.line, before.scales))
            except ShorthandError:
                self.pad, self.unread = pad_for(before, begun), half.line
        self.paint.all()

    def _look(self) -> None:
        """Read again what changed once nobody presses keys: reading would hold up the next one.
        Where nobody rests, only what others wrote is worth it."""
        self._waited += 1
        if self.keys.rested >= REST:
            self._waited = 0
            super()._look()
        elif self._waited >= PATIENCE:
            self._waited = 0
            self.run_worker(self._look_for_others, group="look", thread=True, exit_on_error=False)

    def _look_for_others(self) -> None:
        with suppress(ReadinessError):  # whatever bars it is said when it is read
            if self.desk.others_wrote():
                self.app.call_from_thread(self.action_reread)

    # ---- keys ----------------------------------------------------------------------------------

    def on_key(self, event: events.Key) -> None:
        key = event.character if event.is_printable and event.character else event.key
        if self.typing.on:
            # Keys that follow in one go were on their way here before the line was open.
            if self.query_one(Entry).seen is not event:
                self.typing.late(key)
                event.stop()
            return
        if self.errands.busy and key not in ("q", "?"):
            self.errands.wait(key)
            event.stop()
        elif self.keys.press(key):
            event.stop()

    def _late(self, key: str) -> None:
        """A key that waited, to where it would have gone: a dialog, the line, the pad."""
        if not self.is_active:
            named = len(key) > 1
            name = key if named else _character_to_key(key)
            self.app.post_message(events.Key(name, None if named else key))
        elif self.typing.on:
            self.typing.late(key)
        else:
            self.keys.press(key)

    def press(self, key: str) -> bool:
        return self.keys.press(key)

    def more_keys(self) -> list[tuple[str, str]]:
        """The answers at the first question; elsewhere, those of the question asked."""
        return [(key, words) for key, words in self.pad.keys] if self.pad else []

    def take(self, pad: Pad) -> None:
        """What is said now; kept at once where it changed."""
        changed = self.pad is None or pad.slip != self.pad.slip
        self.pad = pad
        if changed:
            self.keep()
        self.paint.pad()

    def keep(self, text: str | None = None) -> None:
        """Keep what is said of the bull in the crush: the slip's line, or what is being typed."""
        if self.pad is None or self.key is None:
            return
        line = self.pad.slip.line(self.pad.before.scales) if text is None else text
        if not self.unsaved.keep(self._half(line)):
            self.say("Not kept yet: the folder beside the book takes nothing. Enter saves him.")

    def _half(self, line: str, ids: tuple[str, ...] = ()) -> Half:
        assert self.pad is not None and self.key is not None
        return Half(self.key, line, self.pad.slip.on.isoformat(), ids)

    # ---- saving, undoing -----------------------------------------------------------------------

    def action_save(self) -> None:
        """Save what is said of the bull in the crush; the next one comes."""
        pad, halves = self.pad, self.unsaved.halves
        if pad is None or self.card is None or halves is None:
            self.say("No bull is in the crush: / picks one, g lets a group in.")
        elif self.desk.readonly:
            self.take(pad.tell("Not saved: the book was opened to be read only."))
        elif self.unread:
            self.take(pad.tell("Not saved: the line cannot be read yet: l mends it."))
        elif not pad.slip:
            self.take(pad.tell("Nothing is said of him yet: s all sound, n the next bull."))
        else:
            ids = tuple(typed_id(self.desk.clock.now()) for _ in pad.slip.contents)
            half = self._half(pad.slip.line(pad.before.scales), ids)
            self.errands.run(partial(self._save, halves, self.card, half, pad.slip))

    def _save(self, halves: Halves, card: Card, half: Half, slip: Slip) -> Callable[[], None]:
        done = save(self.desk, halves, card, half, slip, self.called(half.key))
        following = card_of(self.desk, self.gate.race.done(half.key).first, last=True)
        self._saves.append(frozenset(half.ids))
        return partial(self._saved, half.key, done, following)

    def _saved(self, key: str, done: Saved, following: Card | None) -> None:
        self.last = done
        self.handled.add(key)
        self.unsaved.saved(key)
        self.gate.change(self.gate.race.done(key))
        self.say("")
        if following is not None and following.assessment.key == self.gate.race.first:
            self._stand(following)
        else:
            self.card = self.pad = None
            self.turn(self.gate.race.first)

    def action_undo(self) -> None:
        """Take back what was last saved from this device."""
        self.errands.run(self._undo_or_ask)

    def _undo_or_ask(self) -> Callable[[], None]:
        """At once what this screen saved last; anything else is shown first."""
        last = self.desk.last_said()
        shown = frozenset(entry.id for entry in last)
        if self._saves and self._saves[-1] == shown:
            self._saves.pop()
            return self._undo()
        again = partial(self.errands.run, self._undo)
        return partial(self.tui.ask_to_undo, told(self.desk, last), again)

    def _undo(self) -> Callable[[], None]:
        back = take_back(self.desk, self.called)
        return partial(self._taken_back, back, card_of(self.desk, back.key or self.key))

    def _taken_back(self, back: Back, card: Card | None) -> None:
        """He stands in the crush again, with what was said of him, to be said better; not where
        something else is half said of him."""
        self.last = back.saved
        if card is None:
            self.paint.all()
        elif back.key:
            half_said = self.unsaved.of(back.key) is not None
            self.handled.discard(back.key)
            self.gate.change(self.gate.race.pick(back.key))
            self._stand(card, None if half_said else back.slip)
        else:
            self._stand(card, self.pad.slip if self.pad and self.pad.slip else None)

    # ---- the race ------------------------------------------------------------------------------

    def action_skip(self, step: int) -> None:
        """Let the others go before him, or bring back who was let go last."""
        race = self.gate.race
        self.gate.change(race.skip() if step > 0 else race.back())
        self.turn(self.gate.race.first)

    def action_drop(self) -> None:
        """He does not come today; what was half said of him is kept."""
        if self.key is not None:
            gone = self.called(self.key)
            self.gate.change(self.gate.race.drop(self.key))
            self.turn(self.gate.race.first)
            self.say(f"{gone} is out of the race for today; / and his tag brings him back.")

    @property
    def half_entered(self) -> list[str]:
        """The bulls of whom something is said that is not saved, but for the one in the crush."""
        return [key for key in self.unsaved.keys if key != self.key and key in self.bulls]

    def pick(self, key: str) -> None:
        """This bull stands in the crush now."""
        self.gate.change(self.gate.race.pick(key))
        self.turn(key)

    def action_gather(self) -> None:
        self.gate.gather()

    # ---- typed answers, forms, papers ------------------------------------------------------------

    def action_line(self) -> None:
        self.typing.line()

    def action_note(self) -> None:
        self.typing.note()

    def action_pick(self) -> None:
        self.typing.pick()

    @on(Input.Changed, "#entry")
    def _typed(self, event: Input.Changed) -> None:
        event.stop()
        self.typing.changed(event.value)

    @on(Input.Submitted, "#entry")
    def _entered(self, event: Input.Submitted) -> None:
        event.stop()
        self.typing.submitted(event.value)

    def action_other(self) -> None:
        from readiness.tui.crush.forms import choose_form

        choose_form(self)

    def action_form(self, name: str) -> None:
        from readiness.tui.crush.forms import open_form

        open_form(self, name)

    def action_codes(self) -> None:
        from readiness.tui.crush.codes import codes_paper

        if self.card is not None:
            self.app.push_screen(codes_paper(self.card.rules, self.tui.glyphs))

    def say(self, words: str) -> None:
        """Show one calm line until something else is said."""
        if words != self.message:
            self.message = words
            self.paint.all()

    def on_resize(self, event: events.Resize) -> None:
        self.paint.all()

    def action_leave(self) -> None:
        """Back to the board. What is half said of a bull is kept."""
        self.tui.back_to_board(self.key or "")

    def on_unmount(self) -> None:
        self.unsaved.close()
