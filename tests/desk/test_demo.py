"""The demo: invented, moved to its day, and showing everything that the board can say."""

from __future__ import annotations

import json
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from readiness.book import Book
from readiness.desk.demo import WRITTEN_ON, build_demo, demo_data, demo_lines
from readiness.desk.desk import Desk
from readiness.engine.results import Board
from readiness.entries.validate import validate
from readiness.herd.board import assess_book
from readiness.rules.load import load_rules
from readiness.system.clock import FixedClock
from readiness.trade.checks import CHECKS
from readiness.trade.tags import tag_problem
from tests.build import standing

ON = date(2026, 11, 25)


def _board(folder: Path, on: date) -> Board:
    path = folder / "demo.duckdb"
    book = build_demo(path, on)
    return assess_book(standing(book), load_rules(path.with_suffix(".toml")), on.toordinal())


@pytest.fixture(scope="module")
def board(tmp_path_factory: pytest.TempPathFactory) -> Board:
    return _board(tmp_path_factory.mktemp("demo"), ON)


def test_every_status_outlook_and_check_occurs(board: Board) -> None:
    assert len(board.bulls) == 36
    assert {(bull.status, bull.hold) for bull in board.bulls} == {
        ("GO", None), ("HOLD", "reason"), ("HOLD", "checks"),
    }  # fmt: skip
    assert {bull.outlook for bull in board.bulls} == {
        "ready", "on-track", "tight", "too-late", "vet-decides", "wrong-group", "no-turnout",
        "working",
    }  # fmt: skip
    checks = {check.check for bull in board.bulls for check in bull.outstanding}
    assert checks == {*CHECKS, "paperwork"}
    assert {bull.role for bull in board.bulls} == {"worker", "reserve", None}


REASONS = (
    "block on", "condition", "eyes wrong", "in quarantine", "lame", "lift", "motility",
    "not safe with heifers", "severity not said", "sole ulcer", "thin sole", "too young",
    "vet looked at him", "vet to look again", "vet to look", "vet: deferred",
    "vet: unsatisfactory", "went out without", "wrap on", "would not lift",
)  # fmt: skip
ADVICE = (
    "the semen of that time is gone by", "the vet stands by it", "watch", "within 60 days before",
    "withdrawal until", "nobody has said whether he is safe", "look at interdigital dermatitis",
    "ask a vet before he is loaded", "since the vet passed him", "fit again?",
)  # fmt: skip


def test_every_kind_of_reason_and_of_advice_occurs(board: Board) -> None:
    reasons = "\n".join(reason.text for bull in board.bulls for reason in bull.reasons)
    advice = "\n".join(remark.text for bull in board.bulls for remark in bull.advice)
    assert [words for words in REASONS if words not in reasons] == []
    assert [words for words in ADVICE if words not in advice] == []


def test_four_groups_are_turned_out_in_6_20_35_and_62_days(board: Board) -> None:
    assert [group.turnout - board.on for group in board.groups] == [6, 20, 35, 62]
    assert [group.go > 0 for group in board.groups] == [True, False, False, False]


def test_the_same_day_gives_the_same_demo(board: Board, tmp_path: Path) -> None:
    assert _board(tmp_path, ON) == board


def test_on_another_day_only_the_dates_are_others(board: Board, tmp_path: Path) -> None:
    later = _board(tmp_path, date(2027, 3, 1))
    assert [(b.key, b.outlook, b.overdue) for b in later.bulls] == [
        (b.key, b.outlook, b.overdue) for b in board.bulls
    ]
    for one, two in zip(later.bulls, board.bulls, strict=True):
        # Months are not all as long: who waits to be old enough may wait some days more.
        growing = any(check.check == "age" for check in one.outstanding)
        assert growing or one.slack_days == two.slack_days


def test_every_stored_entry_is_valid_and_not_of_the_day_after() -> None:
    for line in (demo_data() / "estate.jsonl").read_text(encoding="utf-8").splitlines():
        said = json.loads(line)
        assert validate(said)[1] == []
        assert said["on"] <= WRITTEN_ON.isoformat()


def test_the_tags_have_their_check_digits() -> None:
    for line in demo_lines(ON).decode().splitlines():
        said = json.loads(line)
        if said["kind"] == "bull":
            assert tag_problem(said["bull"]) is None


def test_a_group_is_short_a_reserve_mends_it_and_the_chance_is_told(tmp_path: Path) -> None:
    build_demo(tmp_path / "demo.duckdb", ON)
    clock = FixedClock(datetime(ON.year, ON.month, ON.day, 9, tzinfo=UTC))
    book = Book(tmp_path / "demo.duckdb", clock, "shed")
    cover = Desk(book, tmp_path / "demo.toml", clock).reading().cover()
    short = {group.group: group.short for group in cover.groups if group.short}
    assert short == {"Heifers": 6}
    (move,) = cover.moves
    assert (move.bull.name, move.role_before, move.short_after) == ("Sorrel", "reserve", 0)
    assert move.chance_before == 0 < move.chance_after
