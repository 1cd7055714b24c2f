"""The Figures screen: how often what was found, and how far the numbers can be trusted."""

from __future__ import annotations

from datetime import date
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.events import Resize
from textual.widgets import Static

from readiness.herd.stats.results import Figures
from readiness.report.stats_words import farm_words
from readiness.tui.figures import views
from readiness.tui.shared.dialogs import Choice
from readiness.tui.shared.keys import KeyLine, numbered
from readiness.tui.shared.live import ScrolledScreen
from readiness.tui.shared.looks import QUIET

NAMES = tuple(views.VIEWS)
SPANS = (None, 365, 90)
"""How many days back, one after the other; None: all there is."""


class FiguresScreen(ScrolledScreen[Figures]):
    """Findings by place, code, foot, claw, breed, age and year."""

    TOPIC = "figures"
    BINDINGS: ClassVar[list[BindingType]] = [
        *numbered("view", {name: name for name in NAMES}, "views"),
        Binding("g", "farm", "farm", tooltip="only one farm"),
        Binding("s", "since", "since", tooltip="all there is, the last 365 days, the last 90"),
        Binding("right", "turn(1)", "next view", show=False),
        Binding("left", "turn(-1)", "view before", show=False),
        *ScrolledScreen.SCROLLING,
        Binding("escape,b", "leave", "board", tooltip="back to the board"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.figures: Figures | None = None
        self.view = NAMES[0]
        self.farm: str | None = None
        self.span: int | None = None

    def compose(self) -> ComposeResult:
        yield Static(id="top", markup=False)
        yield Static(id="tabs", markup=False)
        with VerticalScroll(id="body", can_focus=False):
            yield Static(id="shown", markup=False)
        yield Static(id="line", markup=False)
        yield Static(Content.styled(f" {views.CAREFUL}", QUIET), id="legend", markup=False)
        yield KeyLine([*self.BINDINGS, *self.tui.BINDINGS])

    # ---- reading -------------------------------------------------------------------------------

    def read(self) -> Figures:
        on = self.desk.on
        since = None if self.span is None else date.fromordinal(on.toordinal() - self.span)
        return self.desk.stats(farm=self.farm, since=since)

    def show(self, seen: Figures) -> None:
        self.figures = seen
        self._paint()

    def _paint(self) -> None:
        if self.figures is None:
            return
        glyphs = self.tui.glyphs
        room = self.query_one("#body").scrollable_content_region.width
        self.put(
            top=views.top_line(self.figures, self.head_width, glyphs),
            tabs=views.tabs_line(self.view),
            shown=views.body(self.figures, self.view, room, glyphs),
        )

    def on_resize(self, event: Resize) -> None:
        self.call_after_refresh(self._paint)

    # ---- keys ----------------------------------------------------------------------------------

    def action_view(self, view: str) -> None:
        self.view = view
        self._paint()
        self.query_one("#body").scroll_home(animate=False)

    def action_turn(self, step: int) -> None:
        self.action_view(NAMES[(NAMES.index(self.view) + step) % len(NAMES)])

    def action_since(self) -> None:
        """Only what is recent: the next span."""
        self.span = SPANS[(SPANS.index(self.span) + 1) % len(SPANS)]
        self.action_reread()

    def action_farm(self) -> None:
        """Choose the farm whose figures are shown."""
        if self.figures is not None:
            farms = (None, *self.figures.farms)
            choices = [Choice(farm_words(farm), farm) for farm in farms]
            self.choose("Which farm?", choices, self._only)

    def _only(self, farm: str | None) -> None:
        self.farm = farm
        self.action_reread()
