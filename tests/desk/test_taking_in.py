"""A large file of entries: what a line costs, counted, and never timed."""

from __future__ import annotations

import json
import tracemalloc
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from readiness.entries import ids
from tests.desk.desks import booked, desk_at, said

LINES = 2_000
BYTES_A_LINE = 2_000
"""Of Python's own, held at most for each line, which is some 90 long: 1,450, where its text, its
content and its receipt are there once; 2,800 where they were there in five forms."""


def a_file(folder: Path, lines: int) -> Path:
    weights = (said("weight", on="2026-04-02", kg=900 + n / 100) for n in range(lines - 1))
    file = folder / f"{lines}.jsonl"
    file.write_text("".join(f"{json.dumps(each)}\n" for each in (booked(), *weights)))
    return file


def test_no_line_of_a_file_is_made_text_more_often_than_once_for_its_id_and_once_to_be_kept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    made: Counter[str] = Counter()

    def counted(name: str) -> Callable[[Any], str]:
        plain: Callable[[Any], str] = getattr(ids, name)

        def count(content: Any) -> str:
            made[name] += 1
            return plain(content)

        return count

    for name in ("_AS_WRITTEN", "_CANONICAL"):
        monkeypatch.setattr(ids, name, counted(name))
    outcome = desk_at(tmp_path / "bulls.duckdb").import_file(a_file(tmp_path, 50))
    assert (len(outcome.written), made) == (50, {"_AS_WRITTEN": 50, "_CANONICAL": 50})


def test_a_large_file_does_not_fill_the_memory(tmp_path: Path) -> None:
    desk_at(tmp_path / "first.duckdb").import_file(a_file(tmp_path, 10))  # what is imported once
    file, desk = a_file(tmp_path, LINES), desk_at(tmp_path / "bulls.duckdb")
    tracemalloc.start()
    try:
        written = len(desk.import_file(file).written)
        most = tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()
    assert (written, most // LINES < BYTES_A_LINE) == (LINES, True), most // LINES
