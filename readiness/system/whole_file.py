"""A file that is written for a person: read as it is, and replaced all at once or not at all."""

from __future__ import annotations

import os
import secrets
import stat
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

from readiness.system.errors import CannotWrite


def bytes_there(path: Path, target: Path, what: str, most: int = -1) -> bytes | None:
    """What stands in the file that ``path`` leads to (its first ``most`` bytes); None where there
    is none yet. Raises CannotWrite for what is no file, or cannot be read and so not be judged."""
    try:
        mode = target.stat().st_mode
        if not stat.S_ISREG(mode):
            is_what = "a folder" if stat.S_ISDIR(mode) else "no ordinary file"
            raise CannotWrite(f"{path} is {is_what}. Name a file for the {what}.")
        with target.open("rb") as handle:
            return handle.read(most)
    except FileNotFoundError:
        return None
    except OSError as problem:
        raise CannotWrite(
            f"{path} cannot be read, so it is not written over: {problem.strerror or problem}. "
            "Name another file."
        ) from problem


def replace_file(target: Path, data: bytes | Iterable[bytes], *, kept: bool) -> None:
    """The new bytes at once in the old ones' place; on OSError the old ones stay.

    ``kept``: there is a file, whose permissions the new one takes over.
    """
    if kept:
        target.open("r+b").close()  # a new one in its place would pass over who may write it
    draft = target.with_name(f".readiness-{secrets.token_hex(8)}.tmp")
    try:
        with draft.open("xb") as handle:
            handle.writelines((data,) if isinstance(data, bytes) else data)
            handle.flush()
            os.fsync(handle.fileno())
        if kept:  # who might read it may read it still
            draft.chmod(stat.S_IMODE(target.stat().st_mode))
        os.replace(draft, target)
    finally:
        with suppress(OSError):  # in its place by now, or the disk's own fault is told
            draft.unlink()


def cannot_write(path: Path, problem: OSError) -> CannotWrite:
    """What to say where a file cannot be written."""
    return CannotWrite(
        f"{path} cannot be written: {problem.strerror or problem}. What was there before is "
        "whole: name another file, or see to the folder or the disk."
    )
