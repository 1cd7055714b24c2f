"""Commands run inside this process, as a shell would run them."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from readiness.__main__ import main
from tests.build import made_once
from tests.cli.small_book import DAY, write


@dataclass(frozen=True)
class Ran:
    """What one command did."""

    code: int
    out: str
    err: str

    def json(self) -> Any:
        return json.loads(self.out)


Run = Callable[..., Ran]


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Run:
    """Run a command line on ``tmp_path/bulls.duckdb``, in an environment of its own."""
    for name in ("READINESS_RULES", "READINESS_SETTINGS", "NO_COLOR", "LOGNAME"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("READINESS_BOOK", str(tmp_path / "bulls.duckdb"))
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.setenv("USER", "sam")

    def ran(*arguments: object) -> Ran:
        capsys.readouterr()
        code = main([str(argument) for argument in arguments])
        said = capsys.readouterr()
        return Ran(code, said.out, said.err)

    return ran


@pytest.fixture
def book(run: Run, tmp_path: Path) -> Path:
    """The small farm's book, at the place where ``run`` looks for it."""

    def imported() -> None:
        ran = run("import", write(tmp_path / "farm.jsonl"))
        assert ran.code == 0, ran.err

    made_once(tmp_path, "the small farm", imported)
    return tmp_path / "bulls.duckdb"


@pytest.fixture
def board(run: Run, book: Path) -> Callable[..., dict[str, Any]]:
    """Bulls by name on the board of ``DAY``."""

    def bulls(*options: object) -> dict[str, Any]:
        ran = run("board", "--json", "--on", DAY, *options)
        assert ran.code == 0, ran.err
        return {bull["name"]: bull for bull in ran.json()["bulls"]}

    return bulls
