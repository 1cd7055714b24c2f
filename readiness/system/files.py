"""Files and folders: read what a person gave, write whole or not at all, replace a folder.

Never for a book's own file: to open and close that would drop the lock this process may hold on it.
"""

from __future__ import annotations

import os
import secrets
import shutil
import stat
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from errno import EBUSY, EEXIST, ENOTEMPTY
from pathlib import Path

from readiness.system.errors import CannotWrite, DataError, NotFound, ReadinessError

# To open a file's bytes as they are, and the file itself, not what a link in its place leads to.
AS_IS = getattr(os, "O_BINARY", 0) | getattr(os, "O_NOFOLLOW", 0)


def bytes_of(path: Path) -> bytes:
    """What a file that a person gave us holds; ``NotFound`` where it cannot be read, ``DataError``
    for a folder, and for a device, which might never end."""
    try:
        if path.is_char_device() or path.is_block_device():
            raise DataError(f"{path}: this is a device. Give a file of entries.")
        return path.read_bytes()
    except FileNotFoundError as problem:
        raise NotFound(f"{path}: there is no such file. Give the right path.") from problem
    except IsADirectoryError as problem:
        raise DataError(f"{path}: this is a folder. Give a file of entries in it.") from problem
    except OSError as problem:
        raise NotFound(
            f"{path}: the file cannot be read: {_reason(problem)}. Give the right path, or see to "
            "its permission."
        ) from problem


def bytes_there(path: Path, what: str) -> bytes | None:
    """What stands in a file that is to be written over; None where there is none yet. Raises
    CannotWrite for what is no file, or cannot be read and so not be judged."""
    try:
        mode = path.stat().st_mode
        if not stat.S_ISREG(mode):
            is_what = "a folder" if stat.S_ISDIR(mode) else "no ordinary file"
            raise CannotWrite(f"{path} is {is_what}. Name a file for the {what}.")
        return path.read_bytes()
    except FileNotFoundError:
        return None
    except OSError as problem:
        raise CannotWrite(
            f"{path} cannot be read, so it is not written over: {_reason(problem)}. Name another "
            "file."
        ) from problem


def write_whole(path: Path, data: bytes | Iterable[bytes]) -> None:
    """The new bytes at once in the old ones' place, with their permissions; a link stays a link.
    Raises CannotWrite; then what was there before is whole."""
    target = Path(os.path.realpath(path))
    draft = target.with_name(f".readiness-{secrets.token_hex(8)}.tmp")
    try:
        mode = _mode_to_keep(target)
        with draft.open("xb") as handle:
            handle.writelines((data,) if isinstance(data, bytes) else data)
            handle.flush()
            os.fsync(handle.fileno())
        if mode is not None:  # who might read it may read it still
            draft.chmod(mode)
        os.replace(draft, target)
        sync_folder(target.parent)
    except OSError as problem:
        raise CannotWrite(
            f"{path} cannot be written: {_reason(problem)}. What was there before is whole: name "
            "another file, or see to the folder or the disk."
        ) from problem
    finally:
        with suppress(OSError):  # in its place by now, or the disk's own fault is told
            draft.unlink()


def write_new(path: Path, data: bytes) -> bool:
    """A new file, whole or not at all; False where something stands there already, which is left
    as it is. Raises CannotWrite."""
    make_room(path.parent)
    draft = path.with_name(f".readiness-{secrets.token_hex(8)}.tmp")
    try:
        draft.write_bytes(data)
        os.link(draft, path)  # where a rename would take the place of what stands there
    except FileExistsError:
        return False
    except OSError as problem:
        raise CannotWrite(
            f"{path} cannot be written: {_reason(problem)}. See to the folder or the disk."
        ) from problem
    finally:
        with suppress(OSError):
            draft.unlink()
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
            f"{path} cannot be kept under another name: {_reason(problem)}. Move it away yourself."
        ) from problem
    raise CannotWrite(f"Beside {path} too many of its copies are kept. Move them away.")


def _mode_to_keep(target: Path) -> int | None:
    try:
        target.open("r+b").close()  # a new one in its place would pass over who may write it
    except FileNotFoundError:
        return None
    return stat.S_IMODE(target.stat().st_mode)


def make_room(folder: Path) -> None:
    """The folder, made where it is not there yet; raises CannotWrite."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as problem:
        raise CannotWrite(
            f"The folder {folder} cannot be made: {problem.strerror}. Name another place."
        ) from problem


def sync_folder(folder: Path) -> None:
    """What a folder names is on the disk (where the system can say so)."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


@contextmanager
def replaced_folder(target: Path, look: Callable[[Path], None]) -> Iterator[Path]:
    """An empty folder that becomes ``target`` in one step when the block ends well.

    ``look`` is given what stands at the place, now and once more when that has been moved out of
    it, and raises where it must not be lost. Raises CannotWrite too, where the place cannot be
    written; then nothing is touched. (Killed, it leaves a hidden folder beside, named ``*.part``.)
    """
    place = Path(os.path.realpath(target))  # a link stays a link
    look(place)
    draft = place.with_name(f".{place.name}.{secrets.token_hex(6)}.part")
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        draft.mkdir()
        yield draft
        _settle(draft, place, look)
    except OSError as problem:
        why = _NO_PLACE.get(problem.errno or 0, _reason(problem))
        raise CannotWrite(
            f"{target} cannot be written: {why}. What was there before is whole: name another "
            "folder, or see to the disk or the permission."
        ) from problem
    finally:
        shutil.rmtree(draft, ignore_errors=True)


def _settle(draft: Path, place: Path, look: Callable[[Path], None]) -> None:
    """Give the finished draft its place; what stood there is gone after it, unless somebody put
    something of his own in it meanwhile: then it is given its place back, and refused."""
    sync_folder(draft)
    if place.exists():
        draft.chmod(stat.S_IMODE(place.stat().st_mode))  # who might look in may look in still
        exchange(draft, place)
        try:
            look(draft)
        except ReadinessError:
            exchange(draft, place)
            raise
    else:
        os.rename(draft, place)
    sync_folder(place.parent)


def exchange(one: Path, other: Path) -> None:
    """``one`` is then where ``other`` was, and the other way round: in one step where the system
    can, else in three, the last of which is undone where it fails. Raises OSError."""
    if _in_one_step(os.fsencode(one), os.fsencode(other)):
        return
    aside = one.with_name(f"{one.name}.old")
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


def _reason(problem: OSError) -> str:
    return problem.strerror or str(problem)
