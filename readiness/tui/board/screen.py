"""The Board screen: who can go, who cannot and why, and what to do next and by when."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.events import Resize
from textual.widgets import Input, Static

from readiness.engine.results import Assessment, Board
from readiness.herd.team import EVERY_FARM, Team
from readiness.report.cover_headline import NO_GROUPS
from readiness.report.rows import BoardRow, rows
from readiness.system.errors import NotFound
from readiness.trade.words import list_words
from readiness.tui.board.head import (
    cover_line,
    group_lines,
    legend,
    lift_line,
    peek,
    top_line,
    view_words,
    withdrawal_line,
)
from readiness.tui.board.table import BullTable
from readiness.tui.shared.dialogs import Choice
from readiness.tui.shared.keys import KeyLine
from readiness.tui.shared.live import LiveScreen
from readiness.tui.shared.program import ScreenName
from readiness.tui.shared.reading import BoardSheet, Seen, read_board
from readiness.tui.shared.view import STATES, View, bulls_in, group_choices, team_words, teams

TALL, MOST_GROUPS, FEW_GROUPS = 24, 7, 4
FEW_HALF = 3
"""So many half entered are named."""


class BoardScreen(LiveScreen[BoardSheet]):
    """Every bull of the book, worst first."""

    TOPIC = "board"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "open", "bull", tooltip="open the bull under the cursor"),
        Binding("c", "crush", "crush", tooltip="work through the bulls in the crush"),
        Binding(
            "d", "go('diary')", "diary", tooltip="what is due by day and by whom, and the visits"
        ),
        Binding("v", "cover", "cover", tooltip="are the bulls enough for the females"),
        Binding("t", "turnout", "out", tooltip="turnout: who of a group goes out today, who stays"),
        Binding("slash", "find", "find", key_display="/", tooltip="find a bull by tag or name"),
        Binding("g", "team", "group", tooltip="only one farm or group"),
        Binding("f", "state", "status", tooltip="only one state, the next at each press"),
        Binding("l", "lifts", "lift", tooltip="only the bulls with a foot to lift this week"),
        Binding("s", "sort", "sort", tooltip="sort: board order, could go, day to do it, tag"),
        Binding("i", "go('figures')", "figures", tooltip="how often what was found, and where"),
        Binding("o", "paper", "paper", tooltip="pages: board, day sheet, cover, the gate, diary"),
        Binding("1", "only(1)", "only HOLD for a reason", show=False),
        Binding("2", "only(2)", "only HOLD for checks to come", show=False),
        Binding("3", "only(3)", "only GO", show=False),
        Binding("0,escape", "everything", "show every bull again", show=False),
        Binding("w", "app.begin", "import a file, write down a new bull, see the demo", show=False),
        Binding("m", "app.merge", "take in another copy of the book", show=False),
        Binding("j", "cursor(1)", "next bull", show=False),
        Binding("k", "cursor(-1)", "bull before", show=False),
        Binding("u", "undo", "take back what was last written", show=False),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.sheet: BoardSheet | None = None
        self.view = View()
        self._rows: dict[str, BoardRow] = {}
        self._said = self._half = ""
        self._begun = self._stood = False

    def compose(self) -> ComposeResult:
        glyphs = self.tui.glyphs
        yield Static(id="top", markup=False)
        yield Static(id="groups", markup=False)
        yield BullTable(glyphs)
        yield Static(id="peek", markup=False)
        yield Static(id="line", markup=False)
        yield Static(id="legend", markup=False)
        yield KeyLine([*self.BINDINGS, *self.tui.BINDINGS])

    @property
    def board(self) -> Board | None:
        return self.sheet.board if self.sheet else None

    # ---- reading -------------------------------------------------------------------------------

    def see(self) -> Seen[BoardSheet]:
        return self.tui.early_board() or super().see()

    def read(self) -> BoardSheet:
        return read_board(self.desk)

    def show(self, seen: BoardSheet) -> None:
        board = seen.board
        if not board.bulls and self.sheet is None:
            self._begin_once()
        self.sheet, self.tui.in_demo = seen, seen.demo
        self._make_rows()
        if self.view.team != EVERY_FARM and self.view.team not in teams(board):
            self.view = replace(self.view, team=EVERY_FARM)
        self._paint()
        if not self._stood:
            self._stood = True
            self.call_after_refresh(self._open_desk)

    @work(thread=True, group="desk", exit_on_error=False)
    def _open_desk(self) -> None:
        """Have the desk at hand, now that the board stands; and read who is half entered: after a
        crash, or on the way back from the crush, the board shows nothing of it."""
        from readiness.desk.half_entered import left_now

        left = list(left_now(self.tui.desk))  # asking for the desk opens it
        self.app.call_from_thread(self._tell_half_entered, left)

    def _tell_half_entered(self, keys: list[str]) -> None:
        names = [self._rows[key].bull for key in keys if key in self._rows]
        more = [f"{len(names) - FEW_HALF} more"] if len(names) > FEW_HALF else []
        said = list_words([*names[:FEW_HALF], *more])
        self._half = f"Half entered in the crush, not saved: {said}." if names else ""
        self._paint_line()

    def on_screen_resume(self) -> None:
        super().on_screen_resume()
        if self._stood:
            self._open_desk()

    def fail(self, error: BaseException) -> None:
        if self.board is None and isinstance(error, NotFound):
            self._tell(f"There is no book at {self.desk.book.path} yet. w begins one.")
            self._begin_once()
        else:
            super().fail(error)

    def _begin_once(self) -> None:
        """At the first start there is nothing to look at: say what one can begin with."""
        if not self._begun:
            self._begun = True
            self.tui.action_begin()

    def say(self, words: str) -> None:
        self._said = words
        self._paint_line()

    def _make_rows(self) -> None:
        if self.board is not None:
            self._rows = {row.key: row for row in rows(self.board, lifting=self.view.lifting)}

    # ---- painting ------------------------------------------------------------------------------

    def _paint(self, *, first: bool = False) -> None:
        if self.sheet is None:
            return
        board = self.sheet.board
        glyphs, width = self.tui.glyphs, self.size.width
        most = MOST_GROUPS if self.size.height >= TALL else FEW_GROUPS
        stand = [group_lines(board, self.sheet.carried, width, most, glyphs)]
        stand += cover_line(self.sheet.carried, self.view, width, glyphs)
        stand += lift_line(board, self.view, width, glyphs)
        stand += withdrawal_line(board, self.view, width, glyphs)
        table = self.query_one(BullTable)
        table.fill([self._rows[bull.key] for bull in self.shown()], width, first=first)
        self.put(
            top=top_line(self.sheet, self.head_width, glyphs),
            groups=Content("\n").join(stand),
            legend=legend(width, glyphs, self.sheet.own_rules, could_go=table.says("could go")),
        )
        self._peek()
        self._paint_line()

    def shown(self) -> list[Assessment]:
        """The bulls in view, in their order."""
        return bulls_in(self.board, self.view) if self.board else []

    def _paint_line(self) -> None:
        total = len(self.board.bulls) if self.board else 0
        said = view_words(self.view, len(self.shown()), total, self.tui.glyphs)
        if words := self._said or ("" if said else self._half):
            said = Content.assemble((f" {self.tui.glyphs.text(words)}", "bold"))
        line = self.query_one("#line", Static)
        line.update(said)
        line.set_class(bool(said), "-said")

    @on(BullTable.RowHighlighted)
    def _peek(self) -> None:
        bull = self.query_one(BullTable).bull
        self.put(peek=peek(bull, self.size.width, self.tui.glyphs))

    def on_resize(self, event: Resize) -> None:
        self._paint()

    # ---- keys ----------------------------------------------------------------------------------

    def _look_at(self, view: View, *, first: bool = False) -> None:
        anew = view.lifting != self.view.lifting
        self.view = view
        if anew:
            self._make_rows()
        self._paint(first=first or anew)

    def action_sort(self) -> None:
        self._look_at(self.view.next_sort(), first=True)

    def action_lifts(self) -> None:
        self._look_at(replace(self.view, lifting=not self.view.lifting))

    def action_state(self) -> None:
        self._look_at(self.view.next_state())

    def action_only(self, state: int) -> None:
        self._look_at(self.view.with_state(STATES[state]))

    def action_everything(self) -> None:
        self.query("#find").remove()
        self._look_at(View(sort=self.view.sort))
        self.query_one(BullTable).focus()

    def action_cursor(self, step: int) -> None:
        table = self.query_one(BullTable)
        table.move_cursor(row=table.cursor_row + step, animate=False)

    def action_team(self) -> None:
        """Choose the farm or group to look at."""
        if self.board is not None:
            found = [Choice(team_words(team), team) for team in teams(self.board)]
            choices = [Choice("every bull", EVERY_FARM), *found]
            self.choose("Which bulls?", choices, self._only)

    def _only(self, team: Team) -> None:
        self._look_at(replace(self.view, team=team))

    def action_find(self) -> None:
        """Open the line into which one types whom to find. It is made when it is first wanted: the
        board is on the screen sooner without it."""
        if not self.query("#find"):
            line = Input(id="find", placeholder="tag or name", compact=True)
            self.mount(line, before="#line")
        self.query_one("#find").focus()

    @on(Input.Changed)
    def _find(self, event: Input.Changed) -> None:
        """Only the bulls whose tag or name fits what is typed, the best first."""
        event.stop()
        if event.value != self.view.find:
            self._look_at(replace(self.view, find=event.value), first=True)

    @on(Input.Submitted)
    def _found(self, event: Input.Submitted) -> None:
        """Done with typing: on to the bulls; an empty line goes away."""
        event.stop()
        if not self.view.find.strip():
            self.query("#find").remove()
        self.query_one(BullTable).focus()
        if self.view.find.strip() and len(self.shown()) == 1:
            self.action_open()

    @on(BullTable.RowSelected)
    def _selected(self, event: BullTable.RowSelected) -> None:
        event.stop()
        self.action_open()

    def action_open(self) -> None:
        """Open the bull under the cursor."""
        row = self.query_one(BullTable).bull
        if row is not None:
            self.tui.open("bull", row.key, [bull.key for bull in self.shown()])

    def action_crush(self) -> None:
        """To the crush, with the bulls of the farm or group in view."""
        if self.board is not None:
            self.tui.open("crush", None, self.view.team)

    def action_go(self, screen: ScreenName) -> None:
        """To a screen of all bulls."""
        if self.board is not None:
            self.tui.open(screen)

    def action_cover(self) -> None:
        """Whether the bulls are enough, at first of the group in view."""
        if self.board is not None:
            self.tui.open("cover", self.view.team)

    def action_turnout(self) -> None:
        """The day of turnout of a group."""
        self._of_a_group(partial(self.tui.open, "turnout"))

    def _of_a_group(self, then: Callable[[Team], None]) -> None:
        """Do it for the group in view, or the only one; else ask for which. The bull under the
        cursor says nothing of that: at first he is the worst, of whichever group."""
        if self.board is None:
            return
        choices = group_choices(self.board, "turnout")
        here = [choice.of for choice in choices if choice.of == self.view.team]
        if here or len(choices) == 1:
            then((here or [choices[0].of])[0])
        elif choices:
            self.choose("Whose turnout?", choices, then)
        else:
            self.tui.tell(NO_GROUPS)

    def action_paper(self) -> None:
        """Choose what of the farm or group in view goes onto paper."""
        from readiness.tui.board.papers import choose_paper

        if self.board is not None:
            choose_paper(self, self.view.team, self._of_a_group)

    def back_on(self, key: str) -> None:
        """Put the cursor on this bull, where he is in view."""
        keys = [bull.key for bull in self.shown()]
        if key in keys:
            self.query_one(BullTable).move_cursor(row=keys.index(key), animate=False)
