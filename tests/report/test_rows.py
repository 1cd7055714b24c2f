"""The rows that the text board and the screen share."""

from __future__ import annotations

from dataclasses import replace

import pytest

from readiness.herd.selection import next_check
from readiness.report.rows import BoardRow, check_words, rows, short_tags, shorter, why
from tests.report.awkward import DAY, board, named, working


def row(name: str) -> BoardRow:
    return next(row for row in rows(board()) if row.key == named(name).key)


def test_a_lame_bull_and_one_whose_walk_is_not_due_never_look_the_same() -> None:
    lame, to_come, go = row("Corran"), row("Fenwick"), row("Rowan")
    assert (lame.mark, lame.why) == ("reason", "lame LF since 1 Apr")
    assert (to_come.mark, to_come.why) == ("checks", "checks to come")
    assert (go.mark, go.forms[-1]) == ("go", "GO for 9 Apr")
    assert tuple(shown.of.status for shown in (lame, to_come, go)) == ("HOLD", "HOLD", "GO")


def test_ready_slack_next_and_by() -> None:
    lame = row("Corran")
    assert (lame.bull, lame.ready, lame.slack) == ("00417 Corran", "8 Apr", "1")
    assert (lame.next, lame.by, lame.alert) == ("lift LF", "today", False)
    late = row("Tarn")
    assert (late.ready, late.slack, late.next, late.by) == ("20 Apr", "-11", "vet exam", "20 Apr")


def test_a_bull_that_is_out_and_one_in_no_group() -> None:
    assert row("Gyle").why == "working"
    assert why(working("Gyle"), DAY) == "working"
    assert row("Stray").why == "checks to come"
    assert row("Stray").slack == ""


def test_a_go_bull_in_reserve_is_not_taken_for_one_of_the_team() -> None:
    go = named("Rowan")
    assert why(go._replace(role="worker"), DAY) == "GO for 9 Apr"
    assert why(go._replace(role="reserve"), DAY) == "GO for 9 Apr, in reserve"


def test_only_a_person_decides_after_an_unsatisfactory_examination() -> None:
    decided = named("Tarn")._replace(outlook="vet-decides", earliest_ready=None, slack_days=None)
    shown = rows(replace(board(), bulls=(decided,)))[0]
    assert (shown.ready, shown.slack) == ("ask vet", "")


def test_overdue_is_an_alert_today() -> None:
    bull = named("Corran")
    check = bull.outstanding[0]._replace(due=DAY - 1, overdue=True)
    late = bull._replace(outstanding=(check,), overdue=1)
    shown = rows(replace(board(), bulls=(late,)))[0]
    assert (shown.alert, shown.by) == (True, "today")


def test_the_next_check_is_the_one_whose_last_day_comes_first() -> None:
    """Brock: look at the ulcer by 4 Mar + 28 + 7 = 8 Apr, block off by 15 Apr, the rest later."""
    check = next_check(named("Brock"))
    assert check is not None and check.id == "look:LH:inner:SU"
    assert next_check(named("Rowan")) is None


def test_checks_in_a_word_or_two() -> None:
    check = named("Corran").outstanding[0]
    four = check._replace(check="feet", feet=("LF", "RF", "LH", "RH"))
    skin = check._replace(check="clear", foot="RH", claw="skin", code="IP", feet=())
    own = check._replace(check="dung-sample", feet=())
    wrap = check._replace(check="wrap-off", foot="LH", feet=())
    again = check._replace(check="vet-again", foot=None, feet=())
    assert [check_words(each) for each in (check, four, skin, own, wrap, again)] == [
        "lift LF", "lift 4 feet", "healed? RH", "dung-sample", "wrap off LH", "vet again",
    ]  # fmt: skip


def test_long_tags_are_shortened_as_far_as_no_other_ends_alike() -> None:
    assert short_tags(["UK 123450 600417", "00122", "UK 123457 700122", "Old Tom's bull"]) == {
        "UK 123450 600417": "00417",
        "00122": "00122",
        "UK 123457 700122": "700122",
        "Old Tom's bull": "Old Tom's bull",
    }


def test_more_to_do_within_a_week_is_not_hidden_behind_the_next_check() -> None:
    [lame] = [bull for bull in board().bulls if bull.name == "Corran"]
    soon = [check for check in lame.outstanding if check.last_day <= board().on + 7]
    said = [row("Corran").next, *(words for words, _, _ in row("Corran").soon)]
    assert sorted(said) == sorted(check_words(check) for check in soon)
    assert len(said) > 1


@pytest.mark.parametrize(
    ("said", "short"),
    [
        ("vet looked at lameness (RH) on 1 Apr: unfit", "vet: unfit"),
        ("went out without: feet, walk, vet exam", "went out without checks"),
        ("working: went out without: feet, walk", "working: went out without checks"),
        ("lame LF since 1 Apr", "lame LF"),
        ("not safe with heifers, and in a group of them", "not safe with heifers"),
    ],
)
def test_no_reason_is_cut_to_what_says_something_else(said: str, short: str) -> None:
    assert (shorter(said)[0], shorter(said)[-1]) == (said, short)
