"""salvage as a command: what it says in words and for programs, and by its exit code."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from readiness.report.schemas.results import schema_of
from readiness.system.locations import journal_beside
from tests.cli.conftest import Run


def damaged(book: Path) -> None:
    """One entry's text is not what was written."""
    whole = book.read_bytes()
    assert whole.count(b'"weight":900') + whole.count(b'"kg":900') == 1
    book.write_bytes(whole.replace(b":900", b":400"))


@pytest.fixture
def weighed(run: Run, book: Path) -> Path:
    assert run("log", "417", "kg 900", "--on", "2026-11-20", "--by", "Ada").code == 0
    return book


def test_with_its_journal_nothing_is_lost_and_the_board_is_the_same(
    run: Run, weighed: Path, board: Callable[..., object]
) -> None:
    before = board()
    damaged(weighed)
    assert run("board").code == 65
    new = weighed.with_name("new.duckdb")
    done = run("salvage", weighed, "--book", new)
    assert done.code == 0, done.err
    assert f"made {new}" in done.out
    assert "from the book bulls.duckdb: " in done.out
    assert "; not all of it could be read" in done.out
    assert "from the journal bulls.duckdb.journal: 1\n" in done.out
    assert done.out.endswith("nothing is lost\n")
    shutil.move(new, weighed)
    shutil.rmtree(journal_beside(weighed))
    shutil.move(journal_beside(new), journal_beside(weighed))
    assert board() == before


def test_without_it_what_is_lost_is_named_and_the_new_book_is_there(
    run: Run, weighed: Path
) -> None:
    shutil.rmtree(journal_beside(weighed))
    damaged(weighed)
    new = weighed.with_name("new.duckdb")
    done = run("salvage", weighed, "--book", new, "--json")
    assert done.code == 65
    result = done.json()
    Draft202012Validator(schema_of("salvage")).validate(result)
    (lost,) = result["lost"]
    assert (lost["kind"], lost["day"], lost["who"]) == ("weight", "2026-11-20", "Ada")
    assert not result["all_there"]
    assert "1 entry is lost" in done.err
    assert run("verify", "--book", new).code == 0
    said = run("salvage", weighed, "--book", weighed.with_name("other.duckdb")).out
    assert "lost: weight " in said
    assert " of 2026-11-20, written down " in said
    assert " by Ada, batch " in said


def test_what_a_damaged_book_says_names_it(run: Run, weighed: Path) -> None:
    shutil.rmtree(journal_beside(weighed))
    damaged(weighed)
    named = f"`readiness --book NEW salvage {weighed}`"
    for command in ("board", "verify"):
        refused = run(command)
        assert refused.code == 65
        assert named in refused.err
    weighed.write_bytes(b"x" + weighed.read_bytes()[1:])
    assert named in run("board").err


def test_it_goes_over_no_book_and_needs_something_to_read(run: Run, weighed: Path) -> None:
    assert run("salvage", weighed).code == 73
    assert run("salvage", weighed.with_name("no.duckdb"), "--book", "new.duckdb").code == 66
