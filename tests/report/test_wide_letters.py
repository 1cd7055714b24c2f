"""Wide letters and emoji take the columns that a terminal gives them, and shift nothing."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace

import pytest

from readiness.engine.results import Board
from readiness.herd.diary import planned
from readiness.report.board_text import board_text
from readiness.report.bull_text import bull_text
from readiness.report.diary_lines import diary_text
from readiness.report.look import Look, wrapped
from readiness.rules.load import load_rules
from readiness.system.width import cells, cut, pieces
from tests.report.awkward import DAY, board, card, named

WIDE = ("雪", "🐂", "👍🏽", "👨‍👩‍👧 🐂", "❤️ 雪", "🇬🇧", "ク" * 30, "🐂" * 30)
FAMILY = "👨‍👩‍👧"


def called(name: str) -> Board:
    return replace(board(), bulls=(named("Corran")._replace(name=name),))


def at(text: str, words: str) -> int:
    """The column of his line in which the words stand."""
    line = next(line for line in text.splitlines() if "00417" in line and words in line)
    return cells(line[: line.rindex(words)])


def test_what_a_terminal_shows_as_one_sign_is_as_wide_as_one() -> None:
    """Unicode UTS 51: a sequence of emoji is one emoji, two columns wide."""
    assert [cells(text) for text in ("雪", "🐂", "👍🏽", FAMILY, "❤️", "🇬🇧")] == [2] * 6
    assert [cells(text) for text in ("e\u0301", "É", "■ □ ●! …")] == [1, 1, 8]


def test_no_sign_is_cut_in_two() -> None:
    assert cut("牛牛牛", 4, "…") == "牛…" and cut(f"a{FAMILY}b", 3, "…") == "a…"
    assert pieces("牛牛牛", 3) == ["牛", "牛", "牛"] and pieces("牛", 1) == ["牛"]
    assert wrapped(f"{FAMILY}{FAMILY}", 2) == [FAMILY, FAMILY]


@pytest.mark.parametrize("width", [60, 80, 120])
@pytest.mark.parametrize("name", WIDE, ids=ascii)
def test_the_board_stands_in_its_columns(name: str, width: int) -> None:
    plain = "x" * cells(name)
    look = Look(width)
    wide, narrow = (board_text(called(each), load_rules(None), look) for each in (name, plain))
    for words in ("lame LF", "lift LF", "today"):
        assert at(wide, words) == at(narrow, words)


@pytest.mark.parametrize("name", WIDE, ids=ascii)
def test_the_diary_stands_in_its_columns(name: str) -> None:
    plain = "x" * cells(name)
    wide, narrow = (diary_text(planned(called(each)), Look(80)) for each in (name, plain))
    assert at(wide, "lift LF") == at(narrow, "lift LF")


@pytest.mark.parametrize("name", WIDE, ids=ascii)
def test_the_day_stands_at_the_end_of_a_card(name: str) -> None:
    shown = card("Corran")
    shown = replace(shown, assessment=shown.assessment._replace(name=name))
    heads = bull_text(shown, DAY, Look(80)).splitlines()[:2]
    assert any(head.endswith("Fri 3 Apr 2026") and cells(head) == 78 for head in heads)


def test_text_of_latin_letters_and_our_marks_loads_nothing_to_be_measured() -> None:
    """The cold board is not to pay for wide letters that it does not hold."""
    code = (
        "import sys; from readiness.report.look import Look, hanging; "
        "Look(80).fit('■ Éabhall → Bog Farm… ·', 9); hanging('●! GO, but: ß ' * 9, 20); "
        "assert 'rich' not in sys.modules; "
        "Look(80).fit('雪', 9); assert 'rich.cells' in sys.modules"
    )
    subprocess.run([sys.executable, "-c", code], check=True)
