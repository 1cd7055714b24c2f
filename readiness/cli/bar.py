"""How far something long has come: one line on the terminal of stderr, gone when it is done."""

from __future__ import annotations

import os
import shutil
import sys
from contextlib import suppress
from threading import Event, Thread
from types import TracebackType

from readiness.report.look import can_show
from readiness.system.plain import cut, plain

FIRST, BEAT = 0.5, 0.2
"""Seconds: what is over sooner shows none, and between two looks at how far it is."""
_CELLS = 24
_ERASE = "\r\x1b[K"


class Bar:
    """Around the work; ``tell`` is told how far that is. It is drawn by a thread of its own, so
    that it is there also while the work is within the database, and telling costs nothing."""

    def __init__(self, what: str) -> None:
        self._what = cut(plain(what))
        self._at = 0.0
        self._drawn = ""
        self._over = Event()
        self._thread: Thread | None = None

    def tell(self, done: int, total: int) -> None:
        self._at = done / total if total else 1.0

    def __enter__(self) -> Bar:
        if sys.stderr.isatty() and os.environ.get("TERM") != "dumb":
            self._thread = Thread(target=self._show, daemon=True)
            self._thread.start()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        problem: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        if self._thread is not None:
            self._over.set()
            self._thread.join()
            if self._drawn:
                _write(_ERASE)

    def _show(self) -> None:
        wait = FIRST
        while not self._over.wait(wait):
            self.draw()
            wait = BEAT

    def draw(self) -> None:
        """The line as it is now, where that is another than the one that stands there."""
        width = shutil.get_terminal_size().columns
        line = bar_line(self._what, self._at, width, marks=can_show(sys.stderr.encoding))
        if line != self._drawn:
            self._drawn = line
            _write(f"\r{line}\x1b[K")


def bar_line(what: str, at: float, width: int, *, marks: bool) -> str:
    """``at``: 0 to 1. In less than ``width`` columns: what fills a row begins the next one."""
    at = min(max(at, 0.0), 1.0)
    share = f"{int(100 * at):3} %"
    room = min(_CELLS, width - 1 - len(what) - len(share) - 4)
    if room < 4:
        return f"{what} {share}"[-(width - 1) :]
    full = int(at * room)
    done, left = ("█", "░") if marks else ("#", ".")
    return f"{what}  {done * full}{left * (room - full)}  {share}"


def _write(text: str) -> None:
    with suppress(OSError):
        print(text, end="", file=sys.stderr, flush=True)
