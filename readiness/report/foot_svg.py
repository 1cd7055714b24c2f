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
from dataclasses import dataclass

from markupsafe import Markup

from readiness.trade.feet import FOOT_NAMES

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


@dataclass(frozen=True, slots=True)
class _Zone:
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


@dataclass(frozen=True, slots=True)
class Spot:
    """One finding to draw. ``claw``: outer, inner or skin; ``zone`` None where it was not said."""

    claw: str
    zone: int | None
    label: str
    holds: bool


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


def foot_svg(foot: str, spots: Iterable[Spot], blocked: Collection[str], words: str) -> Markup:
    """One foot, with its findings and blocked claws; ``words`` say the same for who cannot see."""
    found = tuple(spots)
    parts = [_claw(foot, claw, found, blocked) for claw in ("outer", "inner")]
    parts.append(Markup().join(_skin([spot for spot in found if spot.claw == "skin"])))
    under = any(
        spot.zone == 9 or (spot.claw != "skin" and spot.zone not in _CLAW) for spot in found
    )
    return _drawing(words, parts, _UNDER if under else 0)


def heat_svg(foot: str, heat: Mapping[tuple[str, int], tuple[float, str]], words: str) -> Markup:
    """One foot with its zones inked more or less: (claw, zone) → (strength 0-1, label)."""
    parts = []
    for claw in ("outer", "inner"):
        mirrored = _mirrored(foot, claw)
        inked = Markup().join(
            _area(zone, "heat", heat[claw, zone][0]) for zone in _CLAW if (claw, zone) in heat
        )
        labels = Markup().join(
            _text(_across(place.label[0], mirrored), place.label[1], [heat[claw, zone][1]])
            for zone, place in _CLAW.items()
            if (claw, zone) in heat
        )
        parts.append(_placed(inked + _OUTLINE, mirrored) + labels)
        parts.append(_name(claw, mirrored))
    for zone, (x, y, wide, high) in _SKIN.items():
        if ("skin", zone) in heat:
            strength, label = heat["skin", zone]
            parts.append(_ellipse(x, y, wide, high, "heat", strength) + _text(x, y, [label]))
    return _drawing(words, parts, _UNDER)


def _drawing(words: str, parts: Iterable[Markup], under: int) -> Markup:
    return Markup('{} viewBox="{} {} {} {}" role="img"><title>{}</title>{}</svg>').format(
        FOOT, -_MARGIN, TOP, WIDTH + 2 * _MARGIN, HEIGHT + under, words, Markup().join(parts)
    )


def _claw(foot: str, claw: str, spots: tuple[Spot, ...], blocked: Collection[str]) -> Markup:
    mirrored = _mirrored(foot, claw)
    here = [spot for spot in spots if spot.claw == claw]
    shapes = []
    if claw in blocked:
        shapes.append(Markup('<path fill="url(#block)" d="{}"/>').format(_WALL))
    labels = []
    for zone, place in _CLAW.items():
        if found := [spot for spot in here if spot.zone == zone]:
            shapes.append(_area(zone, _ink(found)))
            labels.append(_text(_across(place.label[0], mirrored), place.label[1], _labels(found)))
    if claw in blocked:
        taken = any(spot.zone in (4, 6, 12) for spot in here)
        labels.append(_text(_across(54, mirrored), 60 if taken else 134, ["BLOCK"]))
    if unplaced := [spot for spot in here if spot.zone not in _CLAW]:
        said = f"({' '.join(_labels(unplaced))})"
        labels.append(_text(_across(50, mirrored), 200, [said]))
    drawn = _placed(Markup().join(shapes) + _OUTLINE, mirrored)
    return drawn + _name(claw, mirrored) + Markup().join(labels)


def _skin(spots: list[Spot]) -> Iterator[Markup]:
    for zone, (x, y, wide, high) in _SKIN.items():
        if found := [spot for spot in spots if spot.zone == zone]:
            yield _ellipse(x, y, wide, high, _ink(found)) + _text(x, y + 4, _labels(found))
    if found := [spot for spot in spots if spot.zone not in _SKIN]:
        x, y = _SKIN_ANYWHERE
        yield _text(x, y, [f"({label})" for label in _labels(found)])


def _mirrored(foot: str, claw: str) -> bool:
    """Whether this claw stands on the right."""
    return (claw == "outer") == (foot in ("RF", "RH"))


def _across(x: int, mirrored: bool) -> int:
    """Where a place of the claw stands in the drawing."""
    return WIDTH - 5 - x if mirrored else 5 + x


def _placed(shapes: Markup, mirrored: bool) -> Markup:
    where = f"translate({WIDTH - 5} 0) scale(-1 1)" if mirrored else "translate(5 0)"
    return Markup('<g transform="{}">{}</g>').format(where, shapes)


def _name(claw: str, mirrored: bool) -> Markup:
    return Markup('<text class="name" x="{}" y="-6">{}</text>').format(_across(56, mirrored), claw)


def _ink(spots: Iterable[Spot]) -> str:
    return "holds" if any(spot.holds for spot in spots) else "other"


def _area(zone: int, ink: str, strength: float | None = None) -> Markup:
    place = _CLAW[zone]
    x, y, wide, high = place.box
    return Markup(
        '<g clip-path="url(#in-{})"><rect x="{}" y="{}" width="{}" height="{}" {}/></g>'
    ).format(place.place, x, y, wide, high, _filled(ink, strength))


def _ellipse(
    x: int, y: int, wide: int, high: int, ink: str, strength: float | None = None
) -> Markup:
    return Markup('<ellipse cx="{}" cy="{}" rx="{}" ry="{}" {}/>').format(
        x, y, wide, high, _filled(ink, strength)
    )


def _filled(ink: str, strength: float | None) -> Markup:
    if strength is None:
        return Markup('class="spot" fill="url(#{})"').format(ink)
    return Markup('class="{}" fill-opacity="{:.2f}"').format(ink, strength)


def _labels(spots: Iterable[Spot]) -> list[str]:
    """The labels of one place, what holds first."""
    return [spot.label for spot in sorted(spots, key=lambda s: (not s.holds, s.label))]


def _text(x: int, y: int, lines: list[str]) -> Markup:
    """Lines of a label round its middle, with a rim of the page's colour to be read over ink."""
    start = y + 5 - 7 * (len(lines) - 1)
    rows = Markup().join(
        Markup('<tspan x="{}" y="{}">{}</tspan>').format(x, start + 14 * row, line)
        for row, line in enumerate(lines)
    )
    return Markup("<text>{}</text>").format(rows)


def foot_name(foot: str) -> str:
    """ "LF left fore"."""
    return f"{foot} {FOOT_NAMES[foot]}"
