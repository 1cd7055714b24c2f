"""What the book promises to others: views for anyone's DuckDB, only growing, backups kept."""

from __future__ import annotations

import json
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import duckdb
import pytest

from readiness.book import Book
from readiness.entries.entry import NewEntry
from readiness.entries.ids import digest
from readiness.system.clock import FixedClock
from tests import build as say
from tests.build import standing
from tests.promises.conftest import Run, Tell
from tests.promises.test_entries_lines import EVERY_KIND, ON

ROWS = {
    "bookings": 1, "weights": 1, "group_said": 1, "memberships": 1, "lifts": 3, "findings": 2,
    "healed": 1, "work": 2, "measures": 1, "blocks": 2, "mobility": 3, "condition": 2,
    "vet_exams": 1, "vet_looks": 1, "body": 1, "incidents": 1, "treatments": 1, "checks": 1,
    "moves": 1, "strikes": 0,
}  # fmt: skip


@pytest.fixture
def book(tell: Tell, tmp_path: Path) -> Path:
    tell(*EVERY_KIND)
    return tmp_path / "bulls.duckdb"


def test_every_kind_has_a_view_that_anyone_can_ask(book: Path) -> None:
    with duckdb.connect(str(book), read_only=True) as con:
        rows = {name: len(con.execute(f'FROM "{name}"').fetchall()) for name in ROWS}
        assert rows == ROWS
        answer = con.execute(
            "SELECT bull, \"on\", foot, claw, code, zone, severity FROM findings WHERE code = 'SU'"
        ).fetchall()
    assert answer == [(say.TAG, date.fromisoformat(ON), "LF", "outer", "SU", 4, 2)]


def test_views_leave_struck_entries_out(book: Path, run: Run) -> None:
    history = run("bull", say.TAG, "--json", "--on", ON).json()["history"]
    weight = next(line for line in history if line["kind"] == "weight")
    assert run("strike", weight["id"], "--on", ON).code == 0
    with duckdb.connect(str(book), read_only=True) as con:
        assert con.execute("FROM weights").fetchall() == []
        assert con.execute("SELECT struck FROM strikes").fetchall() == [(weight["id"],)]


@pytest.mark.parametrize("table", ["entry", "receipt", "meta"])
@pytest.mark.parametrize("statement", ["DELETE FROM {}", "TRUNCATE {}", "UPDATE {} SET {} = ''"])
def test_the_database_itself_refuses_change(book: Path, table: str, statement: str) -> None:
    column = {"entry": "kind", "receipt": "who", "meta": "value"}[table]
    with duckdb.connect(str(book)) as con:
        before = con.execute(f"FROM {table}").fetchall()
        with pytest.raises(duckdb.Error, match="only grows"):
            con.execute(statement.format(table, column))
        assert con.execute(f"FROM {table}").fetchall() == before != []


def test_each_digest_is_that_of_the_content(book: Path) -> None:
    with duckdb.connect(str(book), read_only=True) as con:
        held = con.execute("SELECT body, digest FROM entry").fetchall()
    assert len(held) == len(EVERY_KIND)
    assert all(digest(json.loads(body)) == said for body, said in held)


def test_no_log_file_stays_behind(book: Path) -> None:
    assert [path.name for path in book.parent.iterdir() if path.suffix == ".wal"] == []


def test_backups_are_kept_14_days_and_12_months(tmp_path: Path) -> None:
    """500 days with a backup each, then the first write of one more: of the last 14 days all are
    there, of the 12 months before this one the first each, and the first of this month."""
    path, today = tmp_path / "b.duckdb", date(2027, 8, 20)
    folder = tmp_path / "b.duckdb.backups"
    clock = FixedClock(datetime(2027, 8, 20, 9, tzinfo=UTC))
    book = Book(path, clock, "shed")
    book.create()
    first, second, third = (
        NewEntry(f"00000000-0000-7000-8000-00000000000{n}",
                 {"kind": "bull", "on": "2027-08-20", "bull": f"B {n}"})
        for n in (1, 2, 3)
    )  # fmt: skip
    book.append([first], "sam")
    folder.mkdir(exist_ok=True)
    for back in range(1, 501):
        (folder / f"{today - timedelta(back)}.duckdb").write_bytes(b"an old copy")
    (folder / "notes.txt").write_text("not ours to remove", encoding="utf-8")
    book.append([second], "sam")
    book.append([third], "sam")
    recent = {(today - timedelta(back)).isoformat() for back in range(14)}
    monthly = {f"2027-{month:02d}-01" for month in range(1, 9)}
    monthly |= {f"2026-{month:02d}-01" for month in range(8, 13)}
    assert {p.stem for p in folder.glob("*.duckdb")} == recent | monthly
    assert (folder / "notes.txt").exists()
    copy = Book(folder / f"{today}.duckdb", clock, "shed")
    assert [entry.bull for entry in standing(copy)] == ["B1"], "as it was before the first write"
