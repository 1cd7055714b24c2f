"""A folder replaced in one step: what stood there before, or all of the new one, never half."""

from __future__ import annotations

import os
import re
import stat
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from errno import EBUSY, EEXIST, ENOTEMPTY
from pathlib import Path

from readiness.system.errors import ReadinessError
from readiness.system.files import make_room, not_written, reason, sync_folder
from readiness.system.leftovers import ASIDE, draft_folder


@contextmanager
def replaced_folder(target: Path, look: Callable[[Path], None]) -> Iterator[Path]:
    """An empty folder that becomes ``target`` in one step when the block ends well.

    ``look`` is given what stands at the place, now and once more when that has been moved out of
    it, and raises where it must not be lost. Raises CannotWrite too, where the place cannot be
    written; then nothing is touched.
    """
    place = Path(os.path.realpath(target))  # a link stays a link
    look(place)
    make_room(place.parent)
    try:
        with draft_folder(place.parent, earlier=rf"\.{re.escape(place.name)}{EARLIER}") as draft:
            yield draft
            _settle(draft, place, look)
    except OSError as problem:
        why = _NO_PLACE.get(problem.errno or 0, reason(problem))
        raise not_written(problem)(
            f"{target} cannot be written: {why}. What was there before is whole: name another "
            "folder, or see to the disk or the permission."
        ) from problem


EARLIER = r"\.[0-9a-f]{12}\.part(\.wal)?"
"""Behind a name: how drafts were called before they had a name of their own."""


def _settle(draft: Path, place: Path, look: Callable[[Path], None]) -> None:
    """Give the finished draft its place; what stood there is gone after it, unless somebody put
    something of his own in it meanwhile: then it is given its place back, and refused."""
    sync_folder(draft)
    if place.exists():
        _let_in(draft, stat.S_IMODE(place.stat().st_mode))
        exchange(draft, place)
        try:
            look(draft)
        except ReadinessError:
            exchange(draft, place)
            raise
    else:
        os.rename(draft, place)
    sync_folder(place.parent)


def _let_in(draft: Path, mode: int) -> None:
    """Who might look into the folder before may look in, and read what is in it, still."""
    for at, folders, files in os.walk(draft):
        for name in files:
            os.chmod(os.path.join(at, name), mode & _READ_AND_WRITE)
        for name in folders:
            os.chmod(os.path.join(at, name), mode)
    draft.chmod(mode)


_READ_AND_WRITE = 0o666


def exchange(one: Path, other: Path) -> None:
    """``one`` is then where ``other`` was, and the other way round: in one step where the system
    can, else in three, the last of which is undone where it fails. Raises OSError."""
    if _in_one_step(os.fsencode(one), os.fsencode(other)):
        return
    aside = one.with_name(f"{one.name}{ASIDE}")
    os.rename(other, aside)
    try:
        os.rename(one, other)
    except OSError:
        os.rename(aside, other)
        raise
    os.rename(aside, one)


_HERE = -100  # AT_FDCWD
_EXCHANGE = 2  # RENAME_EXCHANGE of Linux (renameat2), RENAME_SWAP of macOS (renamex_np): both are 2


def _in_one_step(one: bytes, other: bytes) -> bool:
    """Whether the system did it at once; Python itself has no name for that."""
    if sys.platform == "win32":
        return False
    import ctypes

    system = ctypes.CDLL(None)
    if hasattr(system, "renameat2"):
        return bool(system.renameat2(_HERE, one, _HERE, other, _EXCHANGE) == 0)
    if hasattr(system, "renamex_np"):
        return bool(system.renamex_np(one, other, _EXCHANGE) == 0)
    return False


_TAKEN = "another program took that place meanwhile"
_NO_PLACE = {
    EBUSY: "it is a disk's own folder, name a new one in it",
    EEXIST: _TAKEN,
    ENOTEMPTY: _TAKEN,
}
