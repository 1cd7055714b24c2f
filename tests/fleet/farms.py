"""Farms for a fleet: random books, made as people make them, and the fleet's command without its
engine, which the tests of the engine alone wait for."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from datetime import date
from pathlib import Path

import pytest

from readiness.book.parquet import write_partition
from readiness.fleet import run as fleet_run
from readiness.fleet.run import Engine
from readiness.fleet.sources import farm_folder
from readiness.fleet.task import Done, Failed, Job, do
from tests.bench.books import working_book
from tests.build import entries_of, made_once
from tests.cli.conftest import Run
from tests.reference.books import OWN_CHECKS, random_book

ON = date(2026, 4, 3)
NAMES = ("Low End", "Moss/Side", "Ünder%Wood")
"""Of partitions; a book's own file can have no slash in its name."""


def one_after_another(
    jobs: Sequence[Job],
    engine: Engine,
    begin: Callable[[], None],
    note: Callable[[str], None],
    progress: Callable[[int, int], None],
) -> list[Done | Failed]:
    begin()
    return [do(job, None, "") for job in jobs]


@pytest.fixture
def alone(monkeypatch: pytest.MonkeyPatch) -> None:
    """The farms are done in this process, one after another."""
    monkeypatch.setattr(fleet_run, "run", one_after_another)


def write_lines(path: Path, seed: int, bulls: int, entries: int) -> Path:
    lines = random_book(seed, bulls, entries, ON)
    path.write_text("".join(json.dumps(line) + "\n" for line in lines), encoding="utf-8")
    return path


def books(run: Run, room: Path, seeds: Sequence[int], bulls: int = 7, entries: int = 14) -> Path:
    """A folder of books, the first with rules of its own beside it."""
    folder = room / "farms"

    def made() -> None:
        folder.mkdir()
        for seed in seeds:
            lines = write_lines(room / f"{seed}.jsonl", seed, bulls, entries)
            assert run("import", lines, "--book", folder / f"Farm {seed}.duckdb").code == 0
        (folder / f"Farm {seeds[0]}.toml").write_text(rules(), encoding="utf-8")

    made_once(room, ("a fleet", *seeds, bulls, entries), made)
    return folder


def rules() -> str:
    """With the farm's own checks that the random books speak of."""
    return "".join(
        "[[check]]\n" + "".join(f"{key} = {json.dumps(to)}\n" for key, to in check.items())
        for check in OWN_CHECKS
    )


def partitions(folder: Path, names: Sequence[str] = NAMES, bulls: int = 6) -> Path:
    """A partition for each name."""
    entries = sorted(entries_of(working_book(bulls, 12)))
    for name in names:
        (folder / farm_folder(name)).mkdir(parents=True)
        write_partition(folder / farm_folder(name) / "entries.parquet", entries)
    return folder
