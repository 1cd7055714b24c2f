"""The database itself refuses changes, and tells anyone who asks what is in it."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import duckdb
import pytest

from readiness.book import Book
from tests.book.builders import ask, book_at, bull, said, strike, walk

TABLES = ("meta", "entry", "receipt")


@pytest.fixture
def book(tmp_path: Path) -> Book:
    made = book_at(tmp_path / "bulls.duckdb")
    made.append([bull(1), walk(2, score=1)], "M. Oakes")
    return made


@pytest.mark.parametrize("table", TABLES)
@pytest.mark.parametrize(
    "change",
    ["UPDATE {} SET {} = 'x'", "DELETE FROM {}", "TRUNCATE {}", "DELETE FROM {} WHERE {} = 'none'"],
)
def test_every_table_only_grows(book: Book, table: str, change: str) -> None:
    column = "value" if table == "meta" else "id"
    before = book.snapshot().entries
    with pytest.raises(duckdb.Error, match="a book only grows"):
        ask(book.path, change.format(table, column))
    assert book.snapshot().entries == before
    assert book.verify().ok


@pytest.mark.parametrize("alias", ["book", "something_else"])
def test_attached_under_any_name_it_is_refused(book: Book, alias: str) -> None:
    with duckdb.connect() as con:
        con.execute(f"ATTACH '{book.path}' AS {alias}")
        for table in TABLES:
            with pytest.raises(duckdb.Error):
                con.execute(f"DELETE FROM {alias}.{table}")
    assert len(book.snapshot().entries) == 2


def test_the_table_that_refuses_can_hold_nothing(book: Book) -> None:
    with pytest.raises(duckdb.Error, match="CHECK"):
        ask(book.path, "INSERT INTO refusal VALUES ('x')")


FEET = {
    "kind": "feet",
    "on": "2026-04-02",
    "bull": "004 17",
    "by": "M. Oakes",
    "lifted": ["LF", "RH"],
    "refused": ["LH"],
    "findings": [
        {"foot": "LF", "claw": "outer", "code": "SU", "zone": 4, "severity": 2},
        {"foot": "RH", "claw": "skin", "code": "DD", "stage": "M4.1", "size_mm": 12.5},
    ],
    "healed": [{"foot": "RH", "claw": "both", "code": "WLF", "stable": True}],
    "work": [{"foot": "LF", "claw": "outer", "act": "pare"}, {"foot": "RH", "act": "wrap"}],
    "measures": [{"foot": "LF", "claw": "outer", "wall_mm": 92, "sole_mm": 7}],
}

SHOWN = [
    (
        "lifts",
        "line, bull, foot, outcome",
        FEET,
        [(1, "004 17", "LF", "lifted"), (2, "004 17", "RH", "lifted"),
         (3, "004 17", "LH", "refused")],
    ),
    (
        "findings",
        '"on", foot, claw, code, zone, severity, stage, size_mm, "by"',
        FEET,
        [
            (date(2026, 4, 2), "LF", "outer", "SU", 4, 2, None, None, "M. Oakes"),
            (date(2026, 4, 2), "RH", "skin", "DD", None, None, "M4.1", 12.5, "M. Oakes"),
        ],
    ),
    ("healed", "foot, claw, code, stable", FEET, [("RH", "both", "WLF", True)]),
    ("work", "foot, claw, act", FEET, [("LF", "outer", "pare"), ("RH", None, "wrap")]),
    ("measures", "wall_mm, sole_mm, groove_mm", FEET, [(92.0, 7.0, None)]),
    (
        "blocks",
        "act, foot, claw, lost",
        {"kind": "block-off", "on": "2026-04-02", "bull": "1", "foot": "LH", "claw": "inner",
         "lost": True},
        [("off", "LH", "inner", True)],
    ),
    (
        "condition",
        "scale, score",
        {"kind": "condition", "on": "2026-04-02", "bull": "1", "scale": "five", "score": 3.25},
        [("five", 3.25)],
    ),
    (
        "vet_exams",
        "outcome, again_on, motility_pct, feet_seen",
        {"kind": "vet-exam", "on": "2026-04-02", "bull": "1", "outcome": "deferred",
         "again_on": "2026-06-01", "motility_pct": 25},
        [("deferred", date(2026, 6, 1), 25.0, None)],
    ),
    (
        "vet_looks",
        "about, foot",
        {"kind": "vet-look", "on": "2026-04-02", "bull": "1", "about": "foot", "foot": "LF"},
        [("foot", "LF")],
    ),
    (
        "incidents",
        "cause, lame, limb",
        {"kind": "incident", "on": "2026-04-02", "bull": "1", "cause": "fight", "lame": True},
        [("fight", True, None)],
    ),
    (
        "treatments",
        "given_by, product, pain_relief, withdrawal_until",
        {"kind": "treatment", "on": "2026-04-02", "bull": "1", "given_by": "vet",
         "product": "as labelled", "withdrawal_until": "2026-04-20"},
        [("vet", "as labelled", None, date(2026, 4, 20))],
    ),
    (
        "checks",
        '"check", result',
        {"kind": "check", "on": "2026-04-02", "bull": "1", "check": "halter", "result": "pass"},
        [("halter", "pass")],
    ),
    (
        "moves",
        "act, reason",
        {"kind": "moved", "on": "2026-04-02", "bull": "1", "act": "in", "reason": "rested"},
        [("in", "rested")],
    ),
    ("weights", "kg", {"kind": "weight", "on": "2026-04-02", "bull": "1", "kg": 980.5}, [(980.5,)]),
    (
        "group_said",
        '"group", turnout, females, "class", farm',
        {"kind": "group", "on": "2026-04-02", "group": "Heifers", "turnout": "2026-05-01",
         "females": 40},
        [("Heifers", date(2026, 5, 1), 40, None, None)],
    ),
    (
        "memberships",
        '"group", role',
        {"kind": "join", "on": "2026-04-02", "bull": "1", "group": None},
        [(None, None)],
    ),
]  # fmt: skip


@pytest.mark.parametrize(("view", "columns", "content", "rows"), SHOWN, ids=[s[0] for s in SHOWN])
def test_each_kind_has_a_typed_view(
    tmp_path: Path,
    view: str,
    columns: str,
    content: dict[str, object],
    rows: list[tuple[object, ...]],
) -> None:
    book = book_at(tmp_path / "bulls.duckdb")
    book.append([said(1, content)], "")
    assert ask(book.path, f"SELECT {columns} FROM {view}") == rows


def test_views_show_what_stands(book: Book) -> None:
    assert ask(book.path, "SELECT scale, score, limb FROM mobility") == [("gb0-3", 1, None)]
    assert ask(book.path, "SELECT name, bull FROM bookings") == [("Corran", "00417")]
    book.append([strike(3, 2)], "")
    assert ask(book.path, "SELECT * FROM mobility") == []
    assert ask(book.path, "SELECT count(*) FROM strikes") == [(1,)]
    assert ask(book.path, "SELECT count(*) FROM effective") == [(1,)]
