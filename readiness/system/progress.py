"""How far something long has come, for whoever shows it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import TypeVar

Progress = Callable[[int, int], None]
"""Told how much is done, of how much in all, in whatever unit."""
Each = TypeVar("Each")
_WHOLE = 1000
_AT_A_TIME = 500


def nobody(_done: int, _total: int) -> None:
    """Where nobody asks."""


def part(progress: Progress, begins: float, ends: float) -> Progress:
    """For a part of the work that takes it from one share of the whole to another, each 0 to 1."""

    def tell(done: int, total: int) -> None:
        share = min(done / total, 1.0) if total else 1.0
        progress(round(_WHOLE * (begins + (ends - begins) * share)), _WHOLE)

    return tell


def counted(values: Iterable[Each], total: int, progress: Progress) -> Iterator[Each]:
    """The values one after the other, and now and then how many of them were taken."""
    done = 0
    for done, value in enumerate(values, start=1):
        yield value
        if done % _AT_A_TIME == 0:
            progress(done, total)
    if done % _AT_A_TIME:
        progress(done, total)
