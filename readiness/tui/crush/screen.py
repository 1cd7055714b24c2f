"""The Crush screen: one bull at a time, one key for each answer, nothing lost.

It holds the session, does what each step of it asks for, paints it, and forwards keys.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal
from textual.content import Content
from textual.keys import _character_to_key
from textual.widgets import Digits, Static

from readiness.book.drafts import Drafts
from readiness.crush import effects as do
from readiness.crush.keys import OWN, escaped, press, word_begun
from readiness.crush.mending import lifts, mended
from readiness.crush.roll import brought, roll
from readiness.crush.session import Session, Step
from readiness.herd.team import EVERY_FARM, Team
from readiness.system import garbage
from readiness.system.errors import ReadinessError
from readiness.tui.crush.asking import ASKED, Offer, ask_farm
from readiness.tui.crush.bindings import BACKSPACE, BINDINGS
from readiness.tui.crush.desk import (
    CrushSheet,
    about_to_write,
    carry_out,
    keep,
    left_over,
    race_left,
    read_crush,
    undo,
)
from readiness.tui.crush.entry import Entry
from readiness.tui.crush.paint import picture
from readiness.tui.crush.roll import Roll
from readiness.tui.shared.dialogs import Choice, Choose
from readiness.tui.shared.errands import Errands
from readiness.tui.shared.keymap import HELP_TOO
from readiness.tui.shared.keys import KeyLine
from readiness.tui.shared.live import LiveScreen
from readiness.tui.shared.reading import told

if TYPE_CHECKING:
    from readiness.tui.shared.mend import Mend

REST = 1.5
"""Seconds without a key after which the book is looked at again."""
PATIENCE = 10
"""Looks put off at most: whoever never rests sees what others wrote after so many seconds."""


class CrushScreen(LiveScreen[CrushSheet]):
    """The race, the bull in the crush, and what is said of him. ``key``: the bull to begin with;
    ``team``: only the bulls of this farm or group are expected."""

    AUTO_FOCUS: ClassVar[str | None] = ""
    READ_AGAIN: ClassVar[str] = "It is read again once that is put right."
    TAKEN: ClassVar[frozenset[str]] = frozenset("pr")

    TOPIC = "crush"
    BINDINGS: ClassVar[list[BindingType]] = BINDINGS

    def __init__(self, key: str | None = None, team: Team | None = None) -> None:
        super().__init__()
        self._first = (key, team or EVERY_FARM)
        self._left: Mapping[str, do.Unsaved] | None = None
        self._waited, self._stood = 0, 0.0  # since when he stands there
        self.unread = False  # it has keys wait by itself

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
        yield Entry(self.step)
        yield Static(id="words", markup=False)
        with Horizontal(id="asking"):
            yield Static(id="big", markup=False)
            yield Static(id="question", markup=False)
        yield Static(id="coming", markup=False)
        yield Static(id="line", markup=False)
        yield KeyLine([*self.BINDINGS, *self.tui.BINDINGS])

    def on_mount(self) -> None:
        key, team = self._first
        desk = self.desk
        self.session = Session(desk.on, desk.who or "", desk.readonly, team, key)
        self._painted = self.session
        self.drafts = Drafts(desk.book.path)
        self.errands = Errands(self, self._late, self.say)
        self.errands.busy = True  # until the race stands: keys pressed before it wait
        self.run_worker(partial(about_to_write, desk), thread=True)
        super().on_mount()

    # ---- reading -------------------------------------------------------------------------------

    def read(self) -> CrushSheet:
        import readiness.desk.writing  # noqa: F401 - what saving needs, before it is needed

        if self._left is None:
            self._left = left_over(self.desk, self.drafts)
        return read_crush(self.desk, self.session.key)

    def show(self, seen: CrushSheet) -> None:
        board, handled, idle = seen.board, seen.handled, not self.errands.busy
        if self.session.board is not None:
            self.step(lambda session: session.reread(board, handled, seen.card, idle=idle))
            return
        garbage.put_off()
        kept, left = race_left(self.drafts, self.desk.on), self._left or {}
        self.step(lambda session: session.opened(board, handled, kept, left))

    def fail(self, error: BaseException) -> None:
        self.errands.stop()
        super().fail(error)

    def _look(self) -> None:
        """Read again what changed once nobody presses keys: reading would hold up the next one.
        Where nobody rests, only what others wrote is worth it; amid our own saving, that would look
        like another's."""
        self._waited += 1
        if self.tui.ticks() - self.session.pressed[1] >= REST:
            self._waited = 0
            garbage.collected()
            super()._look()
        elif self._waited >= PATIENCE and not self.errands.busy:
            self._waited = 0
            garbage.collected()
            self.run_worker(self._look_for_others, group="look", thread=True, exit_on_error=False)

    def _look_for_others(self) -> None:
        with suppress(ReadinessError):  # whatever bars it is said when it is read
            if self.desk.others_wrote():
                self.app.call_from_thread(self.action_reread)

    def on_screen_resume(self) -> None:
        if self.tui.last_key == "escape":  # it closed what stood over this
            self.step(partial(escaped, at=self.tui.ticks()))

    # ---- keys ----------------------------------------------------------------------------------

    def on_key(self, event: events.Key) -> None:
        if not self.is_active:
            return  # the one before it opened what stands over this: it is for that
        key = event.character if event.is_printable and event.character else event.key
        if self.session.typing is not None:
            # Keys that follow in one go were on their way here before the line was open.
            if self._entry.seen is not event:
                self._late(key)
                event.stop()
        elif self.errands.busy and key not in ("q", "?", HELP_TOO):
            self.errands.wait(key, self.tui.ticks())
            event.stop()
        elif self.press(key):
            event.stop()

    def _late(self, key: str, at: float | None = None) -> None:
        """A key that waited, to where it would have gone: a dialog, the line, the pad."""
        if not self.is_active:
            named = len(key) > 1
            name = key if named else _character_to_key(key)
            self.app.post_message(events.Key(name, None if named else key))
        elif self.session.typing is None:
            self.press(key, at)
        else:
            self._entry.late(key)

    def press(self, key: str, at: float | None = None) -> bool:
        """``at``: when it was pressed, where it waited."""
        at = self.tui.ticks() if at is None else at
        after, meant = press(self._today(), key, at, self._stood)
        self._to(after)
        return meant

    def action_own(self, key: str) -> None:
        self.step(OWN[key])

    def more_keys(self) -> list[tuple[str, str]]:
        """The answers at the first question; elsewhere, those of the question asked."""
        pad = self.session.pad
        return [BACKSPACE, *((each.key, each.words) for each in pad.keys)] if pad else []

    @property
    def _entry(self) -> Entry:
        return self.query_one(Entry)

    # ---- from step to step -----------------------------------------------------------------------

    def step(self, step: Step) -> None:
        """Take the session on by this step."""
        self._to(step(self._today()))

    def say(self, words: str) -> None:
        """Show one calm line until something else is said."""
        self.step(lambda session: session.say(words))

    def _today(self) -> Session:
        """The session on the day that it is by now."""
        today = self.desk.on
        return self.session if today == self.session.today else replace(self.session, today=today)

    def _to(self, after: Session) -> None:
        """This is the session now: what it asks for is done, what changed is painted."""
        said = after.message != self._painted.message
        self._stood = self._stood if after.key == self.session.key else self.tui.ticks()
        self.session = replace(after, todo=())
        for effect in after.todo:
            self._do(effect)
        typing = self.session.typing is not None
        if self._entry.show(self.session.typing):
            self.query_one("#slip").display = not typing
            self.set_focus(self._entry if typing else None)
        # While the next one is on his way, the last picture stays.
        if said or not any(isinstance(each, do.Fetch) and each.key for each in after.todo):
            self._paint()

    def _do(self, effect: do.Effect) -> None:
        match effect:
            case do.Fetch(None):
                self.errands.free()
            case do.Fetch() | do.Save() | do.Give() | do.Instead() | do.Write():
                self._in_thread(partial(carry_out, self.desk, self.drafts, self.session, effect))
            case do.Undo(ids):
                undone = partial(self.errands.run, partial(self._undo_or_ask, ids))
                alone = partial(self.errands.once_alone, "u", self.session.pressed[1], undone)
                alone(lambda key, at: self.step(partial(word_begun, key=key, at=at)))
            case do.KeepDraft():
                self.step(keep(self.drafts, effect))
            case do.KeepRace(race) if not self.session.readonly:
                self.drafts.keep_race(self.session.today.isoformat(), race.keys, race.out)
            case do.Press(key):
                self.errands.wait(key, self.tui.ticks())
            case do.Type(text):
                self._entry.fill(text)
            case do.OpenForm(name):
                self._open_form(name)
            case do.AskFarm():
                self._ask(ask_farm(effect))
            case do.Go():
                self._go(effect)

    def _go(self, where: do.Go) -> None:
        if where in ASKED:
            self._ask(ASKED[where](self.session))
        elif where is do.Go.LIST:
            shown = Roll(roll(self.session))
            self.app.push_screen(shown, lambda key: self.step(partial(brought, key=key)))
        elif where is do.Go.MEND:
            self.app.push_screen(self._mend(), lambda what: self.step(partial(mended, what=what)))
        elif where is do.Go.CODES and self.session.card is not None:
            from readiness.tui.crush.codes import codes_paper

            self.app.push_screen(codes_paper(self.session.card.rules, self.tui.glyphs))
        elif where is do.Go.READ:
            self.action_reread()
        elif where is do.Go.LEAVE:
            self.tui.back_to_board(self.session.key or "")
            if half := self.session.half_said():
                self.tui.tell(half)
        elif where is do.Go.QUIT:
            self.app.exit()

    def _mend(self) -> Mend:
        from readiness.tui.shared.mend import Mend

        now = self.session
        return Mend(now.called(now.key or ""), lifts(now), now.today)

    def _in_thread(self, job: Callable[[], Step]) -> None:
        self.errands.run(lambda: partial(self.step, job()))

    def _undo_or_ask(self, ids: frozenset[str]) -> Callable[[], None]:
        """At once what this screen saved last; anything else is shown first."""
        last = self.desk.last_said()
        if ids == frozenset(entry.id for entry in last):
            return partial(self.step, undo(self.desk, self.session, here=True))
        then = partial(undo, self.desk, self.session, here=False)
        return partial(self.ask_to_undo, told(self.desk, last), partial(self._in_thread, then))

    # ---- dialogs, forms, papers ------------------------------------------------------------------

    def _ask(self, asked: Offer) -> None:
        def chosen(choice: Choice[Step] | None) -> None:
            self.step(choice.of if choice else asked.none)

        choices = [Choice(*each) for each in asked.steps.items()]
        dialog = Choose(asked.title, choices, asked.letters)
        self.app.push_screen(dialog, chosen)
        self.errands.hand_on()

    def _next(self, what: Offer | Step) -> None:
        self._ask(what) if isinstance(what, Offer) else self.step(what)

    def _open_form(self, name: str) -> None:
        from readiness.tui.crush.forms import ask_form, form_screen

        if not name:
            self._ask(ask_form())
            return
        screen, then = form_screen(name, self.session, self.desk.groups)
        self.app.push_screen(screen, lambda said: self._next(then(said)))

    # ---- painting --------------------------------------------------------------------------------

    def _paint(self, *, whole: bool = False) -> None:
        """Paint what changed since it was last painted. ``whole``: all of it anew."""
        was, now = None if whole else self._painted, self.session
        made = picture(was, now, *self.size, self.tui.glyphs)
        if made is None:
            return
        self._painted = now
        for name, rows in made.heights.items():
            part = self.query_one(f"#{name}")
            part.styles.height = rows
            part.display = rows > 0
        for name, made_of in made.parts.items():
            part, content = self.query_one(f"#{name}", Static), self.of_demo(name, made_of)
            if not (isinstance(part.content, Content) and content.is_same(part.content)):
                # Every part has its size from elsewhere: to lay the screen out anew costs ten
                # milliseconds.
                part.update(content, layout=False)
        self.query_one("#feet").styles.width = made.feet
        self.query_one("#big").display = made.big
        self.query_one(KeyLine).instead(*made.keys)
        if made.tag is not None:
            digits = self.query_one("#tag", Digits)
            digits.update(made.tag)
            digits.set_class(not made.tag, "-hidden")

    def on_resize(self, event: events.Resize) -> None:
        self._paint(whole=True)

    def on_unmount(self) -> None:
        self.drafts.close()
        garbage.as_usual()
