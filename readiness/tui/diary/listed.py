"""The list of the Diary screen: its lines, and the one under the cursor."""

from __future__ import annotations

from collections.abc import Sequence

from textual.content import Content
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from readiness.tui.diary.rows import DiaryRow


class Listed(OptionList):
    """The lines; those that are heads cannot be chosen."""

    def __init__(self) -> None:
        super().__init__(id="days", markup=False)
        self.rows: Sequence[DiaryRow] = ()
        self._marked: int | None = None

    @property
    def row(self) -> DiaryRow | None:
        """The line under the cursor."""
        at = self.highlighted
        return self.rows[at] if at is not None and at < len(self.rows) else None

    def fill(self, rows: Sequence[DiaryRow]) -> None:
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
