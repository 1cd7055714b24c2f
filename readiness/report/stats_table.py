"""A table of figures laid out in columns for a width: in a command's text and on the screen."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from readiness.herd.stats.results import StatsRow
from readiness.report import stats_words as words
from readiness.report.spans import Spans, aligned, width_of
from readiness.system.width import cells

_WIDEST_NAME, _LEAST_NAME, _LEAST_BAR, _WIDEST_BAR = 36, 14, 10, 40


def laid_out(rows: Sequence[StatsRow], width: int, fit: Callable[[str, int], str]) -> list[Spans]:
    """The rows of one table, ``width`` columns wide in all: what each is about, its bar where there
    is room, count, share and interval; under them the scale of the bars. ``fit`` gives a text in
    exactly so many columns. The bar up to the share stands out; nothing of few does."""
    if not rows:
        return []
    top = words.scale_top(rows)
    tails = aligned([_tail(row) for row in rows], ("", "  ", "  "), range(3), (0, 0, 0))
    room = width - width_of(tails[0])
    widest = max(cells(words.row_name(row)) for row in rows)
    name = max(_LEAST_NAME, min(widest, _WIDEST_NAME, room - _LEAST_BAR - 2))
    bar = min(room - name - 2, _WIDEST_BAR)
    drawn = bar >= _LEAST_BAR
    lines = []
    for row, tail in zip(rows, tails, strict=True):
        role = _role(row)
        said = words.bar(row.part, top, bar) if drawn else ""
        share = said.find("|") + 1
        about = (fit(words.row_name(row), name), role)
        bars = [(f" {said[:share]}", f"strong {role}".strip()), (f"{said[share:]} ", "quiet")]
        figures = "".join(text for text, _ in tail)
        lines.append([about, *(bars if drawn else [(" ", "")]), (figures, role)])
    end = f"{100 * top:.0f} %"
    return [*lines, *([[(f"{'':<{name}} 0{end:>{bar - 1}}", "quiet")]] if drawn else [])]


def _role(row: StatsRow) -> str:
    return "quiet" if row.part.few else ""


def _tail(row: StatsRow) -> Spans:
    """Count, share and interval; of few no share."""
    part, role = row.part, _role(row)
    share = "" if part.few else f"{words.percent(part.share)} %"
    return [(words.count_words(part), role), (share, role), (words.interval_words(part), role)]
