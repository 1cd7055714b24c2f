"""A table of figures laid out in columns for a width: in a command's text and on the screen."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from readiness.herd.stats.results import Row
from readiness.report import stats_words as words
from readiness.system.width import cells

_WIDEST_NAME, _LEAST_NAME, _LEAST_BAR, _WIDEST_BAR = 36, 14, 10, 40


class Line(NamedTuple):
    """One row: what it is about (to be fitted into the table's ``name`` columns), its bar (empty
    where there is no room), and count, share and interval."""

    name: str
    bar: str
    tail: str
    few: bool


class Laid(NamedTuple):
    """``name``: how many columns the names take; ``scale``: what stands under the bars."""

    name: int
    lines: tuple[Line, ...]
    scale: str


def laid_out(rows: Sequence[Row], width: int) -> Laid:
    """Rows of one table, at least one, ``width`` columns wide in all."""
    top = words.scale_top(rows)
    names = [words.row_name(row) for row in rows]
    tails = _tails(rows)
    room = width - max(map(cells, tails))
    name = max(_LEAST_NAME, min(max(map(cells, names)), _WIDEST_NAME, room - _LEAST_BAR - 2))
    bar = min(room - name - 2, _WIDEST_BAR)
    lines = tuple(
        Line(said, words.bar(row.part, top, bar) if bar >= _LEAST_BAR else "", tail, row.part.few)
        for said, row, tail in zip(names, rows, tails, strict=True)
    )
    return Laid(name, lines, _scale(top, bar) if bar >= _LEAST_BAR else "")


def _tails(rows: Sequence[Row]) -> list[str]:
    """Count, share and interval of each row, in columns; of few no share."""
    counts = [words.count_words(row.part) for row in rows]
    shares = ["" if row.part.few else f"{words.percent(row.part.share)} %" for row in rows]
    spans = [words.interval_words(row.part) for row in rows]
    columns = [(texts, max(map(len, texts))) for texts in (counts, shares, spans)]
    return ["  ".join(f"{texts[at]:>{width}}" for texts, width in columns)
            for at in range(len(rows))]  # fmt: skip


def _scale(top: float, width: int) -> str:
    """The ends of the bars: 0 and the top."""
    end = f"{100 * top:.0f} %"
    return f"0{end:>{width - 1}}"
