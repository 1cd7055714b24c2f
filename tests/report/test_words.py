"""One word for one thing, and none that only we use: the guide's glossary has them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from readiness.cli.main import run
from readiness.desk.demo import WRITTEN_ON
from readiness.guide import contents
from tests.test_readme import README
from tests.volume import sampled

NOT_SAID = re.compile(
    r"(?<!\.)\b(slack|chain|answered|struck|seen clear|workers?|ours|withdrawn)\b"
    r"|no source;|, stable\b",
    re.IGNORECASE,
)
COMMANDS = [
    ("rules",), ("bull", "388"), ("bull", "362"), ("board",), ("diary",), ("diary", "--season"),
    ("cover",), ("turnout", "Heifers"), ("sheet",), ("stats",), ("board", "--html", "-"),
    ("bull", "388", "--html", "-"),
]  # fmt: skip


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    path = tmp_path_factory.mktemp("demo") / "demo.duckdb"
    assert run(["demo", "--book", str(path), "--on", str(WRITTEN_ON)]) == 0
    yield path


@sampled("command", COMMANDS, first=3, ids=" ".join)
def test_people_are_told_in_the_trades_words(
    book: Path, capsysbinary: pytest.CaptureFixture[bytes], command: tuple[str, ...]
) -> None:
    assert run([*command, "--book", str(book), "--on", str(WRITTEN_ON)]) == 0
    told = capsysbinary.readouterr().out.decode()
    assert len(told) > 100
    assert NOT_SAID.findall(told) == []


def test_readme_and_guide_use_them_too() -> None:
    for text in (README, *(topic.text for topic in contents())):
        assert NOT_SAID.findall(text) == []
