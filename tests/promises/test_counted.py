"""What a board costs, counted: it does not depend on the machine, and what makes it dearer is seen.

The numbers are measured, not wanted: a change that raises one has to say why.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import duckdb
import pytest

from readiness.book import Book
from readiness.book import session as sessions
from readiness.cli import big_board
from readiness.cli.output import Output
from readiness.desk.desk import Desk
from readiness.engine import assess as engine
from readiness.herd import board as boards
from readiness.system.clock import FixedClock
from tests.bench.books import many_times, working_book
from tests.cli.test_process import imported
from tests.tui.estate import desk_at

TODAY = datetime(2026, 4, 3, 9, tzinfo=UTC)
STATEMENTS, STATEMENTS_OF_BIG = 11, 11
MODULES = 91
READ_AGAIN = 1.25
"""Times its size is a book read for a board, and a little for what else is looked at."""


class Counting:
    """A connection that counts what it is asked."""

    def __init__(self, con: duckdb.DuckDBPyConnection, asked: list[str]) -> None:
        self._con, self._asked = con, asked

    def execute(self, statement: str, *given: Any) -> duckdb.DuckDBPyConnection:
        self._asked.append(statement)
        return self._con.execute(statement, *given)

    def __getattr__(self, name: str) -> Any:
        return getattr(self._con, name)


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The statements that the database was asked."""
    said: list[str] = []
    connect = sessions._connect
    monkeypatch.setattr(sessions, "_IDLE", {})
    monkeypatch.setattr(sessions, "_connect", lambda: Counting(connect(), said))
    return said


@pytest.fixture(scope="module")
def books(tmp_path_factory: pytest.TempPathFactory) -> dict[int, Path]:
    """A book of 10 bulls, and one of 300."""
    folder = tmp_path_factory.mktemp("books")
    small = desk_at(folder / "small.duckdb", working_book(10, 8)).book.path
    many_times(small, folder / "large.duckdb", 30)
    return {10: small, 300: folder / "large.duckdb"}


def at(path: Path) -> Desk:
    clock = FixedClock(TODAY)
    return Desk(Book(path, clock, device="d"), None, clock)


def test_a_board_asks_the_database_no_more_of_many_bulls_than_of_few(
    books: dict[int, Path], asked: list[str]
) -> None:
    for bulls, path in books.items():
        asked.clear()
        assert len(at(path).board().bulls) == bulls
        assert len(asked) == STATEMENTS, asked


def test_a_big_board_asks_the_database_no_more_of_many_bulls_than_of_few(
    books: dict[int, Path], asked: list[str], monkeypatch: pytest.MonkeyPatch,
    capsysbinary: pytest.CaptureFixture[bytes],
) -> None:  # fmt: skip
    monkeypatch.setattr(big_board, "MOST_PROCESSES", 1)
    for path in books.values():
        asked.clear()
        big_board.print_big_board(at(path), Output.of(no_color=True))
        assert len(asked) == STATEMENTS_OF_BIG, asked


def test_a_cold_board_imports_no_more_of_us_than_it_did(books: dict[int, Path]) -> None:
    modules = imported("board", "--json", "--book", books[10], "--on", date(2026, 4, 3))
    mine = sorted(name for name in modules if name.split(".")[0] == "readiness")
    assert len(mine) <= MODULES, mine


def test_after_an_entry_of_one_bull_only_he_is_assessed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk = desk_at(tmp_path / "b.duckdb", working_book(10, 8))
    desk.board()
    assessed: list[str] = []
    whole = engine.assess

    def counted(state: Any, *given: Any, **more: Any) -> Any:
        assessed.append(state.key)
        return whole(state, *given, **more)

    monkeypatch.setattr(boards, "assess", counted)
    desk.board()
    assert assessed == []
    desk.add([{"kind": "weight", "on": "2026-04-03", "bull": "B 0003", "kg": 900}])
    desk.board()
    assert assessed == ["B0003"]


@pytest.fixture
def read() -> Iterator[Any]:
    """How many bytes this process has asked the system for."""
    counter = Path("/proc/self/io")
    if not counter.exists():
        pytest.skip("this system does not count what a process reads")

    def asked_for() -> int:
        fields = dict(line.split(": ") for line in counter.read_text().splitlines())
        return int(fields["rchar"])

    yield asked_for


def test_for_a_board_its_book_is_read_about_once(books: dict[int, Path], read: Any) -> None:
    at(books[10]).board()  # what is imported late is read, too
    before = read()
    at(books[300]).board()
    assert read() - before < READ_AGAIN * books[300].stat().st_size
