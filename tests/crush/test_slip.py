"""What can be said of a bull, one thing at a time: each keeps the slip an entry that stands.

The reference is what an entry may say: a foot is lifted or refused, a finding is found or healed,
and nothing is said of a foot that was not up.
"""

from __future__ import annotations

import pytest

from readiness.crush.slip import Slip
from readiness.entries.validate import validate
from readiness.shorthand import Scales, ShorthandError
from tests.crush.pads import SLIP

SCALES = Scales("gb0-3", "five")


def line(slip: Slip) -> str:
    """As shorthand, and every entry of it stands."""
    for content in slip.contents:
        assert validate(content) == (content, [])
    return slip.line(SCALES)


def test_a_slip_on_which_nothing_is_said_is_empty_in_each_view() -> None:
    assert not SLIP
    assert (line(SLIP), SLIP.said(), SLIP.untouched) == ("", [], ("LF", "RF", "LH", "RH"))


def test_each_entry_carries_the_bull_the_day_and_the_person() -> None:
    [content] = SLIP.lift("LF").contents
    assert content == {
        "kind": "feet", "on": "2026-04-03", "bull": "00417", "by": "A. Trimmer", "lifted": ["LF"],
    }  # fmt: skip
    [nobody] = Slip("00417", SLIP.on).lift("LF").contents
    assert "by" not in nobody


def test_what_is_said_further_leaves_the_older_slip_as_it_was() -> None:
    first = SLIP.find("LF", "outer", "SU").work("LF", "outer", "pare")
    said = line(first)
    first.heal("LF", "outer", "SU").work("LF", "outer", "pare").refuse("LF")
    assert line(first) == said == "lf o su pare"


# ---- lifted or refused -------------------------------------------------------------------------


def test_a_foot_lifted_twice_is_named_once() -> None:
    assert SLIP.lift("LF").lift("RF", "LF").lifted == ("LF", "RF")


def test_a_foot_is_lifted_or_refused_whichever_was_said_last() -> None:
    refused = SLIP.lift("LF", "RF").refuse("LF")
    assert (refused.lifted, refused.refused) == (("RF",), ("LF",))
    lifted = refused.lift("LF")
    assert (lifted.lifted, lifted.refused) == (("RF", "LF"), ())
    assert refused.untouched == lifted.untouched == ("LH", "RH")
    assert line(SLIP.refuse("LF").refuse("LF")) == "lf refused"


def test_what_was_said_of_a_foot_goes_with_its_refusal_and_of_the_others_stays() -> None:
    of_both = [
        SLIP.find(foot, "outer", "SU")
        .heal(foot, "inner", "WLF")
        .work(foot, "outer", "pare")
        .measure(foot, "outer", "wall_mm", 90)
        for foot in ("LF", "RH")
    ]
    two = of_both[0].find("RH", "outer", "SU").work("RH", None, "trim")
    assert line(two.refuse("LF")) == "rh o su; rh trim; lf refused"
    assert line(of_both[1].refuse("RH")) == "rh refused"


# ---- found or healed ---------------------------------------------------------------------------


def test_a_finding_said_again_stands_once_with_what_was_said_of_it() -> None:
    slip = SLIP.find("RH", "outer", "SU", zone=4).find("RH", "outer", "SU", severity=2)
    assert line(slip) == "rh o su@4/2"
    assert line(slip.find("RH", "outer", "SU", zone=None)) == "rh o su/2"
    assert line(slip.find("RH", "inner", "SU")) == "rh o su@4/2; i su"
    assert slip.finding("RH", "outer", "SU") == slip.feet["findings"][0]
    assert slip.finding("RH", "inner", "SU") is None


def test_a_finding_is_found_or_healed_whichever_was_said_last() -> None:
    found = SLIP.find("RH", "outer", "SU", severity=2)
    healed = found.heal("RH", "outer", "SU")
    assert line(healed) == "rh o su healed"
    assert line(healed.heal("RH", "outer", "SU", stable=True)) == "rh o su healed stable"
    assert line(healed.find("RH", "outer", "SU")) == "rh o su"


@pytest.mark.parametrize("one", ["outer", "inner"])
def test_of_both_claws_one_healed_leaves_the_other_found(one: str) -> None:
    other = {"outer": "i", "inner": "o"}[one]
    mixed = SLIP.find("RH", "both", "SU", severity=2).heal("RH", one, "SU")
    assert line(mixed) == f"rh {other} su/2; {one[0]} su healed"
    back = SLIP.heal("RH", "both", "SU").find("RH", one, "SU")
    assert line(back) == f"rh {one[0]} su; {other} su healed"


def test_both_claws_healed_leave_neither_found() -> None:
    found = SLIP.find("RH", "outer", "SU").find("RH", "inner", "SU").find("RH", "outer", "WLF")
    assert line(found.heal("RH", "both", "SU")) == "rh o wlf; b su healed"
    healed = SLIP.heal("RH", "outer", "SU").heal("RH", "inner", "SU")
    assert line(healed.heal("RH", "both", "SU")) == "rh b su healed"
    assert line(healed.find("RH", "both", "SU")) == "rh b su"


def test_a_finding_is_spoken_of_under_both_its_names_and_on_either_claw_of_both() -> None:
    slip = SLIP.find("RH", "both", "SU", was="SH").heal("LF", "outer", "WLF")
    assert slip.speaks_of("RH", "outer", "SU")
    assert slip.speaks_of("RH", "inner", "SH")
    assert slip.speaks_of("LF", "outer", "WLF")
    assert not slip.speaks_of("LF", "inner", "WLF")
    assert not slip.speaks_of("LH", "outer", "SU")


# ---- work and measures -------------------------------------------------------------------------


def test_work_said_twice_is_taken_back_and_the_foot_stays_lifted() -> None:
    slip = SLIP.work("LF", "outer", "pare").work("LF", "outer", "dress")
    assert line(slip) == "lf o pare dress"
    assert line(slip.work("LF", "outer", "pare")) == "lf o dress"
    bare = slip.work("LF", "outer", "pare").work("LF", "outer", "dress")
    assert line(bare) == "lf ok"


def test_feet_trimmed_twice_stay_trimmed() -> None:
    slip = SLIP.work("LF", None, "trim").trim("LF", "RF")
    assert slip.feet["work"] == [{"foot": "LF", "act": "trim"}, {"foot": "RF", "act": "trim"}]
    assert slip.trim("LF", "RF") == slip


def test_measures_of_one_claw_stand_together_and_the_last_of_each_counts() -> None:
    slip = SLIP.measure("LF", "outer", "wall_mm", 92).measure("LF", "outer", "sole_mm", 7)
    assert slip.feet["measures"] == [{"foot": "LF", "claw": "outer", "wall_mm": 92, "sole_mm": 7}]
    again = slip.measure("LF", "outer", "wall_mm", 95).measure("LF", "inner", "wall_mm", 91)
    assert [measure["wall_mm"] for measure in again.feet["measures"]] == [95, 91]


# ---- other entries -----------------------------------------------------------------------------


def test_a_walk_scored_anew_stands_in_the_place_of_the_old_one() -> None:
    slip = SLIP.put("mobility", scale="gb0-3", score=2, limb="LF").put("weight", kg=900)
    anew = slip.put("mobility", scale="gb0-3", score=0)
    assert line(anew) == "walk 0; kg 900"
    last = anew.last("mobility")
    assert last is not None and "limb" not in last


def test_two_entries_of_a_kind_stand_side_by_side_until_one_is_taken_away() -> None:
    slip = SLIP.anew("vet-look", {"foot": "LF"}, about="foot", outcome="fit")
    slip = slip.anew("vet-look", {"foot": None}, about="lame", outcome="again")
    assert line(slip) == "vetlook foot fit lf; vetlook lame again"
    assert slip.last("vet-look") == slip.all_of("vet-look")[1]
    assert slip.last("weight") is None
    assert line(slip.without("vet-look", foot="LF")) == "vetlook lame again"
    assert not slip.without("vet-look")


def test_out_of_every_group_is_said_as_null() -> None:
    [content] = SLIP.say("join", {"group": None}).contents
    assert content["group"] is None
    assert line(SLIP.say("join", {"group": None})) == "join none"


def test_a_note_goes_to_the_feet_else_to_the_last_entry_and_stays() -> None:
    slip = SLIP.put("weight", kg=900).put("mobility", scale="gb0-3", score=0)
    assert line(slip.note("tired")) == 'kg 900; walk 0 "tired"'
    with_feet = slip.lift("LF").put("condition", scale="five", score=3)
    assert line(with_feet.note("quiet")) == 'kg 900; walk 0; lf ok "quiet"; cond 3'
    assert line(with_feet.note("quiet").note("restless").note("")) == line(with_feet)
    assert line(with_feet.note("quiet").note("wild")) == line(with_feet.note("wild"))
    assert SLIP.note("of nothing") == SLIP


def test_a_note_stays_when_more_is_said_of_the_feet() -> None:
    slip = SLIP.lift("LF").note("kicks").find("LF", "outer", "SU")
    assert slip.feet["note"] == "kicks"


def test_a_block_said_twice_is_fitted_once_and_off_once() -> None:
    lf, lh = {"foot": "LF", "claw": "inner"}, {"foot": "LH", "claw": "outer"}
    on = SLIP.anew("block-on", lf).anew("block-on", lh).anew("block-on", lf)
    assert line(on) == "block lh o; block lf i"
    off = SLIP.anew("block-off", lf).anew("block-off", lf, lost=True)
    assert line(off) == "block lf i lost"
    assert line(off.anew("block-off", lf)) == "block lf i off"
    assert line(off.anew("block-on", lf)) == "block lf i lost; block lf i"


# ---- the line ----------------------------------------------------------------------------------


def test_a_line_says_all_of_it_anew() -> None:
    slip = SLIP.lift("LF").put("weight", kg=900)
    assert slip.read("rh o su; walk 1", SCALES) == SLIP.find("RH", "outer", "SU").put(
        "mobility", scale="gb0-3", score=1
    )


@pytest.mark.parametrize("text", ["", "   "])
def test_an_empty_line_empties_the_slip(text: str) -> None:
    assert SLIP.lift("LF").read(text, SCALES) == SLIP


def test_a_line_that_cannot_be_read_is_refused_by_its_word() -> None:
    with pytest.raises(ShorthandError) as refused:
        SLIP.read("lf o zz", SCALES)
    assert "zz" in str(refused.value)


def test_a_plain_score_is_read_in_the_scale_of_the_farm_and_another_is_named() -> None:
    other = Scales("five1-5", "nine")
    walked = SLIP.read("walk 3; cond 6.5", other)
    assert [content["scale"] for content in walked.contents] == ["five1-5", "nine"]
    assert walked.line(other) == "walk 3; cond 6.5"
    assert line(walked) == "walk 3 five1-5; cond 6.5 nine"


def test_of_two_lifts_of_one_day_the_last_is_in_hand_and_both_count() -> None:
    """Two entries: a foot lifted in the morning may be lifted again."""
    slip = SLIP.read("lf o su healed; rf refused; then; rh o su/2", SCALES)
    assert (slip.lifted, slip.refused, slip.untouched) == (("LF", "RH"), ("RF",), ("LH",))
    assert slip.speaks_of("LF", "outer", "SU") and slip.speaks_of("RH", "outer", "SU")
    worse = slip.find("RH", "outer", "SU", severity=3).lift("RF").note("kicks")
    assert line(worse) == 'lf o su healed; rf refused; then; rh o su/3; rf ok "kicks"'
    assert (worse.lifted, worse.refused) == (("LF", "RH", "RF"), ())


def test_a_wrap_comes_off_by_a_lift_on_a_later_day_or_in_so_many_words() -> None:
    today = SLIP.on.toordinal()
    assert SLIP.lift("LF").unwraps("LF", today - 1)
    assert not SLIP.lift("LF").unwraps("LF", today)
    assert SLIP.work("LF", None, "unwrap").unwraps("LF", today)
    assert not SLIP.lift("RF").unwraps("LF", today - 1)
    assert not SLIP.unwraps("LF", today - 1)


@pytest.mark.parametrize("again", ["find", "heal"])
@pytest.mark.parametrize("claw", ["outer", "both"])
def test_a_finding_renamed_and_said_again_by_its_old_name_is_another_one(
    again: str, claw: str
) -> None:
    """One entry may not name a code as ``was`` that it also finds or heals on that claw."""
    renamed = SLIP.find("LH", "outer", "XX", was="TN")
    slip = getattr(renamed, again)("LH", claw, "TN")
    assert "was" not in line(slip)
    assert SLIP.read(line(slip), SCALES).contents == slip.contents
    assert "o xx was tn" in line(getattr(renamed, again)("LH", "inner", "TN"))
