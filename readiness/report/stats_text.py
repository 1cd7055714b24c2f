"""The figures as text: a table for each way of counting, a bar with its interval on each row."""

from __future__ import annotations

from collections.abc import Sequence

from readiness.herd.stats.results import BY, Figures, StatsRow
from readiness.report import stats_words as words
from readiness.report.look import Look, wrapped
from readiness.report.stats_table import laid_out


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
