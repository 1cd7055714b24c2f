"""The figures as text: a table for each way of counting, a bar with its interval on each row."""

from __future__ import annotations

from collections.abc import Sequence

from readiness.report import stats_words as words
from readiness.report.look import Look, cells, wrapped
from readiness.stats.results import BY, Figures, Row

_WIDEST_NAME, _LEAST_NAME, _LEAST_BAR, _WIDEST_BAR = 36, 14, 10, 40


def stats_text(figures: Figures, look: Look) -> str:
    """The figures, ``look.width`` columns wide at most."""
    lines = [look.paint("head", line) for line in wrapped(words.headline(figures), look.width)]
    for by in BY:
        rows = figures.by(by)
        if rows:
            lines += ["", *table_lines(rows, look)]
    notes = words.notes(figures)
    lines += ["", *(line for note in notes for line in wrapped(note, look.width - 2))]
    return look.plain_marks("\n".join(lines))


def table_lines(rows: Sequence[Row], look: Look) -> list[str]:
    """One table: its title and what it counts, the rows, and what was never found."""
    by, kept = rows[0].by, words.shown(rows)
    title = f"{words.TITLES[by]}: {words.MEANINGS[by]}"
    lines = [look.paint("head", line) for line in wrapped(title, look.width - 2)]
    lines += _rows(kept, look) if kept else []
    absent = words.absent_words(rows)
    return [*lines, *(f"  {line}" for line in wrapped(absent, look.width - 4))]


def _rows(rows: Sequence[Row], look: Look) -> list[str]:
    """Name, bar, count, share and interval in columns; the bar goes where there is no room."""
    top = words.scale_top(rows)
    tails = _tails(rows)
    room = look.width - 2 - cells(tails[0])
    widest = max(cells(look.plain_marks(words.row_name(row))) for row in rows)
    name = max(_LEAST_NAME, min(widest, _WIDEST_NAME, room - _LEAST_BAR - 2))
    width = min(room - name - 2, _WIDEST_BAR)
    lines = []
    for row, tail in zip(rows, tails, strict=True):
        drawn = f" {words.bar(row.part, top, width)} " if width >= _LEAST_BAR else ""
        lines.append(f"  {look.fit(words.row_name(row), name)}{drawn}{tail}")
    if width >= _LEAST_BAR:
        lines.append(f"  {'':<{name}} {_scale(top, width)}")
    return lines


def _tails(rows: Sequence[Row]) -> list[str]:
    """Count, share and interval of each row, all equally wide."""
    counts = [words.count_words(row.part) for row in rows]
    shares = ["" if row.part.few else f"{words.percent(row.part.share)} %" for row in rows]
    spans = [words.interval_words(row.part) for row in rows]
    columns = [(texts, max(map(len, texts))) for texts in (counts, shares, spans)]
    return [
        "".join(f" {texts[at]:>{width}} " for texts, width in columns).rstrip()
        for at in range(len(rows))
    ]


def _scale(top: float, width: int) -> str:
    """The ends of the bars: 0 and the top."""
    end = f"{100 * top:.0f} %"
    return f"0{end:>{width - 1}}"
