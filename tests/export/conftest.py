"""Exports made through the command line, as a person makes them."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import pytest

from readiness.__main__ import main
from readiness.book import Book
from readiness.system.clock import SystemClock
from tests.cli.conftest import Ran, Run, run
from tests.export.farm import DAY, rich_lines

__all__ = ["Made", "Ran", "Run", "made", "run"]


class Made(NamedTuple):
    """The rich book and its export as of ``DAY``: made once, and only to be looked at."""

    book: Path
    folder: Path


@pytest.fixture(scope="session")
def made(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Made]:
    """The book of ``rich_lines``, one of its entries struck, exported."""
    home = tmp_path_factory.mktemp("rich")
    place, source, folder = home / "bulls.duckdb", home / "rich.jsonl", home / "out"
    lines = [json.dumps(line, ensure_ascii=False) for line in rich_lines()]
    source.write_text("\n".join(lines), encoding="utf-8")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_DATA_HOME", str(home / "data"))
        patch.setenv("READINESS_BOOK", str(place))
        patch.delenv("READINESS_RULES", raising=False)
        assert main(["import", str(source)]) == 0
        assert main(["log", "00417", "walk 3 lf", "--on", DAY]) == 0
        wrong = max(Book(place, SystemClock()).snapshot().entries, key=lambda entry: entry.recorded)
        assert main(["strike", wrong.id, "--why", "=1+1", "--on", DAY]) == 0
        assert main(["export", str(folder), "--on", DAY]) == 0
    yield Made(place, folder)
