"""How long a page takes, cold, and how much memory: of a herd of 50, and of 5,000.

``python -m tests.bench.pages``; the floor is the same command's board as JSON.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from tests.bench.books import ON, working_book

ROOT = Path(__file__).resolve().parents[2]
SIZES = ((50, 24), (5000, 12))
"""Bulls, and entries of each."""


def ran(arguments: list[str]) -> tuple[float, float]:
    """The seconds that a whole command takes, and its peak memory in MB."""
    start = time.perf_counter()
    child = subprocess.Popen(
        [sys.executable, "-m", "readiness", *arguments],
        cwd=ROOT,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,  # the book's many warnings
    )
    _, status, usage = os.wait4(child.pid, 0)
    child.returncode = os.waitstatus_to_exitcode(status)
    assert child.returncode == 0, arguments
    return time.perf_counter() - start, usage.ru_maxrss / 1024


def main() -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for bulls, entries in SIZES:
            book, told = folder / f"{bulls}.duckdb", folder / f"{bulls}.jsonl"
            lines = (json.dumps(said) for said in working_book(bulls, entries))
            told.write_text("\n".join(lines), encoding="utf-8")
            on = ["--book", str(book), "--on", str(ON)]
            ran([*on, "import", str(told)])
            floor, _ = ran([*on, "board", "--json"])
            page = folder / "board.html"
            seconds, memory = min(ran([*on, "board", "--html", str(page)]) for _ in range(3))
            print(
                f"board --html, {bulls} bulls: {seconds:.2f} s, {memory:.0f} MB, "
                f"{page.stat().st_size / 1e6:.1f} MB of page; board --json: {floor:.2f} s"
            )
            page.unlink()


if __name__ == "__main__":
    main()
