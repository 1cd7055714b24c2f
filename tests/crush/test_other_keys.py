"""Walk, condition, weight, blocks and trouble by keys: each says its entry, in the farm's scale.

The scales and where each is lame stand in the rules with their sources (gb0-3 from 2: AHDB; five1-5
from 3: Sprecher et al. 1997; nz0-3 from 2: DairyNZ).
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from readiness.crush.modes_foot import OnClaw, OnFoot
from readiness.crush.pad import FOOT_KEYS
from readiness.trade.body import PARTS
from tests.crush.pads import line, new_pad, pressed, said, stands


@pytest.mark.parametrize(("scale", "sound", "lame"), [("gb0-3", 1, 2), ("five1-5", 2, 3),
                                                      ("nz0-3", 1, 2)])  # fmt: skip
def test_a_lame_score_asks_for_the_limb_and_a_sound_one_does_not(
    scale: str, sound: int, lame: int
) -> None:
    pad = new_pad(stands(walk=scale))
    assert pressed(pad, f"w {sound}").mode == pad.top
    asked = pressed(pad, f"w {lame}")
    assert asked.question == f"Walk {lame}: lame. On which limb?"
    assert line(pressed(asked, "3")) == f"walk {lame} lh"
    assert line(pressed(asked, "enter")) == f"walk {lame}"


@pytest.mark.parametrize(("scale", "wrong"), [("gb0-3", "4"), ("five1-5", "0"), ("nz0-3", "9")])
def test_a_score_off_the_scale_is_told_its_ends_and_not_taken(scale: str, wrong: str) -> None:
    pad = pressed(new_pad(stands(walk=scale)), f"w {wrong}")
    assert " goes from " in pad.said
    assert line(pad) == ""


def test_a_walk_scored_again_sound_forgets_the_limb() -> None:
    assert said("w 2 1 w 0") == "walk 0"


@pytest.mark.parametrize(
    ("scale", "keys", "score"),
    [("five", "3 2", "3.25"), ("five", "3 5", "3.5"), ("five", "3 7", "3.75"),
     ("five", "3 enter", "3"), ("five", "5", "5"), ("five", "1 0", "1"), ("nine", "6 5", "6.5"),
     ("nine", "9", "9"), ("nine", "8 0", "8")],
)  # fmt: skip
def test_the_condition_is_its_whole_number_and_its_first_decimal(
    scale: str, keys: str, score: str
) -> None:
    assert said(f"c {keys}", stands(condition=scale)) == f"cond {score}"


@pytest.mark.parametrize(("scale", "keys"), [("five", "6"), ("five", "0"), ("nine", "0")])
def test_a_condition_off_the_scale_is_not_taken(scale: str, keys: str) -> None:
    pad = pressed(new_pad(stands(condition=scale)), f"c {keys}")
    assert (line(pad), " goes from " in pad.said) == ("", True)


@pytest.mark.parametrize("key", ["2", "7"])
def test_a_quarter_on_a_scale_of_halves_means_nothing(key: str) -> None:
    assert pressed(new_pad(stands(condition="nine")), "c 6").press(key) is None


@pytest.mark.parametrize("keys", ["w escape", "c escape", "c 3 escape", "k 9 escape", "k enter"])
def test_a_question_left_says_nothing(keys: str) -> None:
    pad = pressed(new_pad(), keys)
    assert (line(pad), pad.mode) == ("", pad.top)


@pytest.mark.parametrize(
    ("keys", "says"),
    [
        ("1 1 3 2", "fight lame lh shoulder"),
        ("2 0 enter enter", "fall not lame"),
        ("3 enter 1 3", "transport lf stifle"),
        ("4 1 enter enter enter", "ill fever"),
        ("4 0 0 enter 4", "ill not lame not fever back"),
        ("5 1 enter 1", "trouble lame foot"),
        ("1 1 w escape", "fight lame"),
        ("1 enter enter enter", "fight"),
    ],
)
def test_trouble_is_its_cause_then_lame_limb_and_what_is_suspected(keys: str, says: str) -> None:
    pad = pressed(new_pad(), f"a 9 {keys}")
    assert (line(pad), pad.mode) == (says, pad.top)


def test_trouble_said_again_is_said_anew() -> None:
    assert said("a 9 1 1 3 2 a 9 2 0 enter enter") == "fall not lame"


def test_one_block_that_is_on_is_meant_and_another_foot_is_named() -> None:
    one = stands(blocks=(("LH", "inner"),))
    assert said("b -", one) == "block lh i off"
    assert said("b 0", one) == "block lh i lost"
    assert said("b +", one) == "block lh i"
    assert said("b escape", one) == ""
    assert said("b 1 o", one) == "block lf o"


@pytest.mark.parametrize(
    ("keys", "says"),
    [
        ("3 b -", "block lh i off"),
        ("3 b 0", "block lh i lost"),
        ("3 b +", "block lh i"),
        ("3 b =", ""),
        ("3 b enter", ""),
        ("3 b escape", ""),
        ("4 b o", "block rh o"),
        ("4 b escape", ""),
        ("4 b enter", ""),
    ],
)
def test_with_a_foot_in_the_hand_its_block_leads_back_to_that_foot(keys: str, says: str) -> None:
    """Back at the first question, the Enter that ends the foot by habit would save the bull, and
    what is said next would be of the one who comes."""
    pad = pressed(new_pad(stands(blocks=(("LH", "inner"),))), keys)
    foot = {"3": "LH", "4": "RH"}[keys[0]]
    assert (line(pad), pad.mode) == (says, OnFoot(foot))
    done = pressed(pad, "enter")
    assert (done.mode, done.slip.lifted) == (done.top, (foot,))


@pytest.mark.parametrize("answer", ["-", "0", "+", "=", "enter", "escape"])
def test_with_a_claw_in_the_hand_the_block_on_the_other_leads_back_to_the_claw(answer: str) -> None:
    one = new_pad(stands(blocks=(("LH", "inner"),)))
    assert pressed(one, f"3 o s u 4 2 b {answer}").mode == OnClaw("LH", "outer", "SU")
    assert pressed(one, f"3 , d d b i {answer}").mode.place == ("LH", "skin")


def test_with_a_foot_in_the_hand_no_block_of_another_foot_is_asked_for() -> None:
    pad = pressed(new_pad(stands(blocks=(("LH", "inner"),))), "3 b")
    assert not [key for key in pad.keys if key.key in FOOT_KEYS] and pad.press("1") is None


def test_of_two_blocks_the_one_on_the_claw_named_is_asked_about() -> None:
    two = stands(blocks=(("LH", "inner"), ("RF", "outer")))
    assert said("b 3 i -", two) == "block lh i off"
    assert said("b 3 o", two) == "block lh o"


def test_a_block_off_asks_for_a_look_where_the_foot_was_not_lifted() -> None:
    one = stands(blocks=(("LH", "inner"),))
    assert pressed(new_pad(one), "b -").said == "Look at both claws of LH: LH is not lifted yet."
    assert pressed(new_pad(one), "s b -").said == ""


def test_the_block_that_comes_off_goes_before_the_sound_walk_said_with_it() -> None:
    """Of the entry that takes it off it was said that he walks on a block. The walk of that day
    counts as little in either order: ``block.settle`` days go by first. A lame one stays where it
    was said: it asks for the foot that carried the block."""
    one = stands(blocks=(("LH", "inner"),))
    assert said("w 0 c 3 2 b -", one) == "block lh i off; walk 0; cond 3.25"
    assert said("s w 1 b 0", one) == "all ok; block lh i lost; walk 1"
    assert said("w 2 enter b -", one) == "walk 2; block lh i off"


def test_what_is_answered_by_a_key_to_go_on_is_one_step_back() -> None:
    pad = pressed(new_pad(), "w 2 s")
    assert line(pad) == "walk 2; all ok"
    assert pressed(pad, "backspace").question == "Walk 2: lame. On which limb?"


@pytest.mark.parametrize("keys", ["1 escape", "1 1 escape", "4 1 escape", "1 1 3 escape"])
def test_esc_takes_the_trouble_back_whole(keys: str) -> None:
    pad = pressed(new_pad(), f"s w 0 a 9 {keys}")
    assert (line(pad), pad.mode) == ("all ok; walk 0", pad.top)


# ---- a part of him -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("keys", "says"),
    [
        ("1 +", "body penis wrong"), ("2 -", "body sheath watch"), ("3 h", "body scrotum right"),
        ("4 +", "body eyes wrong"), ("5 +", "body mouth wrong"), ("7 -", "body back watch"),
        ("8 +", "body other wrong"), ("6 3 +", "body joint lh wrong"),
        ("6 enter -", "body joint watch"),
    ],
)  # fmt: skip
def test_a_part_of_him_is_said_by_a_key_and_how_it_is_by_another(keys: str, says: str) -> None:
    pad = pressed(new_pad(), f"a {keys}")
    assert (line(pad), pad.mode) == (says, pad.top)


@pytest.mark.parametrize("part", PARTS)
def test_no_part_is_left_out(part: str) -> None:
    assert part in [shown.words for shown in pressed(new_pad(), "a").keys]


def test_a_part_said_again_is_said_anew_and_another_beside_it() -> None:
    assert said("a 4 + a 4 -") == "body eyes watch"
    assert said("a 4 + a 7 +") == "body eyes wrong; body back wrong"
    assert said("a 6 1 + a 6 2 +") == "body joint lf wrong; body joint rf wrong"


@pytest.mark.parametrize("keys", ["a escape", "a 4 escape", "a 6 escape", "a 6 1 escape",
                                  "a 4 + a 4 escape", "a 6 1 + a 6 1 escape"])  # fmt: skip
def test_esc_takes_a_part_back(keys: str) -> None:
    pad = pressed(new_pad(), f"s {keys}")
    assert (line(pad), pad.mode) == ("all ok", pad.top)


@pytest.mark.parametrize("key", ["enter", "s", "w", "k", "c", "0", "1", "2", "3"])
def test_no_key_by_habit_says_how_a_part_is(key: str) -> None:
    """Least of all that it is right."""
    assert pressed(new_pad(), "a 4").press(key) is None


def test_trouble_leads_on_to_a_part_of_him_at_once_or_after_what_is_suspected() -> None:
    assert said("a 9 1 1 3 a 1 +") == "fight lame lh; body penis wrong"
    for last in ("2", "enter"):
        after = pressed(new_pad(), f"a 9 1 1 3 {last}")
        assert after.mode == after.top
        assert "a says which" in after.said
        assert line(pressed(after, "a 4 -")).endswith("; body eyes watch")


def test_esc_at_a_part_leaves_the_trouble_as_it_was_said() -> None:
    assert said("a 9 1 1 3 a escape") == "fight lame lh"
    assert said("a 9 1 1 3 a 4 escape") == "fight lame lh"


def test_what_was_wrong_is_not_made_right_by_a_key_without_a_word_of_warning() -> None:
    """It holds until a vet's look says fit; "right" ends a watch and nothing else."""
    wrong = replace(stands(), wrong=(("joint", "LH"),))
    for keys, warned in [("6 3 h", True), ("6 3 -", True), ("6 3 +", False), ("6 1 h", False)]:
        assert ("only a vet's look" in pressed(new_pad(wrong), f"a {keys}").said) == warned
