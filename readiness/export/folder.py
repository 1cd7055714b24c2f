"""Files of an export, each counted and hashed; entries and messages as lines of JSON."""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any, TypeVar

from readiness.entries.entry import Entry
from readiness.export.package import Written
from readiness.report.as_json import entry_json
from readiness.system.plain import plain

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


def entry_pieces(entries: Iterable[Entry]) -> Iterator[bytes]:
    """A line for each entry, as ``import`` takes it over: content, id and earliest receipt."""
    for entry in entries:
        yield _line(entry_json(entry)) + b"\n"


def array_pieces(items: Iterable[Any]) -> Iterator[bytes]:
    """One JSON array, an item a line."""
    before = b"[\n"
    for item in items:
        yield before + _line(item)
        before = b",\n"
    yield b"[]\n" if before == b"[\n" else b"\n]\n"


def _line(value: Any) -> bytes:
    """The value in one line: readable where its text is plain, else every odd character escaped,
    so that nobody's terminal or eye is led astray, and nothing is changed."""
    line = json.dumps(value, ensure_ascii=False, allow_nan=False)
    if plain(line) != line:
        line = json.dumps(value, allow_nan=False)
    return line.encode("utf-8")
