"""A foot drawn as the bull stands on it: seen from above, through the foot, toes forward.

The drawing is our own and shows places, not shapes to measure by. Zones as in
``readiness.trade.feet``. Of a left foot the outer claw stands on the left, of a right foot on the
right (from below it would be the other way round); each claw is drawn once, with the cleft on its
right, and mirrored for the other side.

What holds a bull is hatched and written in full, what does not is dotted: it reads in black and
white. ``foot_defs`` has to stand once in a page that draws feet.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from typing import NamedTuple

from markupsafe import Markup

from readiness.history import History
from readiness.history.finding import Finding
from readiness.history.records import NEVER
from readiness.report.page import Words
from readiness.trade.codes import CODES, finding_words
from readiness.trade.feet import AS_HE_STANDS, FOOT_NAMES, ZONES, spot_words
from readiness.trade.words import day_words

WIDTH, TOP, HEIGHT = 230, -20, 196
FOOT = Markup('<svg class="foot"')
"""How every drawn foot begins."""

_MARGIN = 14
_UNDER = 30
"""How much lower a drawing is that has something to say under its claws."""

_WALL = (
    "M70 4C40 8 14 40 8 84C4 118 8 150 26 164C44 176 74 174 88 160"
    "C96 150 96 120 94 90C92 50 88 10 70 4Z"
)
_WHITE_LINE = (
    "M69 13C45 18 22 46 16 86C13 116 16 144 31 156C46 166 70 165 81 154"
    "C88 146 88 120 86 92C84 56 80 18 69 13Z"
)
_SOLE = (
    "M67 27C50 34 34 58 28 92C26 110 27 126 30 136L85 136C87 120 86 100 85 88C83 60 78 30 67 27Z"
)
# Where ink may lie: the ring of the wall, that of the white line, the sole, and all of the claw.
_PLACES = {
    "rim": _WALL + _WHITE_LINE,
    "line": _WHITE_LINE + _SOLE,
    "sole": _SOLE,
    "claw": _WALL,
}
_OUTLINE = Markup('<use href="#claw"/>')
_AREA = Markup('<g clip-path="url(#in-{})"><rect x="{}" y="{}" width="{}" height="{}" {}/></g>')


class _Zone(NamedTuple):
    """A zone of a claw: what a box (x, y, width, height) cuts out of a place, and where its label's
    middle stands."""

    place: str
    box: tuple[int, int, int, int]
    label: tuple[int, int]


_CLAW = {
    7: _Zone("rim", (0, 0, 100, 40), (66, 8)),
    8: _Zone("rim", (0, 40, 50, 94), (12, 92)),
    11: _Zone("rim", (50, 40, 50, 55), (90, 68)),
    12: _Zone("rim", (50, 95, 50, 41), (92, 116)),
    1: _Zone("line", (0, 0, 100, 52), (62, 24)),
    2: _Zone("line", (0, 52, 50, 52), (27, 76)),
    3: _Zone("line", (0, 104, 50, 32), (24, 121)),
    5: _Zone("sole", (0, 20, 100, 66), (60, 62)),
    4: _Zone("sole", (0, 86, 100, 50), (57, 112)),
    6: _Zone("claw", (0, 134, 100, 42), (52, 154)),
}
# The skin's places, of the foot as a whole: the middle of a label, and a spot's radii.
_SKIN = {0: (115, 74, 9, 26), 10: (115, 138, 9, 20), 9: (115, 184, 100, 7)}
_SKIN_ANYWHERE = (115, 108)
_WRITTEN_UNDER = {("outer", None), ("inner", None), ("skin", 9)}


class _Mark(NamedTuple):
    """What is drawn at a place: what fills its shape, as attributes, and its label's lines."""

    filled: Markup
    lines: list[str]


_Place = tuple[str, int | None]
"""Outer, inner or skin, and the zone: None where it was not said, or is none of that."""


def foot_defs() -> Markup:
    """What every drawn foot of a page refers to."""
    return Markup('<svg width="0" height="0" class="defs" aria-hidden="true">{}</svg>').format(
        shared_shapes()
    )


def shared_shapes() -> Markup:
    """The same without the drawing round it, for whoever needs it within each drawing."""
    clips = Markup().join(
        Markup('<clipPath id="in-{}"><path clip-rule="evenodd" d="{}"/></clipPath>').format(
            name, path
        )
        for name, path in _PLACES.items()
    )
    return Markup(
        "<defs>{}"
        '<g id="claw"><path class="wall" d="{}"/><path class="line" d="{}"/>'
        '<path class="line" d="{}"/><path class="line" d="M30 136L85 136M28 86L85 86"/></g>'
        '<pattern id="holds" width="6" height="6" patternUnits="userSpaceOnUse" '
        'patternTransform="rotate(45)"><rect class="under" width="6" height="6"/>'
        '<rect class="ink" width="2.4" height="6"/></pattern>'
        '<pattern id="other" width="6" height="6" patternUnits="userSpaceOnUse">'
        '<circle class="ink" cx="3" cy="3" r="1.1"/></pattern>'
        '<pattern id="block" width="10" height="10" patternUnits="userSpaceOnUse">'
        '<path class="grid" d="M0 0L10 10M10 0L0 10"/></pattern></defs>'
    ).format(clips, _WALL, _WHITE_LINE, _SOLE)


def foot_svg(
    foot: str, findings: Iterable[Finding], blocked: Collection[str], words: str
) -> Markup:
    """One foot, with its findings and blocked claws; ``words`` say the same for who cannot see."""
    places: dict[_Place, list[Finding]] = {}
    for finding in findings:
        known: Collection[int | None] = _SKIN if finding.claw == "skin" else _CLAW
        zone = finding.zone if finding.zone in known else None
        places.setdefault((finding.claw, zone), []).append(finding)
    marks = {place: _mark(found) for place, found in places.items()}
    parts = [_claw(foot, claw, marks, blocked) for claw in ("outer", "inner")]
    parts += _skin(marks, lower=4)
    if said := marks.get(("skin", None)):
        parts.append(_text(*_SKIN_ANYWHERE, [f"({label})" for label in said.lines]))
    under = not marks.keys().isdisjoint(_WRITTEN_UNDER)
    return _drawing(words, parts, _UNDER if under else 0)


def heat_svg(foot: str, heat: Mapping[tuple[str, int], tuple[float, str]], words: str) -> Markup:
    """One foot with its zones inked more or less: (claw, zone) → (strength 0-1, label)."""
    inked = Markup('class="heat" fill-opacity="{:.2f}"')
    marks: dict[_Place, _Mark] = {
        place: _Mark(inked.format(strength), [label]) for place, (strength, label) in heat.items()
    }
    parts = [_claw(foot, claw, marks, ()) for claw in ("outer", "inner")]
    return _drawing(words, [*parts, *_skin(marks, lower=0)], _UNDER)


def _drawing(words: str, parts: Iterable[Markup], under: int) -> Markup:
    return Markup('{} viewBox="{} {} {} {}" role="img"><title>{}</title>{}</svg>').format(
        FOOT, -_MARGIN, TOP, WIDTH + 2 * _MARGIN, HEIGHT + under, words, Markup().join(parts)
    )


def _mark(found: Iterable[Finding]) -> _Mark:
    """Of findings in one place: hatched where one holds, the labels of what holds first."""
    ranked = sorted(found, key=lambda each: (not each.holds, each.label))
    ink = "holds" if ranked[0].holds else "other"
    filled = Markup('class="spot" fill="url(#{})"').format(ink)
    return _Mark(filled, [each.label for each in ranked])


def _claw(foot: str, claw: str, marks: Mapping[_Place, _Mark], blocked: Collection[str]) -> Markup:
    on_right = (claw == "outer") == (foot in ("RF", "RH"))
    shapes = [Markup('<path fill="url(#block)" d="{}"/>').format(_WALL)] if claw in blocked else []
    labels = []
    for zone, place in _CLAW.items():
        if mark := marks.get((claw, zone)):
            shapes.append(_AREA.format(place.place, *place.box, mark.filled))
            labels.append(_text(_across(place.label[0], on_right), place.label[1], mark.lines))
    if claw in blocked:
        taken = not marks.keys().isdisjoint((claw, zone) for zone in (4, 6, 12))
        labels.append(_text(_across(54, on_right), 60 if taken else 134, ["BLOCK"]))
    if unplaced := marks.get((claw, None)):
        said = f"({' '.join(unplaced.lines)})"
        labels.append(_text(_across(50, on_right), 200, [said]))
    where = f"translate({WIDTH - 5} 0) scale(-1 1)" if on_right else "translate(5 0)"
    drawn = Markup('<g transform="{}">{}</g><text class="name" x="{}" y="-6">{}</text>').format(
        where, Markup().join([*shapes, _OUTLINE]), _across(56, on_right), claw
    )
    return drawn + Markup().join(labels)


def _skin(marks: Mapping[_Place, _Mark], *, lower: int) -> Iterator[Markup]:
    """The skin's places; ``lower``: how far below its middle a label stands."""
    for zone, (x, y, wide, high) in _SKIN.items():
        if mark := marks.get(("skin", zone)):
            shape = Markup('<ellipse cx="{}" cy="{}" rx="{}" ry="{}" {}/>')
            yield shape.format(x, y, wide, high, mark.filled) + _text(x, y + lower, mark.lines)


def _across(x: int, on_right: bool) -> int:
    """Where a place of the claw stands in the drawing."""
    return WIDTH - 5 - x if on_right else 5 + x


def _text(x: int, y: int, lines: list[str]) -> Markup:
    """Lines of a label round its middle, with a rim of the page's colour to be read over ink."""
    start = y + 5 - 7 * (len(lines) - 1)
    rows = Markup().join(
        Markup('<tspan x="{}" y="{}">{}</tspan>').format(x, start + 14 * row, line)
        for row, line in enumerate(lines)
    )
    return Markup("<text>{}</text>").format(rows)


# ---- the feet of a bull --------------------------------------------------------------------------

SIGNS = (
    f"{AS_HE_STANDS}; hatched: holds him; dotted: does not; 1 slight, 2 "
    "moderate, 3 severe, M a stage; in brackets: the place was not said."
)


def drawn_feet(state: History, feet: Iterable[str], on: int) -> list[Words]:
    """These feet as they are in ``state``, drawn."""
    return [_drawn(state, foot, on) for foot in feet]


def feet_with_something(state: History, feet: Iterable[str]) -> list[str]:
    """Those of the feet that have an open finding or carry a block."""
    marked = {finding.foot for finding in state.feet.open.values()}
    marked |= {block.foot for block in state.blocks.values()}
    return [foot for foot in feet if foot in marked]


def codes_words(drawn: Iterable[Finding]) -> list[str]:
    """The codes that stand in drawings, in words: "SU sole ulcer"."""
    return [f"{code} {CODES[code].name}" for code in sorted({finding.code for finding in drawn})]


def _drawn(state: History, foot: str, on: int) -> Words:
    found = [finding for finding in state.feet.open.values() if finding.foot == foot]
    blocked = [block.claw for block in state.blocks.values() if block.foot == foot]
    words = [_finding_words(finding) for finding in found]
    words += [f"block on {claw} claw" for claw in blocked]
    last = state.last_lift(foot)
    said = f"{foot} {FOOT_NAMES[foot]}: {'; '.join(words) or 'nothing open'}"
    return {
        "foot": foot,
        "name": FOOT_NAMES[foot],
        "lifted": "never lifted" if last == NEVER else f"lifted {day_words(last, on)}",
        "svg": foot_svg(foot, found, blocked, said),
    }


def _finding_words(finding: Finding) -> str:
    severity = finding.severity if finding.stage is None else None
    said = finding_words(finding.code, severity, finding.stage)
    where = spot_words(finding.foot, finding.claw).removeprefix(f"{finding.foot} ")
    zone = "" if finding.zone is None else f", {ZONES[finding.zone]}"
    return f"{where}: {said}{zone}" if finding.claw != "skin" else f"{said}{zone}"
