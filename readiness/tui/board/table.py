"""The table of bulls: a row each, columns that fit the width, the cursor on the same bull whatever
comes in."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from typing import NamedTuple

from rich.text import Text
from textual.widgets import DataTable

from readiness.report.rows import BoardRow, aloud
from readiness.report.spans import what_is_left
from readiness.system.width import cells
from readiness.trade.temper import warned
from readiness.trade.words import column_day
from readiness.tui.shared.looks import ORANGE, QUIET, ROLES, TEXT, Glyphs, in_colour

USUAL, WIDE = 80, 110
SCROLLBAR = GAP = 1
LEAST_WHY, GOOD_WHY = 20, 24


Says = Callable[[BoardRow, Glyphs, int], tuple[str, str]]
"""What a cell of so much room says, and its style."""


class BoardColumn(NamedTuple):
    """A column: its head, what a cell says and its style, its most and least cells, from which
    width of screen on it is there, and whether it may go: the lowest ``last_to_go`` first."""

    head: str
    cell: Says
    most: int
    least: int
    from_width: int = 0
    last_to_go: int | None = None
    right: bool = False


def _state(row: BoardRow, glyphs: Glyphs, room: int) -> tuple[str, str]:
    sign = glyphs.sign(row.mark)
    words = f"{sign} {row.of.status}"
    return words if len(words) <= room else sign, f"bold {ROLES[row.mark]}"


def _bull(row: BoardRow, glyphs: Glyphs, room: int) -> tuple[str, str]:
    mark = warned("", row.temper)
    name = glyphs.fit(glyphs.text(row.bull), room - len(mark))
    return name + mark, f"bold {TEXT}"


def _why(row: BoardRow, glyphs: Glyphs, room: int) -> tuple[str, str]:
    """The first of his reasons, or of what is to be asked first, and how many more there are: only
    at length all of the latter stand there."""
    held, asked = len(row.of.reasons), len(aloud(row.of)) if row.mark == "care" else 1
    forms = [glyphs.text(form) for form in row.forms]
    others = [held - 1 if held else asked - 1 if at else 0 for at in range(len(forms))]
    ends = [f" +{count}" if count > 0 else "" for count in others]
    fits = (pair for pair in zip(forms, ends, strict=True) if cells("".join(pair)) <= room)
    form, more = next(fits, (forms[-1], ends[-1]))
    return glyphs.fit(form, room - len(more)) + more, ROLES[row.mark]


def _next(row: BoardRow, glyphs: Glyphs, room: int) -> tuple[str, str]:
    late = f"{glyphs.late} " if _overdue(row) else "  "
    more = f" +{len(row.soon)}" if row.soon else ""
    said = glyphs.fit(late + glyphs.text(row.next), room - len(more))
    return said + more, _urgent(_overdue(row))


def _from(row: BoardRow, glyphs: Glyphs, room: int) -> tuple[str, str]:
    day = column_day(row.check.not_before, row.on) if row.check else ""
    return _short_year(day, room), QUIET


def _overdue(row: BoardRow) -> bool:
    return row.check is not None and row.check.overdue


def _urgent(late: bool) -> str:
    return f"bold {ORANGE}" if late else TEXT


def _short_year(day: str, room: int) -> str:
    """The day as it stands, or its year as '27 where it would not fit."""
    return day if len(day) <= room else re.sub(r" \d\d(\d\d)$", r" '\1", day)


COLUMNS = (
    BoardColumn("", _state, most=6, least=1),
    BoardColumn("bull", _bull, most=24, least=13),
    BoardColumn("why", _why, most=999, least=0),
    BoardColumn("group", lambda row, glyphs, _: (glyphs.text(row.of.group or ""), QUIET),
           most=16, least=8, from_width=WIDE, last_to_go=1),
    BoardColumn("could go", lambda row, _, room: (_short_year(row.ready, room), TEXT),
           most=11, least=10, from_width=USUAL, last_to_go=3),
    BoardColumn("spare", lambda row, *_: (row.slack, _urgent((row.of.slack_days or 0) < 0)),
           most=5, least=5, from_width=USUAL, last_to_go=2, right=True),
    BoardColumn("  next", _next, most=18, least=15),
    BoardColumn("from", _from, most=11, least=10, from_width=WIDE, last_to_go=1),
    BoardColumn("by", lambda row, _, room: (_short_year(row.by, room), _urgent(_overdue(row))),
           most=11, least=10),
    BoardColumn("who", lambda row, *_: (row.check.who if row.check else "", QUIET),
           most=8, least=7, from_width=WIDE, last_to_go=0),
)  # fmt: skip


def laid(rows: Sequence[BoardRow], width: int, glyphs: Glyphs) -> list[tuple[BoardColumn, int]]:
    """The columns that a table of ``width`` cells shows, each with its width less the gap.

    Each is as wide as what it says, up to its most; the reason takes what is over. Where that is
    too little, the wide ones shrink, then columns go.
    """
    shown = [column for column in COLUMNS if width >= column.from_width]
    others = [column for column in shown if column.head != "why"]
    wants = {column.head: GAP + _wanted(column, rows, glyphs) for column in others}
    room = width - SCROLLBAR
    if (
        room - sum(wants.values()) < GOOD_WHY
    ):  # without the word beside the mark: the legend says it
        signs = max((len(glyphs.sign(row.mark)) for row in rows), default=1)
        wants[""] = min(wants[""], GAP + signs)
    going = sorted((each.last_to_go, each.head) for each in others if each.last_to_go is not None)
    gives = [(column.head, GAP + column.least) for column in reversed(others)]
    over = what_is_left(room, wants, LEAST_WHY, [*gives, *((head, 0) for _, head in going)])
    wants["why"] = max(over, GAP + 1)
    return [(column, wants[column.head] - GAP) for column in shown if column.head in wants]


def _wanted(column: BoardColumn, rows: Sequence[BoardRow], glyphs: Glyphs) -> int:
    said = [cells(column.cell(row, glyphs, column.most)[0]) for row in rows]
    return min(max([len(column.head), *said]), column.most)


class BullTable(DataTable[Text]):
    """Rows by bull. they may change at any time; the cursor stays with its bull."""

    def __init__(self, glyphs: Glyphs) -> None:
        super().__init__(
            cursor_type="row",
            cell_padding=0,
            show_row_labels=False,
            cursor_foreground_priority="css",
            cursor_background_priority="css",
            id="bulls",
        )
        self._glyphs = glyphs
        self._bulls: tuple[BoardRow, ...] = ()
        self._laid: list[tuple[BoardColumn, int]] = []
        self._width = 0

    @property
    def bull(self) -> BoardRow | None:
        """The bull under the cursor."""
        at = self.cursor_row
        return self._bulls[at] if 0 <= at < len(self._bulls) else None

    def says(self, head: str) -> bool:
        """Whether it has the column of this head, at the width that it has."""
        return any(column.head == head for column, _ in self._laid)

    def fill(self, rows: Sequence[BoardRow], width: int, *, first: bool = False) -> None:
        """Show these bulls in ``width`` cells. ``first``: put the cursor on the first of them, not
        on the bull where it stands."""
        rows = tuple(rows)
        if rows == self._bulls and width == self._width and self._laid and not first:
            return
        keep, at = self.bull, self.cursor_row
        self._bulls, self._width = rows, width
        self._draw()
        keys = [row.key for row in rows]
        if first or not keys:
            at = 0
        elif keep is not None and keep.key in keys:
            at = keys.index(keep.key)
        self.move_cursor(row=min(at, max(len(keys) - 1, 0)), animate=False)

    def _draw(self) -> None:
        top = self.scroll_y
        self.clear(columns=True)
        self._laid = laid(self._bulls, self._width, self._glyphs)
        for column, width in self._laid:
            head = self._cell(column, width, column.head, f"bold {QUIET}")
            self.add_column(head, width=width + GAP)
        for row in self._bulls:
            cells = (
                self._cell(column, width, *column.cell(row, self._glyphs, width))
                for column, width in self._laid
            )
            self.add_row(*cells, key=row.key)
        self.scroll_to(y=top, animate=False)

    def _cell(self, column: BoardColumn, width: int, said: str, style: str) -> Text:
        """A cell's text, cut to its column."""
        said = self._glyphs.fit(self._glyphs.text(said), width)
        style = in_colour(style, self.app.theme_variables)
        return Text(f"{said:>{width}}" if column.right else said, style, no_wrap=True, end="")
