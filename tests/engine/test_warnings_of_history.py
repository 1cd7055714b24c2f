"""What is said before a bull is let out, put to heifers, sold, or passed by the vet: kept all the
same, and never without a word."""

from __future__ import annotations

from typing import Any

import pytest

from readiness.engine.warnings import of_bull
from readiness.engine.warnings.history import NOT_SAID_SAFE
from readiness.herd.board import group_of, groups_on
from readiness.history import History
from tests.build import RULES, day, entries_of, lift, said, sound, ulcer

HEIFERS = {
    "kind": "group", "on": "2026-01-01", "group": "Heifers", "turnout": "2026-04-09",
    "class": "heifers", "id": "group",
}  # fmt: skip
INTO_HEIFERS = said("join", "2026-04-02", group="Heifers", id="asked")
OUT = said("moved", "2026-04-02", act="out", id="asked")


def _words(*told: dict[str, Any]) -> list[str]:
    """What is said of the entry whose id is ``asked``."""
    entries = entries_of([*told])
    groups = [entry for entry in entries if entry.kind == "group"]

    def his(state: History, on: int) -> Any:
        return group_of(state, groups_on(groups, RULES, on))

    own = [entry for entry in entries if entry.kind != "group"]
    today = day("2026-04-03")
    return [text for _, text in of_bull(own, RULES.common, today, {"asked"}, his)]


@pytest.mark.parametrize(
    ("before", "words"),
    [
        (said("block-on", "2026-04-01", foot="LH", claw="inner"), "block on LH inner since 1 Apr"),
        (said("mobility", "2026-04-01", scale="gb0-3", score=2), "lame since 1 Apr"),
        (lift("2026-04-01", "LH", findings=ulcer(1)), "sole ulcer LH outer, slight, open since"),
        (said("body", "2026-04-01", part="eyes", state="wrong"), "eyes wrong since 1 Apr"),
        (said("vet-exam", "2026-04-01", outcome="deferred"), "vet: deferred on 1 Apr"),
    ],
)
def test_letting_out_a_bull_on_hold_says_what_holds_him(before: dict[str, Any], words: str) -> None:
    (text,) = _words(said("bull", "2026-01-01"), *sound(), before, OUT)
    assert text.startswith("goes out on hold")
    assert words in text
    assert text.endswith("Going out clears nothing")


def test_letting_out_a_bull_that_nobody_ever_lifted_says_what_is_not_done() -> None:
    (text,) = _words(said("bull", "2026-01-01"), OUT)
    for missing in ("lift and trim", "score his walk", "score his condition", "examination"):
        assert missing in text


def test_letting_out_a_bull_that_is_ready_goes_without_a_word() -> None:
    assert _words(said("bull", "2026-01-01"), *sound(), OUT) == []


def test_a_bull_that_is_out_already_is_not_let_out_again() -> None:
    first = said("moved", "2026-04-01", act="out")
    assert _words(said("bull", "2026-01-01"), *sound(), first, OUT) == [
        "he is out since 1 Apr already: this changes nothing"
    ]


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({"heifer_safe": False}, "he is said not to be safe with them"),
        ({}, "nobody has said whether he is safe with them"),
        ({"heifer_safe": True, "temper": "dangerous"}, "he is dangerous"),
    ],
)
def test_a_join_to_heifers_says_what_speaks_against_him(more: dict[str, Any], words: str) -> None:
    (text,) = _words(HEIFERS, said("bull", "2026-01-01", **more), INTO_HEIFERS)
    assert text.startswith("Heifers is a group of heifers")
    assert words in text


def test_a_join_to_heifers_says_that_he_is_heavy() -> None:
    # heavy.kg 800: a project choice
    booked = said("bull", "2026-01-01", heifer_safe=True)
    for kg, expected in (
        (799, []),
        (800, ["Heifers is a group of heifers, and he weighs 800 kg (heavy from 800)"]),
    ):
        weighed = said("weight", "2026-03-01", kg=kg)
        assert _words(HEIFERS, booked, weighed, INTO_HEIFERS) == expected


@pytest.mark.parametrize(
    ("reason", "on", "warned"),
    [
        ("sold", "2026-04-02", True),
        ("culled", "2026-04-02", True),
        ("died", "2026-04-02", False),
        ("culled", "2026-04-03", False),
    ],
)
def test_leaving_before_a_withdrawal_ends_is_said(reason: str, on: str, warned: bool) -> None:
    # Slaughter only after the withdrawal has ended (Trading Standards).
    given = said(
        "treatment", "2026-03-20", given_by="the vet", product="as she left it",
        withdrawal_until="2026-04-02",
    )  # fmt: skip
    left = said("moved", on, act="left", reason=reason, id="asked")
    words = _words(said("bull", "2026-01-01"), given, left)
    assert bool(words) is warned
    assert all("withdrawal (as she left it) ends on 2 Apr" in text for text in words)


def test_passed_after_he_had_failed_without_a_figure_is_asked_about() -> None:
    failed = said("vet-exam", "2026-03-01", outcome="unsatisfactory")
    bare = said("vet-exam", "2026-04-01", outcome="satisfactory", id="asked")
    booked = said("bull", "2026-01-01")
    (text,) = _words(booked, failed, bare)
    assert "unsatisfactory on 1 Mar, without a figure" in text
    assert _words(booked, failed, {**bare, "motility_pct": 72}) == []
    assert _words(booked, bare) == []


@pytest.mark.parametrize(("before", "asked", "told"), [
    (said("vet-exam", "2026-04-01", outcome="unsatisfactory"),
     said("vet-exam", "2026-04-01", outcome="satisfactory"), "unsatisfactory is written"),
    (said("vet-exam", "2026-04-01", outcome="satisfactory", motility_pct=60),
     said("vet-exam", "2026-04-01", outcome="satisfactory", motility_pct=72), "motility 60 is"),
    (said("check", "2026-04-01", check="ring", result="fail"),
     said("check", "2026-04-01", check="ring", result="pass"), "ring: failed is written"),
])  # fmt: skip
def test_another_word_of_the_same_day_is_told_to_count_where_it_is_worse(
    before: dict[str, Any], asked: dict[str, Any], told: str
) -> None:
    booked = said("bull", "2026-01-01")
    (text, *_) = _words(booked, before, {**asked, "id": "asked"})
    assert text.startswith(told)
    assert text.endswith("take back what was a slip")
    for other in (before, {**asked, "on": "2026-04-02"}):  # the same again, or on another day
        words = _words(booked, before, {**other, "id": "asked"})
        assert all("take back" not in text for text in words)


@pytest.mark.parametrize(("kg", "day_", "warned"), [
    (98, "2026-04-02", True), (882, "2026-04-02", True), (883, "2026-04-02", False),
    (98, "2026-05-01", False),  # more than the 60 days of weight.drop_days after it
])  # fmt: skip
def test_a_weight_that_fell_so_far_is_asked_about_when_it_is_written(
    kg: float, day_: str, warned: bool
) -> None:
    before = said("bull", "2026-01-01"), said("weight", "2026-03-01", kg=980)
    words = _words(*before, said("weight", day_, kg=kg, id="asked"))
    told = f"lost weight, {kg} kg on 2 Apr, 980 kg within 60 days before: is this right?"
    assert (told in words) == warned


def test_a_severity_that_decides_and_is_not_said_is_told_to_hold_him() -> None:
    unsaid = lift("2026-04-01", "LH", findings=[{**ulcer(1)[0], "code": "WLF"}], id="asked")
    del unsaid["findings"][0]["severity"]
    (text,) = _words(said("bull", "2026-01-01"), unsaid)
    assert text == "white line fissure, LH outer: severity not said: it holds him"


def test_dermatitis_without_a_stage_is_told_to_hold_him_only_where_it_never_had_one() -> None:
    """Of one who was M2 it was warned that he has no stage."""

    def looked(on: str, **more: Any) -> dict[str, Any]:
        found = {"foot": "LF", "claw": "skin", "code": "DD", **more}
        return lift(on, "LF", findings=[found], id="asked" if on == "2026-04-02" else on)

    words = ["LF DD has no stage: it holds him"]
    assert _words(looked("2026-04-02")) == words
    assert _words(looked("2026-04-01"), looked("2026-04-02")) == words
    assert _words(looked("2026-04-01", stage="M2"), looked("2026-04-02")) == []
    assert _words(looked("2026-04-02", stage="M2")) == []


def test_a_finding_renamed_without_its_severity_is_told_to_keep_its_name() -> None:
    found = lift("2026-01-02", "LH", findings=ulcer(1))
    renamed = lift(
        "2026-04-01", "LH", id="asked",
        findings=[{"foot": "LH", "claw": "outer", "code": "HHE", "was": "SU"}],
    )  # fmt: skip
    (text,) = _words(said("bull", "2026-01-01"), found, renamed)
    assert "sole ulcer, LH outer keeps its name" in text


def test_a_sound_walk_that_is_not_the_best_does_not_end_lameness_without_a_word() -> None:
    lame = said("mobility", "2026-03-20", scale="five1-5", score=3)
    mild = said("mobility", "2026-03-27", scale="five1-5", score=2, id="asked")
    (text,) = _words(said("bull", "2026-01-01"), lame, mild)
    assert "he counts as lame until he walks 1, or as well as today from 3 Apr on" in text


def test_an_unwrap_with_no_wrap_on_is_said_to_count_as_off() -> None:
    bare = lift("2026-04-01", "LH", work=[{"foot": "LH", "act": "unwrap"}], id="asked")
    assert _words(said("bull", "2026-01-01"), bare) == [
        "no wrap on LH was written down: it counts as off from this day"
    ]


BOOKED = said("bull", "2026-01-01", name="Ullin", born="2022-03-01", farm="Low")


@pytest.mark.parametrize(
    ("again", "words"),
    [
        ({"name": "Bert"}, "his name was Ullin until now, Bert here: is this the same bull?"),
        ({"born": "2024-03-01"}, "born 1 Mar 2022 until now, 1 Mar 2024 here"),
        (
            {"farm": "low"},
            "he goes from Low to low: he is by the rules of that farm, and in no group until",
        ),
    ],
)
def test_a_bull_written_down_again_as_another_one_is_asked_about(
    again: dict[str, Any], words: str
) -> None:
    (text,) = _words(BOOKED, said("bull", "2026-04-02", id="asked", **again))
    assert text.startswith(words)


def test_a_bull_written_down_again_as_he_was_is_taken_without_a_word() -> None:
    same = {"name": "ullin", "born": "2022-03-01", "farm": "Low", "pen": "4"}
    assert _words(BOOKED, said("bull", "2026-04-02", id="asked", **same)) == []


@pytest.mark.parametrize("reason", ["sold", "culled", "died"])
def test_one_who_is_gone_for_good_is_not_let_out_without_a_word(reason: str) -> None:
    gone = said("moved", "2026-04-02", act="out", reason=reason, id="asked")
    (text,) = _words(said("bull", "2026-01-01"), *sound(), gone)
    assert text == f"out, and {reason}: who is gone for good has left; he counts as at work"


def test_one_who_is_out_with_others_joins_no_group_without_a_word() -> None:
    told = [HEIFERS, said("bull", "2026-01-01", heifer_safe=True), *sound()]
    out = [said("join", "2026-01-02", group="Hill"), said("moved", "2026-04-01", act="out")]
    (text,) = _words(*told, *out, INTO_HEIFERS)
    assert text.startswith("he is out with Hill since 1 Apr")


OTHERWISE = (
    "POSITIVE, Ct 24", "pos", "BVD +ve", "BVD+ IBR-", "+/-", "BVD virus detected",
    "BVD negative IBR positive", "no antibodies; virus detected", "T. foetus isolated",
    "inconclusive", "equivocal, repeat", "not negative", "non-negative", "not yet clear",
    "weak positive", "reactor", "antigen negative, antibodies present",
)  # fmt: skip
PASSED = (
    "negative", "-ve", "not positive", "none detected", "no BVD or IBR detected", "non-reactor",
    "no T. foetus isolated", "IBR + BVD negative", "found negative", "free of infection", "clear",
    "negative (ELISA+PCR)", "S/P 0.12", "presented 3 Nov, negative",
)  # fmt: skip


@pytest.mark.parametrize(
    ("reading", "warned"),
    [*((words, True) for words in OTHERWISE), *((words, False) for words in PASSED)],
)
def test_a_pass_that_reads_as_failed_or_as_not_known_is_asked_about(
    reading: str, warned: bool
) -> None:
    tested = said("check", "2026-04-02", check="b", result="pass", reading=reading)
    tested["id"] = "asked"
    texts = _words(said("bull", "2026-01-01"), tested)
    assert any("where he failed, say failed" in text for text in texts) is warned


@pytest.mark.parametrize(
    ("name", "of", "text"),
    [
        ("Hfrs", None, "Hfrs is a group of heifers, and he is said not to be safe with them: held"),
        ("Hfrs", "cows", "Hfrs has heifers in its name, and he is said not to be safe with them"),
    ],
)
def test_a_join_says_that_he_is_held_where_he_is_not(name: str, of: str | None, text: str) -> None:
    told = said("bull", "2026-01-01", heifer_safe=False), {**INTO_HEIFERS, "group": name}
    assert _words({**HEIFERS, "group": name, "class": of}, *told) == [
        text.replace(": held", ": he is held there")
    ]


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("Hfrs", "Hfrs is a group of heifers"),
        ("Cows and hfrs", "has heifers in its name"),
    ],
)
def test_joining_a_group_that_names_heifers_asks_whether_he_is_safe(name: str, words: str) -> None:
    told = said("bull", "2026-01-01"), {**INTO_HEIFERS, "group": name}
    (text,) = _words({**HEIFERS, "group": name, "class": None}, *told)
    assert text.endswith(f"{words}, and {NOT_SAID_SAFE}")


@pytest.mark.parametrize(
    ("before", "now", "words"),
    [
        ({"arrived": "2026-03-20"}, {"arrived": "2025-03-20"}, "arrived 20 Mar until now, 20 Mar"),
        ({"heifer_safe": False}, {"heifer_safe": True}, "not safe with heifers until now"),
    ],
)
def test_what_held_a_bull_is_ended_by_a_booking_without_a_word(
    before: dict[str, Any], now: dict[str, Any], words: str
) -> None:
    asked = {**said("bull", "2026-04-02", **now), "id": "asked"}
    (text,) = _words(said("bull", "2026-04-01", **before), asked)
    assert text.startswith(words) and "be sure of it" in text
    asked = {**said("bull", "2026-04-02", **before), "id": "asked"}
    assert _words(said("bull", "2026-04-01", **now), asked) == []
