"""`board --json` of a big book, read bull by bull, against the same command of a small one: the
plain way is the reference."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest

from readiness.book import stream
from readiness.cli import big_board
from readiness.system import limits
from tests.book.builders import ask
from tests.cli.conftest import Run
from tests.cli.small_book import DAY, write
from tests.cli.test_process import environment
from tests.reference.books import random_book
from tests.volume import sampled

ON = date(2026, 4, 3)
EVENTS = ("update", "delete")


@pytest.fixture
def streamed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every book is big, and read in this process alone."""
    monkeypatch.setattr(limits, "BIG_BOOK", 0)
    monkeypatch.setattr(big_board, "MOST_PROCESSES", 1)


# Books that import takes: in others a bull joins a group of a farm that he is not on.
@sampled("seed", [43, 44, 48, 49], 2)
def test_a_big_books_board_is_byte_for_byte_that_of_the_plain_way(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, seed: int
) -> None:
    lines = write(tmp_path / "random.jsonl", random_book(seed, 40, 12, ON))
    assert run("import", lines).code == 0
    plain = run("board", "--json", "--on", ON)
    monkeypatch.setattr(limits, "BIG_BOOK", 0)
    monkeypatch.setattr(big_board, "MOST_PROCESSES", 1)
    monkeypatch.setattr(stream, "_ROWS", 3)  # a bull's entries come in several pieces
    assert run("board", "--json", "--on", ON) == plain
    assert plain.code == 0 and len(plain.json()["bulls"]) > 3


def test_several_processes_say_what_one_says(run: Run, book: Path) -> None:
    plain = run("board", "--json", "--on", DAY)
    many = (
        "import sys, readiness.system.limits as s, readiness.cli.big_board as b\n"
        "s.BIG_BOOK, b.processors = 0, lambda: 3\n"
        "from readiness.__main__ import main\n"
        f"sys.exit(main(['--book', {str(book)!r}, '--on', '{DAY}', 'board', '--json']))"
    )
    ran = subprocess.run(
        [sys.executable, "-c", many], env=environment(), capture_output=True, text=True, check=False
    )
    assert (ran.returncode, ran.stderr, ran.stdout) == (0, "", plain.out)


def test_a_booking_taken_back_and_spoken_of_is_held_on_a_big_board_too(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Two copies put together may say both: the strike and the bull are read apart."""
    here, there = tmp_path / "bulls.duckdb", tmp_path / "ann.duckdb"
    booked = json.loads(run("book-in", "9", "--on", DAY, "--json").out)["written"]
    shutil.copyfile(here, there)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "ann"))
    assert run("log", "9", "walk 2", "--on", DAY, "--book", there).code == 0
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    assert run("strike", *booked, "--on", DAY, "--why", "typed twice").code == 0
    assert run("merge", there).code == 0
    plain = run("board", "--json", "--on", DAY)
    monkeypatch.setattr(limits, "BIG_BOOK", 0)
    monkeypatch.setattr(big_board, "MOST_PROCESSES", 1)
    assert run("board", "--json", "--on", DAY) == plain
    [bull] = plain.json()["bulls"]
    assert (bull["status"], bull["outlook"]) == ("HOLD", "not-booked")


@pytest.mark.parametrize(
    "harm",
    [
        "UPDATE entry SET body = replace(body, '\"score\":2', '\"score\":0')",
        "DELETE FROM receipt WHERE position = 5",
        "INSERT INTO receipt SELECT 'x', recorded, 77, batch, device, who FROM receipt LIMIT 1",
        "UPDATE entry SET bull = '00417' WHERE bull = '00288'",
    ],
    ids=["text", "no receipt", "receipt of nothing", "another bull's"],
)
def test_of_a_damaged_big_book_nothing_is_shown(
    run: Run, book: Path, streamed: None, harm: str
) -> None:
    guards = [f"DROP TRIGGER {t}_no_{e} ON {t}" for t in ("entry", "receipt") for e in EVENTS]
    ask(book, *guards, harm)
    ran = run("board", "--json", "--on", DAY)
    assert (ran.code, ran.out) == (65, "")
    assert "salvage" in ran.err


def test_whoever_is_on_hold_makes_the_exit_code_where_that_is_asked_for(
    run: Run, book: Path, streamed: None
) -> None:
    assert run("board", "--json", "--on", DAY, "--fail-on-hold").code == 1
    assert run("board", "--json", "--on", DAY).code == 0


def test_a_book_of_no_bulls_is_an_empty_board(run: Run, streamed: None, tmp_path: Path) -> None:
    assert run("group", "Top", "--turnout", "2026-05-01", "--on", DAY).code == 0
    told = json.loads(run("board", "--json", "--on", DAY).out)
    assert told["bulls"] == [] and [line["group"] for line in told["groups"]] == ["Top"]


def test_nothing_of_the_sorting_is_left_on_the_disk(
    run: Run, book: Path, streamed: None, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("TMPDIR", str(tmp_path / "tmp"))
    monkeypatch.setattr("tempfile.tempdir", None)
    (tmp_path / "tmp").mkdir()
    assert run("board", "--json", "--on", DAY).code == 0
    assert list((tmp_path / "tmp").iterdir()) == []
