"""When a check is to be done, in words."""

from __future__ import annotations

from dataclasses import replace

from readiness.herd.selection import in_order, next_check, overdue_first
from readiness.report import page_words
from readiness.report.bull_text import bull_text
from readiness.report.check_days import from_by_words, too_late_words
from readiness.report.look import Look
from readiness.report.rows import check_words
from readiness.trade.checks import CHECKS
from tests.report.awkward import DAY, card, named

EXAM = next(check for check in named("Brock").outstanding if check.check == "vet-exam")
WALK = next(check for check in named("Brock").outstanding if check.check == "mobility")


def test_the_advised_day_stands_first_and_the_last_one_behind_it() -> None:
    assert from_by_words(EXAM, DAY) == "from today, by 10 Apr; last 8 May"
    assert page_words.by_words(EXAM, DAY) == "by 10 Apr"
    assert page_words.check_sentence(EXAM, DAY) == f"{EXAM.text} (last 8 May)"
    assert from_by_words(EXAM._replace(advised_by=DAY - 1), DAY) == "from today, by 8 May"


def test_what_is_overdue_says_for_how_long_and_never_by_a_day_that_is_past() -> None:
    late = WALK._replace(not_before=DAY, due=DAY - 20, overdue=True)
    assert from_by_words(late, DAY) == "20 days overdue (was due 14 Mar)"
    assert page_words.by_words(late, DAY) == "! was due 14 Mar"
    assert page_words.check_sentence(late, DAY) == f"{WALK.text} (20 days overdue)"
    waits = late._replace(not_before=DAY + 3)
    assert from_by_words(waits, DAY) == "20 days overdue (was due 14 Mar), from 6 Apr"
    brock = card("Brock")
    bull = replace(brock, assessment=brock.assessment._replace(outstanding=(late,)))
    assert "! 20 days overdue (was due 14 Mar), farmer: score his walk" in bull_text(
        bull, DAY, Look(80)
    )


def test_what_cannot_be_done_before_turnout_says_by_how_much_and_no_last_day() -> None:
    short = WALK._replace(not_before=DAY + 8, not_after=DAY + 7)
    assert too_late_words(short) == "cannot be done before turnout: 1 day too late"
    assert from_by_words(short, DAY) == "from 11 Apr"
    assert too_late_words(WALK) == ""


def test_of_one_day_the_vets_comes_first_and_before_all_what_is_overdue() -> None:
    walk = WALK._replace(id="walk", not_before=DAY, not_after=DAY + 7, due=None)
    vet = EXAM._replace(id="vet")
    late = walk._replace(id="late", due=DAY - 1, overdue=True)
    never = walk._replace(id="never", not_after=None)
    checks = (never, walk, vet, late)
    assert [check.id for check in in_order(checks)] == ["late", "vet", "walk", "never"]
    assert [check.id for check in overdue_first(checks)] == ["late", "vet", "walk", "never"]
    bull = named("Brock")._replace(outstanding=(never, walk, vet))
    found = next_check(bull)
    assert found is not None and found.id == "vet"


def test_every_check_of_the_trade_has_a_name_in_a_word_or_two() -> None:
    said = {name: check_words(WALK._replace(check=name, foot="LF", claw=None)) for name in CHECKS}
    assert [name for name in CHECKS if "-" in said[name]] == []
    assert (said["wrap-off"], said["vet-again"], said["age"]) == (
        "wrap off LF", "vet again LF", "old enough",
    )  # fmt: skip
    assert all(len(words) <= 13 for words in said.values())
