"""How long until the board of 50 bulls is on the screen, against a bare Textual table with the same
rows. Both are started in a terminal of 80 by 24 and timed from start until the first
bull is painted.
"""

from __future__ import annotations

import fcntl
import json
import os
import pty
import select
import signal
import struct
import sys
import termios
import time
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

from tests.bench.measure import ROOT, Aim, Row, of_times

DAY = date(2026, 4, 3)
BULLS, RUNS, PATIENCE = 50, 15, 20.0
FIRST = b"T0000"

BARE = """
import json, sys
from textual.app import App
from textual.widgets import DataTable

class Bare(App):
    def compose(self):
        yield DataTable(cursor_type="row")
    def on_mount(self):
        table = self.query_one(DataTable)
        head, *rows = json.load(open(sys.argv[1], encoding="utf-8"))
        table.add_columns(*head)
        table.add_rows(rows)

Bare().run()
"""


def contents() -> list[dict[str, Any]]:
    """50 bulls of twelve entries each, in every state."""

    def ago(days: int) -> str:
        return (DAY - timedelta(days=days)).isoformat()

    feet = ["LF", "RF", "LH", "RH"]
    made: list[dict[str, Any]] = [
        {"kind": "group", "on": ago(200), "group": "Team", "turnout": ago(-20)}
    ]
    for number in range(BULLS):
        of = {"bull": f"T{number:04}"}
        made += [
            {"kind": "bull", "on": ago(190), "name": f"Bull {number}", **of},
            {"kind": "join", "on": ago(180), "group": "Team", **of},
            {"kind": "weight", "on": ago(100), "kg": 900, **of},
            {"kind": "feet", "on": ago(90), "lifted": feet, **of},
            {"kind": "vet-exam", "on": ago(25), "outcome": "satisfactory", **of},
        ]
        made += [
            {"kind": "condition", "on": ago(days), "scale": "five", "score": 3, **of}
            for days in (80, 50, 8)
        ]
        made += [
            {"kind": "mobility", "on": ago(days), "scale": "gb0-3", "score": lame, **of}
            for days, lame in ((70, 0), (40, 1), (20, 0), (3, 2 * (number % 3 == 0)))
        ]
    return made


def build(folder: Path) -> tuple[Path, Path]:
    """The book, and the same rows as plain text for the bare table."""
    from readiness.book import Book
    from readiness.desk.desk import Desk
    from readiness.report.rows import rows
    from readiness.system.clock import FixedClock

    clock = FixedClock(datetime(2026, 4, 3, 9, tzinfo=UTC))
    desk = Desk(Book(folder / "bulls.duckdb", clock, device="bench"), None, clock)
    desk.add(contents())
    table = [["", "bull", "why", "ready", "slack", "next", "by"]]
    table += [
        [row.of.status, row.bull, row.why, row.ready, row.slack, row.next, row.by]
        for row in rows(desk.board())
    ]
    (folder / "rows.json").write_text(json.dumps(table), encoding="utf-8")
    (folder / "bare.py").write_text(BARE, encoding="utf-8")
    return folder / "bulls.duckdb", folder / "rows.json"


def painted(command: list[str]) -> float:
    """Seconds from starting ``command`` in a terminal until a bull is on the screen."""
    start = time.perf_counter()
    child, screen = pty.fork()
    if child == 0:
        os.chdir(ROOT)
        os.environ.update(TERM="xterm-256color", COLORTERM="truecolor", PYTHONPATH=str(ROOT))
        fcntl.ioctl(0, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
        os.execv(command[0], command)
    shown = b""
    try:
        while FIRST not in shown:
            if not select.select([screen], [], [], PATIENCE)[0]:
                raise TimeoutError(f"{command[1:3]} painted no bull in {PATIENCE:g} s")
            shown += os.read(screen, 65536)
        return time.perf_counter() - start
    finally:
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        os.close(screen)


def rows(folder: Path, most: int) -> Iterator[Row]:
    book, told = build(folder)
    ours = [sys.executable, "-m", "readiness", "--book", str(book), "--on", DAY.isoformat()]
    bare = [sys.executable, str(folder / "bare.py"), str(told)]
    for command in (ours, bare):
        painted(command)  # warm the disk's cache
    pairs = [(painted(ours), painted(bare)) for _ in range(RUNS)]
    board, floor = zip(*pairs, strict=True)
    yield Row(
        f"first painted Board, {BULLS} bulls", of_times(board), "bare Textual table",
        of_times(floor).ms, Aim("at most 1.4 x", times=1.4),
    )  # fmt: skip
