"""Slips of cold hands: a key left out, doubled, or pressed from habit writes nothing that was not
meant and not told.

The sequences were found by trying every single slip of plausible entries on the crush; the expected
is the project's own: what was not seen to be asked is not answered.
"""

from __future__ import annotations

import pytest

from readiness.crush.before import ending
from readiness.crush.effects import Fetch, Save
from readiness.crush.keys import ENTER_AGAIN, MISSED, NEXT_AGAIN, UNDO_AGAIN
from readiness.crush.modes_foot import NO_DISEASE, FindCode, OnClaw, OnFoot
from readiness.crush.top import AskFinding
from readiness.crush.typed import NOTE_STANDS, UNCHANGED
from tests.crush.pads import found, line, new_pad, pressed, said, stands
from tests.crush.test_session import CORRAN
from tests.crush.yard import Yard
from tests.tui.estate import estate, of

ULCER = found("LH", "inner", "SU")
FISSURE = found("LH", "outer", "WLF", 1, holds=False)


# ---- a foot whose digit stood before -----------------------------------------------------------


def test_the_lame_limb_is_taken_up_by_its_digit_and_a_claw_however_fast() -> None:
    """Nine keys were lost of whoever said "lame on the fourth, and that foot has it"."""
    yard = Yard().press(*"w244osh42", apart=0.4)
    assert yard.session.line == "walk 2 rh; rh o sh@4/2"
    yard = Yard().press(*"w244", apart=0.4)
    assert yard.session.pad is not None and yard.session.pad.mode.place == ("", "")
    assert yard.press("enter").last(Save).line == "walk 2 rh"
    late = Yard().press(*"w244", apart=0.4).press("o", apart=2)
    assert late.session.line == "walk 2 rh", "it was told that the digit was not taken"


# ---- what holds nobody and is gone -------------------------------------------------------------


def test_what_holds_nobody_is_healed_by_one_key_on_its_foot() -> None:
    """The board says when to look at it; on its foot the key for healed meant nothing."""
    before = stands(found("RH", "skin", "DD", holds=False))
    assert said("4 h", before) == "rh s dd healed"
    assert pressed(new_pad(before), "1").press("h") is None
    both = stands(FISSURE, found("LH", "inner", "SH", 1, holds=False))
    asked = pressed(new_pad(both), "3 h")
    assert asked.refused and line(asked) == ""


# ---- what follows a key that was refused -------------------------------------------------------


@pytest.mark.parametrize("apart", [0.1, 0.33, 0.5])
@pytest.mark.parametrize(
    "keys",
    ["o s u 4 2 p d b enter s w 1 enter", "1 s u 4 2 p d b s w 1 enter",
     "1 p s u 4 2 p d b enter s w 1 enter", "1 k s u 4 2 p d b enter s w 1 enter"],
    ids=["no foot", "no claw", "work in place of the claw", "weight in place of the claw"],
)  # fmt: skip
def test_an_ulcer_said_without_its_foot_or_claw_makes_no_sound_bull(
    keys: str, apart: float
) -> None:
    """He was saved as all four lifted and sound, with work on another foot."""
    yard = Yard().press(*keys.split(), apart=apart)
    assert not any(isinstance(effect, Save) for effect in yard.asked)
    assert yard.session.key == CORRAN
    if keys[:3].strip() not in (
        "1 p",
        "1 k",
    ):  # there the others were said to be sound, before the slip
        assert " ok" not in yard.session.line


def test_the_rest_of_a_word_begun_with_u_is_not_taken() -> None:
    yard = Yard("s").press("u", *["4", "2", "p"], apart=0.4)
    assert yard.session.line == "all ok"
    assert yard.session.message == UNDO_AGAIN or UNDO_AGAIN in yard.session.pad.said  # type: ignore[union-attr]


def test_a_letter_that_fits_no_finding_drops_those_before_it() -> None:
    """ "w l" and then the paring, the dressing and the trimming spelled another finding."""
    pad = pressed(new_pad(), "3 o w l x")
    assert pad.refused and pad.mode == FindCode("LH", "outer")


# ---- a key that came twice ---------------------------------------------------------------------


@pytest.mark.parametrize("apart", [0.15, 0.5])
@pytest.mark.parametrize(
    ("keys", "stays"),
    [("1 o s u 4 2", "lf o su@4/2"), ("w 0 c 3 2", "walk 0; cond 3.25")],
    ids=["how bad", "a condition"],
)
def test_a_digit_that_came_twice_takes_up_no_other_foot(
    keys: str, stays: str, apart: float
) -> None:
    yard = Yard(*keys.split()).press(keys[-1], apart=apart)
    assert yard.session.line == stays and yard.session.pad is not None
    assert yard.session.pad.mode.place[0] in ("", "LF")
    assert "not so soon: that is another foot" in yard.session.pad.said
    assert yard.press(keys[-1], apart=0.75).session.pad.mode.place == ("RF", "")  # type: ignore[union-attr]


@pytest.mark.parametrize("apart", [0.15, 0.5])
def test_work_that_came_twice_is_not_taken_away(apart: float) -> None:
    yard = Yard("1", "o", "s", "u", "4", "2", "p").press("p", apart=apart)
    assert yard.session.line == "lf o su@4/2 pare"
    assert yard.press("p", apart=0.75).session.line == "lf o su@4/2"


# ---- what ends a bull, or leaves him -----------------------------------------------------------


def test_enter_after_a_foot_that_would_not_lift_is_asked_for_again() -> None:
    """It ended the foot from habit, saved him, and the rest was said of the one who came."""
    yard = Yard("1", "x", "enter")
    assert yard.session.message == ENTER_AGAIN
    assert not any(isinstance(effect, Save) for effect in yard.asked)
    assert yard.press("s", "enter").last(Save).line == "rf lh rh ok; lf refused"
    assert Yard("1", "x", "enter", "enter").last(Save).line == "lf refused"


def test_the_next_bull_comes_by_a_second_n_where_something_is_said_of_this_one() -> None:
    yard = Yard("1", *"osu42", "n")
    assert (yard.session.key, yard.session.message) == (CORRAN, NEXT_AGAIN)
    assert yard.press("n").session.key != CORRAN
    back = Yard("s", "n", "n", "up")
    assert back.press("n").session.key != CORRAN, "he came so"
    assert Yard("n").last(Fetch).key != CORRAN


def test_enter_in_a_line_as_it_was_saves_nobody() -> None:
    yard = Yard("1", *"osu42", "l", "enter")
    assert yard.session.message == UNCHANGED
    assert not any(isinstance(effect, Save) for effect in yard.asked)
    assert yard.press("enter", "enter").last(Save).line == "lf o su@4/2"


def test_that_an_enter_ended_a_foot_and_not_the_bull_is_told() -> None:
    pad = pressed(new_pad(), "s 1 enter")
    assert pad.said == "LF: nothing to note. Enter saves him."


def test_enter_is_asked_again_once_where_a_key_was_not_taken() -> None:
    """ "o s 4 2", the u missed, saved an ulcer as all sound, however slow the keys."""
    yard = Yard("1", "o", "s", "4", "2", "p", "d", "b", "enter", "s", "enter")
    assert yard.session.message == MISSED
    assert not any(isinstance(effect, Save) for effect in yard.asked)
    assert any(isinstance(effect, Save) for effect in yard.press("enter").asked)
    assert Yard("s", "w", "0", "enter").last(Save).line == "all ok; walk 0"
    other = Yard("7", "s", "enter", "enter").saves("a").press("w", "0", "enter")
    assert other.session.message != MISSED, "it was of the one before"


def test_that_a_note_stands_and_is_not_saved_is_told() -> None:
    yard = Yard("s", "m", *"nail", "enter")
    assert yard.session.pad is not None and yard.session.pad.said == NOTE_STANDS


@pytest.mark.parametrize(("apart", "limb"), [(0.15, ""), (1 / 3, " rf")])
def test_a_walk_that_came_twice_names_no_limb(apart: float, limb: str) -> None:
    yard = Yard("w", "2").press("2", apart=apart)
    assert yard.session.line == f"walk 2{limb}"


def test_that_no_block_is_said_is_told_where_another_key_leaves_it() -> None:
    assert "No block is said." in pressed(new_pad(), "b s").said


def test_a_block_off_beside_a_finding_that_is_there_is_told() -> None:
    """ "-" for "="."""
    pad = pressed(new_pad(stands(ULCER, blocks=(("LH", "outer"),))), "s + b -")
    assert pad.said == "The block is off, and sole ulcer is there still."


# ---- what he has, and becomes of it ------------------------------------------------------------


def test_at_a_finding_that_is_asked_about_b_is_the_block_of_its_foot() -> None:
    """ "b" was refused and "-" made the ulcer less."""
    pad = pressed(new_pad(stands(ULCER, blocks=(("LH", "outer"),))), "3 b -")
    assert line(pad) == "block lh o off" and isinstance(pad.mode, AskFinding)
    assert line(pressed(pad, "=")) == "block lh o off; lh i su"


def test_healed_of_what_was_said_to_be_there_is_asked_again() -> None:
    pad = pressed(new_pad(stands(ULCER)), "3 + p h")
    assert line(pad) == "lh i su/3 pare"
    assert pad.question == "LH inner: sole ulcer was said to be there: healed all the same?"
    assert pressed(pad, "enter").mode == OnClaw("LH", "inner", "SU")
    gone = pressed(pad, "h")
    assert line(gone) == "lh i su healed pare" and gone.mode == OnFoot("LH")
    assert gone.said == "LH inner: sole ulcer, healed."


def test_what_holds_nobody_is_healed_by_one_key_and_that_is_told() -> None:
    pad = pressed(new_pad(stands(FISSURE)), "3 o w l f h")
    assert (line(pad), pad.said) == (
        "lh o wlf healed", "LH outer: white line fissure, healed."
    )  # fmt: skip


@pytest.mark.parametrize("zone", [1, 2, 3, 4, 5, 7, 8])
def test_a_zone_of_the_horn_is_none_of_the_skin(zone: int) -> None:
    """A stage or severity typed from habit was taken for one, and how bad it was stayed unsaid."""
    for code in ("d d", "i p"):
        pad = pressed(new_pad(), f"4 , {code}")
        refused = pressed(pad, str(zone))
        assert refused.refused and f"Zone {zone} is of the horn" in refused.said
        assert refused.slip == pad.slip
    assert said("4 , i p 9 2") == "rh s ip@9/2" and said("4 , i p . 0 2") == "rh s ip@10/2"


def test_a_new_dermatitis_is_never_the_stage_that_is_no_disease() -> None:
    """Its zone typed twice made it one that holds nobody."""
    pad = pressed(new_pad(), "4 , d d 0 0")
    assert (pad.said, line(pad)) == (NO_DISEASE, "rh s dd@0")
    known = stands(found("RH", "skin", "DD", None))
    assert said("4 - 0", known) == "rh s dd:m0"


def test_a_finding_that_ends_because_nothing_is_said_of_it_is_named() -> None:
    """It holds nobody, and ends with the lift: whoever did not think of it is told so."""
    before = stands(ULCER, FISSURE)
    pad = pressed(new_pad(before), "3 h")
    assert ending(before, pad.slip, "LH") == []
    ended = [f"not spoken of, so it ends: {FISSURE.words}"]
    assert ending(before, pressed(pad, "enter").slip) == ended
    assert ending(before, pressed(pad, "o w l f 2 1 enter").slip) == []


# ---- what is told of a key ---------------------------------------------------------------------


def test_what_was_told_of_a_key_stands_for_a_second_though_one_types_on() -> None:
    yard = Yard("w", "2", "1").press("w", "0", apart=5).press("c", apart=0.3)
    assert yard.session.pad is not None and "No longer said: Walk 2" in yard.session.pad.said
    yard.press("3", apart=0.8)
    assert yard.session.pad.said == ""


@pytest.mark.parametrize(("apart", "answered"), [(0.15, 1), (1 / 3, 2)])
def test_an_answer_that_came_twice_answers_for_one_finding(apart: float, answered: int) -> None:
    """Two are open and hold him: at the pace of a hand both are answered."""
    ulcer = {"claw": "outer", "code": "SU", "severity": 2}
    two = [{**ulcer, "foot": "LF"}, {**ulcer, "foot": "RF"}]
    told = [*estate(), of("9", "bull", 90), of("9", "feet", 5, lifted=["LF", "RF"], findings=two)]
    yard = Yard("/", "9", "enter", "s", "=", contents=told).press("=", apart=apart)
    assert yard.session.key == "9" and yard.session.pad is not None
    assert len(yard.session.pad.slip.feet.get("findings", ())) == answered
