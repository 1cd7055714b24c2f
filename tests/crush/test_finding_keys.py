"""The keys on one finding, and numbers that are typed: zone, stage, size, measures, weight.

Zones 0 to 12 are those of the International Lameness Committee (Kuopio 2008; from memory). The
ranges of numbers are the project's contract of entries: what the book would refuse on saving is
refused where it is typed.
"""

from __future__ import annotations

import pytest

from readiness.crush.modes_finding import codes_like
from readiness.crush.pad import Pad
from readiness.trade.codes import CODES
from tests.crush.pads import found, line, new_pad, pressed, said, stands


@pytest.mark.parametrize(
    ("keys", "zone"),
    [("0", 0), ("9", 9), ("1", 1), ("1 0", 10), ("1 1", 11), ("1 2", 12)],
)
def test_a_zone_is_one_digit_and_a_one_before_it_makes_ten_to_twelve(keys: str, zone: int) -> None:
    assert said(f"4 o s u {keys}") == f"rh o su@{zone}"


@pytest.mark.parametrize(
    "between", ["p p", "v 2", "z enter", "m enter", "b"], ids=lambda keys: keys.split()[0]
)
def test_a_one_said_before_something_else_is_no_ten(between: str) -> None:
    pad = pressed(new_pad(), f"4 o s u 1 {between} 2")
    assert pad.slip.feet["findings"][0]["zone"] == 1
    assert pad.mode.place == ("RF", "")


@pytest.mark.parametrize("keys", ["4 o s u 4 3", "4 o s u 4 p d b 3", "4 o s u 1 3", "4 o enter 3"])
def test_once_the_zone_is_said_a_digit_turns_to_a_foot_and_says_no_other_zone(keys: str) -> None:
    pad = pressed(new_pad(), keys)
    assert pad.mode.place == ("LH", "")
    assert [f["zone"] for f in pad.slip.feet.get("findings", ())] in ([4], [1], [])


def test_a_finding_just_made_is_not_healed_by_a_stray_key() -> None:
    pad = pressed(new_pad(), "4 o s u 4")
    assert pad.press("h") is None


def test_a_one_before_the_stage_is_no_ten() -> None:
    assert said("4 s d d 2 1 g 2") == "rh s dd:m2@1"


def test_a_new_digital_dermatitis_asks_for_its_stage_and_one_that_is_known_keeps_it() -> None:
    assert said("3 s d d 2") == "lh s dd:m2"
    known = stands(found("LH", "skin", "DD", holds=False))
    assert said("3 s d d 2", known) == "lh s dd@2"


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
        ("4 o s u z 1", "rh o su 1mm"), ("4 o s u z 3 0 0", "rh o su 300mm"),
        ("4 m o w 2 0", "rh o wall 20"), ("4 m o s 6 0", "rh o sole 60"),
        ("4 m i g 0", "rh i groove 0"),
    ],
)  # fmt: skip
def test_the_first_and_the_last_number_of_a_range_are_taken(keys: str, says: str) -> None:
    assert line(typed(f"{keys} enter")) == says


@pytest.mark.parametrize(
    ("keys", "range_"),
    [
        ("k 1 9", "20 to 2500 kg"), ("k 2 5 0 1", "20 to 2500 kg"),
        ("4 o s u z 0", "1 to 300 mm"), ("4 o s u z 3 0 1", "1 to 300 mm"),
        ("4 m o w 1 9", "20 to 300 mm"), ("4 m o s 6 1", "1 to 60 mm"),
        ("4 m i g 2 0 1", "0 to 200 mm"),
    ],
)  # fmt: skip
def test_a_number_out_of_range_is_refused_where_it_is_typed(keys: str, range_: str) -> None:
    pad = typed(keys)
    refused = pressed(pad, "enter")
    assert range_ in refused.said
    assert (refused.slip, refused.mode) == (pad.slip, pad.mode)
    shorter = pressed(refused, "backspace")
    assert (shorter.said, shorter.question) != (refused.said, refused.question)


@pytest.mark.parametrize("keys", ["k 1 2 3 4", "4 o s u z 1 2 3", "4 m o w 1 2 3"])
def test_a_digit_too_many_is_told_and_not_taken(keys: str) -> None:
    pad = typed(keys)
    more = pressed(pad, "5")
    assert more.said.startswith("No more digits")
    assert (more.slip, more.mode, more.before) == (pad.slip, pad.mode, pad.before)
