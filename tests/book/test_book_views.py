"""The views of a book: what they show, and how a book of before gets those of this program."""

from __future__ import annotations

import os
from datetime import date
from pathlib import Path

import pytest

from readiness.book import Book
from readiness.book.views import VIEWS_VERSION, views
from readiness.entries.ids import digest
from readiness.system.errors import DataError
from tests.book.builders import ask, book_at, bull, entry_id, said, strike, walk
from tests.build import standing
from tests.entries.samples import FULL, Sample
from tests.entries.samples import said as entry_of

# What an older program made: its looks had no outcome, its books no version of the views.
BEFORE = (
    "DROP VIEW view_version",
    "DROP VIEW body",
    "CREATE OR REPLACE VIEW vet_looks AS "
    "SELECT id, day, bull, CAST(body->>'$.about' AS VARCHAR) AS about FROM effective "
    "WHERE kind = 'vet-look'",
)
OLD_LOOK = entry_of("vet-look", about="foot", foot="LF")


@pytest.fixture
def book(tmp_path: Path) -> Book:
    made = book_at(tmp_path / "bulls.duckdb")
    made.append([bull(1)], "")
    return made


@pytest.fixture
def before(book: Book) -> Book:
    """A book that an older program made, with a look that says no outcome."""
    book.append([said(2, OLD_LOOK)], "")
    ask(book.path, *BEFORE, "FROM meta")
    return book_at(book.path)


def views_in(book: Book) -> dict[str, str]:
    return dict(ask(book.path, "SELECT view_name, sql FROM duckdb_views() WHERE NOT internal"))


def test_whoever_changes_a_view_counts_its_version_up() -> None:
    """Else the books that there are would keep the old one."""
    queries = {name: query for name, query in views().items() if name != "view_version"}
    assert (VIEWS_VERSION, digest(queries)[:16]) == (7, "56a29d375bea9f49")


@pytest.mark.parametrize(
    ("view", "content", "columns"),
    [
        ("body", FULL["body"], {"part": "joint", "limb": "LH", "state": "wrong"}),
        (
            "vet_looks",
            FULL["vet-look"],
            {"about": "body", "outcome": "again", "again_on": date(2026, 5, 3), "foot": None,
             "part": "joint", "limb": "LH"},
        ),
        (
            "vet_looks",
            OLD_LOOK,
            {"about": "foot", "outcome": None, "again_on": None, "foot": "LF", "part": None,
             "limb": None},
        ),
        (
            "vet_exams",
            entry_of("vet-exam", outcome="satisfactory", scrotum_cm=30, stands=True),
            {"outcome": "satisfactory", "scrotum_cm": 30.0, "stands": True},
        ),
        (
            "vet_examined",
            entry_of("vet-exam", outcome="deferred", examined=[{"part": "eyes", "how": "seen"}]),
            {"entry": entry_id(2), "line": 1, "part": "eyes", "how": "seen"},
        ),
        (
            "checks",
            FULL["check"],
            {"check": "bvd-test", "laboratory": "Sike Laboratories",
             "valid_until": date(2027, 4, 2)},
        ),
        (
            "group_said",
            {**FULL["group"], "weeks": None, "class": None},
            {"entry": entry_id(2), "turnout": date(2026, 5, 9), "weeks": None, "females": 60,
             "class": None, "taken_away": "weeks class"},
        ),
        (
            "group_said",
            FULL["group"],
            {"group": "Heifers", "farm": "Sallow Fell", "weeks": 9, "class": "heifers",
             "taken_away": None},
        ),
    ],
)  # fmt: skip
def test_a_view_shows_the_fields_of_its_kind(
    book: Book, view: str, content: Sample, columns: dict[str, object]
) -> None:
    book.append([said(2, content)], "")
    names = ", ".join(f'"{name}"' for name in columns)
    assert ask(book.path, f'SELECT {names} FROM "{view}"') == [tuple(columns.values())]


def test_the_view_of_the_groups_has_a_row_a_group_as_it_stands(book: Book) -> None:
    """Said again, later fields replace earlier ones, null takes one away; a struck entry says
    nothing; another farm's group of that name is another."""
    other = {**FULL["group"], "farm": "Low", "females": 20}
    unsaid = {key: value for key, value in FULL["group"].items() if key not in ("weeks", "class")}
    book.append(
        [said(2, {**FULL["group"], "on": "2026-04-04"}), said(3, {**other, "on": "2026-04-04"}),
         said(4, {**unsaid, "on": "2026-04-05", "turnout": "2026-05-16", "females": None}),
         said(5, {**unsaid, "on": "2026-04-03", "turnout": "2026-05-01", "females": 9}),
         said(6, {**other, "on": "2026-04-06", "class": None, "weeks": 4}),
         said(7, {**other, "on": "2026-04-07", "weeks": 5}), strike(8, 7)], "",
    )  # fmt: skip
    names = 'farm, "group", turnout, weeks, females, "class"'
    assert ask(book.path, f"SELECT {names} FROM groups ORDER BY farm") == [
        ("Low", "Heifers", date(2026, 5, 9), 4, 20, "cows"),
        ("Sallow Fell", "Heifers", date(2026, 5, 16), 9, None, "heifers"),
    ]
    assert ask(book.path, "SELECT count(*) FROM group_said") == [(5,)]


def test_a_book_of_before_is_whole_and_can_be_read(before: Book, tmp_path: Path) -> None:
    report = before.verify()
    assert report.ok
    assert ["another version" in remark for remark in report.remarks] == [True]
    assert dict(standing(before)[-1].body) == OLD_LOOK
    copy = before.backup(tmp_path / "copy.duckdb")
    assert book_at(copy).verify().ok


def test_the_next_entry_brings_the_views_of_a_book_of_before_up_to_date(
    before: Book, tmp_path: Path
) -> None:
    before.append([said(3, FULL["body"])], "")
    assert ask(before.path, "SELECT part FROM body") == [("joint",)]
    assert ask(before.path, "SELECT about, outcome FROM vet_looks") == [("foot", None)]
    assert views_in(before) == views_in(book_at(tmp_path / "new.duckdb"))
    assert before.verify().remarks == []
    assert before.verify().ok


def test_views_by_the_names_of_before_go_on_answering(before: Book) -> None:
    old = (
        "SELECT id, bull, CAST(body->>'$.kg' AS DOUBLE) AS kg FROM effective WHERE kind = 'weight'"
    )
    ask(before.path, f"CREATE VIEW weight AS {old}", "FROM meta")
    before.append([said(3, FULL["weight"])], "")
    assert ask(before.path, "SELECT kg FROM weight") == ask(before.path, "SELECT kg FROM weights")
    assert before.verify().ok


def test_what_is_refused_first_does_not_keep_them_from_being_brought_up_to_date(
    before: Book,
) -> None:
    with pytest.raises(DataError):
        before.append([strike(3, 1)], "")
    assert "body" not in views_in(before)
    before.append([walk(3)], "")
    assert "body" in views_in(before)


def test_another_file_put_in_the_books_place_has_its_views_brought_up_to_date(
    before: Book, tmp_path: Path
) -> None:
    before.append([walk(3)], "")
    other = before.backup(tmp_path / "other.duckdb")
    ask(other, *BEFORE, "FROM meta")
    os.replace(other, before.path)
    assert "body" not in views_in(before)
    before.append([walk(4)], "")
    assert "body" in views_in(before)


def test_an_undo_brings_them_up_to_date_too(before: Book) -> None:
    before.undo("")
    assert "body" in views_in(before)


def test_views_of_a_later_program_are_left(book: Book) -> None:
    later = f"CREATE OR REPLACE VIEW view_version AS SELECT {VIEWS_VERSION + 1} AS version"
    ask(book.path, later, "CREATE OR REPLACE VIEW body AS SELECT 1 AS new", "FROM meta")
    book.append([walk(2)], "")
    assert ask(book.path, "SELECT new FROM body") == [(1,)]


def test_a_table_of_ones_own_with_a_views_name_is_left_and_entries_are_written(
    before: Book,
) -> None:
    ask(before.path, "CREATE TABLE body AS SELECT 'mine' AS what", "FROM meta")
    before.append([walk(3)], "")
    assert ask(before.path, "SELECT what FROM body") == [("mine",)]
    assert ["view body is missing" in problem for problem in before.verify().problems] == [True]
