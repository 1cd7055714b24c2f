"""How long from a key to the screen in the crush, a day of 50 bulls long, against a bare Textual
app that paints one line for each key. Both run in a terminal of 80 by 24.

Run it by itself: ``python tests/bench/crush_keys.py [ENTRIES]`` (entries of each bull, 12 by
default). It prints, in milliseconds, the 95th percentile from Enter to saved and painted and from
any other key to painted, and the medians of the first and the last ten bulls: a day does not slow
down. The aim is at most 40 ms more than the bare app.
"""

from __future__ import annotations

import fcntl
import os
import pty
import select
import signal
import statistics
import struct
import sys
import tempfile
import termios
import time
from compileall import compile_dir
from datetime import date
from pathlib import Path
from types import TracebackType

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))
PATIENCE = 30.0
BULLS, ENTRIES = 50, 12
REST = 0.35
"""Seconds between keys: nobody is faster with a bull in front of him, and screens come to rest."""

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

    def rest(self) -> None:
        """Wait a moment, and read what is still painted."""
        end = time.perf_counter() + REST
        while (left := end - time.perf_counter()) > 0:
            if select.select([self._screen], [], [], left)[0]:
                os.read(self._screen, 65536)

    def press(self, key: str, words: str) -> float:
        """Seconds from a key until these words are painted."""
        self.rest()
        os.write(self._screen, key.encode())
        return self.wait(words)


def p95(times: list[float]) -> float:
    """The 95th percentile in milliseconds."""
    return statistics.quantiles(times, n=20)[-1] * 1000


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
    os.environ["XDG_DATA_HOME"] = str(folder)
    command = [sys.executable, "-m", "readiness", "--book", str(book.path), "--on", str(ON)]
    saved, others = [], []
    with Terminal(command) as terminal:
        terminal.wait("The vet decides")
        terminal.press("c", "in the race")
        for done in range(1, BULLS):
            others.append(terminal.press("s", "all ok"))
            terminal.press("w", "Walk")
            others.append(terminal.press("0", "walk 0"))
            saved.append(terminal.press("\r", f"{done} done"))
    return saved, others


def main(entries: int) -> None:
    compile_dir(ROOT / "readiness", quiet=1)  # as an installed program is
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        floor = p95(bare(folder, BULLS))
        saved, others = crush(folder, entries)
    say(f"key to painted, bare Textual app, p95 of {BULLS}", floor, floor)
    say(f"key to painted, {BULLS} bulls x {entries}, p95 of {len(others)}", p95(others), floor)
    say(f"Enter to saved and painted, p95 of {len(saved)}", p95(saved), floor)
    print("the slowest five:", " ".join(f"{took * 1000:.0f}" for took in sorted(saved)[-5:]))
    first, last = (statistics.median(times) * 1000 for times in (saved[:10], saved[-10:]))
    print(f"{'Enter, median of the first ten and the last ten':52} {first:7.1f} ms {last:7.1f} ms")


def say(what: str, took: float, floor: float) -> None:
    print(f"{what:52} {took:7.1f} ms {took - floor:+7.1f} ms  (aim: at most 40 ms more)")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else ENTRIES)
