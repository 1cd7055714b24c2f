"""Drafts: what takes another's place when it is whole, under a name that is surely ours and with a
lock that its maker's death lets go.

A kill leaves them behind. Who makes the next one beside clears those that are: of our name, this
user's own, no link, locked by nobody, and untouched for a day.
"""

from __future__ import annotations

import os
import re
import secrets
import shutil
import stat
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

if sys.platform != "win32":
    import fcntl

OWN_FOLDER = 0o700
"""The permissions of a folder that the program makes: for its user alone."""

SUFFIX_FILE, SUFFIX_FOLDER = ".tmp", ".part"
ASIDE = ".old"
"""Behind the name of a draft: what it is just taking the place of. Neither is then cleared."""
A_DAY = 24 * 60 * 60.0

_NAME = r"\.readiness-[0-9a-f]{16}\.(tmp|part)"


def new_name(suffix: str) -> str:
    """A name for a draft, that nothing else has."""
    return f".readiness-{secrets.token_hex(8)}{suffix}"


@contextmanager
def held(handle: int) -> Iterator[None]:
    """Locked while the block lasts, where the file system has locks."""
    _locked(handle)
    try:
        yield
    finally:
        if sys.platform != "win32":
            with suppress(OSError):
                fcntl.flock(handle, fcntl.LOCK_UN)


@contextmanager
def draft_folder(parent: Path, *, earlier: str = "") -> Iterator[Path]:
    """A folder of our own in ``parent``, gone when the block ends unless it was given another name.

    ``earlier``: names (a pattern) of what stood there before these drafts had their name.
    """
    clear_leftovers(parent, earlier=earlier)
    folder = parent / new_name(SUFFIX_FOLDER)
    folder.mkdir(OWN_FOLDER)
    try:
        with living(folder):
            yield folder
    finally:
        shutil.rmtree(folder, ignore_errors=True)


@contextmanager
def living(folder: Path) -> Iterator[None]:
    """A folder locked while the block lasts: whoever looks sees that its maker lives."""
    if sys.platform == "win32":  # what is open there cannot be removed
        yield
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        with held(handle):
            yield
    finally:
        os.close(handle)


def clear_leftovers(
    folder: Path, name: str = _NAME, *, earlier: str = "", age: float = A_DAY
) -> None:
    """What kills have left in the folder goes away, as far as it is surely ours; ``name``: what
    ours is called, a pattern. ``age``: seconds for which it must have been at rest. A failure is
    ignored: the next one looks again."""
    ours = re.compile(f"{name}|{earlier}" if earlier else name)
    with suppress(OSError):
        for path in [folder / found for found in os.listdir(folder) if ours.fullmatch(found)]:
            with suppress(OSError):
                _clear(path, age)


def _clear(path: Path, age: float) -> None:
    found = path.lstat()
    mine = sys.platform == "win32" or found.st_uid == os.geteuid()
    is_folder = stat.S_ISDIR(found.st_mode)
    if not mine or not (is_folder or stat.S_ISREG(found.st_mode)):
        return
    if os.path.lexists(f"{path}{ASIDE}") or not _at_rest(path, age):
        return
    if sys.platform == "win32":
        _remove(path, is_folder)
        return
    handle = os.open(path, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK)
    try:
        if os.path.samestat(os.fstat(handle), found) and _locked(handle):
            _remove(path, is_folder)
    finally:
        os.close(handle)


def _at_rest(path: Path, age: float) -> bool:
    """Whether neither it nor anything in it was touched for so long. What is of a time to come
    tells nothing."""
    inside = [os.path.join(at, name) for at, folders, files in os.walk(path)
              for name in (*folders, *files)]  # fmt: skip
    newest = max(os.lstat(each).st_mtime for each in (str(path), *inside))
    return age <= 0 or newest < time.time() - age


def _remove(path: Path, is_folder: bool) -> None:
    if is_folder:
        shutil.rmtree(path, ignore_errors=True)
    else:
        path.unlink()


def _locked(handle: int) -> bool:
    """Whether the lock could be taken: nobody who lives has it, and there are such locks here."""
    if sys.platform == "win32":
        return True
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True
