"""The fewest points that hit every interval: the greedy of the textbooks.

From memory, an exercise in most of them (Cormen, Leiserson, Rivest, Stein, and Kleinberg, Tardos,
in the chapters on greedy algorithms): take the intervals by their right ends; where one is not hit
yet, put a point on its right end. Exact: the intervals that get a point are pairwise apart, so that
no fewer points can do. Here a point may only stand on one of the given days, so the right end of an
interval is its last such day, and two intervals count as apart when no given day lies in both.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable

Window = tuple[int, int]
"""(first day, last day), both in it."""


def fewest_days(
    windows: Iterable[Window], days: Collection[int], kept: Collection[int] = ()
) -> set[int]:
    """The kept days, and of ``days`` as few more as will hit every window that has a day at all."""
    ends = []
    for first, last in windows:
        inside = [day for day in days if first <= day <= last]
        if inside:
            ends.append((max(inside), first))
    chosen = set(kept)
    for end, first in sorted(ends):
        if not any(first <= day <= end for day in chosen):
            chosen.add(end)
    return chosen
