"""The shim (`shim.c`) as Python asks for it: compiled once, and told from inside the process into
which it was loaded what is to happen at which call of the file system."""

from __future__ import annotations

import ctypes
import shutil
import subprocess
import sys
from enum import IntEnum, IntFlag
from errno import EIO, ENOSPC
from functools import cache
from pathlib import Path
from typing import NamedTuple

import pytest

from tests.volume import WHOLE

SOURCE = Path(__file__).with_name("shim.c")


class Kind(IntFlag):
    """What a call does, as the shim counts them."""

    READS = 1
    GROWS = 2
    SYNCS = 4
    NAMES = 8
    CLOSES = 16
    OPENS = 32


CHANGES = Kind.GROWS | Kind.SYNCS | Kind.NAMES | Kind.CLOSES
EVERY = CHANGES | Kind.READS | Kind.OPENS


class How(IntEnum):
    """What happens at the call. The first only counts; with ``TEAR`` half of a write is done."""

    COUNT = 0
    KILL = 1
    TEAR = 2
    FAIL_ONCE = 3
    FAIL_ON = 4
    TEAR_FAIL_ON = 5


class Fault(NamedTuple):
    """One kind of trouble. ``error``: the errno of a call that fails; ``kinds``: calls counted."""

    name: str
    how: How
    kinds: Kind
    error: int = 0


FAULTS = (
    Fault("kill -9", How.KILL, CHANGES),
    Fault("kill -9 amid a write", How.TEAR, Kind.GROWS),
    Fault("disk full", How.FAIL_ON, Kind.GROWS, ENOSPC),
    Fault("disk full amid a write", How.TEAR_FAIL_ON, Kind.GROWS, ENOSPC),
    Fault("I/O error once", How.FAIL_ONCE, EVERY, EIO),
    Fault("I/O error from then on", How.FAIL_ON, EVERY, EIO),
)


@cache
def compiled(folder: Path) -> Path:
    """The shim as a library in ``folder``. Where there is no compiler the test fails in CI, and is
    skipped elsewhere."""
    if not sys.platform.startswith("linux"):
        pytest.skip("The shim is loaded by LD_PRELOAD, which Linux has.")
    compiler = shutil.which("cc") or shutil.which("gcc") or shutil.which("clang")
    if compiler is None:
        text = "There is no C compiler (cc), which the faults of the file system need."
        if WHOLE:
            pytest.fail(text)
        pytest.skip(text)
    library = folder / "shim.so"
    flags = ["-O1", "-Wall", "-Wextra", "-Werror", "-shared", "-fPIC"]
    command = [compiler, *flags, "-o", str(library), str(SOURCE), "-ldl", "-lpthread"]
    made = subprocess.run(command, capture_output=True, text=True, check=False)
    assert made.returncode == 0, made.stderr
    return library


class Shim:
    """The shim of this process, which was started with it."""

    def __init__(self) -> None:
        self._calls = ctypes.CDLL(None)
        self._calls.shim_calls.restype = ctypes.c_long

    def watch(self, folder: str) -> None:
        self._calls.shim_watch(folder.encode())

    def arm(self, how: int, at: int, error: int, kinds: int) -> None:
        self._calls.shim_arm(how, ctypes.c_long(at), error, kinds)

    def calls(self) -> int:
        return int(self._calls.shim_calls())

    def log(self, descriptor: int) -> None:
        self._calls.shim_log(descriptor)

    def clock(self, seconds_ahead: int) -> None:
        self._calls.shim_clock(ctypes.c_longlong(seconds_ahead))
