"""The table of bulls: a row each, columns that fit the width, the cursor on the same bull whatever
comes in."""

from __future__ import annotations

from collections.abc import Sequence

from rich.text import Text
from textual.widgets import DataTable

from readiness.report.rows import BoardRow
from readiness.tui.board.columns import GAP, BoardColumn, laid
from readiness.tui.shared.looks import QUIET, Glyphs


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
        return Text(f"{said:>{width}}" if column.right else said, style, no_wrap=True, end="")
