"""The bare bones of a mixed-integer program, for the solver to read."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

Row = tuple[float, float, list[int], list[float]]
NO_END = float("inf")


@dataclass(slots=True)
class Budget:
    """The seconds of the solver's own time that are ``left``."""

    left: float


class Program:
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
