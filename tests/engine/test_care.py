"""A GO with something to ask first is never shown as a plain one; a running withdrawal is shown."""

from __future__ import annotations

from dataclasses import replace

import pytest

from readiness.engine.care import cares, running, withdrawals
from readiness.engine.results import Assessment, Remark
from readiness.report.board_page import board_page
from readiness.report.board_text import board_text
from readiness.report.bull_text import bull_text
from readiness.report.csv_table import board_csv
from readiness.report.look import Look
from readiness.report.rows import rows, why, why_forms
from readiness.report.sentences import outlook
from readiness.rules.load import load_rules
from tests.build import assessed, said
from tests.engine.test_advice import ON, READY, SHOWN_BESIDE_GO, TURNOUT
from tests.pages.books import spaced
from tests.report.awkward import DAY, board, card, named, working

ILL = Remark(
    "vet.after_illness",
    "was ill on 2 Apr, and the semen of that time is gone by 15 Jun: ask the vet",
)
CALM = Remark(
    "withdrawal.shown", "Calm: azole, 5 %: withdrawal until 20 Apr, not for slaughter before"
)
ROUTINE = Remark("feet.advised", "lift and trim all four feet: advised by 12 Feb")

HEIFERS = said("group", "2025-06-01", group="G", turnout=TURNOUT, **{"class": "heifers"})
BROUGHT = said("bull", "2026-01-01", note="bought from Wathmoor")


def advised(name: str, *advice: Remark) -> Assessment:
    return named(name)._replace(advice=advice)


@pytest.mark.parametrize(
    "rule",
    [
        "vet.after_illness", "vet.lame_days", "scrotum.least", "motility.least", "normal.least",
        "mobility.advise.gb0-3", "mobility.advise.five1-5", "mobility.advise.nz0-3",
        "vet.doubts", "test.doubts", "look.slack", "pain.settle",
    ],
)  # fmt: skip
def test_each_kind_that_matters_makes_a_go_one_with_care(rule: str) -> None:
    remark = Remark(rule, "something to ask")
    assert cares(advised("Rowan", remark, ROUTINE)) == (remark,)
    assert cares(advised("Fenwick", remark)) == ()


def test_routine_advice_leaves_a_go_plain() -> None:
    assert cares(advised("Rowan", ROUTINE, CALM)) == ()
    assert rows(replace(board(), bulls=(advised("Rowan", ROUTINE),)))[0].mark == "go"


@pytest.mark.parametrize("width", [60, 80, 120])
def test_the_text_board_marks_it_and_says_why(width: int) -> None:
    shown = replace(board(), bulls=(advised("Rowan", ILL),))
    text = board_text(shown, load_rules(None), Look(width))
    [line] = [line for line in text.splitlines() if "Rowan" in line]
    assert line.startswith("●! ")
    assert "but: was ill on" in " ".join(text.split()).replace("GO for 9 Apr, but", "but")
    plain = board_text(shown, load_rules(None), Look(width, marks=False))
    assert any(line.startswith("*! ") and "Rowan" in line for line in plain.splitlines())


def test_every_form_of_it_however_short_says_that_there_is_a_but() -> None:
    [row] = rows(replace(board(), bulls=(advised("Rowan", ILL),)))
    assert row.why == f"GO for 9 Apr, but: {ILL.text}"
    assert len(row.forms) > 2 and all("but: was ill" in form for form in row.forms)
    assert row.forms[-1] == "GO, but: was ill"


SHORTEST = {
    "vet.after_illness": {"was ill"},
    "vet.lame_days": {"was lame for 10 days"},
    "weight.drop": {"lost weight"},
    "vet.doubts": {
        "no semen could be got", "the shape of his sperm was not looked at", "libido: slow",
        "libido: would not serve",
    },
    "test.doubts": {
        "blood-test: failed", "blood-test: they wrote positive", "blood-test: they wrote +ve",
        "blood-test: they wrote inconclusive",
    },
    "pain.settle": {"given what may be pain relief"},
    "heifers.safe": {"in a group of heifers"},
    "quarantine.days": {"he came from elsewhere"},
}  # fmt: skip


@pytest.mark.parametrize("rule", SHORTEST)
def test_cut_short_a_but_says_nothing_else_than_at_length(rule: str) -> None:
    """Cut stood "semen formed", "satisfactory", "blood-test: passed", "lame for 10 days", and a
    weight as the whole of it: each reads as another thing, or as nothing wrong."""
    cases = [*SHOWN_BESIDE_GO, ("heifers.safe", [HEIFERS]), ("quarantine.days", [BROUGHT])]
    found = {
        why_forms(bull, DAY)[-1].removeprefix("GO, but: ")
        for bull in (
            assessed(ON, *READY, *told, turnout=TURNOUT) for of, told in cases if of == rule
        )
    }
    assert found == SHORTEST[rule]


def test_one_who_works_with_care_says_so_too() -> None:
    assert why(working("Gyle")._replace(advice=(ILL,)), DAY) == f"working, but: {ILL.text}"


def test_the_page_and_the_csv_say_it() -> None:
    shown = replace(board(), bulls=(advised("Rowan", ILL, CALM),))
    html = spaced("".join(board_page(shown, load_rules(None))))
    assert "state care" in html and "state go" not in html
    assert "for 9 Apr, but: was ill; withdrawal until 20 Apr" in html
    assert f"but: {ILL.text}" in html
    assert f"but: {ILL.text}" in board_csv(shown)


def test_a_bull_s_own_text_says_it_and_his_withdrawal_where_his_state_stands() -> None:
    shown = replace(card("Rowan"), assessment=advised("Rowan", ILL, CALM))
    head = " ".join(bull_text(shown, DAY, Look(80)).split("Advice")[0].split())
    assert f"●! GO, but Nothing is outstanding and nothing holds him, but: {ILL.text}." in head
    assert f"{CALM.text}." in head
    assert "but" not in outlook(advised("Rowan", CALM), DAY)


def test_a_withdrawal_is_shown_of_a_bull_on_hold_too() -> None:
    held = advised("Corran", CALM)
    assert withdrawals(held) == (CALM,)
    shown = replace(board(), bulls=(held, advised("Rowan")))
    assert running(shown) == ((held, CALM),)
    text = board_text(shown, load_rules(None), Look(80))
    assert "Not for slaughter: 00417 Corran, withdrawal until 20 Apr" in text
    assert CALM.text in spaced("".join(board_page(shown, load_rules(None))))
    assert "Not for slaughter" not in board_text(board(), load_rules(None), Look(80))
