"""What is wrong in a roster, with its place as a spreadsheet shows it."""

from __future__ import annotations

from typing import NamedTuple


class CellProblem(NamedTuple):
    """``row`` 0: of the column as a whole. ``at``: the column, from 0. ``place``: the column in
    words, or a field's name where the roster has no column for it. Sorts by row, then column."""

    row: int
    at: int
    place: str
    text: str

    def __str__(self) -> str:
        where = [f"row {self.row}"] if self.row else []
        where += [self.place] if self.place else []
        return f"{', '.join(where)}: {self.text}" if where else self.text
