"""The board as CSV: RFC 4180, and nothing in it is a formula."""

from __future__ import annotations

import csv
import io
from dataclasses import replace

import pytest

from readiness.report.csv_table import BOARD, board_csv, stats_csv
from readiness.system.plain import plain
from tests.build import booked
from tests.export.farm import unguarded
from tests.herd.lifted import feet, figures_of
from tests.report.awkward import NAMES, board, named

FORMULAS = ("=1", "+1", "-1", "@x", "＝1", "＋1", "－1", "＠x", "'=1", "'", "\u200b=1", "\r=1")


def test_it_reads_back_with_crlf_line_ends_and_one_row_a_bull() -> None:
    """RFC 4180, section 2: records end in CRLF, the last too; every record has as many fields."""
    text = board_csv(board())
    assert text.endswith("\r\n")
    assert text.count("\r\n") == text.count("\n") == len(board().bulls) + 1
    table = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    assert tuple(table[0]) == BOARD
    assert {len(record) for record in table} == {len(BOARD)}
    assert [record[0] for record in table[1:]] == [bull.bull for bull in board().bulls]


def test_names_survive_and_formulas_do_not() -> None:
    table = list(csv.DictReader(io.StringIO(board_csv(board()), newline="")))
    names = {record["bull"]: record["name"] for record in table}
    assert names["7"] == "'" + NAMES["7"]
    assert names["8"] == "'-1+1"
    assert names["9"] == NAMES["9"]
    assert names["10"] == NAMES["10"]


@pytest.mark.parametrize("name", FORMULAS)
def test_what_a_spreadsheet_takes_for_a_formula_is_guarded_on_the_board(name: str) -> None:
    shown = replace(board(), bulls=(named("Tarn")._replace(name=name),))
    (record,) = csv.DictReader(io.StringIO(board_csv(shown), newline=""))
    _is_guarded(record["name"], name)


@pytest.mark.parametrize("name", FORMULAS)
def test_what_a_spreadsheet_takes_for_a_formula_is_guarded_in_the_figures(name: str) -> None:
    text = stats_csv(figures_of(booked("B1", breed=name), {**feet("2026-01-05"), "bull": "B1"}))
    table = csv.DictReader(io.StringIO(text, newline=""))
    (breed,) = [record["value"] for record in table if record["by"] == "breed"]
    _is_guarded(breed, name.strip())


def _is_guarded(cell: str, name: str) -> None:
    assert unguarded(cell) == plain(name)
    assert cell.startswith(("'", " "))


def test_our_own_negative_numbers_stay_numbers() -> None:
    table = list(csv.DictReader(io.StringIO(board_csv(board()), newline="")))
    assert {record["name"]: record["slack_days"] for record in table}["Tarn"] == "-11"
