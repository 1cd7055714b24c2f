"""Four feet in characters as the bull stands on them: seen from above, through the foot, toes
forward.

Left feet stand on the left, front feet on top; of each foot the outer claw is on the outside. A
finding stands at its zone: its code and severity, with the mark of HOLD where it keeps him back.
Where two stand in one place the worst is written, with how many more. A finding without a zone
stands in brackets beside the claw's name.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import groupby
from operator import itemgetter

from textual.content import Content

from readiness.system.width import cells
from readiness.trade.feet import FEET
from readiness.tui.shared.looks import QUIET, TEXT, VERMILLION, YELLOW, Glyphs

CLAW_WIDTH = 11
ROWS = 8

# Zone → (row, where along the claw). "abaxial" is the claw's outside, "axial" the cleft's side.
_PLACES = {
    1: (1, "middle"),
    2: (2, "abaxial"),
    3: (5, "abaxial"),
    4: (4, "middle"),
    5: (3, "middle"),
    6: (6, "middle"),
    7: (0, "middle"),
    8: (3, "wall"),
    9: (7, "middle"),
    11: (2, "axial"),
    12: (5, "axial"),
}
_CLEFT_ROWS = {0: 3, 10: 6, 9: 7}
_CLEFT_ROW = 4


@dataclass(frozen=True, slots=True)
class Label:
    """What is written at a place. ``claw``: outer, inner or skin; ``zone`` None where it was not
    said. ``style``: other than that of a finding."""

    claw: str
    zone: int | None
    words: str
    holds: bool
    severity: int
    style: str = ""


@dataclass(frozen=True, slots=True)
class Foot:
    """One foot to draw: its caption ("LF left fore, lifted 3 Apr"), findings and blocked claws
    (claw → the words on the block)."""

    name: str
    caption: str
    labels: tuple[Label, ...]
    blocks: Mapping[str, str]


def four_feet(feet: Mapping[str, Foot], width: int, glyphs: Glyphs) -> Content:
    """The four feet in two rows, ``width`` cells wide in all."""
    half = max(2 * CLAW_WIDTH + 6, min(width // 2, 2 * CLAW_WIDTH + 16))
    blocks = []
    for left, right in (FEET[:2], FEET[2:]):
        pair = (foot_lines(feet[foot], half, glyphs) for foot in (left, right))
        lines = [one + other for one, other in zip(*pair, strict=True)]
        blocks.append(Content("\n").join(lines))
    return Content("\n\n").join(blocks)


def foot_lines(foot: Foot, width: int, glyphs: Glyphs) -> list[Content]:
    """The lines of one foot, each ``width`` cells wide: caption, names of the claws, the claws."""
    claws = ("outer", "inner") if foot.name in ("LF", "LH") else ("inner", "outer")
    gap = min(width - 2 * CLAW_WIDTH - 2, 8)
    canvas = _Canvas(width, ROWS + 2)
    canvas.put(0, 0, glyphs.fit(foot.caption, width - 1), f"bold {TEXT}")
    for claw, left in zip(claws, (1, 1 + CLAW_WIDTH + gap), strict=True):
        labels = [label for label in foot.labels if label.claw == claw]
        _claw_name(canvas, claw, left, labels, glyphs)
        _outline(canvas, left, glyphs)
        if claw in foot.blocks:
            _block(canvas, left, foot.blocks[claw], labels, glyphs)
        for zone, (row, where) in _PLACES.items():
            words, style = _together([s for s in labels if s.zone == zone], CLAW_WIDTH, glyphs)
            at = _column(where, cells(words), left, outside_left=left == 1)
            canvas.put(row + 2, at, words, style)
    _cleft(canvas, 1 + CLAW_WIDTH, gap, [s for s in foot.labels if s.claw == "skin"], glyphs)
    return canvas.lines()


def _column(where: str, length: int, left: int, *, outside_left: bool) -> int:
    """Where a label of ``length`` cells starts, ``where`` along a claw that starts at ``left``."""
    if where == "middle":
        return left + (CLAW_WIDTH - length) // 2
    inset = 0 if where == "wall" else 1
    on_left = outside_left == (where in ("abaxial", "wall"))
    return left + inset if on_left else left + CLAW_WIDTH - inset - length


def _claw_name(
    canvas: _Canvas, claw: str, left: int, labels: Iterable[Label], glyphs: Glyphs
) -> None:
    canvas.put(1, left + 1, claw, QUIET)
    # Zones 0 and 10 are of the cleft: on a claw they are said like those without a place.
    words, style = _together([s for s in labels if s.zone not in _PLACES], CLAW_WIDTH - 8, glyphs)
    if words:
        canvas.put(1, left + len(claw) + 2, f"({words})", style)


def _outline(canvas: _Canvas, left: int, glyphs: Glyphs) -> None:
    last = CLAW_WIDTH - 1
    top_left, top_right, low_left, low_right = glyphs.claw
    out_left, in_left, in_right, out_right = glyphs.shoulder
    across = glyphs.across
    canvas.put(2, left + 1, top_left + across * (last - 3) + top_right, QUIET)
    canvas.put(3, left, out_left + in_left, QUIET)
    canvas.put(3, left + last - 1, in_right + out_right, QUIET)
    for row in range(4, ROWS + 1):
        canvas.put(row, left, glyphs.side, QUIET)
        canvas.put(row, left + last, glyphs.side, QUIET)
    canvas.put(ROWS + 1, left, low_left + across * (last - 1) + low_right, QUIET)


def _block(canvas: _Canvas, left: int, words: str, labels: list[Label], glyphs: Glyphs) -> None:
    """The claw filled; the block's name and day across rows on which no finding stands."""
    inside = CLAW_WIDTH - 2
    for row in range(4, ROWS + 1):
        canvas.put(row, left + 1, glyphs.fill * inside, VERMILLION)
    taken = {_PLACES[label.zone][0] + 2 for label in labels if label.zone in _PLACES}
    free = [row for row in (6, 7, 5, 8, 4) if row not in taken]
    for row, line in zip(sorted(free[:2]), ("BLOCK", words), strict=False):
        shown = f"{glyphs.fit(line, inside):^{inside}}"
        canvas.put(row, left + 1, shown, f"bold {VERMILLION}")


def _cleft(canvas: _Canvas, left: int, gap: int, labels: list[Label], glyphs: Glyphs) -> None:
    """The skin's findings, between the claws."""
    by_row: dict[int, list[Label]] = {}
    for label in labels:
        row = _CLEFT_ROW if label.zone is None else _CLEFT_ROWS.get(label.zone, _CLEFT_ROW)
        by_row.setdefault(row, []).append(label)
    for row, found in by_row.items():
        words, style = _together(found, gap + 2, glyphs)
        if all(label.zone is None for label in found):
            words = f"({words})"
        canvas.put(row + 2, left + (gap - cells(words)) // 2, words, style)


def _together(labels: list[Label], room: int, glyphs: Glyphs) -> tuple[str, str]:
    """The words for findings in one place, the worst first, and their style."""
    if not labels:
        return "", ""
    ranked = sorted(labels, key=lambda s: (not s.holds, -s.severity, s.words))
    said = [(glyphs.hold if s.holds else "") + s.words for s in ranked]
    words = " ".join(said)
    if cells(words) > room and len(said) > 1:
        words = f"{said[0]}+{len(said) - 1}"
    return words, ranked[0].style or f"bold {VERMILLION if ranked[0].holds else YELLOW}"


class _Canvas:
    """A grid of styled characters."""

    def __init__(self, width: int, height: int) -> None:
        self._cells = [[(" ", "")] * width for _ in range(height)]

    def put(self, row: int, column: int, words: str, style: str) -> None:
        """Write ``words`` of one-cell characters; what falls outside is not drawn."""
        line = self._cells[row]
        for at, char in enumerate(words, start=column):
            if 0 <= at < len(line):
                line[at] = (char, style)

    def lines(self) -> list[Content]:
        return [Content.assemble(*_runs(line)) for line in self._cells]


def _runs(line: list[tuple[str, str]]) -> Iterator[tuple[str, str]]:
    """Neighbours of one style joined."""
    for style, run in groupby(line, key=itemgetter(1)):
        yield "".join(char for char, _ in run), style
