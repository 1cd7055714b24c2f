"""The benchmarks: each a figure beside a floor measured in the same run.

``python -m tests.bench`` prints them all. Nothing here passes or fails: a machine's speed is no
property of the program, a ratio nearly is.
"""

from __future__ import annotations

import os
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from readiness.herd.board import assess_book
from readiness.rules.load import load_rules
from tests.bench import crush_keys, first_paint, pages, visits_plan
from tests.bench.books import ON, working_book
from tests.build import entries_of

RUNS = 15
ROOT = Path(__file__).resolve().parents[2]
FLOOR = """
import json
import sys
import duckdb
con = duckdb.connect()
con.execute(f"ATTACH '{sys.argv[1]}' AS book (READ_ONLY)")
rows = con.execute(
    "SELECT id, day, bull, kind, body, min(recorded), min(position)"
    " FROM book.entry JOIN book.receipt USING (id) GROUP BY ALL"
).fetchall()
print(json.dumps(rows, default=str))
"""


def median_ms(work: Callable[[], object], runs: int = RUNS) -> float:
    """The median of some runs after one that is not counted, in milliseconds."""
    work()
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return statistics.median(times) * 1000


def process(arguments: list[str], env: dict[str, str]) -> Callable[[], object]:
    """A whole Python process, with its bytecode cached as an installed program has it."""

    def run() -> None:
        subprocess.run(
            [sys.executable, *arguments], env=env, cwd=ROOT, check=True, stdout=subprocess.DEVNULL
        )

    return run


def assessment() -> None:
    entries, rules = entries_of(working_book(50, 200)), load_rules(None)
    took = median_ms(lambda: assess_book(entries, rules, ON.toordinal()))
    floor = median_ms(lambda: [entry.body.get("kind") for entry in entries])
    say("assess 50 bulls x 200 entries", took, "one pass over the entries", floor, "under 20 ms")


def commands(folder: Path, env: dict[str, str]) -> None:
    book = folder / "demo.duckdb"
    process(["-m", "readiness", "--book", str(book), "--on", str(ON), "demo"], env)()
    floor = median_ms(process(["-c", FLOOR, str(book)], env))
    board = ["-m", "readiness", "--book", str(book), "--on", str(ON), "board", "--json"]
    say("board --json, cold", median_ms(process(board, env)), "duckdb prints the rows", floor,
        "at most 1.3 x")  # fmt: skip
    bare = median_ms(process(["-c", "pass"], env))
    version = median_ms(process(["-m", "readiness", "--version"], env))
    say("--version", version, "bare python", bare, "under 60 ms")
    peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
    print(f"{'peak memory of the above':32} {peak:8.1f} MB")


def say(what: str, took: float, against: str, floor: float, aim: str) -> None:
    ratio = took / floor
    print(f"{what:32} {took:8.1f} ms   {against:26} {floor:8.1f} ms   x{ratio:5.2f}   ({aim})")


def main() -> None:
    assessment()
    with tempfile.TemporaryDirectory() as folder:
        env = {**os.environ, "PYTHONPYCACHEPREFIX": f"{folder}/bytecode"}
        env.pop("PYTHONDONTWRITEBYTECODE", None)
        commands(Path(folder), env)
    first_paint.main(first_paint.RUNS)
    crush_keys.main(crush_keys.ENTRIES)
    visits_plan.main()
    pages.main()


if __name__ == "__main__":
    main()
