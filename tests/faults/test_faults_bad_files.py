"""What is not a book: one paragraph, the exit code that says so, the file unchanged."""

from __future__ import annotations

import os
import sqlite3
import tempfile
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import duckdb
import pytest

from readiness.book import Book
from readiness.book.copies import restore
from readiness.system.clock import FixedClock
from readiness.system.errors import CannotWrite, DataError, NotFound, ReadinessError
from tests.book.builders import MORNING, ask, book_at, ids, walk
from tests.build import standing


def nothing(path: Path) -> None:
    assert not path.exists()


def text(path: Path) -> None:
    path.write_text("Corran, lame LF, see to him\n" * 1000)


def empty(path: Path) -> None:
    path.touch()


def folder(path: Path) -> None:
    path.mkdir()


def pipe_to_nobody(path: Path) -> None:
    os.mkfifo(path)


def another_duckdb_file(path: Path) -> None:
    ask(path, "CREATE TABLE milk (cow VARCHAR, litres DOUBLE)", "FROM milk")


def a_duckdb_file_with_a_table_meta(path: Path) -> None:
    ask(path, "CREATE TABLE meta (name VARCHAR, value VARCHAR)", "FROM meta")


def a_sqlite_file(path: Path) -> None:
    with closing(sqlite3.connect(path)) as con:
        con.execute("CREATE TABLE entry (id)")
        con.commit()


def half_a_book(path: Path) -> None:
    book_at(path).append([walk(1)], "")
    whole = path.read_bytes()
    path.write_bytes(whole[: len(whole) // 2])


def a_book_of_a_newer_program(path: Path) -> None:
    book_at(path)
    ask(
        path,
        "DROP TRIGGER meta_no_update ON meta",
        "UPDATE meta SET value = '3' WHERE name = 'version'",
    )


Make = Callable[[Path], None]

NO_BOOKS: list[tuple[Make, type[ReadinessError], str]] = [
    (nothing, NotFound, "There is no book"),
    (text, DataError, "not a book"),
    (empty, DataError, "an empty file, not a book"),
    (folder, DataError, "a folder, not a book"),
    (pipe_to_nobody, DataError, "no ordinary file, not a book"),
    (another_duckdb_file, DataError, "a DuckDB file, but not a book"),
    (a_duckdb_file_with_a_table_meta, DataError, "a DuckDB file, but not a book"),
    (a_sqlite_file, DataError, "not a book"),
    (half_a_book, DataError, "damaged"),
    (
        a_book_of_a_newer_program,
        DataError,
        "a book of version 3, and this program reads books up to version 2",
    ),
]

OPERATIONS: dict[str, Callable[[Book], object]] = {
    "read": standing,
    "append": lambda book: book.append([walk(2)], ""),
    "undo": lambda book: book.undo(""),
    "backup": lambda book: book.backup(book.path.parent / "copy.duckdb"),
    "restore": lambda book: restore(book.path, book.path.parent / "copy.duckdb"),
}


def state(folder: Path) -> dict[str, bytes | None]:
    return {path.name: path.read_bytes() if path.is_file() else None for path in folder.iterdir()}


@pytest.mark.parametrize("operation", OPERATIONS)
@pytest.mark.parametrize(
    ("make", "error", "words"), NO_BOOKS, ids=[n[0].__name__ for n in NO_BOOKS]
)
def test_no_book(
    tmp_path: Path, make: Make, error: type[ReadinessError], words: str, operation: str
) -> None:
    path = tmp_path / "bulls.duckdb"
    make(path)
    before = state(tmp_path)
    with pytest.raises(error, match=words) as refused:
        OPERATIONS[operation](Book(path, FixedClock(MORNING), "shed", patience=0))
    assert str(path) in str(refused.value)
    assert "\n" not in str(refused.value)
    assert state(tmp_path) == before


def test_verify_tells_no_book_from_a_damaged_one(tmp_path: Path) -> None:
    another_duckdb_file(tmp_path / "milk.duckdb")
    with pytest.raises(DataError, match="not a book"):
        book_at(tmp_path / "milk.duckdb").verify()
    half_a_book(tmp_path / "half.duckdb")
    report = book_at(tmp_path / "half.duckdb").verify()
    assert not report.ok
    assert ["damaged" in problem for problem in report.problems] == [True]


def test_verify_of_a_book_without_its_tables(tmp_path: Path) -> None:
    path = tmp_path / "bulls.duckdb"
    ask(
        path,
        "CREATE TABLE meta (name VARCHAR, value VARCHAR)",
        "INSERT INTO meta VALUES ('version', '1')",
    )
    report = book_at(path).verify()
    assert not report.ok
    assert "The table entry is missing or not as made." in report.problems


def test_a_file_in_place_of_a_folder(tmp_path: Path) -> None:
    (tmp_path / "farm").write_text("no folder")
    path = tmp_path / "farm" / "bulls.duckdb"
    book = Book(path, FixedClock(MORNING), "shed")
    with pytest.raises(NotFound):
        standing(book)
    with pytest.raises(CannotWrite):
        book.create()


def test_names_that_mean_something_elsewhere(tmp_path: Path) -> None:
    for name in (
        "it's; DROP TABLE entry.duckdb",
        ":memory:",
        "md:bulls",
        "sqlite:bulls",
        "Stier ½",
    ):
        book = book_at(tmp_path / name)
        book.append([walk(1)], "")
        assert [entry.id for entry in standing(book)] == ids(1)
        assert (tmp_path / name).is_file()


def test_the_log_of_another_state_is_named_and_nothing_is_written(tmp_path: Path) -> None:
    """As after copying one of the two files alone: never replayed, never silently dropped."""
    path = book_at(tmp_path / "bulls.duckdb").path
    log = path.with_name("bulls.duckdb.wal")
    with duckdb.connect(str(path)) as con:
        con.execute("SET checkpoint_threshold = '1TB'")
        con.execute("INSERT INTO meta VALUES ('note', 'x')")
        stale = log.read_bytes()
    book_at(path).append([walk(1)], "")
    log.write_bytes(stale)
    for operation in ("read", "append"):
        with pytest.raises(DataError, match=r"bulls\.duckdb\.wal"):
            OPERATIONS[operation](book_at(path))
    log.unlink()
    assert [entry.id for entry in standing(book_at(path))] == ids(1)


def test_a_log_left_by_another_program_is_taken_in(tmp_path: Path) -> None:
    """Someone's DuckDB was killed after a commit: that commit counts, and later ones stay too."""
    path = book_at(tmp_path / "bulls.duckdb").path
    log = path.with_name("bulls.duckdb.wal")
    with duckdb.connect(str(path)) as con:
        con.execute("SET checkpoint_threshold = '1TB'")
        con.execute("INSERT INTO meta VALUES ('note', 'x')")
        file, left = path.read_bytes(), log.read_bytes()
    path.write_bytes(file)
    log.write_bytes(left)
    book_at(path).append([walk(1)], "")
    assert not log.exists()
    assert ask(path, "SELECT value FROM meta WHERE name = 'note'") == [("x",)]
    assert [entry.id for entry in standing(book_at(path))] == ids(1)


def test_a_damaged_log_loses_no_later_entry(tmp_path: Path) -> None:
    path = book_at(tmp_path / "bulls.duckdb").path
    path.with_name("bulls.duckdb.wal").write_bytes(b"garbage" * 50)
    for number in (1, 2):
        book_at(path).append([walk(number)], "")
    assert [entry.id for entry in standing(book_at(path))] == ids(1, 2)
    assert book_at(path).verify().ok


@contextmanager
def as_nobody() -> Iterator[None]:
    """As a user without rights: root could read and write anything."""
    if os.geteuid() != 0:
        yield
        return
    os.seteuid(65534)
    try:
        yield
    finally:
        os.seteuid(0)


@pytest.fixture
def shared() -> Iterator[Path]:
    """A folder that anyone may enter (pytest's own is closed to others)."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        folder.chmod(0o755)
        book_at(folder / "bulls.duckdb").append([walk(1)], "")
        yield folder
        folder.chmod(0o755)


def test_a_book_that_may_be_read_but_not_written(shared: Path) -> None:
    path = shared / "bulls.duckdb"
    path.chmod(0o444)
    shared.chmod(0o555)
    before = path.read_bytes()
    with as_nobody():
        book = book_at(path)
        assert [entry.id for entry in standing(book)] == ids(1)
        assert book.verify().ok
        with pytest.raises(CannotWrite) as refused:
            book.append([walk(2)], "")
    assert refused.value.exit_code == 73
    assert path.read_bytes() == before


def test_a_book_in_a_folder_that_may_not_be_written(shared: Path) -> None:
    """The file itself could be written, but neither its backup nor DuckDB's log beside it."""
    path = shared / "bulls.duckdb"
    path.chmod(0o666)
    shared.chmod(0o555)
    with as_nobody():
        with pytest.raises(CannotWrite):
            book_at(path).append([walk(2)], "")
        with pytest.raises(CannotWrite):
            Book(shared / "new.duckdb", FixedClock(MORNING), "shed").create()
        assert [entry.id for entry in standing(book_at(path))] == ids(1)


def test_a_book_that_may_not_be_read(shared: Path) -> None:
    path = shared / "bulls.duckdb"
    path.chmod(0)
    with as_nobody(), pytest.raises(NotFound, match="may not read") as refused:
        standing(book_at(path))
    assert refused.value.exit_code == 66


def test_a_data_directory_that_may_not_be_written(
    shared: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(shared / "closed"))
    monkeypatch.setattr("sys.platform", "linux")
    shared.chmod(0o555)
    with as_nobody(), pytest.raises(CannotWrite):
        _ = Book(shared / "bulls.duckdb", FixedClock(MORNING)).device
