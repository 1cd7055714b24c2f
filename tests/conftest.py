"""What holds for all tests."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from duckdb import DuckDBPyConnection
from hypothesis import settings

from readiness.book import copies
from readiness.book.schema import make_book
from tests.volume import WHOLE, examples, mark_many

# A loaded machine is no fault of ours.
settings.register_profile("ours", deadline=None, max_examples=examples(100))
settings.load_profile("ours")


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    if not WHOLE:
        mark_many(items)


@pytest.fixture(scope="session", autouse=True)
def an_empty_book_is_made_once() -> Iterator[None]:
    """Its tables and views take 50 ms, and a thousand tests begin with one: after the first, each
    process copies it. It holds nothing of when, where and by whom it was made."""
    fill, empty = copies.fill, list[bytes]()

    def filled(
        con: DuckDBPyConnection, draft: Path, make: Callable[[DuckDBPyConnection], None]
    ) -> None:
        if make is make_book and empty:
            try:
                draft.write_bytes(empty[0])
                return
            except OSError:
                draft.unlink(missing_ok=True)
        fill(con, draft, make)
        if make is make_book:
            empty[:] = [draft.read_bytes()]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(copies, "fill", filled)
        yield
