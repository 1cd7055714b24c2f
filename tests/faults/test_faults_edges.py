"""What stands where a file or a folder of the program's should: pipes, devices, links, huge files;
no memory, no room, a time zone that is none. Each is told as what it is, and nothing hangs."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import duckdb
import pytest

from readiness.book import copies
from readiness.book.faults import Damaged, in_plain_words
from readiness.system import leftovers, limits
from readiness.system.errors import CannotWrite, NoMemory, NoRoom
from readiness.system.leftovers import clear_leftovers, draft_folder
from tests.cli.conftest import Ran, Run, book, run
from tests.cli.small_book import DAY

__all__ = ["book", "run"]
WALK = ("log", "00122", "walk 1")
A_GIGABYTE = 1_000_000_000


@contextmanager
def bounded(seconds: int = 10) -> Iterator[None]:
    """Fails what takes longer, be it one that waits for ever."""

    def late(*_: object) -> None:
        raise AssertionError(f"it took longer than {seconds} s")

    before = signal.signal(signal.SIGALRM, late)
    signal.alarm(seconds)
    try:
        yield
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)


def pipe(path: Path) -> None:
    os.mkfifo(path)


def device(path: Path) -> None:
    path.symlink_to("/dev/zero")


def huge(path: Path) -> None:
    with path.open("wb") as file:
        file.truncate(A_GIGABYTE)


def circle(path: Path) -> None:
    path.symlink_to(path)


ODD = {"a pipe": pipe, "a device": device, "a huge file": huge, "a circle of links": circle}
READ_BY: dict[str, tuple[str, ...]] = {
    "x.jsonl": ("import", "x.jsonl"),
    "x.csv": ("import", "x.csv"),
    "x.xlsx": ("import", "x.xlsx"),
    "x.toml": ("--rules", "x.toml", "board"),
    "readiness.toml": ("board",),
    "x.html": ("board", "--html", "x.html"),
    "x.ics": ("diary", "--ics", "x.ics"),
    "x.duckdb": ("--book", "x.duckdb", "board"),
    "y.duckdb": ("restore", "y.duckdb"),
    "z.duckdb": ("backup", "z.duckdb"),
    "bulls.toml": ("board",),
}


@pytest.mark.parametrize("what", ODD)
@pytest.mark.parametrize("name", READ_BY)
def test_what_is_no_file_to_be_read_is_told_at_once(
    run: Run, book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, what: str, name: str
) -> None:
    monkeypatch.chdir(tmp_path)
    if name == "readiness.toml":
        monkeypatch.setenv("READINESS_SETTINGS", str(tmp_path / name))
    ODD[what](tmp_path / name)
    before = (tmp_path / name).lstat()
    with bounded():
        ran = run(*READ_BY[name])
    assert ran.code in (65, 66, 73, 78), ran.err
    assert ran.out == "" and name in ran.err
    assert (tmp_path / name).lstat().st_ino == before.st_ino


def test_a_file_of_entries_above_its_limit_says_the_limit(run: Run, tmp_path: Path) -> None:
    with (tmp_path / "x.jsonl").open("wb") as file:
        file.truncate(limits.ENTRIES_MOST + 1)
    ran = run("import", tmp_path / "x.jsonl")
    assert ran.code == 65 and "more than 100 MB" in ran.err


@pytest.mark.parametrize("place", ["/", ".", ".."])
@pytest.mark.parametrize(
    "command", [("board",), ("backup",), ("verify",), ("undo",), ("book-in", "1"), ("demo",)]
)
def test_a_folder_is_no_book(run: Run, place: str, command: tuple[str, ...]) -> None:
    ran = run("--book", place, *command)
    assert ran.code in (65, 73) and ran.out == "", ran.err


@pytest.mark.parametrize("zone", ["UTC99:99:99", "<+99>-99", "XXX-167:59:59"])
def test_a_time_zone_that_is_none_is_told(
    run: Run, book: Path, monkeypatch: pytest.MonkeyPatch, zone: str
) -> None:
    before = book.read_bytes()
    monkeypatch.setenv("TZ", zone)
    time.tzset()
    try:
        for command in (("board",), WALK, ("undo",)):
            ran = run(*command)
            assert ran.code == 2 and "TZ" in ran.err
    finally:
        monkeypatch.delenv("TZ")
        time.tzset()
    assert book.read_bytes() == before


# ---- links that somebody planted -----------------------------------------------------------------


@pytest.fixture
def elsewhere(tmp_path: Path) -> Path:
    folder = tmp_path / "somebody's"
    folder.mkdir()
    return folder


@pytest.mark.parametrize("command", [("board",), WALK, ("backup",), ("verify",)])
def test_a_link_in_the_place_of_the_log_is_not_followed(
    run: Run, book: Path, elsewhere: Path, command: tuple[str, ...]
) -> None:
    (elsewhere / "log").write_bytes(b"theirs")
    book.with_name("bulls.duckdb.wal").symlink_to(elsewhere / "log")
    ran = run(*command)
    assert ran.code == 65 and "bulls.duckdb.wal" in ran.err
    assert (elsewhere / "log").read_bytes() == b"theirs"


@pytest.mark.parametrize("command", [WALK, ("backup",)])
def test_a_link_in_the_place_of_the_backups_is_not_followed(
    run: Run, book: Path, elsewhere: Path, command: tuple[str, ...]
) -> None:
    folder = book.with_name("bulls.duckdb.backups")
    shutil.rmtree(folder, ignore_errors=True)
    folder.symlink_to(elsewhere)
    ran = run(*command)
    assert ran.code == 73 and "is a link" in ran.err
    assert list(elsewhere.iterdir()) == []


def test_a_link_in_the_place_of_the_days_backup_is_no_backup(run: Run, book: Path) -> None:
    assert run(*WALK).code == 0
    (backup,) = book.with_name("bulls.duckdb.backups").iterdir()
    backup.unlink()
    backup.symlink_to("/dev/null")
    assert run(*WALK).code == 73


# ---- no room and no memory -----------------------------------------------------------------------


def no_room(*_: object, **__: object) -> None:
    raise NoRoom("full")


@pytest.mark.parametrize("when", ["it is seen before", "it shows on the way"])
def test_where_there_is_no_room_for_the_backup_the_entry_is_written_and_it_is_said(
    run: Run, book: Path, monkeypatch: pytest.MonkeyPatch, when: str
) -> None:
    folder = book.with_name("bulls.duckdb.backups")
    shutil.rmtree(folder, ignore_errors=True)
    if when == "it is seen before":
        monkeypatch.setattr(shutil, "disk_usage", lambda _: shutil._ntuple_diskusage(1, 1, 0))
        monkeypatch.setattr(copies, "copy_book", lambda *_: pytest.fail("not to be tried"))
    else:
        monkeypatch.setattr(copies, "copy_book", no_room)
    for command in (WALK, ("undo",)):
        ran = run(*command)
        assert ran.code == 0
        assert "no room for the day's backup" in ran.err
    assert list(folder.iterdir()) == []


def test_a_backup_that_fails_otherwise_still_comes_first(
    run: Run, book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shutil.rmtree(book.with_name("bulls.duckdb.backups"), ignore_errors=True)

    def fails(*_: object) -> None:
        raise CannotWrite("the disk is broken")

    monkeypatch.setattr(copies, "copy_book", fails)
    ran = run(*WALK)
    assert ran.code == 73 and "the disk is broken" in ran.err


def test_no_memory_is_not_told_as_damage(tmp_path: Path) -> None:
    path = tmp_path / "b.duckdb"
    error = duckdb.OutOfMemoryException("Out of Memory Error: failed to allocate 64.0 MiB")
    for writing in (False, True):
        told = in_plain_words(error, path, writing=writing)
        assert isinstance(told, NoMemory) and told.exit_code == 71 and str(path) in str(told)
    torn = duckdb.OutOfMemoryException("Out of Memory Error: failed to allocate 16.0 EiB")
    assert isinstance(in_plain_words(torn, path, writing=False), Damaged)


@pytest.mark.parametrize("text", ["fsync failed!", 'Could not truncate file "x": Input/output'])
def test_a_disk_that_fails_beneath_a_writing_is_not_told_as_damage(
    tmp_path: Path, text: str
) -> None:
    told = in_plain_words(duckdb.FatalException(text), tmp_path / "b.duckdb", writing=True)
    assert isinstance(told, CannotWrite)


def test_a_process_without_memory_says_so(book: Path) -> None:
    code = (
        "import sys\nimport readiness.cli.board as board\nfrom readiness.__main__ import main\n"
        "def run(*_): raise MemoryError\nboard.run = run\nsys.exit(main(sys.argv[1:]))"
    )
    ran = subprocess.run([sys.executable, "-c", code, "--book", book, "board"], check=False,
                         capture_output=True, text=True)  # fmt: skip
    assert ran.returncode == 71 and "not memory enough" in ran.stderr


# ---- what hard kills leave -----------------------------------------------------------------------

DRAFT = ".readiness-0123456789abcdef"


def old(path: Path, days: float = 2) -> Path:
    """Everything in it, and itself, untouched for so long."""
    then = time.time() - days * leftovers.A_DAY
    for each in (*path.rglob("*"), path):
        os.utime(each, (then, then), follow_symlinks=False)
    return path


def made(path: Path) -> Path:
    if path.suffix == ".part" and path.name.startswith(".readiness"):
        path.mkdir()
        (path / "book.duckdb").write_bytes(b"half")
    else:
        path.write_bytes(b"half")
    return path


WRITERS: dict[str, tuple[str, Callable[[Run, Path], Ran]]] = {
    "backup": ("bulls.duckdb.backups", lambda run, room: run("backup")),
    "copy": ("", lambda run, room: run("backup", room / "copy.duckdb")),
    "page": ("", lambda run, room: run("board", "--html", room / "board.html")),
    "export": ("", lambda run, room: run("export", room / "out")),
}


@pytest.mark.parametrize("writer", WRITERS)
def test_old_leftovers_of_kills_go_with_the_next_writing_beside_them(
    run: Run, book: Path, tmp_path: Path, writer: str
) -> None:
    where, write_one = WRITERS[writer]
    room = tmp_path / where
    room.mkdir(exist_ok=True)
    gone = [old(made(room / f"{DRAFT}.part")), old(made(room / f"{DRAFT}.tmp"))]
    fresh = made(room / ".readiness-1123456789abcdef.part")
    theirs = [old(made(room / name)) for name in (
        "x.part", "x.tmp", ".readiness-mine.part", ".readiness-0123456789abcdeF.tmp",
        f"{DRAFT}.part.bak", ".mine.0123456789ab.part",
    )]  # fmt: skip
    assert write_one(run, room).code == 0
    assert [path for path in gone if path.exists()] == []
    assert [path for path in (fresh, *theirs) if not path.exists()] == []


def test_drafts_of_backups_as_they_were_called_before_go_too(run: Run, book: Path) -> None:
    folder = book.with_name("bulls.duckdb.backups")
    folder.mkdir(exist_ok=True)
    gone = [old(made(folder / f".{DAY}.duckdb.0123456789ab.part{log}")) for log in ("", ".wal")]
    assert run("backup").code == 0
    assert [path for path in gone if path.exists()] == []


def test_a_draft_whose_maker_lives_is_left(tmp_path: Path) -> None:
    with draft_folder(tmp_path) as living:
        old(living, 3)
        clear_leftovers(tmp_path)
        assert living.is_dir()
    assert not living.exists()


def test_neither_a_link_nor_what_stands_aside_is_cleared(tmp_path: Path) -> None:
    kept = tmp_path / "kept"
    kept.write_bytes(b"mine")
    link = tmp_path / f"{DRAFT}.tmp"
    link.symlink_to(kept)
    draft = made(tmp_path / ".readiness-1123456789abcdef.part")
    aside = tmp_path / f"{draft.name}{leftovers.ASIDE}"
    aside.mkdir()
    for each in (link, draft, aside):
        old(each)
    clear_leftovers(tmp_path)
    assert kept.read_bytes() == b"mine" and link.is_symlink() and draft.exists() and aside.exists()


@pytest.mark.skipif(os.geteuid() != 0, reason="only root can give a file away")
def test_another_users_leftover_is_left(tmp_path: Path) -> None:
    draft = old(made(tmp_path / f"{DRAFT}.tmp"))
    os.chown(draft, 12345, 12345)
    clear_leftovers(tmp_path)
    assert draft.exists()


def test_a_rule_whose_name_has_parts_without_end_is_refused_at_once(
    run: Run, book: Path, tmp_path: Path
) -> None:
    rules = tmp_path / "deep.toml"
    rules.write_text(f"[a{'.a' * 49_000}]\n")
    with bounded():
        ran = run("--rules", rules, "board")
    assert ran.code == 78 and "one has at most 10,000" in ran.err
    rules.write_text("#" * (limits.RULES_MOST + 1))
    assert "more than 100 kB" in run("--rules", rules, "board").err
