"""The terminal program: its screens, and what they share."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import partial
from importlib import import_module
from typing import TYPE_CHECKING, Any, ClassVar

from textual.app import SystemCommand
from textual.binding import Binding, BindingType
from textual.screen import Screen
from textual.scrollbar import ScrollBar, ScrollBarRender
from textual.widgets import Input

from readiness.rules.where import Where
from readiness.settings.settings import EVERY, Settings
from readiness.tui.board.screen import BoardScreen
from readiness.tui.shared.dialogs import Dialog
from readiness.tui.shared.keymap import HELP_TOO, Keymap, all_keys, bindings_of, keymap, long_words
from readiness.tui.shared.keys import each_once, key_rows, while_typing
from readiness.tui.shared.live import LiveScreen
from readiness.tui.shared.program import Program, ScreenName

if TYPE_CHECKING:
    from readiness.desk.desk import Desk
    from readiness.desk.merging import Merging


class WholeCells(ScrollBarRender):
    """A scroll bar of whole cells: its thumb shows by reversing, in any terminal."""

    VERTICAL_BARS: ClassVar[list[str]] = [" "]
    HORIZONTAL_BARS: ClassVar[list[str]] = [" "]


ScrollBar.renderer = WholeCells

_SCREENS: dict[ScreenName, tuple[str, str]] = {
    "bull": ("bull", "BullScreen"),
    "crush": ("crush", "CrushScreen"),
    "diary": ("diary", "DiaryScreen"),
    "figures": ("figures", "FiguresScreen"),
    "cover": ("cover", "CoverScreen"),
    "turnout": ("turnout", "TurnoutScreen"),
}
"""Room and class of each screen, imported when it is first asked for."""


class ReadinessApp(Program):
    """The program with all its screens; at first the board."""

    CSS_PATH = "readiness.tcss"
    TITLE = "readiness"
    VERTICAL_BREAKPOINTS = [(0, "-low"), (36, "-tall")]  # noqa: RUF012
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (80, "-usual"), (110, "-wide")]  # noqa: RUF012
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("r", "screen.reread", "read the book again", show=False),
        Binding("p", "command_palette", "every action by name", show=False),
        Binding(f"question_mark,{HELP_TOO}", "help", "help", key_display="?"),
        Binding("q", "quit", "quit"),
    ]

    def get_default_screen(self) -> Screen[None]:
        return BoardScreen()

    def on_mount(self) -> None:
        self.set_class(self.glyphs.ascii_only, "-ascii")

    # ---- from screen to screen -----------------------------------------------------------------

    @property
    def board_screen(self) -> BoardScreen:
        screen = self.screen_stack[0]
        assert isinstance(screen, BoardScreen)
        return screen

    def open(self, name: ScreenName, *what: object) -> None:
        """Over the board; the crush in place of the bull that was looked at."""
        screen = _screen(name)(*what)
        if name == "crush" and self.screen is not self.board_screen:
            self.switch_screen(screen)
        else:
            self.push_screen(screen)

    def back_to_board(self, key: str) -> None:
        """Leave the bull; the cursor stands on the one last looked at."""
        if self.screen is not self.board_screen:
            self.pop_screen()
        self.board_screen.back_on(key)

    def action_begin(self) -> None:
        """Where there is no bull yet: what one can begin with."""
        from readiness.tui.welcome.screen import Welcome

        if not any(isinstance(screen, Welcome) for screen in self.screen_stack):
            board = self.board_screen.board
            self.push_screen(Welcome(begun=board is not None and bool(board.bulls)), self._begun)

    def action_merge(self) -> None:
        """Another copy of the book, to be taken in."""
        from readiness.tui.welcome.merging import MergeFile, merged_words

        def done(merged: Merging | None) -> None:
            if merged is not None:
                self.tell(merged_words(merged))
                self.board_screen.action_reread()

        if not any(isinstance(screen, MergeFile) for screen in self.screen_stack):
            self.push_screen(MergeFile(), done)

    def _begun(self, desk: Desk | None) -> None:
        """Something was begun: look at this desk from now on."""
        if desk is not None:
            self._desk = desk
        self.board_screen.action_reread()

    # ---- what every screen can do --------------------------------------------------------------

    def action_help(self) -> None:
        """The keys of the screen in view, and the topic of the guide that tells of it."""
        from readiness.guide import topic
        from readiness.tui.shared.help import Help

        live = self.screen if isinstance(self.screen, LiveScreen) else None
        more = live.more_keys() if live is not None else []
        moved = self.keymap_of(self.screen)
        theirs = bindings_of(self.screen.BINDINGS)
        taken = {key for binding in theirs for key in binding.key.split(",")}
        taken |= live.TAKEN if live is not None else set()
        ours = [each for each in bindings_of(self.BINDINGS) if each.key not in taken]
        told = next(each.TOPIC for each in self._with_a_topic())
        shown = list(map(moved.shown, [*theirs, *ours]))
        if isinstance(self.focused, Input):  # a letter is only typed there
            line = type(self.focused)
            own = () if line is Input else vars(line).get("BINDINGS", ())
            more, shown = [], while_typing([*bindings_of(own), *shown])
        rows = each_once([*more, *key_rows(shown)])
        self.push_screen(Help(rows, topic(told), self.glyphs, self.theme_variables))

    def _with_a_topic(self) -> Iterator[LiveScreen[Any] | Dialog[Any]]:
        """The screens that the guide tells of, from the one in view down."""
        for screen in reversed(self.screen_stack):
            if isinstance(screen, LiveScreen | Dialog) and screen.TOPIC:
                yield screen

    def action_help_quit(self) -> None:
        """What Ctrl+C does here: nothing is lost by reflex, and one is told the way out."""
        quits = self.keymap_of(self.screen).now("q")
        self.tell(f"{quits} quits. While you type into a line, Esc first.")

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
                    f"key {all_keys(self.keymap_of(screen).shown(binding))}",
                    partial(node.run_action, binding.action),
                )


def keymaps(settings: Settings) -> dict[type, Keymap]:
    """The keys that the settings move on each screen, by its class. Raises ``RulesError`` for a key
    that does nothing on its screen, and for one that is taken there."""
    file = str(settings.file)
    every, own = settings.keys.get(EVERY, {}), settings.keys
    found: dict[type, Keymap] = {}
    for name, screen in _screens(settings).items():
        moves = {key: (to, Where(file, f"keys.{EVERY}")) for key, to in every.items()}
        moves |= {key: (to, Where(file, f"keys.{name}")) for key, to in own.get(name, {}).items()}
        bindings = [*bindings_of(ReadinessApp.BINDINGS)]
        for above in reversed(screen.__mro__[: screen.__mro__.index(Screen)]):
            bindings += bindings_of(vars(above).get("BINDINGS", ()))
        found[screen] = keymap(moves, bindings, crush=name == "crush")
    return found


def _screens(settings: Settings) -> dict[str, type[Screen[None]]]:
    """Those on which a key is moved."""
    asked = settings.keys if EVERY not in settings.keys else (*_SCREENS, "board")
    found: dict[str, type[Screen[None]]] = {
        name: _screen(name) for name in _SCREENS if name in asked
    }
    if "board" in asked:
        found["board"] = BoardScreen
    return found


def _screen(name: ScreenName) -> Any:
    """The class of a screen, imported now."""
    module, made = _SCREENS[name]
    return getattr(import_module(f"readiness.tui.{module}.screen"), made)


def sentence_case(words: str) -> str:
    """With a capital first letter, the others as they are."""
    return words[:1].upper() + words[1:]
