"""The figures as text: a table for each way of counting, a bar with its interval on each row. The
screen shows the same tables."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from readiness.herd.stats.results import BY, Figures, StatsRow
from readiness.report import stats_words as words
from readiness.report.look import Look, wrapped
from readiness.report.spans import Spans, aligned, width_of
from readiness.system.width import cells

_WIDEST_NAME, _LEAST_NAME, _LEAST_BAR, _WIDEST_BAR = 36, 14, 10, 40


def stats_text(figures: Figures, look: Look) -> str:
    """The figures, ``look.width`` columns wide at most."""
    lines = [look.paint("head", line) for line in wrapped(words.headline(figures), look.width)]
    for by in BY:
        if rows := figures.by(by):
            lines += ["", *_table(rows, look)]
    said = [*([words.BARS] if figures.feet else []), *words.notes(figures)]
    notes = [line for note in said for line in wrapped(note, look.width - 2)]
    return look.plain_marks("\n".join([*lines, "", *notes]))


def _table(rows: Sequence[StatsRow], look: Look) -> list[str]:
    """One table: its title and what it counts, the rows, and what was never found."""
    title = f"{words.TITLES[rows[0].by]}: {words.MEANINGS[rows[0].by]}"
    lines = [look.paint("head", line) for line in wrapped(title, look.width - 2)]
    laid = laid_out(words.shown(rows), look.width - 2, look.fit)
    lines += [f"  {look.painted(line)}" for line in laid]
    return [*lines, *(f"  {line}" for line in wrapped(words.absent_words(rows), look.width - 4))]


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
