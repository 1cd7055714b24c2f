"""Silence clears nothing: what holds a bull is asked for when its foot is up, by one key each.

The reference is what an entry may say: healed and stable, a finding found again keeps
its severity where none is said, digital dermatitis goes by its stage (Döpfer et al.; Berry et al.
2012).
"""

from __future__ import annotations

from typing import Any

import pytest

from readiness.crush.modes_foot import OnClaw, OnFoot
from readiness.crush.top import AskFinding
from tests.crush.pads import found, line, new_pad, pressed, stands

ULCER = found("RH", "outer", "SU", 2)
FISSURE = found("LF", "inner", "WLF", 3)
DERMATITIS = found("LH", "skin", "DD", 1)
SLIGHT = found("RF", "outer", "HHE", 1, holds=False)
BULL = stands(ULCER, SLIGHT, FISSURE, DERMATITIS)


def asked_of(*answers: str, severity: int = 2) -> dict[str, Any]:
    """The findings and the healed once all four are called sound, and one ulcer is answered."""
    pad = pressed(new_pad(stands(found("RH", "outer", "SU", severity))), f"s {' '.join(answers)}")
    return {key: pad.slip.feet.get(key) for key in ("findings", "healed")}


def place(code: str = "SU") -> dict[str, str]:
    return {"foot": "RH", "claw": "outer", "code": code}


def test_all_sound_asks_for_each_that_holds_by_one_key_and_for_no_other() -> None:
    pad = pressed(new_pad(BULL), "s")
    asked = []
    for key in "h=h":
        assert isinstance(pad.mode, AskFinding)
        asked.append(pad.mode.place)
        assert key in [shown.key for shown in pad.keys]
        pad = pressed(pad, key)
    assert asked == [("RH", "outer"), ("LF", "inner"), ("LH", "skin")]
    assert pad.mode == pad.top
    assert line(pad) == "all ok; lf i wlf; rh o su healed; lh s dd healed"
    assert pad.before.unanswered(pad.slip) == []


def test_the_question_names_the_finding_and_its_place() -> None:
    assert pressed(new_pad(stands(ULCER)), "s").question == "SU RH outer: and now?"


def test_a_bull_with_nothing_that_holds_is_sound_in_one_key() -> None:
    pad = pressed(new_pad(stands(SLIGHT)), "s")
    assert (pad.mode, line(pad)) == (pad.top, "all ok")


@pytest.mark.parametrize(
    ("key", "findings", "healed"),
    [
        ("h", None, [place()]),
        ("f", None, [{**place(), "stable": True}]),
        ("=", [place()], None),
        ("+", [{**place(), "severity": 3}], None),
        ("-", [{**place(), "severity": 1}], None),
    ],
)
def test_each_answer_says_its_entry(key: str, findings: object, healed: object) -> None:
    assert asked_of(key) == {"findings": findings, "healed": healed}


def test_nothing_is_worse_than_severe() -> None:
    assert asked_of("+ =", severity=3)["findings"] == [place()]


def test_less_than_slight_is_asked_again_since_only_healed_says_that_it_is_gone() -> None:
    pad = pressed(new_pad(stands(found("RH", "outer", "SU", 1))), "s -")
    assert isinstance(pad.mode, AskFinding)
    assert "slight already" in pad.said
    assert line(pad) == "all ok"


@pytest.mark.parametrize(("key", "stage"), [("+", "4"), ("-", "3")])
def test_worse_and_less_of_digital_dermatitis_ask_for_its_stage(key: str, stage: str) -> None:
    pad = pressed(new_pad(stands(DERMATITIS)), f"s {key}")
    assert pad.question == "LH skin digital dermatitis: which stage?"
    pad = pressed(pad, stage)
    assert pad.mode == pad.top
    assert pad.slip.feet["findings"] == [
        {"foot": "LH", "claw": "skin", "code": "DD", "stage": {"4": "M4", "3": "M3"}[stage]}
    ]


def test_a_stage_that_is_unknown_is_not_said() -> None:
    pad = pressed(new_pad(stands(DERMATITIS)), "s + enter")
    assert line(pad) == "lf rf ok; lh s dd; rh ok"


@pytest.mark.parametrize("key", ["w", "0", "c", "3", "2", "k", "b", "t", "enter", "s", "n"])
def test_fingers_that_go_on_as_with_a_sound_bull_answer_nothing(key: str) -> None:
    asked = pressed(new_pad(stands(ULCER)), "s")
    assert asked.press(key) is None


def test_what_was_not_looked_at_stays_open_and_is_named() -> None:
    pad = pressed(new_pad(stands(ULCER, FISSURE)), "s escape h")
    assert line(pad) == "lf i wlf healed; rf lh rh ok"
    assert pad.before.unanswered(pad.slip) == [ULCER]


def test_a_foot_that_was_not_lifted_or_holds_nothing_is_not_missing_an_answer() -> None:
    before = stands(ULCER, SLIGHT)
    assert before.unanswered(new_pad().slip.lift("LF", "RF")) == []
    assert before.unanswered(new_pad().slip.lift("RH")) == [ULCER]
    assert before.unanswered(new_pad().slip.refuse("RH")) == []


def test_what_was_answered_on_the_foot_is_not_asked_again_by_all_sound() -> None:
    pad = pressed(new_pad(stands(ULCER)), "4")
    assert isinstance(pad.mode, AskFinding)
    pad = pressed(pad, "=")
    assert pad.mode == OnClaw("RH", "outer", "SU")
    pad = pressed(pad, "escape s")
    assert (pad.mode, line(pad)) == (pad.top, "rh o su; lf rf lh ok")


def test_a_healed_finding_leads_on_to_its_foot_and_so_does_one_skipped() -> None:
    assert pressed(new_pad(stands(ULCER)), "4 h").mode == OnFoot("RH")
    skipped = pressed(new_pad(stands(ULCER)), "4 escape")
    assert (skipped.mode, line(skipped)) == (OnFoot("RH"), "")


def test_trimmed_asks_as_all_sound_does() -> None:
    pad = pressed(new_pad(stands(ULCER)), "t")
    assert isinstance(pad.mode, AskFinding)
    assert line(pressed(pad, "h")) == "lf trim; rf trim; lh trim; rh o su healed; rh trim"


def test_a_finding_that_got_another_name_is_answered() -> None:
    pad = new_pad(stands(ULCER))
    slip = pad.slip.read("rh o bu was su", pad.before.scales)
    assert pad.before.unanswered(slip) == []


def test_one_key_back_takes_an_answer_back_and_asks_again() -> None:
    pad = pressed(new_pad(BULL), "s h")
    back = pressed(pad, "backspace")
    assert (line(back), back.mode.place) == ("all ok", ("RH", "outer"))
    assert line(pressed(back, "backspace")) == ""


def test_how_bad_it_is_is_asked_and_said_by_one_digit() -> None:
    """Nothing but a digit asked for says how bad what is open is now."""
    pad = pressed(new_pad(stands(UNGRADED)), "4 +")
    assert pad.question == "RH outer white line fissure: how bad?"
    assert [line(pressed(pad, key)) for key in ("1", "2", "3", "enter")] == [
        "rh o wlf/1", "rh o wlf/2", "rh o wlf/3", "rh o wlf",
    ]  # fmt: skip
    assert pad.press("4") is None
    assert pad.press("p") is None


def test_a_digit_that_turns_to_another_foot_says_so() -> None:
    pad = pressed(new_pad(), "3 o s u 4 2 2")
    assert (pad.mode.place, line(pad)) == (("RF", ""), "lh o su@4/2")
    assert pad.said == "LH is done: now the right fore."


def test_a_foot_not_lifted_is_said_at_once_where_something_is_open_on_it() -> None:
    """A lame bull gives up no foot: one key more, while he kicks, is one too many. Of all four
    sound nothing is refused."""
    asked = pressed(new_pad(stands(ULCER)), "4")
    assert "x" in [shown.key for shown in asked.keys]
    refused = pressed(asked, "x")
    assert (refused.mode, line(refused)) == (refused.top, "rh refused")
    assert pressed(new_pad(stands(ULCER)), "s").press("x") is None


# ---- one whose severity was never said ---------------------------------------------------------

UNGRADED = found("RH", "outer", "WLF", None)


def test_one_whose_severity_was_never_said_can_be_no_worse_and_no_less() -> None:
    """There is nothing to compare with: how bad it is is asked for, and kept open if not said."""
    pad = pressed(new_pad(stands(UNGRADED)), "s")
    assert [shown.key for shown in pad.keys] == ["h", "=", "+", "f", "Esc"]
    asked = pressed(pad, "+")
    assert asked.question == "RH outer white line fissure: how bad?"
    assert line(pressed(asked, "1")) == "lf rf lh ok; rh o wlf/1"
    assert line(pressed(pad, "=")) == "lf rf lh ok; rh o wlf"


@pytest.mark.parametrize("key", ["w", "0", "c", "3", "2", "k", "b", "t", "enter", "s", "n"])
def test_fingers_that_go_on_as_with_a_sound_bull_grade_nothing(key: str) -> None:
    """A digit of the walk or the condition would be a severity, and might set him free."""
    asked = pressed(new_pad(stands(UNGRADED)), "s")
    assert asked.press(key) is None
    assert line(pressed(asked, "= w 0 c 3 2")).startswith("lf rf lh ok; rh o wlf; walk 0")


def test_with_the_foot_in_the_hand_a_severity_never_said_is_asked_by_a_digit() -> None:
    pad = pressed(new_pad(stands(UNGRADED)), "4 =")
    assert pad.question == "RH outer: white line fissure: how bad?"
    assert line(pressed(pad, "1")) == "rh o wlf/1"
    past = pressed(pad, "p")
    assert "severity not said: it holds him" in past.question
    assert pressed(past, "1").mode.place == ("LF", "")
