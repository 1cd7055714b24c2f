"""How the board grows with the book, drawn: time and memory against the number of bulls."""

from __future__ import annotations

import io
from collections.abc import Iterable

from tests.bench.measure import Row


def plot(rows: Iterable[Row]) -> str:
    """An SVG of the rows of growing books. Raises ``SystemExit`` without matplotlib."""
    try:
        from matplotlib.figure import Figure  # type: ignore[import-not-found, unused-ignore]
    except ImportError:
        raise SystemExit("To draw it: pip install matplotlib") from None
    found = [row for row in rows if row.bulls]
    figure = Figure(figsize=(8, 3.6), layout="constrained")
    seconds, memory = figure.subplots(1, 2)
    for entries in sorted({row.entries for row in found}):
        mine = [row for row in found if row.entries == entries]
        bulls = [row.bulls for row in mine]
        words = f"{entries} entries each"
        seconds.loglog(bulls, [row.took.ms / 1000 for row in mine], marker="o", label=words)
        seconds.loglog(bulls, [row.floor / 1000 for row in mine], ":", color="grey")
        memory.loglog(bulls, [row.took.memory for row in mine], marker="o", label=words)
    for axes, words in ((seconds, "seconds (dotted: the floor)"), (memory, "MB")):
        axes.set(xlabel="bulls", ylabel=words)
        axes.grid(alpha=0.3)
        axes.legend(frameon=False)
    drawn = io.StringIO()
    figure.savefig(drawn, format="svg")
    return drawn.getvalue()
