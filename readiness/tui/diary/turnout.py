"""What if a group were turned out on another day: ask which and when."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import partial
from typing import TYPE_CHECKING, ClassVar, TypeVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from readiness.engine.results import Board
from readiness.forms import day_typed
from readiness.herd.changes import Change, changes
from readiness.herd.team import Team
from readiness.system.errors import DataError, ReadinessError
from readiness.trade.words import full_day_words
from readiness.tui.diary.detail import changed_parts, shown
from readiness.tui.diary.rows import Page
from readiness.tui.shared.dialogs import Choice, Choose, Paper
from readiness.tui.shared.looks import ORANGE, QUIET, TEXT, Glyphs
from readiness.tui.shared.plain_input import PlainInput
from readiness.tui.shared.view import team_words

if TYPE_CHECKING:
    from readiness.tui.shared.live import LiveScreen

FARTHEST = 3660
What = TypeVar("What")


def ask(screen: LiveScreen[What], board: Board, page: Callable[[], Page]) -> None:
    """Ask for a group, where there are several, and for a day, and show who would change, on the
    ``page`` as it then is."""
    app = screen.tui
    groups = [Team(line.farm or "", line.group) for line in board.groups]
    choices = [
        Choice(team_words(team), f"now {full_day_words(line.turnout)}")
        for team, line in zip(groups, board.groups, strict=True)
    ]

    def chosen(at: int | None) -> None:
        if at is not None:
            of(Team() if at == len(groups) else groups[at])

    def of(team: Team) -> None:
        def given(day: date | None) -> None:
            if day is not None:
                work = partial(_compare, screen, team, day, page)
                screen.run_worker(work, thread=True, group="what", exclusive=True)

        today = date.fromordinal(board.on)
        app.push_screen(AskTurnout(_whose(team, app.glyphs), today, app.glyphs), given)

    if not groups:
        app.tell("No group has a turnout to come.")
    elif len(groups) == 1:
        of(groups[0])
    else:
        every = Choice("every group")
        app.push_screen(Choose("Whose turnout?", [*choices, every], app.glyphs), chosen)


def _whose(team: Team, glyphs: Glyphs) -> str:
    return glyphs.text(team_words(team)) if team.group else "every group"


def _compare(screen: LiveScreen[What], team: Team, day: date, page: Callable[[], Page]) -> None:
    """The two boards, compared. Runs in a thread."""
    farm, group, desk = team.farm or None, team.group, screen.desk
    try:
        as_is = desk.board(farm=farm, group=group)
        found = changes(as_is, desk.board(farm=farm, group=group, turnout=day))
    except ReadinessError as problem:
        screen.app.call_from_thread(screen.say, str(problem))
    else:
        screen.app.call_from_thread(_show, screen, team, day, found, page)


def _show(
    screen: LiveScreen[What],
    team: Team,
    day: date,
    found: tuple[Change, ...],
    page_now: Callable[[], Page],
) -> None:
    page = page_now()
    words = shown(changed_parts(found, page), page, min(page.width * 4 // 5, 92))
    whose = _whose(team, page.glyphs)
    title = f"If {whose} were turned out on {full_day_words(day)}"
    screen.app.push_screen(Paper(title, Content.assemble(*words)))


class AskTurnout(ModalScreen[date | None]):
    """Asks for a day; None: none."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "dismiss(None)", "back", show=False),
    ]

    def __init__(self, whose: str, today: date, glyphs: Glyphs) -> None:
        super().__init__()
        self._whose = whose
        self._today = today
        self._glyphs = glyphs

    def compose(self) -> ComposeResult:
        title = f"What if {self._whose} were turned out on this day?"
        with Vertical(classes="dialog"):
            yield Static(Content.assemble((title, f"bold {TEXT}")), markup=False)
            yield PlainInput(placeholder="20 apr, or 2027-04-20", compact=True)
            yield Static(id="said", markup=False)
            yield Static(
                Content.assemble(("Enter shows which bulls change, Esc goes back", QUIET)),
                markup=False,
            )

    @on(Input.Submitted)
    def _given(self, event: Input.Submitted) -> None:
        event.stop()
        try:
            day = day_typed(event.value, self._today)
        except DataError as problem:
            self._refuse(str(problem))
            return
        ahead = (day - self._today).days
        if not 0 <= ahead <= FARTHEST:
            self._refuse(f"{full_day_words(day)} is past, or too far off")
            return
        self.dismiss(day)

    def _refuse(self, words: str) -> None:
        said = Content.assemble((self._glyphs.text(words), f"bold {ORANGE}"))
        self.query_one("#said", Static).update(said)
