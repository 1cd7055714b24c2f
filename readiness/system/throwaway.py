"""Folders for what is only shown: gone when the program ends, by a signal that can be caught, too.

What a hard kill leaves of them goes with the next one: nobody holds its lock any more.
"""

from __future__ import annotations

import os
import shutil
import signal
import sys
import tempfile
import threading
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from types import FrameType

from readiness.system.leftovers import (
    A_DAY,
    OWN_FOLDER,
    SUFFIX_FOLDER,
    clear_leftovers,
    living,
    new_name,
)

PREFIX = "readiness-demo-"
_NAME = rf"{PREFIX}[0-9a-f]{{16}}"
_ENDS = tuple(
    getattr(signal, name) for name in ("SIGTERM", "SIGHUP", "SIGQUIT") if hasattr(signal, name)
)
TRIES = 3
"""A thread that is just writing may put one more file into a folder that is being removed."""


@contextmanager
def throw_away() -> Iterator[Callable[[], Path]]:
    """Gives what makes a new empty folder, for this user alone, in the system's place for such; all
    of them go when the block ends. To be entered where signals are listened to."""
    made: list[Path] = []
    owner = os.getpid()

    def end(number: int, _: FrameType | None) -> None:
        if os.getpid() == owner:  # not a child that was forked meanwhile
            _clear(made)
        signal.signal(number, signal.SIG_DFL)
        os.kill(os.getpid(), number)

    with ExitStack() as stack:
        stack.callback(_clear, made)
        if threading.current_thread() is threading.main_thread():
            for number in _ENDS:
                if signal.getsignal(number) == signal.SIG_DFL:  # one that is ignored stays so
                    stack.callback(signal.signal, number, signal.signal(number, end))
        yield lambda: _new(made, stack)


def _new(made: list[Path], stack: ExitStack) -> Path:
    """A folder that has its lock before it has the name that others look for."""
    room = Path(tempfile.gettempdir())
    clear_leftovers(room, _NAME, age=A_DAY if sys.platform == "win32" else 0)
    clear_leftovers(room)
    hidden = room / new_name(SUFFIX_FOLDER)
    place = room / f"{PREFIX}{hidden.stem.rpartition('-')[2]}"
    made += (hidden, place)
    hidden.mkdir(OWN_FOLDER)
    stack.enter_context(living(hidden))
    hidden.rename(place)
    return place


def _clear(made: list[Path]) -> None:
    for _ in range(TRIES):
        for folder in made:
            shutil.rmtree(folder, ignore_errors=True)
