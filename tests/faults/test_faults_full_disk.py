"""No room on the disk: nothing is half written, and what was there can be read."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from readiness.book import Book, journal
from readiness.entries.entry import NewEntry
from tests.book.builders import book_at, ids, said, walk
from tests.build import standing
from tests.faults.processes import ROOT
from tests.volume import sampled

# One batch far larger than the room left, in a process whose files may not grow past a limit;
# prints what it was told.
WRITE = """
import resource, sys
from pathlib import Path
from readiness.system.errors import ReadinessError
from tests.book.builders import book_at
from tests.faults.test_faults_full_disk import too_much
from tests.build import standing
book = book_at(Path(sys.argv[1]))
limit = int(sys.argv[2])
resource.setrlimit(resource.RLIMIT_FSIZE, (limit, resource.RLIM_INFINITY))
try:
    book.append(too_much(int(sys.argv[3])), "")
except ReadinessError as error:
    print(error)
    raise SystemExit(error.exit_code)
"""

ROOM = 3 * 1024 * 1024


def too_much(count: int = 60_000) -> list[NewEntry]:
    """Entries that do not compress: each note is its own run of digits."""
    return [
        said(n, {"kind": "moved", "on": "2026-04-01", "bull": "1", "act": "in", "note": noise(n)})
        for n in range(1000, 1000 + count)
    ]


def noise(number: int) -> str:
    return f"{pow(number, 97, 1 << 521):x}"


def with_its_backup(path: Path) -> Book:
    """A book whose backup of the day stands, so that only the write itself needs room."""
    book = book_at(path)
    book.append([walk(1)], "")
    book.append([walk(2)], "")
    assert path.with_name("bulls.duckdb.backups").is_dir()
    return book


def write(path: Path, limit: int, count: int) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-c", WRITE, str(path), str(limit), str(count)]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)


def names(folder: Path) -> set[str]:
    return {str(path.relative_to(folder)) for path in folder.rglob("*")}


@sampled("count", [6_000, 60_000])
def test_a_file_that_may_not_grow(tmp_path: Path, count: int) -> None:
    path = tmp_path / "bulls.duckdb"
    book = with_its_backup(path)
    before = names(tmp_path)
    done = write(path, path.stat().st_size + 4096, count)
    assert (done.returncode, done.stderr) == (73, "")
    assert "no room left" in done.stdout
    assert [entry.id for entry in standing(book)] == ids(1, 2)
    assert book.verify().ok
    assert names(tmp_path) - before <= {"bulls.duckdb.wal"}
    book.append([walk(3)], "")
    assert [entry.id for entry in standing(book)] == ids(1, 2, 3)
    assert names(tmp_path) == before


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of 3 MB of its own; where none may be mounted, a folder (the file limit is as low)."""
    disk = tmp_path / "disk"
    disk.mkdir()
    mounted = sys.platform == "linux" and os.geteuid() == 0 and mount(disk)
    yield disk
    if mounted:
        subprocess.run(["umount", str(disk)], check=True)


def mount(disk: Path) -> bool:
    command = ["mount", "-t", "tmpfs", "-o", f"size={ROOM}", "tmpfs", str(disk)]
    return subprocess.run(command, check=False, capture_output=True).returncode == 0


@pytest.mark.long
def test_a_full_disk(small_disk: Path) -> None:
    path = small_disk / "bulls.duckdb"
    book = with_its_backup(path)
    for count in (6_000, 60_000):
        done = write(path, ROOM, count)
        assert (done.returncode, done.stderr) == (73, "")
        assert [entry.id for entry in standing(book)] == ids(1, 2)
        assert book.verify().ok


def test_no_room_for_the_backup_leaves_no_half_of_one(small_disk: Path) -> None:
    """One entry more does not need room for a whole copy: it is written, and the lack is said."""
    path = small_disk / "bulls.duckdb"
    book_at(path).append([walk(1), *too_much(500)], "")
    before = names(small_disk)
    used = path.stat().st_size + journal.files(path)[0].stat().st_size
    (small_disk / "filling").write_bytes(bytes(ROOM - used - path.stat().st_size))
    book = book_at(path)
    book.append([walk(9)], "")
    assert "no room for the day's backup" in book.remarks[0]
    assert names(small_disk) - before == {"bulls.duckdb.backups", "filling"}
    assert list((small_disk / "bulls.duckdb.backups").iterdir()) == []
    assert len(standing(book_at(path))) == 502
