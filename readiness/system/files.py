"""Files: read what a person gave, write whole or not at all, for its user alone.

Never for a book's own file: to open and close that would drop the lock this process may hold on it.
"""

from __future__ import annotations

import os
import shutil
import stat
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from errno import EDQUOT, EFBIG, ENOSPC
from pathlib import Path

from readiness.system.errors import CannotWrite, DataError, NoRoom, NotFound
from readiness.system.leftovers import OWN_FOLDER, SUFFIX_FILE, clear_leftovers, held, new_name
from readiness.system.limits import MEGABYTE

OWN_FILE = 0o600
"""The permissions of a file that the program makes, for its user alone; of a folder ``OWN_FOLDER``.
What somebody gave other permissions keeps them."""

_AS_IS = getattr(os, "O_BINARY", 0)
_AT_ONCE = getattr(os, "O_NONBLOCK", 0)
_NO_LINK = getattr(os, "O_NOFOLLOW", 0)

# ---- what the program makes is for its user alone ------------------------------------------------


def open_own(path: Path, flags: int) -> int:
    """A handle on a file of the program's own, for its user alone where it is made now; a link in
    its place is not followed. Raises OSError."""
    return os.open(path, flags | _AS_IS | _NO_LINK, OWN_FILE)


def of_a_copy(mode: int) -> int:
    """The permissions of a copy of a file of this mode: for its user alone, and no more than it."""
    return stat.S_IMODE(mode) & OWN_FILE


def make_room(folder: Path) -> None:
    """The folder, made where it is not there yet; raises CannotWrite."""
    try:
        for each in (*reversed(folder.parents), folder):
            if not each.exists():
                each.mkdir(OWN_FOLDER, exist_ok=True)
        folder.mkdir(exist_ok=True)  # refused where something else stands there
    except OSError as problem:
        raise CannotWrite(
            f"The folder {folder} cannot be made: {reason(problem)}. Name another place."
        ) from problem


def refuse_link(path: Path, what: str) -> None:
    """Raise CannotWrite where a link stands at a place that the program chooses for itself: it
    would write where somebody else wants it to."""
    if path.is_symlink():
        raise CannotWrite(
            f"{path} is a link, and {what} is never written through one. Move the link away; "
            "nothing was written."
        )


# ---- read ----------------------------------------------------------------------------------------


def bytes_of(path: Path, most: int, what: str = "entries") -> bytes:
    """What a file that a person gave us holds, at most ``most`` bytes. ``NotFound`` where it cannot
    be read; ``DataError`` for one that is larger, for a folder, and for a pipe or a device, which
    might never end."""
    try:
        data, kind = _read(path, most)
    except FileNotFoundError as problem:
        raise NotFound(f"{path}: there is no such file. Give the right path.") from problem
    except (OSError, ValueError) as problem:
        raise NotFound(
            f"{path}: the file cannot be read: {reason(problem)}. Give the right path, or see to "
            "its permission."
        ) from problem
    if data is None:
        raise DataError(f"{path}: this is {kind}. Give a file of {what}.")
    if len(data) > most:
        text = f"{path}: {too_large(most)}, more than a file of {what} can have"
        raise DataError(f"{text}. Give the right file, or part it.")
    return data


def bytes_there(path: Path, what: str, most: int) -> bytes | None:
    """What stands in a file that is to be written over; None where there is none yet. Raises
    CannotWrite for what is no file, is larger than ``most`` bytes, or cannot be read and so not be
    judged."""
    try:
        data, kind = _read(path, most)
    except FileNotFoundError:
        return None
    except (OSError, ValueError) as problem:
        raise CannotWrite(
            f"{path} cannot be read, so it is not written over: {reason(problem)}. Name another "
            "file."
        ) from problem
    if data is None:
        raise CannotWrite(f"{path} is {kind}. Name a file for the {what}.")
    if len(data) > most:
        raise CannotWrite(
            f"{path}: {too_large(most)}, more than a {what} of ours has, so it is not written "
            "over. Name another file."
        )
    return data


def too_large(most: int) -> str:
    size = f"{most // MEGABYTE} MB" if most >= MEGABYTE else f"{most // 1000} kB"
    return f"the file has more than {size}"


def _read(path: Path, most: int) -> tuple[bytes | None, str]:
    """Up to one byte more than ``most``; or None, and what it is that is no file. A pipe that
    nobody writes into is not waited for."""
    mode = path.stat().st_mode
    if not stat.S_ISREG(mode):
        return None, _kind(mode)
    with os.fdopen(os.open(path, os.O_RDONLY | _AS_IS | _AT_ONCE), "rb") as handle:
        there = os.fstat(handle.fileno())
        if not stat.S_ISREG(there.st_mode):
            return None, _kind(there.st_mode)
        if there.st_size > most:  # not to be read in vain
            handle.seek(there.st_size - most - 1)
        pieces, left = [], most + 1
        while left and (piece := handle.read(min(left, MEGABYTE))):
            pieces.append(piece)
            left -= len(piece)
        return b"".join(pieces), ""


def _kind(mode: int) -> str:
    if stat.S_ISDIR(mode):
        return "a folder"
    return "a pipe and no file" if stat.S_ISFIFO(mode) or stat.S_ISSOCK(mode) else "a device"


# ---- write whole or not at all -------------------------------------------------------------------


def write_whole(path: Path, data: bytes | Iterable[bytes]) -> None:
    """The new bytes at once in the old ones' place, with their permissions; a link stays a link.
    Raises CannotWrite; then what was there before is whole."""
    target = Path(os.path.realpath(path))
    try:
        mode = _mode_to_keep(target)
        with _draft(target.parent, data) as draft:
            if mode is not None:  # who might read it may read it still
                draft.chmod(mode)
            os.replace(draft, target)
        sync_folder(target.parent)
    except OSError as problem:
        raise not_written(problem)(
            f"{path} cannot be written: {reason(problem)}. What was there before is whole: name "
            "another file, or see to the folder or the disk."
        ) from problem


def write_new(path: Path, data: bytes) -> bool:
    """A new file, whole or not at all; False where something stands there already, which is left
    as it is. Raises CannotWrite."""
    make_room(path.parent)
    try:
        with _draft(path.parent, (data,)) as draft:
            settle_new(draft, path)
        sync_folder(path.parent)
    except FileExistsError:
        return False
    except OSError as problem:
        raise not_written(problem)(
            f"{path} cannot be written: {reason(problem)}. See to the folder or the disk."
        ) from problem
    return True


def copied_aside(path: Path) -> Path:
    """The file under a free name of its own beside it, too: ``name.1``, ``name.2`` and so on.
    Raises CannotWrite."""
    try:
        for count in range(1, 10_000):
            aside = path.with_name(f"{path.name}.{count}")
            if not os.path.lexists(aside):
                shutil.copy2(path, aside, follow_symlinks=False)
                return aside
    except OSError as problem:
        raise CannotWrite(
            f"{path} cannot be kept under another name: {reason(problem)}. Move it away yourself."
        ) from problem
    raise CannotWrite(f"Beside {path} too many of its copies are kept. Move them away.")


def settle_new(draft: Path, path: Path) -> None:
    """Give a finished draft its name, where a plain rename would take the place of what has
    appeared there meanwhile. Raises FileExistsError where something stands there, OSError."""
    try:
        os.link(draft, path)
    except FileExistsError:
        raise
    except OSError:
        if os.path.lexists(path):
            raise FileExistsError(path) from None
        os.rename(draft, path)  # a file system without links, as on a memory stick


@contextmanager
def _draft(folder: Path, data: bytes | Iterable[bytes]) -> Iterator[Path]:
    """A file that holds ``data``, on the disk itself, and is gone when the block ends unless it was
    given another name."""
    clear_leftovers(folder)
    draft = folder / new_name(SUFFIX_FILE)
    try:
        made = open_own(draft, os.O_CREAT | os.O_EXCL | os.O_WRONLY)
        with os.fdopen(made, "wb") as handle, held(made):
            handle.writelines((data,) if isinstance(data, bytes) else data)
            handle.flush()
            os.fsync(made)
            yield draft
    finally:
        with suppress(OSError):  # in its place by now, or the disk's own fault is told
            draft.unlink()


def _mode_to_keep(target: Path) -> int | None:
    try:
        target.open("r+b").close()  # a new one in its place would pass over who may write it
    except FileNotFoundError:
        return None
    return stat.S_IMODE(target.stat().st_mode)


def sync_folder(folder: Path) -> None:
    """What a folder names is on the disk (where the system can say so)."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def not_written(problem: OSError) -> type[CannotWrite]:
    """The error that says so: that there is no room is one of its own."""
    return NoRoom if problem.errno in (ENOSPC, EDQUOT, EFBIG) else CannotWrite


def reason(problem: OSError | ValueError) -> str:
    """Why, in the system's words. (A path with a NUL in it is a ValueError.)"""
    return (problem.strerror if isinstance(problem, OSError) else None) or str(problem)
