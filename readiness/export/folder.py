"""Files of an export, each counted and hashed while it is written."""

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
        target = self.room_for(path)
        digest, size = hashlib.sha256(), 0
        with target.open("xb") as handle:
            for piece in pieces:
                handle.write(piece)
                digest.update(piece)
                size += len(piece)
            handle.flush()
            os.fsync(handle.fileno())
        counted = rows.count if isinstance(rows, Counted) else rows
        return self._keep(Written(path, size, digest.hexdigest(), counted))

    def took(self, path: str, rows: int | None) -> Written:
        """Take in a file that somebody else has written there."""
        with (self.root / path).open("r+b") as handle:
            digest = hashlib.file_digest(handle, "sha256").hexdigest()
            size = handle.seek(0, os.SEEK_END)
            os.fsync(handle.fileno())
        return self._keep(Written(path, size, digest, rows))

    def room_for(self, path: str) -> Path:
        """The place of a file, its folder made."""
        target = self.root / path
        target.parent.mkdir(exist_ok=True)
        return target

    def _keep(self, written: Written) -> Written:
        self.files[written.path] = written
        return written


class Counted(Iterable[Item]):
    """What passes through it, and how many that were."""

    def __init__(self, items: Iterable[Item]) -> None:
        self._items = items
        self.count = 0

    def __iter__(self) -> Iterator[Item]:
        for item in self._items:
            self.count += 1
            yield item
