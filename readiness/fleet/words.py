"""The figures over many farms as text: a table for each way of counting, as those of one book."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from itertools import chain

from readiness.fleet.figures import FARM, GO_BY, Published, Row
from readiness.herd.stats.results import BY, StatsRow
from readiness.report.look import Look, wrapped
from readiness.report.stats_words import (
    BARS,
    COUNTED,
    MEANINGS,
    NOT_MEANT,
    TITLES,
    absent_words,
    laid_out,
    percent,
    row_name,
    shown,
)
from readiness.trade.words import full_day_words, list_words, plural

OTHERS = "the others together"
_GO_TITLES = {"farm": "farm", "breed": "breed", "age": "age", "week": "week"}


def figures_text(figures: Published, look: Look) -> str:
    """The figures, ``look.width`` columns wide at most."""
    lines = [look.paint("head", line) for line in wrapped(_headline(figures), look.width)]
    for by in BY:
        rows = [row for row in figures.rows if row.by == by]
        lines += _table(f"{TITLES[by]}: {MEANINGS[by]}", rows, look)
    for by in GO_BY:
        rows = [row for row in figures.shares if row.by == by]
        lines += _table(f"GO by {_GO_TITLES[by]}: bulls that are GO, of all", rows, look)
    lines.append("")
    for note in (BARS, *_notes(figures)):
        lines += wrapped(note, look.width - 2)
    return look.plain_marks("\n".join(lines))


def _headline(figures: Published) -> str:
    until = full_day_words(date.fromisoformat(figures.on).toordinal())
    farms = f"{plural(figures.farms, 'farm')}, each on its last day up to {until}"
    if figures.bulls is None or figures.go is None:
        return f"{farms}: fewer than {plural(figures.least, 'bull')}, so nothing is told of them."
    share = percent(figures.go / figures.bulls)
    return f"{farms}: {plural(figures.bulls, 'bull')}, {figures.go} GO ({share} %)."


def _notes(figures: Published) -> Iterator[str]:
    least = plural(figures.least, "bull")
    yield (
        f"Groups of fewer than {least} are put together, and what was found on fewer is withheld, "
        "with as much more as keeps it from being worked out. Farms are numbered by their size."
    )
    yield COUNTED
    yield NOT_MEANT


def _table(title: str, rows: Sequence[Row], look: Look) -> Iterator[str]:
    if not rows:
        return
    yield ""
    yield from (look.paint("head", line) for line in wrapped(title, look.width - 2))
    told = [_named(row) for row in rows]
    kept = [row for row in told if isinstance(row, StatsRow)]
    laid = laid_out(shown(kept), look.width - 2, look.fit)
    hidden = list_words(row for row in told if isinstance(row, str))
    withheld = wrapped(f"Withheld: {hidden}.", look.width - 4) if hidden else ()
    absent = wrapped(absent_words(kept), look.width - 4)
    yield from (f"  {line}" for line in chain(map(look.painted, laid), absent, withheld))


def _named(row: Row) -> StatsRow | str:
    """The row as those of one book are laid out, or the name of one that is withheld."""
    if row.value is None:
        return StatsRow("age", OTHERS, row.part, row.unit) if row.part else OTHERS
    value = f"farm {row.value}" if row.by == FARM else row.value
    if row.part:
        return StatsRow(row.by, value, row.part, row.unit)
    return row.value if row.by in ("code", "zone") else row_name(_as_zero(row))


def _as_zero(row: Row) -> StatsRow:
    from readiness.herd.stats.results import part

    return StatsRow(row.by, row.value or "", part((), row.of, 1, 0), row.unit)
