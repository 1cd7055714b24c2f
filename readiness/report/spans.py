"""Text laid out once, as spans: what it says, and in which role. A painter for the command's text
and one for the screen know what each role looks like."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, MutableMapping, Sequence

from readiness.system.width import cells

Span = tuple[str, str]
"""Text and its role: "" (as text is), "quiet", "strong", "strong quiet", "head", "alert",
"overdue", "turnout", or a bull's state: "reason", "checks", "go", "care"."""

Spans = list[Span]


def width_of(spans: Iterable[Span]) -> int:
    """How many columns they take."""
    return sum(cells(text) for text, _ in spans)


def fitted(spans: Iterable[Span], room: int, fit: Callable[[str, int], str]) -> Spans:
    """As much of them as fits into ``room`` columns; ``fit`` cuts a text."""
    kept = []
    for text, role in spans:
        kept.append((fit(text, room), role))
        room -= cells(kept[-1][0])
    return kept


def aligned(
    rows: Sequence[Sequence[Span]],
    gaps: Sequence[str],
    right: Collection[int],
    least: Sequence[int],
) -> list[Spans]:
    """The rows in columns, each as wide as what it says and its ``least`` at least, its gap before
    it; ``right``: the columns that are filled up on the left."""
    widths = list(least)
    for row in rows:
        widths[: len(row)] = map(max, widths, (cells(text) for text, _ in row))

    def filled(at: int, text: str) -> str:
        blank = " " * (widths[at] - cells(text))
        return gaps[at] + (blank + text if at in right else text + blank)

    return [[(filled(at, text), role) for at, (text, role) in enumerate(row)] for row in rows]


def what_is_left(
    room: int, wants: MutableMapping[str, int], least: int, gives: Iterable[tuple[str, int]]
) -> int:
    """What columns that want so much leave of a table's width. While that is less than ``least``
    they give in turn: down to so much, to 0 those that go."""
    for column, keeps in gives:
        short = least - (room - sum(wants.values()))
        if short <= 0:
            break
        if keeps == 0:
            del wants[column]
        else:
            wants[column] = min(wants[column], max(keeps, wants[column] - short))
    return room - sum(wants.values())
