"""What was noted when a bull was let out is told behind his reasons, and holds nobody."""

from __future__ import annotations

from readiness.herd.board import assess_book
from readiness.report.rows import shorter
from tests.build import Line, assessed, booked, day, entries_of, ready, said, walk
from tests.engine.alike import rule_book

OUT = said("moved", "2026-04-29", act="out", note="the vet rang, since three cows (on 4 acres)")
NOTED = "out.told"
TEXT = "let out on 29 Apr, noted: the vet rang, since three cows (on 4 acres)"
LAME = [*ready(), walk("2026-04-28", 2), OUT]


def noted(on: str, *told: Line) -> list[str]:
    return [why.text for why in assessed(on, *told).reasons if why.rule == NOTED]


def test_a_lame_bull_let_out_is_told_without_why_he_went() -> None:
    why = assessed("2026-05-03", *LAME).reasons
    assert "lame since 28 Apr" in [each.text for each in why[:-1]]
    assert (why[-1].text, why[-1].since) == (TEXT, day("2026-04-29"))
    assert (why[-1].rule, why[-1].standing) == (NOTED, "project choice")


def test_out_said_again_hides_why_he_went_at_first() -> None:
    again = said("moved", "2026-04-30", act="out", note="seen again")
    assert noted("2026-05-03", *LAME, again) == [TEXT]


def test_the_note_outlives_his_coming_in() -> None:
    back = said("moved", "2026-05-02", act="in")
    assert noted("2026-05-03", *LAME, back) == []
    assert noted("2026-05-03", *LAME, back, said("moved", "2026-05-03", act="out")) == []


def test_a_note_alone_holds_a_bull_that_went_out_go() -> None:
    bull = assessed("2026-05-03", *ready(), OUT)
    assert (bull.status, bull.hold, bull.reasons) == ("GO", None, ())
    assert noted("2026-05-03", *ready(), OUT, walk("2026-05-02", 2)) == [TEXT]


def test_a_farm_that_turned_the_rule_off_is_told_notes() -> None:
    quiet = rule_book({NOTED: False})
    (bull,) = assess_book(entries_of([booked(), *LAME]), quiet, day("2026-05-03")).bulls
    assert bull.status == "HOLD"
    assert NOTED not in [why.rule for why in bull.reasons]


def test_a_note_is_cut_to_half_of_it_where_reasons_are_shortened() -> None:
    assert shorter(TEXT) == (TEXT,)
