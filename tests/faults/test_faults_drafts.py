"""Half-entered bulls when things go wrong: kill -9, no room on the disk, no permission."""

from __future__ import annotations

import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

import pytest

from readiness.book.drafts import Draft, Drafts, unsaved_beside
from tests.faults.processes import ROOT, pipe, start
from tests.faults.test_faults_bad_files import as_nobody

DAY = "2026-04-03"

# A window that puts one bull's line again and again, each time a key longer, and says so.
TYPE = """
import sys
from pathlib import Path
from readiness.book.drafts import Draft, Drafts
window = Drafts(Path(sys.argv[1]))
print(len(window.open()), flush=True)
for number in range(1, 100_000):
    window.put(Draft(sys.argv[2], f"{number}", "2026-04-03"))
    print(number, flush=True)
"""

# A window on a disk that is full after some lines: its files may not grow past the limit.
FULL = """
import resource, sys
from pathlib import Path
from readiness.book.drafts import Draft, Drafts
window = Drafts(Path(sys.argv[1]))
window.open()
limit = int(sys.argv[2])
resource.setrlimit(resource.RLIMIT_FSIZE, (limit, resource.RLIM_INFINITY))
long = "note " + "x" * 90
kept = [window.put(Draft(f"bull {number}", long, "2026-04-03")) for number in range(20)]
assert kept == sorted(kept, reverse=True), kept
print(sum(kept), window.put(Draft("late", "z" * 200, "2026-04-03")))
resource.setrlimit(resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))
if sys.argv[3] == "room again":
    print(window.put(Draft("later", "walk 0", "2026-04-03")))
import os
os.kill(os.getpid(), 9)
"""


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return tmp_path / "bulls.duckdb"


def test_a_killed_window_loses_nothing_that_was_put(book: Path) -> None:
    for number in range(1, 6):
        window = start(TYPE, book, "00417")
        out = pipe(window.stdout)
        assert out.readline() == "0\n"
        said = [int(out.readline()) for _ in range(number * 7)]
        with suppress(subprocess.TimeoutExpired):
            window.wait(0.01 * number)
        window.kill()
        # The last line may be cut short, too: only whole ones were said.
        said += [int(line) for line in out.read().split("\n")[:-1]]
        window.communicate()
        after = Drafts(book)
        [draft] = after.open()
        assert draft.key == "00417"
        assert int(draft.line) in (said[-1], said[-1] + 1)
        after.drop("00417")
        after.close()
        assert not unsaved_beside(book).exists()


def test_a_living_process_is_not_robbed_and_a_killed_one_is_taken_over(book: Path) -> None:
    other = start(TYPE, book, "00122")
    try:
        assert pipe(other.stdout).readline() == "0\n"
        assert pipe(other.stdout).readline() == "1\n"
        here = Drafts(book)
        assert here.open() == []
        assert here.put(Draft("00417", "sound", DAY))
        assert here.open() == [Draft("00417", "sound", DAY)]
    finally:
        other.kill()
        other.communicate()
    assert [draft.key for draft in here.open()] in (["00417", "00122"], ["00122", "00417"])
    here.close()


@pytest.mark.parametrize(("then", "answers"), [("killed", 1), ("room again", 2)])
def test_a_full_disk_is_said_and_costs_only_what_was_not_kept(
    book: Path, then: str, answers: int
) -> None:
    command = [sys.executable, "-c", FULL, str(book), "1000", then]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (-9, "")
    first, *rest = done.stdout.splitlines()
    kept, late = first.split()
    assert 0 < int(kept) < 20
    assert late == "False"
    assert rest == ["True"] * (answers - 1)
    window = Drafts(book)
    keys = [draft.key for draft in window.open()]
    window.close()
    everything = [*(f"bull {number}" for number in range(20)), "late", "later"]
    assert keys == (everything if rest else everything[: int(kept)])


@pytest.fixture
def closed() -> Iterator[Path]:
    """A folder with a draft left in it, in which nobody may write."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        folder.chmod(0o755)
        window = Drafts(folder / "bulls.duckdb")
        window.open()
        window.put(Draft("00417", "sound", DAY))
        window.close()
        unsaved = unsaved_beside(folder / "bulls.duckdb")
        for path in unsaved.iterdir():
            path.chmod(0o444)
        unsaved.chmod(0o555)
        folder.chmod(0o555)
        yield folder / "bulls.duckdb"
        folder.chmod(0o755)
        unsaved.chmod(0o755)


def test_a_folder_only_to_be_read_shows_what_was_left_and_keeps_nothing(
    closed: Path,
) -> None:
    with as_nobody():
        for _ in range(2):
            window = Drafts(closed)
            assert window.open() == [Draft("00417", "sound", DAY)]
            assert not window.put(Draft("00122", "sound", DAY))
            window.close()


def test_a_folder_that_may_not_be_entered(closed: Path) -> None:
    unsaved_beside(closed).chmod(0o000)
    with as_nobody():
        window = Drafts(closed)
        assert window.open() == []
        assert not window.put(Draft("00122", "sound", DAY))
        window.close()
