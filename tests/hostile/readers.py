"""What a reader is here, and how many inputs are tried on it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st

from tests.hostile.watch import Box, Ran, count


class Reader(NamedTuple):
    """``share``: of a hundred rows of a run; ``cases``: what is made up; ``read``: what reads one;
    ``rows``: how many rows a case is."""

    name: str
    share: float
    cases: st.SearchStrategy[Any]
    read: Callable[[Box, Any], Ran]
    rows: Callable[[Any], int] = lambda _: 1


@dataclass
class Tally:
    """What came of a reader's cases. ``wrong``: of each column how many; ``told``: the first."""

    reader: str
    rows: int = 0
    refused: int = 0
    taken: int = 0
    wrong: Counter[str] = field(default_factory=Counter)
    told: list[str] = field(default_factory=list)
    slowest: float = 0.0

    def add(self, case: Any, rows: int, ran: Ran) -> None:
        self.rows += rows
        self.refused += rows * ran.refused
        self.taken += rows * (not ran.refused)
        self.slowest = max(self.slowest, ran.seconds)
        for column, words in ran.wrong:
            self.wrong[column] += 1
            if self.wrong[column] <= 5:
                self.told.append(f"{self.reader}, {column}: {words}\n    {case!r:.2000}")


def tried(
    reader: Reader,
    box: Box,
    rows: int,
    start: int = 0,
    *,
    examples: int = 10**6,
    counted: bool = False,
) -> Tally:
    """So many rows of a reader, or so many cases, whichever is reached first. ``counted``: the
    entries of the book too, before and after a refusal."""
    tally = Tally(reader.name)

    @seed(start)
    @settings(max_examples=examples, database=None, deadline=None, phases=[Phase.generate],
              suppress_health_check=list(HealthCheck))  # fmt: skip
    @given(reader.cases)
    def each(case: Any) -> None:
        if tally.rows >= rows:
            raise _Enough
        before = count(box.book) if counted else 0
        ran = reader.read(box, case)
        if counted and ran.refused and count(box.book) != before:
            ran.wrong.append(("wrote", "entries were written though it was refused"))
        tally.add(case, reader.rows(case), ran)

    with suppress(_Enough):
        each()
    return tally


class _Enough(Exception):
    """As many rows as were asked for."""
