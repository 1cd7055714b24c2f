"""Two folders exchange their names."""

from __future__ import annotations

import ctypes
import os
import sys
from pathlib import Path

_HERE = -100  # AT_FDCWD
_EXCHANGE = 2  # RENAME_EXCHANGE of Linux (renameat2), RENAME_SWAP of macOS (renamex_np): both are 2


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


def _in_one_step(one: bytes, other: bytes) -> bool:
    """Whether the system did it at once; Python itself has no name for that."""
    if sys.platform == "win32":
        return False
    system = ctypes.CDLL(None)
    if hasattr(system, "renameat2"):
        return bool(system.renameat2(_HERE, one, _HERE, other, _EXCHANGE) == 0)
    if hasattr(system, "renamex_np"):
        return bool(system.renamex_np(one, other, _EXCHANGE) == 0)
    return False
