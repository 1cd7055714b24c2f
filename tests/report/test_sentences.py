"""One bull in sentences."""

from __future__ import annotations

from dataclasses import replace

import pytest

from readiness.history import History
from readiness.report.bull_text import bull_text
from readiness.report.look import Look
from readiness.report.sentences import chain, check_why, outlook, rests_on
from readiness.system.width import cells
from tests.report.awkward import DAY, card, named, working


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("Corran", "Could go on 8 Apr, if all is done and every check passes: "
                   "1 day to spare before turnout on 9 Apr, which is tight."),
        ("Tarn", "Could go on 20 Apr, if all is done and every check passes: "
                 "11 days too late for turnout on 9 Apr."),
        ("Brock", "Could go on 10 Apr, if all is done and every check passes: "
                  "28 days to spare before turnout on 8 May."),
        ("Stray", "Could go today, if all is done and every check passes; "
                  "he has no turnout."),
        ("Rowan", "Nothing is outstanding and nothing holds him."),
        ("Gyle", "He is out with the females."),
    ],
)  # fmt: skip
def test_outlook(name: str, said: str) -> None:
    assert outlook(named(name), DAY) == said


def test_one_who_works_and_lacks_nothing() -> None:
    assert outlook(working("Gyle"), DAY) == "He is out with the females."


def test_after_an_unsatisfactory_examination_no_day_is_given() -> None:
    decided = named("Tarn")._replace(outlook="vet-decides", earliest_ready=None, slack_days=None)
    assert "a person decides" in outlook(decided, DAY)


def test_one_who_is_not_safe_with_heifers_is_not_sent_to_the_vet() -> None:
    wrong = named("Tarn")._replace(outlook="wrong-group", earliest_ready=None, slack_days=None)
    assert outlook(wrong, DAY) == (
        "He was said not to be safe with heifers: another group, or another bull."
    )


def test_the_chain_of_the_block_as_a_line_of_days() -> None:
    """Block on 4 Mar, off from + 28 = 1 Apr, so today, + 7 days settled = 10 Apr."""
    text = chain(card("Brock"), DAY)
    assert text.startswith("today 3 Apr → ")
    assert "block off LH outer 3 Apr → 7 days (" in text
    assert text.endswith("score his walk 10 Apr → could go 10 Apr")


def test_the_chain_from_an_entry() -> None:
    text = chain(card("Corran"), DAY)
    assert text.startswith("walked 1 Apr → 7 days (")
    assert text.endswith("could go 8 Apr")


@pytest.mark.parametrize(
    ("said", "start"),
    [
        ({"kind": "body", "part": "joint", "limb": "LH", "state": "wrong"}, "joint LH seen 1 Apr"),
        ({"kind": "body", "part": "eyes", "state": "right"}, "eyes seen 1 Apr"),
        ({"kind": "moved", "act": "in", "reason": "hired"}, "moved in from hire 1 Apr"),
        ({"kind": "moved", "act": "in", "reason": "rested"}, "moved in 1 Apr"),
        ({"kind": "vet-look", "about": "foot", "outcome": "again"}, "vet's look 1 Apr"),
    ],
)
def test_the_chain_begins_with_what_was_said(said: dict[str, str], start: str) -> None:
    corran = card("Corran")
    first = corran.assessment.chain[0].frm
    entries = tuple(
        entry._replace(kind=said["kind"], body=said) if entry.id == first else entry
        for entry in corran.entries
    )
    assert chain(replace(corran, entries=entries), DAY).startswith(start)


def test_why_a_check_is_asked_for() -> None:
    bull = named("Corran")
    walk = next(check for check in bull.outstanding if check.check == "mobility")
    assert "after: lift LF" in check_why(walk, bull, DAY)
    short = walk._replace(not_after=walk.not_before - 3)
    said = check_why(short, bull, DAY)
    assert "cannot be done before turnout: 3 days too late" in said


@pytest.mark.parametrize("name", ["Corran", "Brock", "Tarn", "Gyle", "Stray", "Rowan"])
@pytest.mark.parametrize("width", [60, 80])
def test_the_card_fits_and_names_each_source(name: str, width: int) -> None:
    shown = card(name)
    text = bull_text(shown, DAY, Look(width))
    assert all(cells(line) <= width for line in text.splitlines())
    flat = " ".join(text.split())
    for remark in (*shown.assessment.reasons, *shown.assessment.advice):
        assert " ".join(remark.text.split()) in flat and remark.standing in flat
    for check in shown.assessment.outstanding:
        assert check.rule in flat and check.text in flat
    for entry in shown.entries:
        assert entry.id in flat


def test_a_go_names_what_it_rests_on_and_what_was_never_seen() -> None:
    rowan = card("Rowan")
    assert rests_on(rowan, DAY) == (
        "His GO rests on: all four feet lifted 10 Feb; walk 0 on 2 Apr; condition 3.25 on 20 Mar; "
        "vet's examination on 10 Mar, satisfactory."
    )
    assert rests_on(replace(rowan, state=History(rowan.rules)), DAY) == (
        "His GO rests on: all four feet never lifted; no walk; no condition; no vet's examination."
    )
    assert rests_on(rowan, DAY) in " ".join(bull_text(rowan, DAY, Look()).split())
    assert rests_on(card("Tarn"), DAY) == ""
