"""A bull's state as four feet to draw, and his scores as plots."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from textual.content import Content

from readiness.herd.card import Card
from readiness.history.records import NEVER
from readiness.trade.feet import AS_HE_STANDS, FEET, FOOT_NAMES
from readiness.trade.words import Day, day_words, number_words
from readiness.tui.shared.feet import Foot, Label, four_feet
from readiness.tui.shared.looks import QUIET, SKY, TEXT, VERMILLION, Glyphs

# ---- feet --------------------------------------------------------------------------------------


def feet(card: Card, width: int, on: Day, glyphs: Glyphs) -> Content:
    """The four feet, then what the signs mean."""
    drawn_feet = {foot: _foot(card, foot, on) for foot in FEET}
    key = (
        f"{AS_HE_STANDS}; {glyphs.hold} holds him; "
        "1 slight, 2 moderate, 3 severe, M a stage; ( ) place not said"
    )
    return Content("\n").join(
        [four_feet(drawn_feet, width, glyphs), Content.assemble((key, QUIET))]
    )


def _foot(card: Card, foot: str, on: Day) -> Foot:
    last = card.state.last_lift(foot)
    lifted = "never lifted" if last == NEVER else f"lifted {day_words(last, on)}"
    return Foot(
        foot,
        f"{foot} {FOOT_NAMES[foot]}, {lifted}",
        tuple(
            Label(found.claw, found.zone, found.label, found.holds, found.severity or 0)
            for found in card.state.feet.open.values()
            if found.foot == foot
        ),
        {
            block.claw: day_words(block.day, on)
            for block in card.state.blocks.values()
            if block.foot == foot
        },
    )


# ---- scores ------------------------------------------------------------------------------------


def scores(card: Card, width: int, on: Day, glyphs: Glyphs) -> Content:
    """How he walked and his condition, each as a plot over the days, in the last score's scale."""
    parts = [_walks(card, width, on, glyphs), _conditions(card, width, on, glyphs)]
    return Content("\n\n").join(parts)


def _walks(card: Card, width: int, on: Day, glyphs: Glyphs) -> Content:
    walk = card.state.walk
    if walk is None:
        return Content.assemble(("His walk has never been scored.", QUIET))
    scale = card.rules.mobility[walk.scale]
    points = [
        Point(w.day, w.score, str(w.score) if w.counts else f"({w.score})", w.lame)
        for w in card.state.walks
        if w.scale == scale.id
    ]
    levels = tuple(range(scale.worst, scale.low - 1, -1))
    plot = _plot(card, levels, scale.lame, points, card.rules.limits.mobility_oldest, on)
    said = (
        f"{walk.score} on {day_words(walk.day, on)}"
        + (f" {walk.limb}" if walk.limb else "")
        + ("" if walk.counts else ", on a block: does not count")
    )
    head = f"walk, {scale.name}, lame from {scale.lame}"
    return _with_head(head, said, plot, width, on, glyphs)


def _conditions(card: Card, width: int, on: Day, glyphs: Glyphs) -> Content:
    last = card.state.condition
    if last is None:
        return Content.assemble(("His condition has never been scored.", QUIET))
    scale = card.rules.condition[last.scale]
    points = [
        Point(each.day, each.score, number_words(each.score), each.outside)
        for each in card.state.conditions
        if each.scale == scale.id
    ]
    low, high = scale.hold
    values = [point.value for point in points]
    step = 2 * scale.step
    top, bottom = max(high, *values), min(low, *values)
    count = round((top - bottom) / step)
    levels = tuple(top - step * number for number in range(count + 1))
    plot = _plot(card, levels, None, points, card.rules.limits.condition_oldest, on)
    head = (
        f"{scale.name}, held outside {low:g} to {high:g}, "
        f"aim at {scale.target[0]:g} to {scale.target[1]:g}"
    )
    said = f"{number_words(last.score)} on {day_words(last.day, on)}"
    return _with_head(head, said, plot, width, on, glyphs)


def _plot(
    card: Card,
    levels: tuple[float, ...],
    limit: float | None,
    points: Sequence[Point],
    oldest: int,
    on: Day,
) -> Plot:
    last = max(card.assessment.turnout or on, on)
    to_come = card.assessment.turnout == last
    recent = [point for point in points if point.day >= on - PAST]
    first = min([point.day for point in recent] + [last - oldest, on])
    ends = [(first, day_words(first, on)), (on, "today")]
    if to_come:
        ends.append((last, f"turnout {day_words(last, on)}"))
    window = (last - oldest, last) if to_come else None
    return Plot(levels, limit, tuple(recent), window, first, last, tuple(ends))


def _with_head(head: str, last: str, plot: Plot, width: int, on: Day, glyphs: Glyphs) -> Content:
    """The scale over the plot; under it the last score and the window in which one counts."""
    if plot.window is None:
        counts = "no turnout to come: no window"
    else:
        start, end = (day_words(day, on) for day in plot.window)
        counts = f"one counts from {start} to {end} ({glyphs.window[0]}={glyphs.window[1]})"
    return Content("\n").join(
        [
            Content.assemble((glyphs.text(head), TEXT)),
            drawn(plot, width, glyphs),
            Content.assemble((f"last {last}; ", TEXT), (counts, QUIET)),
        ]
    )


# ---- plots ---------------------------------------------------------------------------------------
# Drawn in characters: the score itself stands at its day, so the plot reads without colour. Under
# it, the days: today, turnout, and the window in which a score counts.

LABEL, PAST = 6, 150


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


def drawn(plot: Plot, width: int, glyphs: Glyphs) -> Content:
    """The plot as lines of ``width`` cells."""
    room = max(width - LABEL - 2, 10)

    def column(day: int) -> int:
        span = max(plot.last - plot.first, 1)
        return round((min(max(day, plot.first), plot.last) - plot.first) * (room - 1) / span)

    lines = [_level(plot, level, room, column, glyphs) for level in plot.levels]
    lines.append(_axis(plot, room, column, glyphs))
    lines.append(_ends(plot.ends, room, column))
    return Content("\n").join(lines)


def _level(
    plot: Plot, level: float, room: int, column: Callable[[int], int], glyphs: Glyphs
) -> Content:
    line = [(glyphs.dot if level == plot.limit else " ", QUIET)] * room
    for point in plot.points:
        if min(plot.levels, key=lambda each: abs(each - point.value)) == level:
            style = f"bold {VERMILLION if point.bad else TEXT}"
            start = min(max(column(point.day) - len(point.words) // 2, 0), room - len(point.words))
            for at, char in enumerate(point.words, start=start):
                line[at] = (char, style)
    return Content.assemble(
        (f"{number_words(level):>{LABEL}} ", QUIET), (glyphs.side, QUIET), *line
    )


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
