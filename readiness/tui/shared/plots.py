"""Small plots of scores over time, drawn in characters: the score itself stands at its day, so the
plot reads without colour. Under it, the days: today, turnout, and the window in which a score
counts."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from textual.content import Content

from readiness.tui.shared.looks import QUIET, SKY, TEXT, VERMILLION, Glyphs

LABEL = 6
PAST = 150


@dataclass(frozen=True, slots=True)
class Point:
    """One score: its day (an ordinal), its value, the words drawn there, and whether it holds."""

    day: int
    value: float
    words: str
    bad: bool


@dataclass(frozen=True, slots=True)
class Plot:
    """What to draw. ``levels``: the values of the lines from the top down; ``limit``: the level
    where a ruled line is drawn, if any; ``window``: first and last day on which a score counts;
    ``ends``: (day, words) to write under the axis, in the order of their days."""

    levels: tuple[float, ...]
    limit: float | None
    points: tuple[Point, ...]
    window: tuple[int, int] | None
    first: int
    last: int
    ends: tuple[tuple[int, str], ...]


def drawn(plot: Plot, width: int, level_words: Callable[[float], str], glyphs: Glyphs) -> Content:
    """The plot as lines of ``width`` cells."""
    room = max(width - LABEL - 2, 10)

    def column(day: int) -> int:
        span = max(plot.last - plot.first, 1)
        return round((min(max(day, plot.first), plot.last) - plot.first) * (room - 1) / span)

    lines = [_level(plot, level, room, column, level_words(level), glyphs) for level in plot.levels]
    lines.append(_axis(plot, room, column, glyphs))
    lines.append(_ends(plot.ends, room, column))
    return Content("\n").join(lines)


def _level(
    plot: Plot,
    level: float,
    room: int,
    column: Callable[[int], int],
    words: str,
    glyphs: Glyphs,
) -> Content:
    line = [(glyphs.dot if level == plot.limit else " ", QUIET)] * room
    for point in plot.points:
        if _nearest(plot.levels, point.value) == level:
            style = f"bold {VERMILLION if point.bad else TEXT}"
            start = min(max(column(point.day) - len(point.words) // 2, 0), room - len(point.words))
            for at, char in enumerate(point.words, start=start):
                line[at] = (char, style)
    return Content.assemble((f"{words:>{LABEL}} ", QUIET), (glyphs.side, QUIET), *line)


def _nearest(levels: Sequence[float], value: float) -> float:
    return min(levels, key=lambda level: abs(level - value))


def _axis(plot: Plot, room: int, column: Callable[[int], int], glyphs: Glyphs) -> Content:
    line = [(glyphs.across, QUIET)] * room
    if plot.window is not None:
        start, end = (column(day) for day in plot.window)
        for at in range(start, end + 1):
            line[at] = ("=", f"bold {SKY}")
        line[start] = (glyphs.window[0], f"bold {SKY}")
        line[end] = (glyphs.window[1], f"bold {SKY}")
    return Content.assemble(" " * (LABEL + 1), (glyphs.claw[2], QUIET), *line)


def _ends(ends: Sequence[tuple[int, str]], room: int, column: Callable[[int], int]) -> Content:
    """The days under the axis; what would run into its neighbour moves to the right of it."""
    line = ""
    for day, words in ends:
        at = min(column(day), max(room - len(words), 0))
        at = max(at, len(line) + 2 if line else 0)
        if at + len(words) <= room + 2:
            line = f"{line:<{at}}{words}"
    return Content.assemble((" " * (LABEL + 2) + line, QUIET))
