"""The folder of an export: made whole beside its place, and put there in one step. Its files, each
counted and hashed; entries and messages as lines of JSON.

Whatever happens on the way, kill and full disk included, the old export or the new one is there,
never half of one.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Iterable, Iterator
from contextlib import AbstractContextManager
from functools import partial
from pathlib import Path
from typing import Any, TypeVar

from readiness.entries.entry import Entry
from readiness.export.package import FORMAT, MANIFEST, OURS, Written
from readiness.report.as_json import entry_json
from readiness.system.errors import CannotWrite, DataError, ReadinessError
from readiness.system.files import OWN_FILE, bytes_of, make_room, open_own
from readiness.system.folders import replaced_folder
from readiness.system.limits import SMALL_MOST
from readiness.system.plain import plain

_SHOWN = 3


def new_in_place_of(target: Path) -> AbstractContextManager[Path]:
    """An empty folder that becomes ``target`` when the block ends well.

    Raises CannotWrite for a place that cannot be written or holds what an export would lose,
    DataError for a folder that is none of ours; then nothing is touched.
    """
    return replaced_folder(target, partial(_refuse_loss, target))


def _refuse_loss(target: Path, place: Path) -> None:
    """Refuse a place whose content would be lost."""
    try:
        if not os.path.lexists(place):
            return
        if not place.is_dir():
            raise CannotWrite(f"{target} is no folder. Name a new folder for the export.")
        if place.samefile(Path.cwd()):
            raise CannotWrite(
                f"{target} is the folder you stand in, and an export takes its folder's whole "
                "place. Name a new folder in it."
            )
        there = sorted(_files(place))
    except OSError as problem:
        raise CannotWrite(
            f"{target} cannot be looked into, so it is not written over: "
            f"{problem.strerror or problem}. Name another folder."
        ) from problem
    if not there:
        return
    ours = _of_earlier_export(place)
    if ours is None:
        raise DataError(
            f"{target} holds something that is no export of readiness. Nothing was written, so "
            "that nothing is lost: name a new folder, or an empty one."
        )
    if strangers := [path for path in there if path not in ours]:
        more = f" and {len(strangers) - _SHOWN} more" if len(strangers) > _SHOWN else ""
        raise DataError(
            f"{target} holds files that no export wrote: {', '.join(strangers[:_SHOWN])}{more}. "
            "Nothing was written, so that they are not lost: move them away, or name a new folder."
        )


def _files(place: Path) -> Iterator[str]:
    """Everything in the folder that is no folder, and every folder with nothing in it."""

    def fails(problem: OSError) -> None:
        raise problem

    for folder, folders, names in os.walk(place, onerror=fails):
        inside = Path(folder)
        linked = [name for name in folders if (inside / name).is_symlink()]
        for name in (*names, *linked):
            yield (inside / name).relative_to(place).as_posix()
        if inside != place and not (names or folders):
            yield inside.relative_to(place).as_posix()


def _of_earlier_export(place: Path) -> frozenset[str] | None:
    """The paths that an earlier export wrote here; None where its manifest is none of ours."""
    try:
        found = json.loads(bytes_of(place / MANIFEST, SMALL_MOST))
        ours = found[OURS]
        if ours["format"] != FORMAT:
            return None
        return frozenset((MANIFEST, *(str(written["path"]) for written in ours["files"])))
    except (ReadinessError, ValueError, LookupError, TypeError, RecursionError):
        return None


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
        new = open_own(self.room_for(path), os.O_CREAT | os.O_EXCL | os.O_WRONLY)
        with os.fdopen(new, "wb") as handle:
            handle.writelines(pieces)
        return self.took(path, rows.count if isinstance(rows, Counted) else rows)

    def took(self, path: str, rows: int | None) -> Written:
        """Take in a file that is written there."""
        (self.root / path).chmod(OWN_FILE)  # the database does not ask for whom it writes
        with (self.root / path).open("r+b") as handle:
            digest = hashlib.file_digest(handle, "sha256").hexdigest()
            size = handle.seek(0, os.SEEK_END)
            os.fsync(handle.fileno())
        self.files[path] = Written(path, size, digest, rows)
        return self.files[path]

    def room_for(self, path: str) -> Path:
        """The place of a file, its folders made."""
        target = self.root / path
        make_room(target.parent)
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
