"""The board as CSV: RFC 4180, and nothing in it is a formula."""

from __future__ import annotations

import csv
import io

import pytest

from readiness.report.board_csv import HEAD, board_csv, guarded
from tests.report.awkward import NAMES, board


def test_it_reads_back_with_crlf_line_ends_and_one_row_a_bull() -> None:
    """RFC 4180, section 2: records end in CRLF, the last too; every record has as many fields."""
    text = board_csv(board())
    assert text.endswith("\r\n")
    assert text.count("\r\n") == text.count("\n") == len(board().bulls) + 1
    table = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    assert tuple(table[0]) == HEAD
    assert {len(record) for record in table} == {len(HEAD)}
    assert [record[0] for record in table[1:]] == [bull.bull for bull in board().bulls]


def test_names_survive_and_formulas_do_not() -> None:
    table = list(csv.DictReader(io.StringIO(board_csv(board()), newline="")))
    names = {record["bull"]: record["name"] for record in table}
    assert names["7"] == "'" + NAMES["7"]
    assert names["8"] == "'-1+1"
    assert names["9"] == NAMES["9"]
    assert names["10"] == NAMES["10"]


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r"])
def test_what_a_sheet_takes_for_a_formula(start: str) -> None:
    assert guarded(f"{start}1").startswith("'")


def test_hidden_characters_hide_no_formula() -> None:
    assert guarded("\u200b=1") == "'=1"


def test_our_own_negative_numbers_stay_numbers() -> None:
    assert guarded(-11) == "-11"
    table = list(csv.DictReader(io.StringIO(board_csv(board()), newline="")))
    assert {record["name"]: record["slack_days"] for record in table}["Tarn"] == "-11"
