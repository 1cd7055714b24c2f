"""How time and memory grow with the book: each a process by itself."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

from tests.bench.books import ON, many_times, working_book
from tests.bench.cold import FLOOR, PRINTS, PROGRAM
from tests.bench.measure import Aim, Row, Took, cold

BULLS, ENTRIES = (50, 500, 5_000, 50_000), (8, 40)
SEED = 500
"""Bulls of the book that larger ones are made of."""
BOARD = {
    (50_000, 40): Aim("at most 25 s, 800 MB", ms=25_000, memory=800),
    (50_000, 8): Aim("at most 10 s, 600 MB", ms=10_000, memory=600),
}
IMPORT = {(50_000, 8): Aim("at most 25 s, 800 MB", ms=25_000, memory=800)}


def rows(folder: Path, most: int) -> Iterator[Row]:
    for bulls in (each for each in BULLS if each <= most):
        for entries in ENTRIES:
            yield from _of(folder, bulls, entries)


def _of(folder: Path, bulls: int, entries: int) -> Iterator[Row]:
    what, runs = f"{bulls:,} bulls x {entries}", 5 if bulls < SEED else (3 if bulls < 50_000 else 1)
    book = folder / f"{bulls}x{entries}.duckdb"
    if entries == ENTRIES[0]:
        yield _import(folder, bulls, entries)
    _book(folder, book, bulls, entries)
    on = [*PROGRAM, "--book", str(book), "--on", str(ON)]
    floor = cold(["-c", FLOOR, str(book)], runs).ms
    board = cold([*on, "board", "--json"], runs)
    aim = BOARD.get((bulls, entries))
    yield Row(f"board --json, {what}", board, PRINTS, floor, aim, bulls, entries)
    book.unlink()


def _import(folder: Path, bulls: int, entries: int) -> Row:
    """A file of entries taken into a new book; the floor reads its lines as JSON."""
    told, book = folder / "told.jsonl", folder / "new.duckdb"
    with told.open("w", encoding="utf-8") as out:
        out.writelines(json.dumps(each) + "\n" for each in working_book(bulls, entries))
    read = "import json, sys; [json.loads(line) for line in open(sys.argv[1])]"
    floor = cold(["-c", read, str(told)], 3).ms
    took: Took = cold([*PROGRAM, "--book", str(book), "import", str(told)], 1)
    for each in folder.glob("new.duckdb*"):
        each.unlink() if each.is_file() else [*map(Path.unlink, each.iterdir())]
    what = f"import of {bulls * entries:,} entries"
    return Row(what, took, "its lines read as JSON", floor, IMPORT.get((bulls, entries)))


def _book(folder: Path, book: Path, bulls: int, entries: int) -> None:
    """A book of so many bulls: a small one taken in, its bulls put down so many times."""
    seed, told = folder / "seed.duckdb", folder / "seed.jsonl"
    first = min(bulls, SEED)
    lines = (json.dumps(each) for each in working_book(first, entries))
    told.write_text("\n".join(lines), encoding="utf-8")
    cold([*PROGRAM, "--book", str(seed), "import", str(told)], 1)
    many_times(seed, book, bulls // first)
    for each in folder.glob("seed.duckdb*"):
        each.unlink() if each.is_file() else [*map(Path.unlink, each.iterdir())]
