"""Books of every format that was ever written open, and are brought up to date whole or not at all.

``fixtures``: the same entries as each version of the program wrote them down: a book of version 1
with the views of its time, 1 to 5.
"""

from __future__ import annotations

import lzma
import os
import stat
import subprocess
import sys
import time
from datetime import date
from pathlib import Path

import pytest

from readiness.book import Book
from readiness.book.schema import VERSION
from readiness.desk.desk import Desk
from readiness.report.as_json import board_json
from readiness.system.clock import FixedClock
from readiness.system.errors import CannotWrite, DataError
from readiness.system.locations import backups_beside
from tests.book.builders import MORNING, ask, book_at, said
from tests.book.copies import rows
from tests.volume import sampled

FIXTURES = sorted((Path(__file__).parent / "fixtures").glob("*.duckdb.xz"))
ON = date(2026, 4, 28)


def opened(fixture: Path, folder: Path) -> Path:
    path = folder / "bulls.duckdb"
    path.write_bytes(lzma.decompress(fixture.read_bytes()))
    return path


def board(path: Path) -> object:
    return board_json(
        Desk(Book(path, FixedClock(MORNING)), None, FixedClock(MORNING), on=ON).board()
    )


def version(path: Path) -> int:
    return int(ask(path, "SELECT max(value) FROM meta WHERE name = 'version'")[0][0])


def note(path: Path) -> None:
    content = {"kind": "weight", "on": "2026-04-28", "bull": "UK 700100 100003", "kg": 900}
    book_at(path).append([said(1, content)], "")


@pytest.fixture
def old(tmp_path: Path) -> Path:
    return opened(FIXTURES[-1], tmp_path)


@sampled("fixture", FIXTURES, first=2, ids=lambda path: path.name.partition(".")[0])
def test_a_book_of_before_shows_the_same_and_is_brought_up_to_date(
    fixture: Path, tmp_path: Path
) -> None:
    path = opened(fixture, tmp_path)
    whole = path.read_bytes()
    before = board(path)
    assert [(bull["bull"], bull["status"]) for bull in before["bulls"]] == [  # type: ignore[index]
        ("UK 700100 100003", "HOLD"), ("UK 700100 100002", "HOLD"), ("UK 700100 100001", "GO"),
    ]  # fmt: skip
    assert book_at(path).verify().ok
    assert path.read_bytes() == whole  # reading changes nothing
    entries, receipts = rows(path)
    note(path)
    assert version(path) == VERSION
    now, receipts_now = rows(path)
    assert set(entries) < set(now) and set(receipts) < set(receipts_now)
    assert board(path) == before
    report = book_at(path).verify()
    assert (report.problems, report.remarks) == ([], [])
    backups = [backups_beside(path) / name for name in os.listdir(backups_beside(path))]
    assert all(version(backup) == 1 and rows(backup) == (entries, receipts) for backup in backups)


def test_what_a_person_may_do_with_the_file_stays(old: Path) -> None:
    old.chmod(0o600)
    note(old)
    assert stat.S_IMODE(old.stat().st_mode) == 0o600


def test_a_newer_book_is_refused_with_the_version_that_reads_it(tmp_path: Path) -> None:
    path = tmp_path / "bulls.duckdb"
    book_at(path)
    ask(path, "INSERT INTO meta VALUES ('version', '3'), ('needs', '0.9.0')")
    with pytest.raises(DataError, match=r"of version 3, .* Install version 0\.9\.0 of the program"):
        book_at(path).snapshot()


@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_a_disk_that_fails_in_the_middle_leaves_the_old_one_whole(
    old: Path, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    def fails(*_: object, **__: object) -> None:
        raise OSError(5, "Input/output error")

    before = rows(old)
    with monkeypatch.context() as patched:
        patched.setattr(os, step, fails)
        with pytest.raises(CannotWrite, match="Input/output error"):
            note(old)
    assert (version(old), rows(old)) == (1, before)
    assert list(old.parent.glob(".*")) == []
    note(old)
    assert version(old) == VERSION


@pytest.mark.at_length
def test_of_four_that_bring_it_up_to_date_at_once_none_loses_an_entry(old: Path) -> None:
    """Each writes into the file that bears the name, be it waited for while another takes it."""
    count = len(rows(old)[0])
    said = [sys.executable, "-m", "readiness", "--book", str(old), "log", "100003"]
    writers = [
        subprocess.Popen(
            [*said, f"kg {900 + at}"],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            env={**os.environ, "XDG_DATA_HOME": str(old.parent / str(at))},
        )
        for at in range(4)
    ]
    assert [(writer.communicate()[1], writer.returncode) for writer in writers] == [(b"", 0)] * 4
    assert (version(old), len(rows(old)[0])) == (VERSION, count + 4)


@pytest.mark.at_length
def test_killed_in_the_middle_the_old_or_the_new_one_stands_there_whole(
    tmp_path: Path,
) -> None:
    command = [sys.executable, "-m", "readiness", "--book"]
    seen = set()
    for at in range(40):
        folder = tmp_path / str(at)
        folder.mkdir()
        path = opened(FIXTURES[at % len(FIXTURES)], folder)
        entries = rows(path)[0]
        writer = subprocess.Popen(
            [*command, path, "log", "100003", "kg 900"],
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
            env={**os.environ, "XDG_DATA_HOME": str(folder)},
        )  # fmt: skip
        end = time.monotonic() + 0.2 + at * 0.02
        while writer.poll() is None and time.monotonic() < end:
            pass
        writer.kill()
        writer.wait()
        seen.add(version(path))
        assert set(entries) <= set(rows(path)[0])
        assert book_at(path).verify().ok
        note(path)
        assert version(path) == VERSION
    assert seen == {1, 2}
