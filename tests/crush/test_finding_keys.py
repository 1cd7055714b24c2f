"""The keys on one finding, and numbers that are typed: zone, stage, size, measures, weight.

Zones 0 to 12 are those of the International Lameness Committee (Kuopio 2008; from memory). The
ranges are those of an entry: what the book would refuse on saving is refused where it is typed.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from readiness.crush.modes_finding import codes_like
from readiness.crush.modes_foot import FindCode
from readiness.crush.pad import Pad
from readiness.crush.top import FOOT_FIRST
from readiness.trade.codes import CODES, STAGED
from tests.crush.pads import ON, found, line, new_pad, pressed, said, stands


@pytest.mark.parametrize(
    ("keys", "zone"),
    [("0", 0), ("1", 1), ("9", 9), (". 0", 10), (". 1", 11), (". 2", 12)],
)
@pytest.mark.parametrize(("find", "says"), [("o s u", "o su"), ("o w l a", "o wla")])
def test_a_zone_is_one_digit_and_a_point_before_it_makes_ten_to_twelve(
    find: str, says: str, keys: str, zone: int
) -> None:
    assert said(f"4 {find} {keys}") == f"rh {says}@{zone}"


def test_there_is_no_zone_thirteen_and_a_point_pressed_by_mistake_is_left() -> None:
    pad = pressed(new_pad(), "4 o s u .")
    assert [pad.press(key) for key in ("3", "9", ".", "p")] == [None] * 4
    assert line(pressed(pad, "escape 4 2 p")) == "rh o su@4/2 pare"


@pytest.mark.parametrize(("digit", "zone"), [("1", 1), ("2", 2), ("4", 4), ("0", 0)])
@pytest.mark.parametrize("severity", [1, 2, 3])
def test_a_digit_straight_after_the_place_says_how_bad_it_is(
    digit: str, zone: int, severity: int
) -> None:
    """A one and a digit after it are a zone and a severity, never zone eleven."""
    pad = pressed(new_pad(), f"4 o w l f {digit} {severity}")
    assert line(pad) == f"rh o wlf@{zone}/{severity}"
    assert pressed(pad, "2").mode.place == ("RF", "")


def test_how_bad_it_is_is_asked_in_words_and_by_three_digits() -> None:
    pad = pressed(new_pad(), "4 o s u 4")
    assert pad.question == "RH outer: sole ulcer, zone 4 (where sole and heel meet): how bad?"
    assert [(each.key, each.words) for each in pad.keys[:3]] == [
        ("1", "slight"), ("2", "moderate"), ("3", "severe"),
    ]  # fmt: skip
    for key in "0456789":
        told = pressed(pad, key)
        assert (line(told), told.mode) == ("rh o su@4", pad.mode)
        assert "1 slight, 2 moderate, 3 severe" in told.said


@pytest.mark.parametrize("keys", ["p", "d", "r", "z enter", "b"])
def test_another_key_goes_past_how_bad_it_is_and_a_digit_is_a_foot_again(keys: str) -> None:
    """A digit pressed for a foot later must not make slight what was not said: that sets free."""
    pad = pressed(new_pad(), f"4 o w l f 2 {keys}")
    assert "severity not said: it holds him" in pad.question
    turned = pressed(pad, "1")
    assert turned.mode.place == ("LF", "")
    assert "severity" not in turned.slip.feet["findings"][0]


@pytest.mark.parametrize("keys", ["p 4 2", "+ 3 4 2", "4 + 2", "4 p + 2", "4 2"])
def test_place_and_severity_are_said_in_either_order_and_after_the_work(keys: str) -> None:
    pad = pressed(new_pad(), f"4 o s u {keys}")
    assert pad.slip.feet["findings"][0] == {
        "foot": "RH", "claw": "outer", "code": "SU", "zone": 4, "severity": 2,
    }  # fmt: skip
    assert pressed(pad, "2").mode.place == ("RF", "")


@pytest.mark.parametrize("code", CODES)
def test_whatever_is_found_a_digit_after_its_zone_is_how_bad_it_is_and_turns_to_no_foot(
    code: str,
) -> None:
    """Whether the rules make that decide or not: fingers do not know the rules."""
    claw = "skin" if CODES[code].claw == "skin" else "outer"
    pad = new_pad().go(FindCode("RH", claw, code[:-1].lower()))
    zone = 9 if claw == "skin" else 3
    pad = pressed(pad, f"{code[-1].lower()} {zone} 2")
    said = {"stage": "M2"} if code == STAGED else {"severity": 2}
    assert pad.slip.feet["findings"] == [
        {"foot": "RH", "claw": claw, "code": code, "zone": zone, **said}
    ]
    assert pressed(pad, "1").mode.place == ("LF", "")


def test_a_severity_that_is_known_is_kept_until_a_digit_after_the_zone_says_another() -> None:
    known = stands(found("RH", "outer", "SU", 3))
    pad = pressed(new_pad(known), "4 escape o s u 4")
    assert (
        pad.question == "RH outer: sole ulcer, severe, zone 4 (where sole and heel meet): how bad?"
    )
    assert line(pressed(pad, "2")) == "rh o su@4/2"
    past = pressed(pad, "p")
    assert (line(past), pressed(past, "1").mode.place) == ("rh o su@4 pare", ("LF", ""))


def test_worse_and_less_in_the_hand_go_from_what_is_said_and_stop_at_the_ends() -> None:
    pad = pressed(new_pad(), "4 o s u 4 2 +")
    assert (line(pad), pad.said) == ("rh o su@4/3", "RH outer: sole ulcer, now severe.")
    assert pressed(pad, "+").refused
    assert line(pressed(pad, "- -")) == "rh o su@4/1"
    assert pressed(pad, "- - -").refused


@pytest.mark.parametrize(
    "keys",
    ["4 o s u 4 2 3", "4 o s u 4 p d b 3", "4 o s u 1 2 3", "4 o w l a 4 1 3", "4 o enter 3"],
)
def test_once_all_is_said_a_digit_turns_to_a_foot_and_says_no_other_zone(keys: str) -> None:
    pad = pressed(new_pad(), keys)
    assert pad.mode.place == ("LH", "")
    assert [f["zone"] for f in pad.slip.feet.get("findings", ())] in ([4], [1], [])


WRAPPED = replace(stands(), wraps={"RH": ON.toordinal() - 2})


def test_one_key_puts_a_wrap_on_or_takes_off_the_one_that_is_on_and_says_which() -> None:
    for keys, says, aloud in [
        ("4 r", "rh wrap", "RH: a wrap goes on."), ("4 r r", "rh ok", "RH: no wrap."),
        ("4 o s u 4 2 r", "rh o su@4/2; rh wrap", "RH: a wrap goes on."),
    ]:  # fmt: skip
        pad = pressed(new_pad(), keys)
        assert (line(pad), pad.said) == (says, aloud)
    for keys, says, aloud in [
        ("4 r", "rh unwrap", "RH: the wrap is off."),
        ("4 r r", "rh unwrap wrap", "RH: the old wrap comes off, a new one goes on."),
        ("4 r r r", "rh unwrap", "RH: the wrap is off."),
    ]:
        pad = pressed(new_pad(WRAPPED), keys)
        assert (line(pad), pad.said) == (says, aloud)


def test_undo_means_nothing_with_a_foot_in_the_hand() -> None:
    assert pressed(new_pad(), "4").press("u") is None
    assert pressed(new_pad(), "4 o s u 4").press("u") is None


@pytest.mark.parametrize("foot", ["4", "4 o enter", "4 o s u 4", "4 o s u 4 2", "4 , d d 0 2"])
@pytest.mark.parametrize(("keys", "says"), [("w 0", "walk 0"), ("c 3 2", "cond 3.25"),
                                            ("k 9 8 0 enter", "kg 980")])  # fmt: skip
def test_walk_condition_and_weight_mean_the_same_with_a_foot_in_the_hand(
    foot: str, keys: str, says: str
) -> None:
    """The walk of a bull became a wrap on the foot that was in the hand."""
    before = said(foot)
    pad = pressed(new_pad(), f"{foot} {keys}")
    assert (line(pad), pad.mode) == ("; ".join(filter(None, (before, says))), pad.top)


def test_a_foot_of_which_nothing_was_said_is_not_lifted_by_going_on_and_that_is_said() -> None:
    for keys in ("4 w", "4 1", "4 o enter k"):
        pad = pressed(new_pad(), keys)
        assert line(pad) == "" and "RH is left, not lifted" in pad.said
    assert "RH is done" in pressed(new_pad(), "4 enter 4 p 1").said


def test_another_finding_of_the_foot_is_a_claw_away_and_the_rest_is_sound_by_one_key() -> None:
    pad = pressed(new_pad(), "4 o s u 4 2 i h h e 6 1 , i p 0 3 s")
    assert line(pad) == "rh o su@4/2; i hhe@6/1; s ip@0/3; lf rf lh ok"
    assert said("4 escape s") == "all ok"


def test_a_code_typed_without_its_claw_is_taken_neither_for_sound_nor_for_nothing_done() -> None:
    """Sole ulcer began with all four sound; dermatitis dressed the foot and undressed it again."""
    sole = pressed(new_pad(), "4 s")
    assert (line(sole), sole.refused) == ("", True) and "First which claw" in sole.said
    skin = pressed(new_pad(), "4 d d")
    assert (line(skin), skin.refused) == ("rh dress", True) and ", d d" in skin.said
    assert said("4 d d backspace") == "" and said("4 d s") == "rh dress; lf rf lh ok"


@pytest.mark.parametrize("key", [*"oij,pdrz"])
def test_what_is_said_of_a_foot_means_nothing_before_one_is_named(key: str) -> None:
    pad = pressed(new_pad(), key)
    assert pad.refused and pad.said == FOOT_FIRST and pad.mode == pad.top


def test_a_finding_just_made_is_not_healed_by_a_stray_key() -> None:
    pad = pressed(new_pad(), "4 o s u 4")
    assert pad.press("h") is None


def test_the_stage_of_digital_dermatitis_is_asked_where_how_bad_another_is_is_asked() -> None:
    """A zone of it typed by habit became a stage, and how bad it is a foot."""
    pad = pressed(new_pad(), "3 , d d 0")
    assert pad.question.endswith(": which stage?")
    assert line(pressed(pad, "2")) == "lh s dd:m2@0"
    assert said("3 , d d + 4") == "lh s dd:m4"
    known = stands(found("LH", "skin", "DD", holds=False))
    assert said("3 , d d 0 p", known) == "lh s dd@0 pare"


def test_a_finding_is_found_by_its_code_or_by_any_word_of_its_name() -> None:
    for code, what in CODES.items():
        claw = "skin" if what.claw == "skin" else "outer"
        assert codes_like(claw, code.lower())[0] == code
        for word in what.name.replace("(", "").replace(")", "").split():
            assert code in codes_like(claw, word)
    assert said("4 o u l 1") == "rh o su"
    assert codes_like("skin", "su") == []


def test_a_block_on_a_claw_with_a_finding_is_warned_of() -> None:
    pad = pressed(new_pad(), "4 o s u b")
    assert (line(pad), pad.said) == ("rh o su; block rh i", "")
    wrong = pressed(new_pad(), "4 o s u enter b 4 o")
    assert line(wrong) == "rh o su; block rh o"
    assert wrong.said == "RH outer carries a finding (sole ulcer): block the sound claw."
    known = pressed(new_pad(stands(found("RH", "outer", "SU"))), "b 4 o")
    assert known.said == wrong.said
    healed = pressed(new_pad(stands(found("RH", "outer", "SU"))), "s h b 4 o")
    assert healed.said == ""


# ---- numbers -----------------------------------------------------------------------------------


def typed(keys: str) -> Pad:
    return pressed(new_pad(), keys)


@pytest.mark.parametrize(
    ("keys", "says"),
    [
        ("k 2 0", "kg 20"), ("k 2 5 0 0", "kg 2500"),
        ("4 o s u z 4 1", "rh o su 1mm"), ("4 o s u z 4 3 0 0", "rh o su 300mm"),
        ("4 z o 1 2 0", "rh o wall 20"), ("4 z o 2 6 0", "rh o sole 60"),
        ("4 z i 3 0", "rh i groove 0"),
    ],
)  # fmt: skip
def test_the_first_and_the_last_number_of_a_range_are_taken(keys: str, says: str) -> None:
    assert line(typed(f"{keys} enter")) == says


@pytest.mark.parametrize(
    ("keys", "range_"),
    [
        ("k 1 9", "20 to 2500 kg"), ("k 2 5 0 1", "20 to 2500 kg"),
        ("4 o s u z 4 0", "1 to 300 mm"), ("4 o s u z 4 3 0 1", "1 to 300 mm"),
        ("4 z o 1 1 9", "20 to 300 mm"), ("4 z o 2 6 1", "1 to 60 mm"),
        ("4 z i 3 2 0 1", "0 to 200 mm"),
    ],
)  # fmt: skip
def test_a_number_out_of_range_is_refused_where_it_is_typed(keys: str, range_: str) -> None:
    pad = typed(keys)
    refused = pressed(pad, "enter")
    assert range_ in refused.said
    assert (refused.slip, refused.mode) == (pad.slip, pad.mode)
    shorter = pressed(refused, "backspace")
    assert (shorter.said, shorter.question) != (refused.said, refused.question)


@pytest.mark.parametrize("keys", ["k 1 2 3 4", "4 o s u z 4 1 2 3", "4 z o 1 1 2 3"])
def test_a_digit_too_many_is_told_and_not_taken(keys: str) -> None:
    pad = typed(keys)
    more = pressed(pad, "5")
    assert more.said.startswith("No more digits")
    assert (more.slip, more.mode, more.steps) == (pad.slip, pad.mode, pad.steps)


@pytest.mark.parametrize(("keys", "line_said"), [("i d", "id"), ("i h", "ih"), ("i p", "ip")])
def test_a_code_of_the_skin_spelled_without_its_comma_is_offered_and_not_read_as_another(
    keys: str, line_said: str
) -> None:
    """ "i d 0 2", interdigital dermatitis, was a concave wall of the inner claw."""
    pad = pressed(new_pad(), f"3 {keys}")
    name = CODES[line_said.upper()].name
    assert ("0", f"{name} ({line_said.upper()})") in [(key.key, key.words) for key in pad.keys]
    assert said(f"3 {keys} 0 2") == said(f"3 , {keys} 0 2") == f"lh s {line_said}@0/2"
    asked = pressed(pad, "enter")
    assert line(asked) == "" and f"Is {line_said.upper()} meant? 0 {name}" in asked.said
    assert said(f"3 {keys} enter 0 2") == f"lh s {line_said}@0/2"
    assert said(f"3 {keys} 0 2 backspace backspace backspace enter") == ""


def test_another_code_that_is_refused_there_is_not_taken_for_the_one_of_the_skin() -> None:
    refused = pressed(new_pad(), "3 i d d")
    assert refused.refused
    assert refused.press("0") is None and line(refused) == ""
