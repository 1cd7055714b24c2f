"""A file that one living window owns, by a lock that its death lets go."""

from __future__ import annotations

import os
import stat
import sys
import uuid
from contextlib import suppress
from pathlib import Path

from readiness.system.errors import ReadinessError
from readiness.system.files import bytes_of, open_own
from readiness.system.leftovers import OWN_FOLDER
from readiness.system.limits import SMALL_MOST

if sys.platform != "win32":
    import fcntl

TRIES = 8
SUFFIX = ".jsonl"

_NEW = os.O_CREAT | os.O_EXCL | os.O_RDWR | os.O_APPEND


class File:
    """An open file and the lock on it."""

    def __init__(self, path: Path, handle: int) -> None:
        self.path = path
        self._handle = handle

    @classmethod
    def made(cls, folder: Path) -> File | None:
        """A new file of our own, locked; None where none can be made, or a link stands there."""
        if folder.is_symlink():
            return None
        for _ in range(TRIES):
            path = folder / f"{uuid.uuid4().hex}{SUFFIX}"
            try:
                folder.mkdir(OWN_FOLDER, exist_ok=True)
                handle = open_own(path, _NEW)
            except FileNotFoundError:
                continue  # the folder went, empty, with another window; or its parent did
            except OSError:
                return None
            file = cls(path, handle)
            # Another window may have taken it over before it was locked.
            if file._lock(alone=False) and file.stands():
                return file
            file.close(remove=False)
        return None

    @classmethod
    def taken(cls, path: Path) -> File | None:
        """A file whose owner is gone, locked; None where it lives, or may not be read."""
        try:
            if not stat.S_ISREG(os.lstat(path).st_mode):
                return None
            if sys.platform == "win32":
                path = _claimed(path)
            handle = _opened(path)
        except OSError:
            return None
        file = cls(path, handle)
        if file._lock(alone=True) and file.stands():
            return file
        file.close(remove=False)
        return None

    def _lock(self, *, alone: bool) -> bool:
        """Try to lock the file; whether that was possible. Where the file system has no locks, our
        own new file counts as locked, another window's (``alone``) does not: it may be open."""
        if sys.platform != "win32":
            try:
                fcntl.flock(self._handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except BlockingIOError:
                return False
            except OSError:
                return not alone
        return True

    def stands(self) -> bool:
        """Whether the path still names this file."""
        try:
            return os.path.samestat(os.fstat(self._handle), os.stat(self.path))
        except OSError:
            return False

    def read(self) -> bytes | None:
        """All of it; None where it cannot be read."""
        try:
            return bytes_of(self.path, SMALL_MOST)
        except ReadinessError:
            return None

    def write(self, data: bytes) -> bool:
        """Add to the end in one step; whether all of it is there."""
        try:
            return os.write(self._handle, data) == len(data)
        except OSError:
            return False

    def settle(self) -> bool:
        """On the disk itself, before the file that it replaces is removed."""
        try:
            os.fsync(self._handle)
        except OSError:
            return False
        return True

    def close(self, *, remove: bool) -> None:
        """Let the lock go; with ``remove``, the file too, while nobody else can have it."""
        if sys.platform == "win32":  # there an open file cannot be removed
            _close(self._handle)
            if remove:
                _remove(self.path)
            return
        if remove and self.stands():
            _remove(self.path)
        _close(self._handle)


def _opened(path: Path) -> int:
    """A handle to read by. Some locks ask for one to write by: where it may be written."""
    try:
        return open_own(path, os.O_RDWR)
    except OSError:
        return open_own(path, os.O_RDONLY)


def _claimed(path: Path) -> Path:
    """Without locks: renamed, which works only if no living window has it open."""
    claimed = path.with_name(f"{uuid.uuid4().hex}{SUFFIX}")
    os.rename(path, claimed)
    return claimed


def _remove(path: Path) -> None:
    """Delete the file. A failure is ignored: the next window will read it again."""
    with suppress(OSError):
        path.unlink()


def _close(handle: int) -> None:
    """Every line was written as it was said: a close that fails has nothing left to lose."""
    with suppress(OSError):
        os.close(handle)
