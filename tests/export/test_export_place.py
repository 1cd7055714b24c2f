"""The folder: the old export or the new one is there, never half of one, and nothing is lost."""

from __future__ import annotations

import json
import shutil
import signal
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from readiness.__main__ import main
from readiness.export.folder import new_in_place_of
from readiness.system import folders
from readiness.system.errors import DataError
from readiness.system.folders import exchange as swap
from tests.book.builders import book_at
from tests.cli.small_book import write
from tests.export.conftest import Made, Ran, Run
from tests.faults.processes import ROOT

OLD = {"kind": "bull", "on": "2026-01-01", "bull": "1"}
MORE = {"kind": "bull", "on": "2026-01-02", "bull": "2"}


@pytest.fixture(scope="module")
def mould(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book of two bulls, and an export from when it had one."""
    home = tmp_path_factory.mktemp("old")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_DATA_HOME", str(home / "data"))
        patch.setenv("READINESS_BOOK", str(home / "bulls.duckdb"))
        assert main(["import", str(write(home / "one.jsonl", [OLD]))]) == 0
        assert main(["export", str(home / "out")]) == 0
        assert main(["import", str(write(home / "two.jsonl", [MORE]))]) == 0
    return home


@pytest.fixture
def old(run: Run, mould: Path, tmp_path: Path) -> Path:
    """That export, to be written anew; its book is where ``run`` looks."""
    shutil.copytree(mould, tmp_path, dirs_exist_ok=True)
    return tmp_path / "out"


def bulls(folder: Path) -> int:
    return len((folder / "entries.jsonl").read_text().splitlines())


def refused(ran: Ran, code: int, *said: str) -> None:
    assert ran.code == code, (ran.code, ran.err)
    assert ran.out == ""
    assert ran.err.startswith("readiness: ") and ran.err.count("\n") == 1
    for words in said:
        assert words in ran.err


def alone(folder: Path) -> bool:
    """Nothing of a draft is left beside it."""
    return not [path for path in folder.parent.iterdir() if path.name.startswith(".")]


def test_what_was_written_is_said(run: Run, made: Made, tmp_path: Path) -> None:
    """Every file of the folder with its rows; for programs its size and hash, too."""
    ran = run("export", tmp_path / "out", "--json", "--book", made.book)
    told = {file["path"]: file for file in ran.json()["files"]}
    there = {p.relative_to(tmp_path / "out").as_posix(): p.stat().st_size
             for p in (tmp_path / "out").rglob("*") if p.is_file()}  # fmt: skip
    assert {path: file["bytes"] for path, file in told.items()} == there
    words = run("export", tmp_path / "out", "--book", made.book)
    assert words.err == ""
    for path, file in told.items():
        shown = [line for line in words.out.splitlines() if line.split()[0].strip(",") == path]
        if not path.startswith("parquet/") and file["rows"] is not None:
            assert shown[0].split()[-1] == str(file["rows"])


def test_without_a_book_nothing_is_made(run: Run, tmp_path: Path) -> None:
    refused(run("export", tmp_path / "out"), 66, "There is no book")
    assert not (tmp_path / "out").exists()


def test_an_empty_folder_and_one_that_is_not_there_yet_are_taken(run: Run, tmp_path: Path) -> None:
    book_at(tmp_path / "bulls.duckdb")
    (tmp_path / "empty").mkdir()
    for folder in (tmp_path / "empty", tmp_path / "new" / "deep"):
        assert run("export", folder).code == 0
        assert (folder / "datapackage.json").is_file() and alone(folder)


def test_an_earlier_export_is_replaced(run: Run, old: Path) -> None:
    assert run("export", old).code == 0
    assert bulls(old) == 2 and alone(old)


def test_a_link_stays_a_link(run: Run, old: Path, tmp_path: Path) -> None:
    link = tmp_path / "link"
    link.symlink_to(old)
    assert run("export", link).code == 0
    assert link.is_symlink() and bulls(old) == 2


def test_what_no_export_wrote_is_not_lost(run: Run, old: Path, tmp_path: Path) -> None:
    """A file of somebody's in an earlier export, a folder of somebody's, a manifest of others."""
    (old / "csv" / "mine.csv").write_text("mine")
    refused(run("export", old), 65, "csv/mine.csv", "move them away")
    assert bulls(old) == 1 and (old / "csv" / "mine.csv").read_text() == "mine"
    of_others = ("datapackage.json", '{"resources": []}')
    no_json = [("datapackage.json", "[" * 100_000), ("datapackage.json", "\xff")]
    for name, text in (("notes.txt", "mine"), of_others, *no_json):
        other = tmp_path / "other"
        other.mkdir(exist_ok=True)
        (other / name).write_text(text, encoding="latin-1")
        refused(run("export", other), 65, "no export of readiness")
        assert (other / name).read_text(encoding="latin-1") == text


def test_a_place_that_cannot_be_one(run: Run, old: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file, below a file, the folder one stands in, an empty name."""
    file = old.parent / "one.jsonl"
    refused(run("export", file), 73, "no folder")
    refused(run("export", file / "below"), 73)
    monkeypatch.chdir(old)
    refused(run("export", "."), 73, "the folder you stand in")
    refused(run("export", ""), 2)
    refused(run("export"), 2, "DIR")
    assert bulls(old) == 1 and alone(old)


def test_stopped_on_the_way_the_old_one_is_whole(
    run: Run, old: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def stop(done: int, total: int) -> None:
        assert total > 50
        if done == 40:
            raise KeyboardInterrupt

    monkeypatch.setattr("readiness.cli.bar.Bar.tell", lambda self, *how: stop(*how))
    assert run("export", old).code == 130
    assert bulls(old) == 1 and alone(old)


# In a process of its own: killed at a file, or with no room for files of a size.
_KILLED = """
import os, signal, sys
from readiness.cli import bar
def progress(self, done, total):
    if done == int(sys.argv[1]):
        os.kill(os.getpid(), signal.SIGKILL)
bar.Bar.tell = progress
from readiness.__main__ import main
raise SystemExit(main(sys.argv[2:]))
"""
_FULL = """
import resource, sys
resource.setrlimit(resource.RLIMIT_FSIZE, (int(sys.argv[1]), resource.RLIM_INFINITY))
from readiness.__main__ import main
raise SystemExit(main(sys.argv[2:]))
"""


def process(script: str, *arguments: object) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-c", script, *map(str, arguments)]
    return subprocess.run(command, capture_output=True, text=True, cwd=ROOT, check=False)


def test_killed_on_the_way_the_old_one_is_whole(run: Run, old: Path) -> None:
    ended = process(_KILLED, 60, "export", old)
    assert ended.returncode == -signal.SIGKILL
    assert bulls(old) == 1
    manifest = json.loads((old / "datapackage.json").read_bytes())
    for file in manifest["readiness"]["files"]:
        assert (old / file["path"]).stat().st_size == file["bytes"]
    assert run("export", old).code == 0
    assert bulls(old) == 2


@pytest.mark.parametrize("room", [300, 3000])
def test_a_full_disk_leaves_the_old_one(old: Path, room: int) -> None:
    """No room for the lines (300 bytes), then none for the Parquet or the manifest."""
    ended = process(_FULL, room, "export", old)
    assert ended.returncode == 73, ended.stderr
    assert "cannot be written" in ended.stderr and ended.stderr.count("\n") == 1
    assert bulls(old) == 1 and alone(old)


def test_names_are_exchanged_with_and_without_the_systems_help(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    one, other = tmp_path / "one", tmp_path / "other"
    for folder in (one, other):
        folder.mkdir()
        (folder / "was").write_text(folder.name)
    swap(one, other)
    assert (one / "was").read_text() == "other"
    monkeypatch.setattr(folders, "_in_one_step", lambda *_: False)
    swap(one, other)
    assert (one / "was").read_text() == "one"
    assert {path.name for path in tmp_path.iterdir()} == {"one", "other"}


def test_an_exchange_that_fails_is_undone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    one, other = tmp_path / "not there", tmp_path / "other"
    other.mkdir()
    monkeypatch.setattr(folders, "_in_one_step", lambda *_: False)
    with pytest.raises(FileNotFoundError):
        swap(one, other)
    assert [path.name for path in tmp_path.iterdir()] == ["other"]


def test_what_somebody_puts_in_while_it_is_written_is_not_lost(run: Run, old: Path) -> None:
    before = {path.name for path in old.iterdir()}
    with pytest.raises(DataError, match=r"mine\.txt"), new_in_place_of(old) as draft:
        (draft / "new.txt").write_text("half an export", encoding="utf-8")
        (old / "mine.txt").write_text("mine", encoding="utf-8")
    assert {path.name for path in old.iterdir()} == before | {"mine.txt"}
    assert [path.name for path in old.parent.glob(".*.part")] == []


def test_who_might_look_in_may_look_in_still_and_nobody_else(run: Run, old: Path) -> None:
    old.chmod(0o700)
    assert run("export", old).code == 0
    assert stat.S_IMODE(old.stat().st_mode) == 0o700
