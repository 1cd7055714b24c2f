"""The text board: fits its width, loses no bull, and says all of it without colour."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from readiness.engine.results import Board
from readiness.report.board_text import board_text
from readiness.report.look import Look
from readiness.report.rows import rows
from readiness.rules.load import load_rules
from readiness.system.width import cells
from readiness.tui.board.head import group_lines
from readiness.tui.shared.looks import glyphs_for
from tests.report.awkward import board

COLOUR = re.compile(r"\x1b\[[\d;]*m")


@pytest.mark.parametrize("width", [60, 64, 72, 80, 81, 100, 120, 160])
@pytest.mark.parametrize("marks", [True, False])
def test_no_line_is_wider_than_the_terminal(width: int, marks: bool) -> None:
    for line in board_text(board(), load_rules(None), Look(width, marks=marks)).splitlines():
        assert cells(line) <= width, line


@pytest.mark.parametrize("width", [60, 80, 100, 120])
def test_no_name_no_day_and_no_check_is_cut(width: int) -> None:
    """What does not fit goes on under itself, or its column is left out."""
    text = board_text(board(), load_rules(None), Look(width))
    assert "…" not in text
    table = text[text.index("   bull") :]
    for bull in board().bulls:
        for words in (bull.name or "").split():
            assert len(words) > 12 or words in table, words
    for row in rows(board()):
        assert all(word in table for word in f"{row.next} {row.by}".split())


def test_every_bull_has_his_row_in_the_boards_order() -> None:
    text = board_text(board(), load_rules(None), Look(120))
    tags = [line[3:].split()[0] for line in text.splitlines() if line[:1] in "■□●" and line[:1]]
    assert tags[:-1] == [bull.bull.split()[-1][-5:] for bull in board().bulls]


def test_colour_changes_nothing_but_colour() -> None:
    plain = board_text(board(), load_rules(None), Look(80))
    coloured = board_text(board(), load_rules(None), Look(80, colour=True))
    assert coloured != plain
    stripped = [line.rstrip() for line in COLOUR.sub("", coloured).splitlines()]
    assert stripped == plain.splitlines()


def test_it_says_that_a_forecast_clears_nobody_and_the_vet_decides() -> None:
    text = " ".join(board_text(board(), load_rules(None), Look(80)).split())
    for words in (
        "if every check passes",
        "The vet decides",
        "Waiting clears no bull",
        "Never work a bull alone",
    ):
        assert words in text


def test_a_board_without_bulls_says_how_to_begin() -> None:
    empty: Board = replace(board(), bulls=(), groups=())
    text = board_text(empty, load_rules(None), Look(80))
    assert "No bulls on this board" in text
    assert all(cells(line) <= 80 for line in text.splitlines())


@pytest.mark.parametrize("screen", [False, True], ids=["text", "screen"])
def test_counts_of_four_digits_stand_apart_and_under_one_another(screen: bool) -> None:
    first, *others = board().groups
    large = replace(first, bulls=1234, go=1000, hold_checks=1200, hold_reason=34, overdue=1001)
    shown = replace(board(), groups=(large, *others))
    if screen:
        lines = group_lines(shown, (), 120, 9, glyphs_for("utf-8")).plain.splitlines()
    else:
        lines = board_text(shown, load_rules(None), Look(120)).splitlines()
    lines = [line for line in lines if "turnout" in line and "spare:" not in line]
    assert len(lines) == len(shown.groups)
    for sign in ("■", "□", "●", " bull"):
        assert len({line.rindex(sign) for line in lines if f"1{sign}" not in line}) == 1
    (counted,) = (line for line in lines if "1234 bulls" in line)
    for words in ("1234 bulls", "1000 ●", "1200 □", "34 ■", "1001 overdue"):
        assert f" {words}" in counted
