"""One bull in sentences."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from readiness.desk.desk import Desk
from readiness.herd.card import Card
from readiness.history import History
from readiness.report.as_json import card_json
from readiness.report.bull_text import bull_text
from readiness.report.look import Look
from readiness.report.rules_text import rules_text
from readiness.report.sentences import chain, check_why, outlook, resting, rests_on
from readiness.system.width import cells
from readiness.tui.bull.facts import sources
from readiness.tui.shared.looks import Glyphs
from tests.report.awkward import DAY, card, named, working
from tests.tui.estate import desk_at


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


def booked(folder: Path, **said: str) -> Card:
    """The card of a bull of whom that booking alone is known."""
    booking = {"kind": "bull", "on": "2026-01-10", "bull": "B 1", **said}
    return desk_at(folder / "b.duckdb", [booking]).reading().card("B 1")


def test_the_chain_of_one_too_young_begins_with_his_birth(tmp_path: Path) -> None:
    """Born 1 Aug 2025: 14 months are 426 days. No published example: counted on the calendar."""
    his = booked(tmp_path, born="2025-08-01", origin="bought", arrived="2026-01-05")
    steps = "born 1 Aug 2025 → 426 days (too young until then) → old enough to go 1 Oct"
    assert chain(his, DAY) == f"{steps} → could go 1 Oct"


def test_the_chain_of_one_whose_day_of_birth_is_not_known_begins_with_the_last(
    tmp_path: Path,
) -> None:
    his = booked(tmp_path, born="2025-08-31", born_from="2025-08-01")
    assert chain(his, DAY).startswith("born at the latest 31 Aug 2025 → 426 days")


def _rests_if_go(desk: Desk) -> str:
    his = desk.reading().card("B 1")
    return rests_on(replace(his, assessment=his.assessment._replace(status="GO")), DAY)


def test_a_go_names_what_is_still_there_and_which_foot_would_not_lift_since(tmp_path: Path) -> None:
    fissure = {"foot": "LF", "claw": "outer", "code": "WLF", "severity": 1, "zone": 3}
    feet: dict[str, Any] = {"kind": "feet", "bull": "B 1"}
    told: list[dict[str, Any]] = [
        {"kind": "bull", "on": "2026-01-10", "bull": "B 1"},
        feet | {"on": "2026-03-01", "lifted": ["LF", "RH"], "findings": [fissure]},
        feet | {"on": "2026-03-20", "lifted": [], "refused": ["RH"]},
    ]
    words = _rests_if_go(desk_at(tmp_path / "b.duckdb", told))
    assert "; RH would not lift 20 Mar; " in words
    assert "; white line fissure LF outer there, which holds nobody, seen 1 Mar; " in words


def test_a_go_names_what_held_him_and_was_seen_over(tmp_path: Path) -> None:
    """He had word for word the sentence of one who never had anything."""
    ulcer = {"foot": "LH", "claw": "inner", "code": "SU", "severity": 2}
    thin = {"foot": "RF", "claw": "outer", "code": "TS", "severity": 1}
    gone = {"foot": "RF", "claw": "outer", "code": "TS"}
    raw = {"foot": "LF", "claw": "skin", "code": "DD"}
    block = {"bull": "B 1", "foot": "LH", "claw": "outer"}
    feet: dict[str, Any] = {"kind": "feet", "bull": "B 1"}
    walked: dict[str, Any] = {"kind": "mobility", "bull": "B 1", "scale": "gb0-3"}
    told: list[dict[str, Any]] = [
        {"kind": "bull", "on": "2025-09-01", "bull": "B 1"},
        feet | {"on": "2025-09-20", "lifted": ["RF"], "findings": [thin | {"claw": "inner"}]},
        feet | {"on": "2025-11-20", "lifted": ["RF"], "healed": [gone | {"claw": "inner"}]},
        walked | {"on": "2026-01-05", "score": 2, "limb": "LH"},
        feet | {"on": "2026-01-06", "lifted": ["LH", "RF"], "findings": [ulcer, thin]},
        {"kind": "block-on", "on": "2026-01-06", **block},
        feet | {"on": "2026-01-07", "lifted": ["LF"], "findings": [raw | {"stage": "M2"}],
                "work": [{"foot": "LF", "act": "wrap"}]},
        feet | {"on": "2026-01-10", "lifted": ["LF"], "findings": [raw | {"stage": "M2"}]},
        {"kind": "block-off", "on": "2026-02-05", **block},
        feet | {"on": "2026-02-05", "lifted": ["LH", "LF"], "findings": [raw | {"stage": "M3"}]},
        feet | {"on": "2026-02-20", "lifted": ["LH", "RF"],
                "healed": [{key: ulcer[key] for key in ("foot", "claw", "code")},
                           gone | {"stable": True}]},
        walked | {"on": "2026-02-25", "score": 0},
        {"kind": "body", "on": "2026-02-26", "bull": "B 1", "part": "back", "state": "wrong"},
        {"kind": "vet-look", "on": "2026-02-27", "bull": "B 1", "about": "body", "outcome": "fit"},
    ]  # fmt: skip
    desk = desk_at(tmp_path / "b.duckdb", told)
    assert _rests_if_go(desk).endswith(
        "wrap off 10 Jan; block LH outer off 5 Feb; digital dermatitis LF skin held him until "
        "5 Feb; sole ulcer LH inner seen healed 20 Feb; thin sole RF outer seen fit to work "
        "20 Feb, though not gone; lame LH from 5 Jan, sound 25 Feb; back: wrong 26 Feb; "
        "the vet saw him right 27 Feb."
    )
    assert "RF inner" not in _rests_if_go(desk)
    desk.add([feet | {"on": "2026-03-20", "lifted": ["LF"], "healed": [raw]}])
    assert "digital dermatitis LF skin seen healed 20 Mar" in _rests_if_go(desk)


@pytest.mark.parametrize(
    ("said", "told"),
    [
        # Quarantine is 28 days (SRUC: 21-28 at least); the age is 14 months (ours).
        ({"arrived": "2026-03-06", "born": "2025-02-01"},
         "; old enough since 1 Apr; quarantine over since 3 Apr."),
        ({"arrived": "2025-03-06", "born": "2023-02-01"}, "no vet's examination."),
    ],
)  # fmt: skip
def test_a_go_names_what_ended_by_the_calendar_alone(
    tmp_path: Path, said: dict[str, str], told: str
) -> None:
    his = booked(tmp_path, origin="bought", **said)
    go = replace(his, assessment=his.assessment._replace(status="GO"))
    assert rests_on(go, DAY).endswith(told)


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


def test_a_go_names_the_rules_by_which_what_it_rests_on_counts() -> None:
    """Who doubts a GO looks for the limits behind it, not only for those that hold others."""
    rowan = card("Rowan")
    rests = dict(resting(rowan, DAY))
    assert "; ".join(rests) in rests_on(rowan, DAY)
    named = {rule for rules in rests.values() for rule in rules}
    assert named == {
        "feet.oldest", "feet.due", "mobility.oldest", "mobility.lame.gb0-3",
        "mobility.advise.gb0-3", "condition.oldest", "condition.hold.five", "vet.required",
        "vet.oldest",
    }  # fmt: skip
    assert named <= rowan.rules.values.keys()
    shown = sources(rowan, DAY, Glyphs()).plain
    for rule in named:
        assert f"{rule} = " in shown and rowan.rules.values[rule].rests_on in shown
    told = [{"words": words, "rules": list(rules)} for words, rules in rests.items()]
    assert card_json(rowan, DAY)["rests_on"] == told
    assert card_json(card("Tarn"), DAY)["rests_on"] == []


def test_a_figure_that_no_examination_gave_brings_no_rule(tmp_path: Path) -> None:
    """Motility and normal sperm were listed of whom only the scrotum was measured."""
    exam = {"kind": "vet-exam", "on": "2026-03-10", "bull": "B 1", "outcome": "satisfactory"}
    booking = {"kind": "bull", "on": "2026-01-10", "bull": "B 1"}
    for said, wanted in (({"scrotum_cm": 38}, ("scrotum.least",)), ({}, ())):
        desk = desk_at(tmp_path / f"{len(said)}.duckdb", [booking, exam | said])
        his = desk.reading().card("B 1")
        go = replace(his, assessment=his.assessment._replace(status="GO"))
        rules = dict(resting(go, DAY))["vet's examination on 10 Mar, satisfactory"]
        assert rules == ("vet.required", "vet.oldest", *wanted)


def test_the_rules_of_a_bull_read_as_the_command_says_them() -> None:
    """On the screen stood "(2.5, 4.0) score" and "True yes or no"."""
    rowan = card("Rowan")
    shown = sources(rowan, DAY, Glyphs()).plain
    for line in ("condition.hold.five = score 2.5 to 4", "vet.required = yes"):
        assert f" {line}\n" in shown
        assert line in rules_text(rowan.rules, Look(width=200)).splitlines()


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
