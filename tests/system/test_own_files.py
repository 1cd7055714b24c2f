"""What the program makes is for its user alone, and leaves what others made as it is."""

from __future__ import annotations

import json
import os
import stat
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from readiness.book import copies, session
from readiness.book.drafts import Draft, Drafts
from readiness.system.errors import CannotWrite
from readiness.system.files import make_room, open_own, write_new, write_whole
from tests.cli.conftest import Run, book, run
from tests.cli.small_book import DAY

__all__ = ["book", "run"]
NOBODY_ELSE = 0o077


@pytest.fixture(autouse=True)
def let_all_in() -> Iterator[None]:
    """The usual umask: whatever is made without thinking can be read by everybody."""
    before = os.umask(0o022)
    yield
    os.umask(before)


def mode(path: Path) -> int:
    return stat.S_IMODE(path.stat().st_mode)


def open_to_others(folder: Path) -> list[str]:
    """What in the folder others may read, write or enter."""
    return sorted(str(p.relative_to(folder)) for p in folder.rglob("*") if mode(p) & NOBODY_ELSE)


def test_whatever_a_command_makes_is_for_its_user_alone(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    room = tmp_path / "new" / "room"
    monkeypatch.setenv("READINESS_BOOK", str(room / "bulls.duckdb"))
    for command in (
        ("book-in", "101", "--name", "Moss"),
        ("log", "101", "walk 1"),
        ("backup",),
        ("backup", room / "by hand.duckdb"),
        ("--book", room / "again.duckdb", "restore", room / "by hand.duckdb"),
        ("--book", room / "anew.duckdb", "salvage", room / "by hand.duckdb"),
        ("export", tmp_path / "out"),
        ("board", "--html", tmp_path / "board.html"),
        ("diary", "--ics", tmp_path / "diary.ics"),
        ("settings",),
        ("demo", "--book", tmp_path / "demo" / "demo.duckdb", "--json"),
    ):
        ran = run(*command)
        assert ran.code == 0, (command, ran.err)
    window = Drafts(room / "bulls.duckdb")
    assert window.put(Draft("101", "lf ok", DAY))
    assert (room / "bulls.duckdb.backups").is_dir() and (room / "bulls.duckdb.unsaved").is_dir()
    assert open_to_others(tmp_path) == []
    window.close()


@pytest.mark.parametrize(("book_has", "copy_has"), [(0o644, 0o600), (0o600, 0o600), (0o400, 0o400)])
def test_a_backup_is_never_open_to_more_than_its_user_or_its_book(
    run: Run, book: Path, book_has: int, copy_has: int, tmp_path: Path
) -> None:
    book.chmod(book_has)
    assert run("backup", tmp_path / "copy.duckdb").code == 0
    assert mode(tmp_path / "copy.duckdb") == copy_has
    assert mode(book) == book_has


def test_a_book_restored_from_a_backup_that_is_only_read_can_be_written(
    run: Run, book: Path, tmp_path: Path
) -> None:
    book.chmod(0o444)
    assert run("--book", tmp_path / "new.duckdb", "restore", book).code == 0
    assert mode(tmp_path / "new.duckdb") == 0o600


def test_a_book_shared_with_a_group_stays_shared_through_a_writing(run: Run, book: Path) -> None:
    book.chmod(0o640)
    assert run("log", "00122", "walk 1").code == 0
    assert mode(book) == 0o640


def test_a_page_and_an_export_that_somebody_shared_stay_shared(
    run: Run, book: Path, tmp_path: Path
) -> None:
    page, out = tmp_path / "board.html", tmp_path / "out"
    assert run("board", "--html", page).code == run("export", out).code == 0
    page.chmod(0o644)
    out.chmod(0o755)
    assert run("board", "--html", page).code == run("export", out).code == 0
    assert mode(page) == 0o644 and mode(out) == 0o755
    assert {mode(each) for each in out.rglob("*")} == {0o755, 0o644}
    told = json.loads((out / "datapackage.json").read_bytes())
    assert told["readiness"]["files"]


def test_a_new_file_is_never_open_to_others_for_a_moment(tmp_path: Path) -> None:
    path = tmp_path / "entry"
    os.close(open_own(path, os.O_CREAT | os.O_WRONLY))
    assert mode(path) == 0o600
    make_room(tmp_path / "one" / "two")
    assert mode(tmp_path / "one") == mode(tmp_path / "one" / "two") == 0o700
    assert write_new(tmp_path / "new", b"1") and mode(tmp_path / "new") == 0o600
    write_whole(tmp_path / "whole", b"1")
    assert mode(tmp_path / "whole") == 0o600


def test_a_book_and_its_copy_are_made_where_nobody_else_can_look(
    run: Run, book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The database makes its files readable by all: until their permissions are changed somebody
    could open one, and read on for ever."""
    made: list[tuple[int, int]] = []
    attach = session.attach

    def watched(con: Any, path: Path, alias: str, **how: Any) -> None:
        attach(con, path, alias, **how)
        if how.get("mode") == session.TO_WRITE:
            made.append((mode(path), mode(path.parent)))

    monkeypatch.setattr(copies, "attach", watched)
    assert run("backup", tmp_path / "copy.duckdb").code == 0
    assert made == [(0o644, 0o700)]


def test_a_link_in_the_place_of_a_file_of_ours_is_not_followed(tmp_path: Path) -> None:
    target = tmp_path / "somebody's"
    (tmp_path / "ours").symlink_to(target)
    with pytest.raises(OSError):
        open_own(tmp_path / "ours", os.O_CREAT | os.O_WRONLY)
    assert not target.exists()


def test_a_file_in_the_place_of_a_folder_is_said(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(b"")
    with pytest.raises(CannotWrite, match="cannot be made"):
        make_room(tmp_path / "a")
    with pytest.raises(CannotWrite, match="cannot be made"):
        make_room(tmp_path / "a" / "b")
