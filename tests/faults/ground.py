"""The ground that every trial begins on: a small book with its backup, an export and a page, made
from a seed in a folder of its own; and what a look at it afterwards finds."""

from __future__ import annotations

import json
import os
import random
import shutil
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import mkdtemp
from typing import NamedTuple

from tests.cli.small_book import DAY, FEET, Line, write
from tests.faults.server import Ran, Server

BOOK = "bulls.duckdb"
TAGS = ("00122", "00093", "00310", "00288", "00501")
ON = ("--on", DAY)
OLDER = "by-hand.duckdb"
"""A book of the same ground with fewer entries, which what is stale comes from."""
Contents = Counter[str]
"""What entries say, each as canonical JSON, and how often: ids are new at each saying."""


def memory() -> Path:
    """Where trials are made: in memory where the system has such a folder, for their number."""
    shm = Path("/dev/shm")
    parent = shm if shm.is_dir() and shutil.disk_usage(shm).free > 1 << 29 else None
    return Path(os.path.realpath(mkdtemp(prefix="readiness-faults-", dir=parent)))


@contextmanager
def place() -> Iterator[Path]:
    folder = memory()
    try:
        yield folder
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def lines(seed: int, count: int) -> list[Line]:
    """So many lines of a day at the yard, each with its id."""
    chance = random.Random(seed)
    made: list[Line] = []
    for number in range(count):
        said: Line = {"on": f"2026-03-{chance.randint(1, 28):02}", "bull": chance.choice(TAGS)}
        kind = chance.choice(("mobility", "condition", "weight", "feet"))
        if kind == "mobility":
            said |= {"scale": "gb0-3", "score": chance.randint(0, 2)}
        elif kind == "condition":
            said |= {"scale": "five", "score": chance.choice((2.5, 3.0, 3.25))}
        elif kind == "weight":
            said["kg"] = chance.randint(800, 1100)
        else:
            said["lifted"] = chance.sample(FEET, chance.randint(1, 4))
        note = f"{number} {chance.getrandbits(120):x}"
        id_ = f"{chance.getrandbits(48):012x}"
        said |= {"kind": kind, "note": note, "id": f"01960000-0000-7000-8000-{id_}"}
        made.append(said)
    return made


def prepare(server: Server, folder: Path, seed: int) -> None:
    """The ground in an empty ``folder``."""
    farm, more = write(folder / "farm.jsonl"), write(folder / "more.jsonl", lines(seed, 120))
    earlier = write(folder / "earlier.jsonl", lines(seed + 1, 60))
    for done in server.run(
        ("import", farm),
        ("import", earlier),
        ("log", "288", "kg 980; rh dd:m2 dress", *ON),
        ("export", "earlier-export"),
        ("log", "288", "kg 990", *ON),
        ("board", "--html", "page.html", "--on", "2026-04-02"),
        ("backup", "by-hand.duckdb"),
        ("--book", "other.duckdb", "import", farm),
        ("--book", "other.duckdb", "import", write(folder / "others.jsonl", lines(seed + 2, 40))),
        ("log", "288", "kg 995", *ON),
        folder=folder,
    ):
        assert done.code == 0, done
    assert more.is_file()


class Found(NamedTuple):
    """What a look at a book finds. ``contents``: None where there is no book."""

    entries: Ran
    board: Ran
    verify: Ran

    @property
    def contents(self) -> Contents | None:
        if self.entries.code == 66:
            return None
        return Counter(json.loads(self.entries.out)) if self.entries.code == 0 else Counter()


LOOKS: tuple[tuple[str, ...], ...] = (
    ("tests.faults.ground.say_entries", BOOK),
    ("board", "--json", *ON),
    ("verify", "--json"),
)


def say_entries(book: str) -> int:
    """Print all that a book's entries say; as a command would, its words where it fails."""
    from datetime import UTC, datetime

    from readiness.book import Book
    from readiness.entries.ids import canonical
    from readiness.system.clock import FixedClock
    from readiness.system.errors import ReadinessError

    clock = FixedClock(datetime(2026, 4, 3, 7, 30, tzinfo=UTC))
    try:
        entries = Book(Path(book), clock, "the test").snapshot().entries
    except ReadinessError as problem:
        print(f"readiness: {problem}")
        return problem.exit_code
    print(json.dumps([canonical(entry.body) for entry in entries]))
    return 0


def files(folder: Path) -> dict[str, bytes]:
    """A folder as it is, but for the books in it."""
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def clone(ground: Path, target: Path) -> None:
    shutil.rmtree(target, ignore_errors=True)
    shutil.copytree(ground, target)
