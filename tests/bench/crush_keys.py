"""How long from a key to the screen in the crush, a day of 50 bulls long, against a bare Textual
app that paints one line for each key. Both run in a terminal of 80 by 24.

The 95th percentile counts, and the medians of the first and the last bulls of the day.
"""

from __future__ import annotations

import fcntl
import os
import pty
import select
import signal
import struct
import sys
import termios
import time
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from types import TracebackType

from tests.bench.measure import ROOT, Aim, Row, of_times, p95_of

PATIENCE = 30.0
BULLS, ENTRIES, TENTH = 50, 12, 10
REST = 0.35
"""Seconds between keys: nobody is faster with a bull in front of him, and screens come to rest."""
LOOK = 0.5
"""Seconds besides, until one has looked who comes: else he would not be saved."""

BARE = """
from textual.app import App
from textual.widgets import Static

class Bare(App):
    def compose(self):
        yield Static("ready")
    def on_key(self, event):
        self.pressed = getattr(self, "pressed", 0) + 1
        self.query_one(Static).update(f"pressed {self.pressed} times")

Bare().run()
"""


class Terminal:
    """A program in a terminal of its own: keys in, what it paints out."""

    def __init__(self, command: list[str]) -> None:
        self._child, self._screen = pty.fork()
        if self._child == 0:
            os.chdir(ROOT)
            os.environ.update(TERM="xterm-256color", COLORTERM="truecolor", PYTHONPATH=str(ROOT))
            fcntl.ioctl(0, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
            os.execv(command[0], command)

    def __enter__(self) -> Terminal:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:  # fmt: skip
        os.kill(self._child, signal.SIGKILL)
        os.waitpid(self._child, 0)
        os.close(self._screen)

    def wait(self, words: str) -> float:
        """Seconds until these words are painted."""
        start, shown = time.perf_counter(), b""
        while words.encode() not in shown:
            if not select.select([self._screen], [], [], PATIENCE)[0]:
                raise TimeoutError(f"{words!r} was not painted in {PATIENCE:g} s")
            shown += os.read(self._screen, 65536)
        return time.perf_counter() - start

    def rest(self, seconds: float = REST) -> None:
        """Wait a moment, and read what is still painted."""
        end = time.perf_counter() + seconds
        while (left := end - time.perf_counter()) > 0:
            if select.select([self._screen], [], [], left)[0]:
                os.read(self._screen, 65536)

    def press(self, key: str, words: str) -> float:
        """Seconds from a key until these words are painted."""
        self.rest()
        os.write(self._screen, key.encode())
        return self.wait(words)


def bare(folder: Path, presses: int) -> list[float]:
    (folder / "bare.py").write_text(BARE, encoding="utf-8")
    with Terminal([sys.executable, str(folder / "bare.py")]) as terminal:
        terminal.wait("ready")
        return [terminal.press("x", f"pressed {n} times") for n in range(1, presses + 1)]


def herd(entries: int) -> list[dict[str, object]]:
    """Bulls of so many entries each, all lame since yesterday: so they are in the race."""
    from tests.bench.books import ON, working_book

    told = [
        said
        for said in working_book(BULLS, entries - 1)
        if "findings" not in said and "healed" not in said
    ]
    yesterday = date.fromordinal(ON.toordinal() - 1).isoformat()
    lame = {"kind": "mobility", "on": yesterday, "scale": "gb0-3", "score": 2, "limb": "LF"}
    return told + [{**lame, "bull": said["bull"]} for said in told if said["kind"] == "bull"]


def crush(folder: Path, entries: int) -> tuple[list[float], list[float]]:
    """(Enter to saved and painted, other keys to painted), bull by bull."""
    from readiness.book import Book
    from readiness.desk.desk import Desk
    from readiness.system.clock import SystemClock
    from tests.bench.books import ON

    book = Book(folder / "bulls.duckdb", SystemClock(), device="bench")
    Desk(book, None, SystemClock()).add(herd(entries))
    command = [sys.executable, "-m", "readiness", "--book", str(book.path), "--on", str(ON)]
    saved: list[float] = []
    others: list[float] = []
    with Terminal(command) as terminal:
        terminal.wait("The vet decides")
        terminal.press("c", "in the race")
        for done in range(1, BULLS):
            terminal.rest(LOOK)
            others.append(terminal.press("s", "all ok"))
            terminal.press("w", "Walk")
            others.append(terminal.press("0", "walk 0"))
            saved.append(terminal.press("\r", f"{done} done"))
    return saved, others


def rows(folder: Path, most: int) -> Iterator[Row]:
    against, floor = "a bare app's key", p95_of(bare(folder, BULLS)).ms
    saved, others = crush(folder, ENTRIES)
    yield Row(
        "key to painted at the crush, p95", p95_of(others), against, floor,
        Aim("at most 40 ms more", over=40),
    )  # fmt: skip
    yield Row(
        "Enter to saved and painted, p95", p95_of(saved), against, floor,
        Aim("at most 40 ms more", over=40),
    )  # fmt: skip
    first, last = of_times(saved[:TENTH]), of_times(saved[-TENTH:])
    yield Row("Enter, the last ten bulls of a day", last, "the first ten", first.ms)
