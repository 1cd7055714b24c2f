"""A lift as a picture: the feet drawn with what was said of them, and that as a list. Pure."""

from __future__ import annotations

from typing import NamedTuple

from textual.content import Content

from readiness.crush.lift import Item, Lift
from readiness.history.finding import claws_of
from readiness.trade.codes import STAGED
from readiness.trade.feet import FEET, FOOT_NAMES
from readiness.tui.shared.feet import CLAW_WIDTH, Foot, Label, foot_lines, four_feet
from readiness.tui.shared.looks import QUIET, SKY, TEXT, YELLOW, Glyphs

ROWS = 10
"""Of the foot in the hand, drawn; the list beside it is as high."""
TALL, WIDE, ALL_ROWS = 36, 110, 21
"""From this height and width on all four feet are drawn, in so many rows."""
FRAME = 6
NARROW = 2 * CLAW_WIDTH + 6

Spot = tuple[int, str, int]
At = tuple[str, Spot | None]
"""The foot in the hand, and which thing said of it; None: the foot as a whole."""


class Drawing(NamedTuple):
    """``feet``: drawn, ``width`` cells wide and ``rows`` high; ``listed``: what was said of them,
    as high, beside."""

    feet: Content
    listed: Content
    width: int
    rows: int


def drawing(lift: Lift, here: At, width: int, height: int, glyphs: Glyphs) -> Drawing:
    """The lift on a screen of this size: all four feet where there is room, else the one in the
    hand."""
    whole = width >= WIDE and height >= TALL
    left, rows = (2 * NARROW, ALL_ROWS) if whole else (NARROW, ROWS)
    feet = {foot: _foot(lift, foot, here) for foot in FEET}
    one = Content("\n").join(foot_lines(feet[here[0]], left, glyphs))
    drawn = four_feet(feet, left, glyphs) if whole else one
    said = _listed(lift, here, min(width, WIDE) - FRAME - left, rows, glyphs)
    return Drawing(drawn, said, left, rows)


def stops(lift: Lift) -> list[At]:
    """Where the arrows lead: each foot that was in the hand, then each thing said of it."""
    items = lift.items()
    found: list[At] = []
    for foot in FEET:
        mine = [item.spot for item in items if item.foot == foot]
        if mine or foot in (*lift.lifted, *lift.refused):
            found += [(foot, None), *((foot, spot) for spot in mine)]
    return found or [(FEET[0], None)]


def _foot(lift: Lift, foot: str, here: At) -> Foot:
    mark = "> " if foot == here[0] else ""
    mine = [item for item in lift.items() if item.foot == foot]
    labels = tuple(
        Label(claw, item.said.get("zone"), _short(item), False, 9 if chosen else 1, style)
        for item in mine
        if item.key in ("findings", "healed")
        for chosen in [item.spot == here[1]]
        for style in [f"bold reverse {YELLOW}" if chosen else ""]
        for claw in claws_of(item.said["claw"])
    )
    blocks = {item.said["claw"]: "" for item in mine if item.said.get("kind") == "block-on"}
    return Foot(foot, f"{mark}{foot} {FOOT_NAMES[foot]}", labels, blocks)


def _short(item: Item) -> str:
    """Code and how bad, as it is drawn."""
    code = str(item.said["code"])
    if item.key == "healed":
        return f"{code} gone"
    return f"{code}{item.said.get('stage' if code == STAGED else 'severity', '')}"


def _listed(lift: Lift, here: At, width: int, rows: int, glyphs: Glyphs) -> Content:
    """What was said of each foot, a line a thing; of more lines than there are rows, those around
    the one in the hand."""
    lines: list[Content] = []
    at = 0
    items = {item.spot: item for item in lift.items()}
    for stop in stops(lift):
        foot, spot = stop
        chosen = stop == here
        at = len(lines) if chosen else at
        if spot is None:
            state = "would not lift" if foot in lift.refused else "lifted"
            state = state if foot in (*lift.lifted, *lift.refused) else ""
            words, style = f"{foot} {state}", f"bold {TEXT}"
        else:
            said = items[spot].words.removeprefix(f"{foot} ").rstrip(".")
            words, style = f"  {glyphs.text(said)}", SKY if items[spot].key == "work" else TEXT
        lead = ">" if chosen else " "
        style = f"bold reverse {TEXT}" if chosen else style
        lines.append(Content.assemble((lead, QUIET), (glyphs.fit(words, width - 2), style)))
    first = max(min(at - rows // 2, len(lines) - rows), 0)
    return Content("\n").join(lines[first : first + rows])
