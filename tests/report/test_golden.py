"""Byte-exact texts of the awkward book on one fixed day.

When a wording changes on purpose, write the files anew with ``python -m tests.report.test_golden``
and read the difference before it is committed.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

import pytest

from readiness.cover.ahead import ahead
from readiness.herd.board import fold_book
from readiness.herd.day_sheet import Sheet, day_sheets
from readiness.herd.diary import planned
from readiness.report.ahead_words import notes
from readiness.report.board_text import board_text
from readiness.report.bull_text import bull_text
from readiness.report.csv_table import board_csv
from readiness.report.diary_lines import diary_text, season_text
from readiness.report.look import Look
from readiness.report.sheet_text import sheet_text
from readiness.rules.load import load_rules
from readiness.visits.asked import Wishes
from readiness.visits.plan import VisitPlan, plan_herd
from tests.report.awkward import DAY, board, card, entries

GOLDEN = Path(__file__).parents[1] / "golden"
NARROW, USUAL, WIDE, PLAIN = Look(60), Look(80), Look(120), Look(80, marks=False)


def _season() -> str:
    told = ahead(fold_book(entries(), load_rules(None), DAY))
    return season_text(planned(told.board), USUAL, told.board.groups, (), notes(told))


TEXTS: dict[str, Callable[[], str]] = {
    "board-60.txt": lambda: board_text(board(), load_rules(None), NARROW),
    "board-80.txt": lambda: board_text(board(), load_rules(None), USUAL),
    "board-80-ascii.txt": lambda: board_text(board(), load_rules(None), PLAIN),
    "board-120.txt": lambda: board_text(board(), load_rules(None), WIDE),
    "board.csv": lambda: board_csv(board()),
    "bull-lame.txt": lambda: bull_text(card("Corran"), DAY, USUAL),
    "bull-block.txt": lambda: bull_text(card("Brock"), DAY, USUAL),
    "diary.txt": lambda: diary_text(
        planned(board(), 40), USUAL, board().groups, last=board().on + 40
    ),
    "sheet.txt": lambda: sheet_text(*_sheets("2026-03-04"), USUAL),
    "sheet-60-ascii.txt": lambda: sheet_text(*_sheets("2026-03-04"), Look(60, marks=False)),
    "season.txt": _season,
}


def _sheets(day: str) -> tuple[tuple[Sheet, ...], VisitPlan]:
    """The sheets of a day, and the visits planned from the next day on."""
    on = date.fromisoformat(day)
    herd = fold_book(entries(), load_rules(None), on.toordinal())
    plan = plan_herd(herd, Wishes(first=on + timedelta(days=1)), seconds=10)
    return day_sheets(entries(), load_rules(None), on.toordinal()), plan


@pytest.mark.parametrize("name", TEXTS)
def test_golden(name: str) -> None:
    assert TEXTS[name]().encode() == (GOLDEN / name).read_bytes()


if __name__ == "__main__":
    for file, text in TEXTS.items():
        (GOLDEN / file).write_bytes(text().encode())
