"""From a file of entries to the board, by command line: 40 bulls of 12 entries each, against
the plain search over days that was written without seeing the engine."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest

from readiness.__main__ import main
from readiness.trade.tags import tag_key
from tests.reference.books import random_book
from tests.reference.brute import brute_board
from tests.volume import sampled

ON = date(2026, 4, 3)
ALIKE = ("status", "hold", "outlook", "slack_days", "overdue", "group", "role", "farm")


def _iso(day: date | None) -> str | None:
    return None if day is None else day.isoformat()


# Books in which no bull joins a group of a farm that he is not on: those are refused.
@sampled("seed", [43, 44, 48, 49])
def test_an_imported_book_says_what_the_search_over_days_says(
    seed: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    told = random_book(seed, 40, 12, ON)
    lines = tmp_path / "told.jsonl"
    lines.write_text("\n".join(map(json.dumps, told)), encoding="utf-8")
    where = ["--book", str(tmp_path / "b.duckdb"), "--on", ON.isoformat()]
    assert main(["import", str(lines), *where]) == 0
    capsys.readouterr()
    assert main(["board", "--json", *where]) == 0
    board = {tag_key(bull["bull"]): bull for bull in json.loads(capsys.readouterr().out)["bulls"]}
    expected = {tag_key(bull["bull"]): bull for bull in brute_board(told, ON)}
    assert board.keys() == expected.keys()
    for key, bull in expected.items():
        assert {k: board[key][k] for k in ALIKE} == {k: bull[k] for k in ALIKE}
        assert board[key]["earliest_ready"] == _iso(bull["earliest_ready"])
        windows = {
            check["id"]: (check["not_before"], check["not_after"], check["due"], check["overdue"])
            for check in board[key]["outstanding"]
        }
        assert windows == {
            check["id"]: (
                _iso(check["not_before"]),
                _iso(check["not_after"]),
                _iso(check["due"]),
                check["overdue"],
            )
            for check in bull["outstanding"]
        }
