"""A list of lines, some of which are heads and cannot be chosen."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Generic, Protocol, TypeVar

from textual.content import Content
from textual.widgets import OptionList
from textual.widgets.option_list import Option


class Line(Protocol):
    """One line (or a few that belong together); ``head``: it cannot be chosen."""

    @property
    def content(self) -> Content: ...

    @property
    def head(self) -> bool: ...


Row = TypeVar("Row", bound=Line)


class Listed(OptionList, Generic[Row]):
    """The lines; those that are heads cannot be chosen."""

    def __init__(self, id: str) -> None:
        super().__init__(id=id, markup=False)
        self.rows: Sequence[Row] = ()
        self._marked: int | None = None

    @property
    def row(self) -> Row | None:
        """The line under the cursor."""
        at = self.highlighted
        return self.rows[at] if at is not None and at < len(self.rows) else None

    def fill(self, rows: Sequence[Row]) -> None:
        """Show these lines, the cursor on that which is nearest to where it was."""
        before, self.rows, self._marked = self.highlighted or 0, rows, None
        self.clear_options()
        self.add_options(Option(row.content, disabled=row.head) for row in rows)
        chosen = [at for at, row in enumerate(rows) if not row.head]
        if chosen:
            self.highlighted = min(chosen, key=lambda at: abs(at - before))

    def mark(self, at: int) -> None:
        """The line under the cursor has no colours of its own: they would not be read on it."""
        before = self._marked
        if before is not None and before < len(self.rows):
            self.replace_option_prompt_at_index(before, self.rows[before].content)
        if at < len(self.rows):
            self.replace_option_prompt_at_index(at, Content(self.rows[at].content.plain))
            self._marked = at
