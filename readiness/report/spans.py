"""Text laid out once, as spans: what it says, and in which role. A painter for the command's text
and one for the screen know what each role looks like."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence

from readiness.system.width import cells

Span = tuple[str, str]
"""Text and its role: "" (as text is), "quiet", "head", "alert", "overdue", "turnout", or a bull's
state: "reason", "checks", "go", "care"."""


def width_of(spans: Iterable[Span]) -> int:
    """How many columns they take."""
    return sum(cells(text) for text, _ in spans)


def aligned(
    rows: Sequence[Sequence[Span]],
    gaps: Sequence[str],
    right: Collection[int],
    least: Sequence[int],
) -> list[list[Span]]:
    """The rows in columns, each as wide as what it says and its ``least`` at least, its gap before
    it; ``right``: the columns that are filled up on the left."""
    widths = list(least)
    for row in rows:
        widths[: len(row)] = map(max, widths, (cells(text) for text, _ in row))

    def filled(at: int, text: str) -> str:
        blank = " " * (widths[at] - cells(text))
        return gaps[at] + (blank + text if at in right else text + blank)

    return [[(filled(at, text), role) for at, (text, role) in enumerate(row)] for row in rows]
