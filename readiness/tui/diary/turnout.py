"""What if a group were turned out on another day: ask which and when."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import partial
from typing import TYPE_CHECKING, TypeVar

from textual import on
from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import Input, Static

from readiness.cover.what_if import what_if
from readiness.engine.results import Board
from readiness.forms import day_typed
from readiness.herd.team import EVERY_FARM, Team
from readiness.system.errors import DataError, ReadinessError
from readiness.trade.words import full_day_words
from readiness.tui.diary.detail import shown, what_if_parts
from readiness.tui.diary.rows import Page
from readiness.tui.shared.dialogs import Choice, Dialog, Paper, PlainInput
from readiness.tui.shared.errands import in_thread
from readiness.tui.shared.view import group_choices, team_words

if TYPE_CHECKING:
    from readiness.tui.shared.live import LiveScreen

FARTHEST = 3660
What = TypeVar("What")


def ask(screen: LiveScreen[What], board: Board, page: Callable[[], Page]) -> None:
    """Ask for a group, where there are several, and for a day, and show who would change and why,
    on the ``page`` as it then is."""
    choices = group_choices(board, "now")

    def refused(problem: ReadinessError) -> None:
        screen.say(str(problem))

    def of(team: Team) -> None:
        def given(day: date | None) -> None:
            if day is not None:
                job = partial(_compare, screen, team, day, page)
                in_thread(screen, job, refused, group="what", exclusive=True)

        screen.app.push_screen(AskTurnout(_whose(team), date.fromordinal(board.on)), given)

    if not choices:
        screen.tui.tell("No group has a turnout to come.")
    elif len(choices) == 1:
        of(choices[0].of)
    else:
        screen.choose("Whose turnout?", [*choices, Choice("every group", EVERY_FARM)], of)


def _whose(team: Team) -> str:
    return team_words(team) if team.group else "every group"


def _compare(
    screen: LiveScreen[What], team: Team, day: date, page: Callable[[], Page]
) -> Callable[[], None]:
    """The two boards, compared."""
    farm, group, desk = team.farm, team.group, screen.desk
    as_is = desk.board_and_cover(farm=farm, group=group)
    found = what_if(as_is, desk.board_and_cover(farm=farm, group=group, turnout=day))

    def show() -> None:
        now = page()
        words = shown(what_if_parts(found, now), now, min(now.width * 4 // 5, 92))
        title = f"If {_whose(team)} were turned out on {full_day_words(day)}"
        screen.app.push_screen(Paper(title, Content.assemble(*words)))

    return show


class AskTurnout(Dialog[date | None]):
    """Asks for a day."""

    KEYS = "Enter shows which bulls change, Esc goes back"

    def __init__(self, whose: str, today: date) -> None:
        super().__init__(f"What if {whose} were turned out on this day?")
        self._today = today

    def body(self) -> ComposeResult:
        yield PlainInput(placeholder="20 apr, or 2027-04-20", compact=True)
        yield Static(id="said", markup=False)

    @on(Input.Submitted)
    def _given(self, event: Input.Submitted) -> None:
        event.stop()
        try:
            day = day_typed(event.value, self._today)
        except DataError as problem:
            self.say(problem, "alert")
            return
        if 0 <= (day - self._today).days <= FARTHEST:
            self.dismiss(day)
        else:
            self.say(f"{full_day_words(day)} is past, or too far off", "alert")
