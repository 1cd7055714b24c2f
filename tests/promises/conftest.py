"""A book of its own for each promise, driven only by command lines."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import Ran, Run, run

__all__ = ["Ran", "Run", "Tell", "run"]

Tell = Callable[..., Ran]


@pytest.fixture
def tell(run: Run, tmp_path: Path) -> Tell:
    """Import these lines, which must be taken."""
    count = 0

    def told(*lines: dict[str, Any], options: tuple[str, ...] = ()) -> Ran:
        nonlocal count
        count += 1
        path = tmp_path / f"lines{count}.jsonl"
        path.write_text("".join(json.dumps(line) + "\n" for line in lines), encoding="utf-8")
        ran = run("import", path, "--json", *options)
        assert ran.code == 0, ran.err
        return ran

    return told


@pytest.fixture
def board(run: Run) -> Callable[..., dict[str, Any]]:
    """``board --json`` on a day."""

    def asked(on: str, *options: object) -> dict[str, Any]:
        ran = run("board", "--json", "--on", on, *options)
        assert ran.code == 0, ran.err
        made: dict[str, Any] = ran.json()
        return made

    return asked
