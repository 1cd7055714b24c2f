"""What is half said of a bull, kept at each key: whatever happens, he is there again."""

from __future__ import annotations

from typing import TYPE_CHECKING

from readiness.book.drafts import Half, Halves
from readiness.tui.crush.desk import left_over

if TYPE_CHECKING:
    from readiness.desk.desk import Desk


class Unsaved:
    """The half-entered bulls of one window. ``halves`` is None until they are opened; a book to
    read only keeps none."""

    def __init__(self) -> None:
        self.halves: Halves | None = None
        self._lines: dict[str, Half] = {}
        self._readonly = False

    def open(self, desk: Desk) -> None:
        """Take over what earlier windows left. Touches the disk: not the screen's thread."""
        if self.halves is None:
            self._readonly = desk.readonly
            self.halves = Halves(desk.book.path)
            self._lines = left_over(desk, self.halves)

    def of(self, key: str) -> Half | None:
        """What is half said of this bull."""
        return self._lines.get(key)

    @property
    def keys(self) -> list[str]:
        return list(self._lines)

    def keep(self, half: Half) -> bool:
        """Keep what is said of a bull by now; an empty line: nothing is. Whether it is kept."""
        if self.halves is None or self._readonly:
            return True
        if half.line.strip():
            self._lines[half.key] = half
            return self.halves.put(half)
        self._lines.pop(half.key, None)
        older = self.halves.drop(half.key)
        if older is not None:
            self._lines[half.key] = older
        return True

    def saved(self, key: str) -> None:
        """Nothing is half said of him any more."""
        self._lines.pop(key, None)

    def close(self) -> None:
        if self.halves is not None:
            self.halves.close()
