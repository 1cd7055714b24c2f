"""The terminal program: its screens, and what they share."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Sequence
from functools import partial
from threading import Lock
from time import monotonic
from typing import TYPE_CHECKING, ClassVar

from textual import work
from textual.app import App, SystemCommand
from textual.binding import Binding, BindingType
from textual.notifications import SeverityLevel
from textual.screen import Screen
from textual.scrollbar import ScrollBar, ScrollBarRender

from readiness.system.errors import ReadinessError
from readiness.trade.words import plural
from readiness.tui.board.screen import BoardScreen
from readiness.tui.shared.keys import all_keys, bindings_of, long_words
from readiness.tui.shared.live import LiveScreen
from readiness.tui.shared.looks import THEME, Glyphs, glyphs_for
from readiness.tui.shared.undoing import Told, told

if TYPE_CHECKING:
    from readiness.desk.desk import Desk
    from readiness.tui.shared.early import Early
    from readiness.tui.shared.reading import BoardSheet, Seen
    from readiness.tui.shared.view import Team

POLL = 1.0


class WholeCells(ScrollBarRender):
    """A scroll bar of whole cells: its thumb shows by reversing, in any terminal."""

    VERTICAL_BARS: ClassVar[list[str]] = [" "]
    HORIZONTAL_BARS: ClassVar[list[str]] = [" "]


ScrollBar.renderer = WholeCells


class ReadinessApp(App[None]):
    """The board of one desk, opened by ``open_desk`` when it is first needed.

    ``demo`` builds a throw-away book and gives its desk; ``glyphs`` are the characters the
    terminal shows; ``poll`` is how often, in seconds, it is asked whether the book changed;
    ``early`` is a board that is being read already.
    """

    CSS_PATH = "readiness.tcss"
    TITLE = "readiness"
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (80, "-usual"), (110, "-wide")]  # noqa: RUF012
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("r", "screen.reread", "read the book again", show=False),
        Binding("p", "command_palette", "every action by name", show=False),
        Binding("question_mark", "help", "help", key_display="?"),
        Binding("q", "quit", "quit"),
    ]

    def __init__(
        self,
        open_desk: Callable[[], Desk],
        *,
        demo: Callable[[], Desk] | None = None,
        glyphs: Glyphs | None = None,
        poll: float = POLL,
        early: Early | None = None,
    ) -> None:
        # With NO_COLOR no colour at all is sent, not even greys: marks, words, bold and reverse.
        # Set to nothing, NO_COLOR asks for nothing; textual would heed it.
        if os.environ.get("NO_COLOR") == "":
            del os.environ["NO_COLOR"]
        super().__init__(ansi_color=True if "NO_COLOR" in os.environ else None)
        self._open_desk = open_desk
        self._desk: Desk | None = None
        self._opening = Lock()
        self.demo = demo
        self.glyphs = glyphs or glyphs_for("utf-8")
        self.poll = poll
        self.ticks: Callable[[], float] = monotonic
        """Seconds that only grow: what tells a key held down from one pressed twice."""
        self._early = early
        self.register_theme(THEME)
        self.theme = THEME.name

    def get_default_screen(self) -> Screen[None]:
        return BoardScreen()

    def on_mount(self) -> None:
        self.set_class(self.glyphs.ascii_only, "-ascii")

    @property
    def desk(self) -> Desk:
        """The desk. The first to ask opens it, which loads the database: not the screen's thread,
        unless it is open."""
        with self._opening:
            if self._desk is None:
                self._desk = self._open_desk()
            return self._desk

    @property
    def desk_is_open(self) -> bool:
        return self._desk is not None

    def early_board(self) -> Seen[BoardSheet] | None:
        """The board that was read while the screen was made; once only."""
        early, self._early = self._early, None
        return early.take() if early is not None else None

    # ---- from screen to screen -----------------------------------------------------------------

    @property
    def board_screen(self) -> BoardScreen:
        screen = self.screen_stack[0]
        assert isinstance(screen, BoardScreen)
        return screen

    def open_bull(self, key: str, keys: Sequence[str]) -> None:
        from readiness.tui.bull.screen import BullScreen

        self.push_screen(BullScreen(key, keys))

    def open_crush(self, key: str | None = None, team: Team | None = None) -> None:
        """The bulls in the crush, beginning with this one; in place of the bull looked at."""
        from readiness.tui.crush.screen import CrushScreen

        screen = CrushScreen(key, team)
        if self.screen is self.board_screen:
            self.push_screen(screen)
        else:
            self.switch_screen(screen)

    def open_diary(self) -> None:
        from readiness.tui.diary.screen import DiaryScreen

        self.push_screen(DiaryScreen())

    def open_figures(self) -> None:
        from readiness.tui.figures.screen import FiguresScreen

        self.push_screen(FiguresScreen())

    def back_to_board(self, key: str) -> None:
        """Leave the bull; the cursor stands on the one last looked at."""
        self.pop_screen()
        self.board_screen.back_on(key)

    def welcome(self) -> None:
        """Where there is no bull yet: what one can begin with."""
        from readiness.tui.welcome.screen import Welcome

        if not any(isinstance(screen, Welcome) for screen in self.screen_stack):
            self.push_screen(Welcome(), self._begun)

    def _begun(self, desk: Desk | None) -> None:
        """Something was begun: look at this desk from now on."""
        if desk is not None:
            self._desk = desk
        self.board_screen.action_reread()

    # ---- what every screen can do --------------------------------------------------------------

    def action_help(self) -> None:
        from readiness.tui.shared.help import help_paper

        more = self.screen.more_keys() if isinstance(self.screen, LiveScreen) else []
        theirs = bindings_of(self.screen.BINDINGS)
        taken = {key for binding in theirs for key in binding.key.split(",")}
        ours = [each for each in bindings_of(self.BINDINGS) if each.key not in taken]
        self.push_screen(help_paper([*theirs, *ours], self.glyphs, more))

    def action_help_quit(self) -> None:
        """What Ctrl+C does here: nothing is lost by reflex, and one is told the way out."""
        self.tell("q quits. While you type into a line, Esc first.")

    def tell(self, words: str, *, wrong: bool = False) -> None:
        """A few words that go away by themselves."""
        severity: SeverityLevel = "error" if wrong else "information"
        self.notify(self.glyphs.text(words), severity=severity, markup=False)

    @work(thread=True, group="write", exit_on_error=False)
    def undo(self) -> None:
        """Show what this device last wrote, and ask whether it is to be taken back: on a screen
        for looking a stray key writes nothing."""
        try:
            entries = self.desk.last_said()
        except ReadinessError as problem:
            self.call_from_thread(self.tell, str(problem), wrong=True)
            return
        shown = frozenset(entry.id for entry in entries)
        said = told(self.desk, entries)
        self.call_from_thread(self.ask_to_undo, said, partial(self._undo, shown))

    def ask_to_undo(self, last: Told, then: Callable[[], object]) -> None:
        """Show what was last written on this device, and do ``then`` where it is to go."""
        from readiness.tui.shared.dialogs import Choice, Choose

        def chosen(at: int | None) -> None:
            if at is not None:
                then()

        title = f"Last written on this device, {plural(len(last.said), 'entry', 'entries')}:"
        choices = [Choice("take it back", last.words)]
        self.push_screen(Choose(title, choices, self.glyphs), chosen)

    @work(thread=True, group="write", exit_on_error=False)
    def _undo(self, shown: frozenset[str]) -> None:
        """Take it back, if it is still what was shown."""
        try:
            if frozenset(entry.id for entry in self.desk.last_said()) != shown:
                self.call_from_thread(self.tell, "Something was written since: u shows it.")
                return
            said = told(self.desk, self.desk.entries(self.desk.undo()))
        except ReadinessError as problem:
            self.call_from_thread(self.tell, str(problem), wrong=True)
            return
        many = plural(len(said.said), "entry", "entries")
        self.call_from_thread(self.tell, f"Taken back, {many}: {said.words}")

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """Every action of the screen and of the program, by name."""
        if isinstance(screen, LiveScreen):
            for key, words in screen.more_keys():
                if len(key) == 1:
                    yield SystemCommand(
                        sentence_case(words), f"key {key}", partial(screen.press, key)
                    )
        seen: set[str] = set()
        for node in (screen, self):
            for binding in bindings_of(node.BINDINGS):
                if binding.action in seen or binding.action == "command_palette":
                    continue
                seen.add(binding.action)
                yield SystemCommand(
                    sentence_case(long_words(binding)),
                    f"key {all_keys(binding)}",
                    _runner(node, binding.action),
                )


def sentence_case(words: str) -> str:
    """With a capital first letter, the others as they are."""
    return words[:1].upper() + words[1:]


def _runner(node: App[None] | Screen[object], action: str) -> Callable[[], object]:
    def run() -> object:
        return node.run_action(action)

    return run


def make_app(
    desk: Desk,
    *,
    demo: Callable[[], Desk] | None = None,
    encoding: str | None = "utf-8",
    poll: float = POLL,
) -> ReadinessApp:
    """The program over a desk, for the command line and for tests.

    ``encoding``: what the terminal's text is sent in; where that is not UTF-8, marks and lines are
    drawn in ASCII.
    """
    return ReadinessApp(lambda: desk, demo=demo, glyphs=glyphs_for(encoding), poll=poll)
