"""Other processes at the same book: one that holds it, one that writes and can be killed."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO

ROOT = Path(__file__).parents[2]

HOLD = """
import sys, duckdb
con = duckdb.connect()
con.execute(f"ATTACH '{sys.argv[1]}' AS book")
print("held", flush=True)
sys.stdin.readline()
"""

# Appends batches of three until it has written as many as asked; says each id once its batch is
# acknowledged, the ids of one batch in one line.
WRITE = """
import sys, uuid
from pathlib import Path
from readiness.book import Book
from readiness.system.clock import SystemClock
from readiness.entries.entry import NewEntry
path, name, batches = sys.argv[1:]
book = Book(Path(path), SystemClock(), name, patience=60)
for number in range(int(batches)):
    content = {"kind": "weight", "on": "2026-04-01", "bull": name, "kg": 900 + number}
    batch = [NewEntry(str(uuid.uuid4()), content) for _ in range(3)]
    print(*book.append(batch, name).written, flush=True)
"""


def start(script: str, *arguments: object) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-c", script, *map(str, arguments)],
        cwd=ROOT,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )


def pipe(stream: IO[str] | None) -> IO[str]:
    assert stream is not None
    return stream


@contextmanager
def holding(path: Path) -> Iterator[subprocess.Popen[str]]:
    """Another process that holds the book until it is told a line."""
    process = start(HOLD, path)
    try:
        assert pipe(process.stdout).readline() == "held\n"
        yield process
    finally:
        process.kill()
        process.communicate()


def let_go(process: subprocess.Popen[str]) -> None:
    """Tell the holder to end, and wait until it has."""
    process.communicate("now\n")
