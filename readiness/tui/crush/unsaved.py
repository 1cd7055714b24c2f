"""What is half said of a bull, kept at each key: whatever happens, he is there again."""

from __future__ import annotations

from typing import TYPE_CHECKING

from readiness.book.drafts import Draft, Drafts
from readiness.tui.crush.desk import left_over

if TYPE_CHECKING:
    from readiness.desk.desk import Desk


class Unsaved:
    """The half-entered bulls of one window. ``drafts`` is None until they are opened; a book to
    read only keeps none."""

    def __init__(self) -> None:
        self.drafts: Drafts | None = None
        self._lines: dict[str, Draft] = {}
        self._readonly = False

    def open(self, desk: Desk) -> None:
        """Take over what earlier windows left. Touches the disk: not the screen's thread."""
        if self.drafts is None:
            self._readonly = desk.readonly
            self.drafts = Drafts(desk.book.path)
            self._lines = left_over(desk, self.drafts)

    def of(self, key: str) -> Draft | None:
        """What is half said of this bull."""
        return self._lines.get(key)

    @property
    def keys(self) -> list[str]:
        return list(self._lines)

    def keep(self, draft: Draft) -> bool:
        """Keep what is said of a bull by now; an empty line: nothing is. Whether it is kept."""
        if self.drafts is None or self._readonly:
            return True
        if draft.line.strip():
            self._lines[draft.key] = draft
            return self.drafts.put(draft)
        self._lines.pop(draft.key, None)
        older = self.drafts.drop(draft.key)
        if older is not None:
            self._lines[draft.key] = older
        return True

    def saved(self, key: str) -> None:
        """Nothing is half said of him any more."""
        self._lines.pop(key, None)

    def close(self) -> None:
        if self.drafts is not None:
            self.drafts.close()
