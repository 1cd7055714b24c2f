"""A screen that shows one thing read from the book, and keeps up when another process writes.

The book is read in a thread; the screen is painted from what came back. Where reading fails the
last picture stays and one calm line says what to do. Nothing turns or blinks: only after
``SLOW`` does the line say that the book is being read.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any, ClassVar, Generic, TypeVar

from textual import on
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.screen import Screen
from textual.timer import Timer
from textual.widgets import Static
from textual.worker import Worker, WorkerState

from readiness.system.errors import BookBusy, ReadinessError
from readiness.trade.words import list_words, plural
from readiness.tui.shared.dialogs import Choice, Choose
from readiness.tui.shared.errands import in_thread, left_alone
from readiness.tui.shared.looks import DEMO_HEAD, demo_head
from readiness.tui.shared.program import Program, program_of
from readiness.tui.shared.reading import Seen, Stamp, Told, stamp_of, told

if TYPE_CHECKING:
    from readiness.desk.desk import Desk

What = TypeVar("What")
Value = TypeVar("Value")

SLOW = 0.3


class LiveScreen(Screen[None], Generic[What]):
    """Reads with ``read`` (in a thread), paints with ``show``; ``say`` fills the line."""

    TOPIC: ClassVar[str]
    """What the guide tells of it under."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("r", "reread", "read the book again", show=False),
    ]

    READ_AGAIN: ClassVar[str] = "{key} reads it again."
    HEAD: ClassVar[str] = "top"
    """The part that stands first."""
    TAKEN: ClassVar[frozenset[str]] = frozenset()
    """Keys of the program that mean something else here, without a binding."""

    def __init__(self) -> None:
        super().__init__()
        self._stamp: Stamp | None = None
        self._again = False
        self._slow: Timer | None = None
        self._told = False
        self.unread = True
        """What it shows is not read yet: keys wait for that."""

    @property
    def tui(self) -> Program:
        return program_of(self)

    @property
    def desk(self) -> Desk:
        return self.tui.desk

    def more_keys(self) -> list[tuple[str, str]]:
        """Keys that are no bindings, and what they do."""
        return []

    def press(self, key: str) -> bool:
        """Press one of ``more_keys``; whether it meant something."""
        return False

    # ---- what a screen fills in ------------------------------------------------------------------

    if TYPE_CHECKING:

        def read(self) -> What:
            """What to show. Runs in a thread: touches no widget."""

        def show(self, seen: What) -> None:
            """Paint what was read."""

    def put(self, **parts: Content) -> None:
        """Show these contents, each in the part of its name."""
        for name, content in parts.items():
            self.query_one(f"#{name}", Static).update(self.of_demo(name, content))

    def of_demo(self, part: str, content: Content) -> Content:
        """A part of the screen; of the demo, its ``HEAD`` says first that it is."""
        if part != self.HEAD or not self.tui.in_demo:
            return content
        width = self.size.width if part == "top" else None
        return demo_head(content, width, self.tui.glyphs.ellipsis)

    @property
    def head_width(self) -> int:
        """The cells of its first line."""
        return self.size.width - (DEMO_HEAD.cell_length if self.tui.in_demo else 0)

    def say(self, words: str) -> None:
        """Show one calm line; empty takes it away."""
        line = self.query_one("#line", Static)
        line.update(Content.styled(f" {self.tui.glyphs.text(words)}" if words else "", "bold"))
        line.set_class(bool(words), "-said")

    # ---- reading ---------------------------------------------------------------------------------

    def on_mount(self) -> None:
        self.set_interval(self.tui.poll, self._look)
        self.action_reread()

    def on_screen_resume(self) -> None:
        self._look()

    def action_leave(self) -> None:
        """Once: a second key that was on its way would take the screen below with it."""
        if self.is_current:
            self.app.pop_screen()

    def action_reread(self) -> None:
        """Read the book again, now."""
        self._again = False
        if self._slow is None:
            self._slow = self.set_timer(SLOW, self._say_slow)
        self.run_worker(self.see, group="read", thread=True, exclusive=True, exit_on_error=False)

    def read_another(self) -> None:
        """Another thing is to be shown: keys wait until it is."""
        self.unread = True
        self.action_reread()

    def see(self) -> Seen[What]:
        """What is read, with its stamp. Runs in a thread."""
        stamp = self._stamp = stamp_of(self.desk)
        return Seen(stamp, self.read())

    def _look(self) -> None:
        """Read again where the book, the rules or the day changed, or the book was busy."""
        reading = self._slow is not None
        if reading or not self.is_current or not self.tui.desk_is_open:
            return
        if self._again or stamp_of(self.desk) != self._stamp:
            self.action_reread()

    def _say_slow(self) -> None:
        if self._slow is not None:  # its moment may come when the reading has just ended
            self._tell("Reading the book.")

    def _tell(self, words: str) -> None:
        """Say how the reading goes, until it went well."""
        self._told = bool(words)
        self.say(words)

    @on(Worker.StateChanged)
    def _read_ended(self, event: Worker.StateChanged) -> None:
        if event.worker.group != "read" or event.worker.is_cancelled:
            return
        event.stop()
        if event.state not in (WorkerState.SUCCESS, WorkerState.ERROR):
            return
        if self._slow is not None:
            self._slow.stop()
            self._slow = None
        if event.state is WorkerState.SUCCESS:
            if self._told:
                self._tell("")
            seen = event.worker.result
            assert isinstance(seen, Seen)
            self._stamp = seen.stamp
            self.show(seen.what)
            self.unread = False
            self.tui.ready()
        elif event.worker.error is not None:
            self.unread = self.unread and isinstance(event.worker.error, BookBusy)
            self.tui.drop_keys()
            self.fail(event.worker.error)

    def fail(self, error: BaseException) -> None:
        """Say what went wrong and what to do; the last picture stays."""
        if isinstance(error, BookBusy):
            self._again = True
            self._tell(f"{error} Tried again every second.")
        elif isinstance(error, ReadinessError):
            self._tell(f"{error} {self.READ_AGAIN.format(key=self._key('r'))}")
        else:
            raise error

    def _key(self, key: str) -> str:
        """What does it on this screen."""
        return self.tui.keymap_of(self).now(key)

    # ---- what any screen may ask -----------------------------------------------------------------

    def choose(
        self, title: str, choices: Sequence[Choice[Value]], then: Callable[[Value], object]
    ) -> None:
        """Ask which is meant; ``then`` is given what the one chosen stands for."""

        def chosen(choice: Choice[Value] | None) -> None:
            if choice is not None:
                then(choice.of)

        self.app.push_screen(Choose(title, choices), chosen)

    def decide(
        self,
        title: str,
        choices: Mapping[str, Choice[Value]],
        then: Callable[[Value], object],
        instead: Choice[Value] | None = None,
    ) -> None:
        """Ask what is to be written: each choice by its letter. ``instead``: what Enter does, where
        that is not to leave all as it is."""
        from readiness.tui.shared.decide import LEAVE, LEFT, Decide

        leave = instead or Choice[Any]("leave it as it is", None)

        def chosen(choice: Choice[Value] | None) -> None:
            if choice is leave and instead is None:
                self.tui.tell(LEFT)
            elif choice is not None:
                then(choice.of)

        letters = "".join([LEAVE, *choices])
        self.app.push_screen(Decide(title, [leave, *choices.values()], letters), chosen)

    def refuse(self, problem: ReadinessError) -> None:
        """What was asked for cannot be done, and why: it goes away by itself."""
        self.tui.tell(problem, wrong=True)

    def put_on_paper(self, write: Callable[[], list[Path]]) -> None:
        """Have pages written beside the book, and say which. Aside: the visits of a large herd take
        seconds, and whoever quits does not wait."""

        def job() -> Callable[[], None]:
            files = left_alone(write)
            names = list_words(file.name for file in files)
            said = f"On paper: {names} in {files[0].parent}. Open it in a browser."
            if any(file.suffix == ".ics" for file in files):
                said += " Any calendar reads the .ics; written again, it is updated."
            return partial(self.tui.tell, said)

        in_thread(self, job, self.refuse, group="paper", exclusive=True)

    def action_undo(self) -> None:
        """Show what this device last wrote, and ask whether it is to be taken back: on a screen
        for looking a stray key writes nothing."""

        def job() -> Callable[[], None]:
            entries = self.desk.last_said()
            shown = frozenset(entry.id for entry in entries)
            # What was first written elsewhere came in out of another copy of the book.
            came = any(entry.device != self.desk.book.device for entry in entries)
            last, then = told(self.desk, entries), partial(self._undo, shown)
            return partial(self.ask_to_undo, last, then, came_in=came)

        in_thread(self, job, self.refuse, group="write", exit_on_error=False)

    def ask_to_undo(self, last: Told, then: Callable[[], object], *, came_in: bool = False) -> None:
        """Show what was last written on this device, or came in out of another copy, and do
        ``then`` where it is to go."""
        many = plural(len(last.said), "entry", "entries")
        title = f"Last written on this device, {many}:"
        words = "take it back"
        if came_in:
            title = f"Last taken in out of another copy, {many}:"
            words = "put it out again; nothing of it is struck"
        self.decide(title, {"y": Choice(words, then, last.lines)}, lambda undo: undo())

    def _undo(self, shown: frozenset[str]) -> None:
        """Take it back, if it is still what was shown."""

        def job() -> Callable[[], None]:
            from readiness.desk.writing import though_taken_back

            if frozenset(entry.id for entry in self.desk.last_said()) != shown:
                since = f"Something was written since: {self._key('u')} shows it."
                return partial(self.tui.tell, since)
            entries = self.desk.undo()
            with though_taken_back():
                said = told(self.desk, entries)
            many = plural(len(said.said), "entry", "entries")
            return partial(self.tui.tell, f"Taken back, {many}: {said.words}")

        in_thread(self, job, self.refuse, group="write", exit_on_error=False)


class ScrolledScreen(LiveScreen[What]):
    """One whose ``#body`` is scrolled by these keys."""

    SCROLLING: ClassVar[list[BindingType]] = [
        Binding("j,down", "scroll(1)", "down", show=False),
        Binding("k,up", "scroll(-1)", "up", show=False),
        Binding("space,pagedown", "page(1)", "a page down", show=False),
        Binding("pageup", "page(-1)", "a page up", show=False),
    ]

    def action_scroll(self, step: int) -> None:
        self.query_one("#body").scroll_relative(y=step, animate=False)

    def action_page(self, step: int) -> None:
        body = self.query_one("#body")
        body.scroll_relative(y=step * max(body.size.height - 1, 1), animate=False)
