"""The bare bones of a mixed-integer program, for the solver to read."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from readiness.visits.problem import Farm, Problem

Row = tuple[float, float, list[int], list[float]]
NO_END = float("inf")


class Columns:
    """Columns 0 … ``width`` - 1 of whole numbers from ``lower`` to ``upper``, and ``rows`` of
    (least, most, columns, factors)."""

    def __init__(self) -> None:
        self.rows: list[Row] = []
        self.width = 0
        self.upper: list[float] = []
        self.lower: list[float] = []

    def column(self, *, must: bool = False, most: float = 1.0) -> int:
        """A new column, up to ``most``; ``must``: it is 1."""
        self.lower.append(1.0 if must else 0.0)
        self.upper.append(most)
        self.width += 1
        return self.width - 1

    def row(self, least: float, most: float, terms: Iterable[tuple[int, float]]) -> None:
        """``least`` ≤ the sum of (column, factor) ≤ ``most``."""
        pairs = list(terms)
        self.rows.append((least, most, [c for c, _ in pairs], [f for _, f in pairs]))

    def objective(self, terms: Iterable[tuple[int, float]]) -> list[float]:
        """What each column costs."""
        costs = [0.0] * self.width
        for column, factor in terms:
            costs[column] = factor
        return costs

    def one_farm_a_day(self, problem: Problem, visits: Mapping[tuple[str, int], int]) -> None:
        """Of the farms visited on a day all must share it, or there is one."""
        alone = [farm for farm in problem.farms if not farm.shares]
        shared: list[Farm | None] = [farm for farm in problem.farms if farm.shares]
        if not alone or len(problem.farms) < 2:
            return
        for day in sorted({day for farm in problem.farms for day in farm.days}):
            for guest in shared or [None]:
                farms = [*alone, *([guest] if guest else [])]
                terms = [
                    (visits[farm.name, day], 1.0) for farm in farms if (farm.name, day) in visits
                ]
                if len(terms) > 1:
                    self.row(0.0, 1.0, terms)
