"""What the bulls of a group carry, day by day, plotted against its females."""

from __future__ import annotations

from collections.abc import Sequence

from textual_plot import AxisFormatter, HiResMode, PlotWidget

from readiness.cover.groups import by_day
from readiness.cover.results import GroupCover
from readiness.trade.words import Day, day_words
from readiness.tui.shared.looks import ORANGE, SKY, TEXT, in_colour

AFTER = 7
"""Days shown behind the last one on which something happens."""


class Days(AxisFormatter):
    """Days of the calendar under the plot: the first, turnout, the last."""

    def __init__(self, on: Day, ticks: Sequence[Day]) -> None:
        self.on, self.days = on, ticks

    def get_ticks(self, min_: float, max_: float, max_ticks: int = 8) -> list[float]:
        """Those within the plot."""
        return [float(day) for day in self.days if min_ <= day <= max_][:max_ticks]

    def get_labels_for_ticks(self, ticks: Sequence[float]) -> list[str]:
        """ "4 Dec"."""
        return [day_words(round(tick), self.on) for tick in ticks]


class Capacity(PlotWidget):
    """Females carried from today to past turnout as steps, the females as a level, turnout as an
    upright."""

    def __init__(self) -> None:
        super().__init__(id="plot", allow_pan_and_zoom=False)
        self.can_focus = False
        self.display = False  # until there is a group to plot

    def show_group(self, group: GroupCover, on: Day) -> None:
        """Plot this group."""
        steps = by_day(on, group.workers)
        last = max(group.turnout, *(day for day, _ in steps)) + AFTER
        self.clear()
        days: list[float] = []
        carried: list[float] = []
        for (day, count), until in zip(steps, [*(day for day, _ in steps[1:]), last], strict=True):
            days += [day, until]
            carried += [count, count]
        sky, orange, text = (in_colour(s, self.app.theme_variables) for s in (SKY, ORANGE, TEXT))
        self.plot(days, carried, line_style=sky, hires_mode=HiResMode.BRAILLE)
        if group.females is not None:
            level = float(group.females)
            self.plot([on, last], [level, level], line_style=orange, hires_mode=HiResMode.BRAILLE)
        if on < group.turnout < last:
            self.add_v_line(float(group.turnout), line_style=text)
        most = max(*carried, float(group.females or 0), 1.0)
        self.set_xlimits(on, last)
        self.set_ylimits(0, most * 1.1)
        ends = {on, group.turnout, last} if on < group.turnout else {on, last}
        self.set_x_formatter(Days(on, sorted(ends)))
