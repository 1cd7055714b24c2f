"""Whole commands, cold, on the demo's book."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from tests.bench.books import ON
from tests.bench.measure import Aim, Row, cold

RUNS = 15
BULL = "Alder"
PROGRAM = ["-m", "readiness"]
FLOOR = """
import json
import sys
import duckdb
con = duckdb.connect()
con.execute(f"ATTACH '{sys.argv[1]}' AS book (READ_ONLY)")
found = con.execute(
    "SELECT id, day, bull, kind, body, min(recorded), min(position)"
    " FROM book.entry JOIN book.receipt USING (id) GROUP BY ALL"
)
while rows := found.fetchmany(10000):
    print(json.dumps(rows, default=str))
"""
"""Of an entry with several receipts the first counts: so much the program cannot do without."""
PRINTS = "duckdb prints the rows"


def rows(folder: Path, most: int) -> Iterator[Row]:
    book = folder / "demo.duckdb"
    on = [*PROGRAM, "--book", str(book), "--on", str(ON)]
    cold([*on, "demo"], 1)
    bare = cold(["-c", "pass"], RUNS).ms
    yield Row(
        "readiness --version", cold([*PROGRAM, "--version"], RUNS), "bare python", bare,
        Aim("at most 60 ms", ms=60),
    )  # fmt: skip
    floor = cold(["-c", FLOOR, str(book)], RUNS).ms
    for words, aim in (
        (("board", "--json"), Aim("at most 1.3 x", times=1.3)),
        (("bull", BULL, "--json"), None),
        (("cover", "--json"), None),
        (("log", BULL, "kg 900"), None),
    ):
        took = cold([*on, *words], RUNS)
        yield Row(f"readiness {' '.join(words)}", took, PRINTS, floor, aim)
