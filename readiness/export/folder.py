"""Files of an export, each counted and hashed."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any, TypeVar

from readiness.export.package import Written

Item = TypeVar("Item")


class Folder:
    """The folder being written. ``files``: what is in it so far, by path, in order."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self.files: dict[str, Written] = {}

    def write(
        self, path: str, pieces: Iterable[bytes], rows: int | Counted[Any] | None = None
    ) -> Written:
        """Write one file; ``rows``: how many it holds, or who has counted them by then, if it has
        any."""
        with self.room_for(path).open("xb") as handle:
            handle.writelines(pieces)
        return self.took(path, rows.count if isinstance(rows, Counted) else rows)

    def took(self, path: str, rows: int | None) -> Written:
        """Take in a file that is written there."""
        with (self.root / path).open("r+b") as handle:
            digest = hashlib.file_digest(handle, "sha256").hexdigest()
            size = handle.seek(0, os.SEEK_END)
            os.fsync(handle.fileno())
        self.files[path] = Written(path, size, digest, rows)
        return self.files[path]

    def room_for(self, path: str) -> Path:
        """The place of a file, its folder made."""
        target = self.root / path
        target.parent.mkdir(exist_ok=True)
        return target


class Counted(Iterable[Item]):
    """What passes through it, and how many that were."""

    def __init__(self, items: Iterable[Item]) -> None:
        self._items = items
        self.count = 0

    def __iter__(self) -> Iterator[Item]:
        for item in self._items:
            self.count += 1
            yield item
