"""The Diary screen: what is due by day and by whom, the week, the season, and the visits."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.events import Resize
from textual.timer import Timer
from textual.widgets import OptionList, Static
from textual.worker import Worker, WorkerState

from readiness.cover.ahead import Ahead
from readiness.engine.results import Board
from readiness.herd.diary import WHO
from readiness.herd.selection import WEEK
from readiness.system.errors import ReadinessError, RulesError, UsageError
from readiness.trade.words import full_day_words
from readiness.tui.diary import detail
from readiness.tui.diary import rows as lines
from readiness.tui.diary.moves import SECONDS, Moves
from readiness.tui.diary.opening import look_at, open_line
from readiness.tui.shared.errands import in_thread, left_alone
from readiness.tui.shared.keys import KeyLine, numbered
from readiness.tui.shared.listed import Listed
from readiness.tui.shared.live import SLOW, LiveScreen
from readiness.visits.agenda import monday_of
from readiness.visits.asked import Promise, Wishes
from readiness.visits.plan import VisitPlan

VIEW_WORDS = {
    "due": "day by day",
    "week": "seven days",
    "season": "week by week",
    "visits": "when to come, whom to pen",
}
VIEWS = tuple(VIEW_WORDS)
WHOM = (None, *WHO)
PLANNING = "Planning the visits. Esc leaves it."


class DiaryScreen(LiveScreen[Ahead]):
    """What is to be done, when and by whom."""

    TOPIC = "diary"
    BINDINGS: ClassVar[list[BindingType]] = [
        *numbered("view", {view: f"{view}: {of}" for view, of in VIEW_WORDS.items()}, "views"),
        Binding("w", "whom", "whose", tooltip="only the trimmer's, the farmer's or the vet's"),
        Binding("left", "step(-1)", "earlier", key_display="←→",
                tooltip="the week before; in visits: this one a day earlier"),
        Binding("right", "step(1)", "later", show=False,
                tooltip="the next week; in visits: this one a day later"),
        Binding("x", "drop", "drop", tooltip="in visits: what if nobody came, and again"),
        Binding("y", "promise", "promise", tooltip="in visits: promised; plan the others anew"),
        Binding("t", "turnout", "turnout?", tooltip="what if turnout were on another day"),
        Binding("l", "look", "look", tooltip="enter a look at what the line is of"),
        Binding("o", "paper", "paper", show=False,
                tooltip="what is to come, for whom it is shown, as a page and a calendar"),
        Binding("enter", "open", "bull", show=False, tooltip="open what the line is of"),
        Binding("0", "back", "visits as planned", show=False),
        Binding("escape,b", "leave", "board", tooltip="back to the board"),
        Binding("j", "focused.cursor_down", "down", show=False),
        Binding("k", "focused.cursor_up", "up", show=False),
    ]  # fmt: skip

    def __init__(self) -> None:
        super().__init__()
        self.ahead: Ahead | None = None
        self.moves: Moves | None = None
        self.after: VisitPlan | None = None
        """What comes of the visits as they are moved now; None: they are not."""
        self.promised: tuple[Promise, ...] = ()
        self.view = VIEWS[0]
        self.whom: str | None = None
        self.first = 0
        self._waiting: Timer | None = None
        self._stay: lines.VisitKey | None = None
        self._words = ""

    def compose(self) -> ComposeResult:
        yield Static(id="top", markup=False)
        yield Static(id="tabs", markup=False)
        yield Listed[lines.DiaryRow](id="days")
        with VerticalScroll(id="detail", can_focus=False):
            yield Static(id="told", markup=False)
        yield Static(id="line", markup=False)
        yield KeyLine([*self.BINDINGS, *self.tui.BINDINGS])

    # ---- reading -------------------------------------------------------------------------------

    def read(self) -> Ahead:
        try:
            return self.desk.ahead()
        except RulesError:  # of the days on which nobody comes: planning the visits says which
            return Ahead(self.desk.board())

    def show(self, seen: Ahead) -> None:
        self.ahead = seen
        if self.moves is not None and self.moves.any:
            self.tui.tell("The book changed: the visits are planned anew, none is moved.")
        self.first = max(self.first, seen.board.on)
        self._paint()
        self._plan()

    def _plan(self) -> None:
        """Plan the visits anew, around what is promised."""
        self._stop_waiting()
        self._waiting = self.set_timer(SLOW, self._say_planning)
        self.moves = self.after = None
        self._work_out(Wishes(kept=self.promised))

    def _stop_waiting(self) -> None:
        if self._waiting is not None:
            self._waiting.stop()
            self._waiting = None

    def _say_planning(self) -> None:
        if self._waiting is not None:  # its moment may come when the plan is just there
            self.say(PLANNING)

    def _work_out(self, wishes: Wishes) -> None:
        def job() -> Callable[[], None]:
            plan = left_alone(partial(self.desk.visits, wishes, seconds=SECONDS))
            return partial(self._planned, plan)

        in_thread(self, job, self._not_planned, group="plan", exclusive=True, exit_on_error=False)

    @on(Worker.StateChanged)
    def _failed(self, event: Worker.StateChanged) -> None:
        """What nobody foresaw ends the program aloud: else one would wait for a plan for ever."""
        if event.worker.group in ("plan", "what") and event.state is WorkerState.ERROR:
            raise event.worker.error or RuntimeError("the visits were not planned")

    def _planned(self, plan: VisitPlan) -> None:
        self._stop_waiting()
        self.moves, self.after = Moves(plan), None
        self.say("")
        self._paint()
        at = next((n for n, row in enumerate(self._listed.rows) if row.visit == self._stay), None)
        if self._stay is not None and at is not None:
            self._listed.highlighted = at
        self._stay = None

    def _not_planned(self, problem: ReadinessError) -> None:
        """A promise that cannot be kept any more is taken back, aloud; the others stand."""
        self._stop_waiting()
        if not isinstance(problem, UsageError):
            self.fail(problem)
        elif self.promised:
            *kept, gone = self.promised
            self.promised = tuple(kept)
            self.tui.tell(f"{problem} No longer promised: {full_day_words(gone.day)}.", wrong=True)
            self._work_out(Wishes(kept=self.promised))
        else:
            self.say(str(problem))
        self._paint()

    def say(self, words: str) -> None:
        self._words = words
        super().say(words)

    # ---- painting ------------------------------------------------------------------------------

    @property
    def board(self) -> Board | None:
        return self.ahead.board if self.ahead else None

    @property
    def plan(self) -> VisitPlan | None:
        return self.moves.plan if self.moves else None

    @property
    def _listed(self) -> Listed[lines.DiaryRow]:
        return self.query_one("#days", Listed)

    def page(self) -> lines.Page:
        assert self.board is not None
        return lines.page_of(self.board, self.size.width, self.tui.glyphs)

    def _paint(self) -> None:
        if self.board is None:
            return
        page = self.page()
        tabs = detail.tabs_line(VIEWS, self.view, self.whom, self.plan, page)
        self.put(top=detail.top_line(page), tabs=tabs)
        self._listed.fill(self._make_rows(page))
        self.set_class(self.view == "visits", "-visits")
        self.query_one(KeyLine).instead(*detail.keys_of(self.view, page.glyphs))
        self._tell_detail()

    def _make_rows(self, page: lines.Page) -> list[lines.DiaryRow]:
        assert self.ahead is not None
        plan = self.after or self.plan
        told = lines.told(self.ahead, plan.visits if plan else ())
        if self.view == "season":
            return lines.season_rows(told, page)
        if self.view == "due":
            return lines.due_rows(told.of(self.whom), page)
        if self.view == "week":
            return lines.week_rows(told.of(self.whom), self.first, page)
        if self.moves is None:
            return [lines.head_row((self._words or PLANNING, "quiet"), page)]
        return lines.visit_rows(self.moves.shown(self.after or self.moves.plan), page)

    @on(OptionList.OptionHighlighted)
    def _moved_to(self, event: OptionList.OptionHighlighted) -> None:
        event.stop()
        self._listed.mark(event.option_index)
        self._tell_detail()

    def _tell_detail(self) -> None:
        self.put(told=self._detail(self._listed.row, self.page()))
        self.query_one("#detail").scroll_home(animate=False)

    def _detail(self, row: lines.DiaryRow | None, page: lines.Page) -> Content:
        plan = self.after or self.plan
        if self.after is not None and self.plan is not None and self.view == "visits":
            return detail.moved_detail(self.plan, self.after, page)
        if row is None:
            return Content("")
        if row.due is not None:
            return detail.due_detail(row.due, plan, page)
        if row.turnout is not None or row.note is not None:
            return detail.note_detail(row, page)
        if row.visit is not None and plan is not None:
            visit = next((v for v in plan.visits if (v.farm, v.on) == row.visit), None)
            return detail.visit_detail(visit, plan, page) if visit else Content("")
        return detail.week_detail(row, page)

    def on_resize(self, event: Resize) -> None:
        self._paint()

    # ---- keys ----------------------------------------------------------------------------------

    def action_view(self, view: str) -> None:
        if view != self.view:
            self._listed.highlighted = None
        self.view = view
        self._paint()
        self._listed.focus()

    def action_whom(self) -> None:
        self.whom = WHOM[(WHOM.index(self.whom) + 1) % len(WHOM)]
        self._paint()

    @on(OptionList.OptionSelected)
    def _chosen(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        self.action_open()

    def action_open(self) -> None:
        """What the line under the cursor stands for."""
        row = self._listed.row
        if row is None:
            return
        if row.week is not None:
            self.first = row.week
            self.action_view("week")
        elif row.visit is not None and self.view != "visits":
            self.action_view("visits")
        else:
            open_line(self, row, self._listed.rows, self.page())

    def action_step(self, step: int) -> None:
        """In the visits: this one a day earlier or later; else a week."""
        if self.view == "visits":
            self._move(lambda moves, visit: moves.step(visit, step))
        elif self.view == "week" and self.board is not None:
            self.first = max(self.first + step * WEEK, monday_of(self.board.on))
            self._paint()

    def action_drop(self) -> None:
        self._move(lambda moves, visit: moves.drop(visit))

    def _move(self, change: Callable[[Moves, lines.VisitKey], Moves]) -> None:
        row = self._listed.row
        if self.view != "visits" or self.moves is None or row is None or row.visit is None:
            self.tui.tell(detail.no_visit(self.view, "moved and dropped"))
            return
        self.moves = change(self.moves, row.visit)
        what_if = partial(self._what_if, self.moves)
        in_thread(self, what_if, self.fail, group="what", exclusive=True, exit_on_error=False)

    def _what_if(self, moves: Moves) -> Callable[[], None]:
        return partial(self._moved, moves, moves.outcome() if moves.any else None)

    def _moved(self, moves: Moves, after: VisitPlan | None) -> None:
        if moves is self.moves:  # keys pressed meanwhile ask for another answer
            self.after = after
            self._paint()

    def action_back(self) -> None:
        """The visits as they were planned."""
        if self.moves is not None and self.moves.any:
            self.moves, self.after = self.moves.back(), None
            self._paint()

    def action_promise(self) -> None:
        """This visit takes place on the day on which it stands; the others are planned anew."""
        row = self._listed.row
        if self.view != "visits" or self.moves is None or row is None or row.visit is None:
            self.tui.tell(detail.no_visit(self.view, "promised"))
            return
        day = self.moves.day_of(row.visit)
        if day is None:
            self.tui.tell("It is dropped: x takes it back first.")
            return
        self._stay = (row.visit[0], day)
        before, self.promised = self.promised, self.moves.promise(row.visit, self.promised)
        if len(self.promised) >= len(before):
            self.tui.tell(detail.PROMISED)
        self._plan()

    def action_look(self) -> None:
        """Enter a look at what the line under the cursor is of."""
        look_at(self, self._listed.row)

    def action_turnout(self) -> None:
        """Ask for a group and a day, and show who would change if it were turned out then."""
        from readiness.tui.diary.turnout import ask

        if self.board is not None:
            ask(self, self.board, self.page)

    def action_paper(self) -> None:
        """What is to come, for whom it is shown, as a page and a calendar beside the book."""
        if self.ahead is None:
            return
        who = self.whom
        visits = self.plan.visits if self.plan and who in (None, "trimmer") else ()

        def write() -> list[Path]:
            from readiness.report.paper import write_diary

            return write_diary(self.desk, farm=None, who=who, visits=visits)

        self.put_on_paper(write)

    def action_leave(self) -> None:
        if self.moves is not None and self.moves.any:
            self.action_back()
        else:
            super().action_leave()
