"""Settings written where the program looks for them, driven by command lines."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.cli.conftest import Ran, Run, book, run

__all__ = ["Ran", "Run", "Set", "book", "run"]

Set = Callable[[str], Path]


@pytest.fixture
def place(run: Run, tmp_path: Path) -> Path:
    """Where the settings of ``run`` are looked for; nothing stands there."""
    return tmp_path / "config" / "readiness" / "readiness.toml"


@pytest.fixture
def settings(place: Path) -> Set:
    """Write these settings."""

    def written(text: str) -> Path:
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_text(text, encoding="utf-8")
        return place

    return written
