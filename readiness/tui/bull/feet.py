"""A bull's state as four feet to draw, and his scores as plots."""

from __future__ import annotations

from collections.abc import Sequence

from textual.content import Content

from readiness.herd.card import Card
from readiness.history.finding import Finding
from readiness.history.records import NEVER, Condition, Walk
from readiness.trade.feet import AS_HE_STANDS, FEET, FOOT_NAMES
from readiness.trade.words import Day, day_words, number_words
from readiness.tui.shared.feet import Foot, Label, four_feet
from readiness.tui.shared.looks import QUIET, TEXT, Glyphs
from readiness.tui.shared.plots import PAST, Plot, Point, drawn

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
        tuple(_label(found) for found in card.state.feet.open.values() if found.foot == foot),
        {
            block.claw: day_words(block.day, on)
            for block in card.state.blocks.values()
            if block.foot == foot
        },
    )


def _label(found: Finding) -> Label:
    return Label(found.claw, found.zone, found.label, found.holds, found.severity or 0)


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
    same = [each for each in card.state.walks if each.scale == scale.id]
    oldest = card.rules.limits.mobility_oldest
    plot = _plot(
        card,
        tuple(float(score) for score in range(scale.worst, scale.low - 1, -1)),
        float(scale.lame),
        [_walk_point(each) for each in same],
        oldest,
        on,
    )
    said = (
        f"{walk.score} on {day_words(walk.day, on)}"
        + (f" {walk.limb}" if walk.limb else "")
        + ("" if walk.counts else ", on a block: does not count")
    )
    head = f"walk, {scale.name}, lame from {scale.lame}"
    return _with_head(head, said, plot, width, on, glyphs)


def _walk_point(walk: Walk) -> Point:
    words = str(walk.score) if walk.counts else f"({walk.score})"
    return Point(walk.day, float(walk.score), words, walk.lame)


def _conditions(card: Card, width: int, on: Day, glyphs: Glyphs) -> Content:
    last = card.state.condition
    if last is None:
        return Content.assemble(("His condition has never been scored.", QUIET))
    scale = card.rules.condition[last.scale]
    same = [each for each in card.state.conditions if each.scale == scale.id]
    low, high = scale.hold
    values = [each.score for each in same]
    step = 2 * scale.step
    top, bottom = max(high, *values), min(low, *values)
    count = round((top - bottom) / step)
    levels = tuple(top - step * number for number in range(count + 1))
    oldest = card.rules.limits.condition_oldest
    plot = _plot(card, levels, None, [_condition_point(each) for each in same], oldest, on)
    head = (
        f"{scale.name}, held outside {low:g} to {high:g}, "
        f"aim at {scale.target[0]:g} to {scale.target[1]:g}"
    )
    said = f"{number_words(last.score)} on {day_words(last.day, on)}"
    return _with_head(head, said, plot, width, on, glyphs)


def _condition_point(each: Condition) -> Point:
    return Point(each.day, each.score, number_words(each.score), each.outside)


def _plot(
    card: Card,
    levels: tuple[float, ...],
    limit: float | None,
    points: Sequence[Point],
    oldest: int,
    on: Day,
) -> Plot:
    turnout = card.assessment.turnout
    to_come = turnout is not None and turnout >= on
    last = turnout if turnout is not None and to_come else on
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
            drawn(plot, width, number_words, glyphs),
            Content.assemble((f"last {last}; ", TEXT), (counts, QUIET)),
        ]
    )
