"""The reference against cases worked by hand: lameness, incidents, pain relief and the body."""

from __future__ import annotations

import pytest

from .hand import (
    assessed,
    check,
    day,
    entry,
    examined,
    found,
    gone,
    lift,
    looked,
    names,
    plain,
    sound,
    walk,
)
from .state import Entry


def five(on: str, score: int) -> Entry:
    return entry("mobility", on, scale="five1-5", score=score)


@pytest.mark.parametrize(
    ("then", "lame"),
    [
        ([], True),
        ([five("2026-04-20", 2)], True),
        ([five("2026-04-20", 2), five("2026-04-26", 2)], True),
        ([five("2026-04-20", 2), five("2026-04-27", 2)], False),
        ([five("2026-04-19", 2), five("2026-04-27", 2)], True),
        ([five("2026-04-19", 1)], True),
        ([five("2026-04-20", 1)], False),
        ([five("2026-04-20", 2), five("2026-04-21", 1)], False),
        ([five("2026-04-20", 2), five("2026-04-22", 3), five("2026-04-29", 2)], True),
    ],
)
def test_lame_until_the_best_score_or_twice_a_mild_one(then: list[Entry], lame: bool) -> None:
    bull = assessed(five("2026-04-13", 3), *then, on="2026-04-29")
    assert (plain("lame") in bull["reasons"]) is lame


def test_the_walk_that_counts_is_a_week_after_the_mild_day() -> None:
    bull = assessed(five("2026-04-13", 3), five("2026-04-20", 2), on="2026-04-21")
    assert check(bull, "mobility")["not_before"] == day("04-27")


def test_lame_again_after_a_mild_day_asks_for_a_new_lift() -> None:
    told = [walk("2026-03-13", 2, limb="LF"), lift("2026-03-14", "LF")]
    again = walk("2026-03-22", 2, limb="LF")
    assert "lift" not in names(assessed(*told, again))
    assert check(assessed(*told, walk("2026-03-20", 1), again), "lift")["feet"] == ["LF"]


def test_an_ask_outlives_the_run() -> None:
    bull = assessed(walk("2026-03-20", 2, limb="LF"), walk("2026-03-27", 0))
    assert plain("lame") not in bull["reasons"]
    lifted = check(bull, "lift")
    assert (lifted["feet"], lifted["due"]) == (["LF"], day("03-22"))


def test_a_worst_score_and_one_on_a_wrap_ask_from_their_own_day() -> None:
    told = [walk("2026-03-20", 2, limb="LH"), lift("2026-03-24", "LH")]
    assert "lift" not in names(assessed(*told, walk("2026-03-25", 2, limb="LH")))
    worst = check(assessed(*told, walk("2026-03-25", 3, limb="LH")), "lift")
    assert (worst["feet"], worst["due"]) == (["LH"], day("03-26"))
    wrap = lift("2026-03-24", "LH", work=[{"foot": "LH", "act": "wrap"}])
    wrapped = check(assessed(*told, wrap, walk("2026-03-25", 2)), "lift")
    assert (wrapped["feet"], wrapped["due"]) == (["LH"], day("03-27"))


LF_LAME = [walk("2026-03-20", 2, limb="LF"), lift("2026-03-22")]


@pytest.mark.parametrize(
    ("then", "asked"),
    [
        (walk("2026-03-25", 2, limb="LF"), False),
        # of that limb nobody had asked: what was lifted before the walk does not answer
        (walk("2026-03-25", 2, limb="RH"), True),
        (walk("2026-03-25", 2), False),
        # an incident and a coming in say that something happened that day
        (entry("incident", "2026-03-25", cause="fall", lame=True), True),
        (entry("incident", "2026-03-25", cause="fall", lame=True, limb="LF"), True),
        (entry("moved", "2026-03-25", act="in", reason="lame"), True),
    ],
)
def test_which_lame_events_want_a_lift_of_their_own(then: Entry, asked: bool) -> None:
    bull = assessed(*LF_LAME, then)
    assert ("lift" in names(bull)) is asked


def test_a_limb_that_a_lame_event_asked_for_is_no_other_limb() -> None:
    again = walk("2026-03-25", 2, limb="RH")
    assert "lift" in names(assessed(*LF_LAME, again))
    for before in (walk("2026-03-20", 2), walk("2026-03-20", 2, limb="RH")):
        assert "lift" not in names(assessed(before, *LF_LAME, again))
    # a limb only hurt was asked for, but not as lame: the lift before the walk does not answer
    hurt = entry("incident", "2026-03-20", cause="fall", limb="RH")
    assert check(assessed(hurt, *LF_LAME, again), "lift")["due"] == day("03-27")


@pytest.mark.parametrize(("lifted", "asked"), [("2026-03-17", True), ("2026-03-18", False)])
def test_a_lift_of_two_weeks_ago_does_not_answer(lifted: str, asked: bool) -> None:
    told = [walk("2026-03-10", 2, limb="LF"), lift(lifted, "LF"), walk("2026-04-01", 2, limb="LF")]
    # lame ever since 10 March; the lift of the first event is answered either way
    bull = assessed(*told)
    assert ("lift" in names(bull)) is asked
    if asked:
        assert check(bull, "lift")["due"] == day("04-03")


@pytest.mark.parametrize(
    ("hides", "walked", "lame"),
    [
        (entry("treatment", "2026-03-22", given_by="vet", product="Aspirin"), "2026-03-28", True),
        (entry("treatment", "2026-03-22", given_by="vet", product="Aspirin"), "2026-03-29", False),
        (entry("block-off", "2026-03-22", foot="LH", claw="inner"), "2026-03-28", True),
        (entry("block-off", "2026-03-22", foot="LH", claw="inner"), "2026-03-29", False),
    ],
)
def test_a_masked_walk_ends_no_lameness(hides: Entry, walked: str, lame: bool) -> None:
    block = entry("block-on", "2026-02-20", foot="LH", claw="inner")
    told = [block, entry("block-off", "2026-03-01", foot="LH", claw="inner")]
    told = [block] if hides["kind"] == "block-off" else told
    lamed = walk("2026-03-15", 2, limb="RF")
    bull = assessed(*told, lamed, hides, walk(walked, 0))
    assert (plain("lame") in bull["reasons"]) is lame
    # nor is it a mild day, after which a lift of before does not answer
    mild = [lamed, hides, lift("2026-03-23"), walk(walked, 1), walk("2026-03-30", 2, limb="RF")]
    assert ("lift" in names(assessed(*told, *mild))) is not lame


def test_walk_again_waits_for_pain_relief_and_a_block_that_is_off() -> None:
    told = [*sound("2026-06-15"), walk("2026-03-26", 2), lift("2026-03-27")]
    hides = [
        entry("treatment", "2026-04-01", given_by="vet", product="Aspirin"),
        entry("block-on", "2026-02-20", foot="LH", claw="inner"),
        entry("block-off", "2026-04-02", foot="LH", claw="inner"),
        lift("2026-04-02"),
    ]
    # late a week after the first day on which a walk could count, and not before that
    for some, first, due in ((hides[:1], "04-08", "04-15"), (hides, "04-09", "04-16")):
        again = check(assessed(*told, *some), "walk-again")
        assert (again["not_before"], again["due"]) == (day(first), day(due))


def test_a_sound_score_on_a_wrap_ends_no_lameness() -> None:
    wrap = lift("2026-03-26", "LH", work=[{"foot": "LH", "act": "wrap"}])
    bull = assessed(walk("2026-03-20", 2, limb="LH"), wrap, walk("2026-03-27", 0))
    assert plain("lame") in bull["reasons"]


def drug(product: str, **fields: str) -> Entry:
    return entry("treatment", "2026-03-31", given_by="vet", product=product, **fields)


@pytest.mark.parametrize(
    ("happened", "walk_from"),
    [
        (entry("incident", "2026-03-30", cause="transport"), "04-02"),
        (entry("incident", "2026-03-29", cause="other"), None),
        (entry("incident", "2026-03-26", cause="fight", suspect="back"), "04-02"),
        (entry("incident", "2026-03-25", cause="fight", suspect="back"), None),
        # ill alone is not hurt; with a place suspected, a limb or lame he is
        (entry("incident", "2026-04-02", cause="illness"), None),
        (entry("incident", "2026-04-02", cause="illness", suspect="back"), "04-09"),
        (entry("incident", "2026-04-02", cause="illness", suspect="foot"), "04-05"),
        (drug("Painkilling drench"), "04-07"),
        (drug("x", reason="as a PAIN-KILLER"), "04-07"),
        (drug("x", reason="pain\nrelief"), "04-07"),
        (drug("x", reason="anti inflammatory"), "04-07"),
        (drug("Analgesics"), "04-07"),
        (drug("a pump", reason="ain"), None),  # two texts are no word
        (drug("painted on"), None),  # paint is no pain
        (drug("injection", reason="for the pain"), "04-07"),
        (entry("treatment", "2026-03-26", given_by="vet", product="Meloxicam 20"), "04-02"),
        (entry("treatment", "2026-03-25", given_by="vet", product="Meloxicam 20"), None),
        (entry("treatment", "2026-03-31", given_by="vet", product="x", reason="an NSAID"), "04-07"),
        (
            entry("treatment", "2026-03-31", given_by="vet", product="Aspirin", pain_relief=False),
            None,
        ),
        (
            entry("treatment", "2026-03-31", given_by="vet", product="x", pain_relief=True),
            "04-07",
        ),
        (entry("moved", "2026-04-02", act="in"), "04-02"),
    ],
)
def test_what_the_walk_of_the_first_of_april_came_too_soon_after(
    happened: Entry, walk_from: str | None
) -> None:
    # pain relief: lameness is still masked three days after one dose; a week here. A back that is
    # suspected: a week (a vet in the farm press)
    bull = assessed(*sound(), happened)
    assert ("mobility" in names(bull)) is (walk_from is not None)
    if walk_from:
        on = max(day(walk_from), day("04-03"))
        assert check(bull, "mobility")["not_before"] == on


LAME = [walk("2026-03-20", 2, limb="LH")]


@pytest.mark.parametrize(
    ("told", "asked"),
    [
        ([lift("2026-03-21", "LH")], True),
        ([found("2026-03-21", "HHE")], True),
        ([found("2026-03-21", "CC", severity=2)], True),
        ([gone("2026-03-21", "SH")], True),  # not open
        ([found("2026-03-21", "SH", severity=1)], False),
        ([found("2026-03-21", "CC", severity=3)], False),
        ([lift("2026-03-21", "RH")], False),  # not lifted where it was asked
    ],
)
def test_lame_with_nothing_found_is_for_the_vet(told: list[Entry], asked: bool) -> None:
    bull = assessed(*LAME, *told, on="2026-03-22")
    assert ("vet-look" in names(bull)) is asked
    if asked:
        assert check(bull, "vet-look")["due"] == day("03-23")


def test_an_asked_foot_refused_is_for_the_vet() -> None:
    refused = entry("feet", "2026-03-21", lifted=["RF"], refused=["LH"])
    assert check(assessed(*LAME, refused, on="2026-03-22"), "vet-look")["due"] == day("03-23")
    other = entry("feet", "2026-03-21", lifted=["RF"], refused=["RH"])
    assert "vet-look" not in names(assessed(*LAME, other, on="2026-03-22"))
    lifted = found("2026-03-22", "SU")
    assert "vet-look" not in names(assessed(*LAME, refused, lifted, on="2026-03-22"))


@pytest.mark.parametrize(("foot", "asked"), [({}, False), ({"foot": "LH"}, False)])
def test_a_look_at_the_asked_foot_answers_lameness(foot: dict[str, str], asked: bool) -> None:
    worst = walk("2026-04-01", 3, limb="LH")
    assert "vet-look" in names(assessed(worst, looked("2026-04-01", "lame", foot="RF")))
    assert ("vet-look" in names(assessed(worst, looked("2026-04-01", "foot", **foot)))) is asked
    assert "vet-look" in names(assessed(worst, looked("2026-03-31", "foot", **foot)))


def test_lame_for_two_weeks_is_for_the_vet_and_again_as_long_after() -> None:
    told = [*LAME, found("2026-03-21", "SU")]
    assert "vet-look" not in names(assessed(*told))
    assert check(assessed(*told, on="2026-04-04"), "vet-look")["due"] == day("04-05")
    seen = looked("2026-03-22", "lame", foot="LH")
    assert "vet-look" not in names(assessed(*told, seen, on="2026-04-05"))
    assert "vet-look" in names(assessed(*told, seen, on="2026-04-06"))


def body(on: str, part: str, state: str = "wrong", **fields: str) -> Entry:
    return entry("body", on, part=part, state=state, **fields)


JOINT = body("2026-04-02", "joint", limb="LH")
EYES = body("2026-04-02", "eyes")


@pytest.mark.parametrize(
    ("told", "held"),
    [
        ([EYES], True),
        ([body("2026-04-02", "eyes", "watch")], False),
        ([EYES, body("2026-04-03", "eyes", "right")], True),
        ([EYES, looked("2026-04-03", "body")], False),
        ([EYES, looked("2026-04-02", "body", part="eyes")], False),
        ([looked("2026-04-02", "body", part="eyes"), EYES], True),
        ([EYES, looked("2026-04-03", "body", part="mouth")], True),
        ([EYES, looked("2026-04-03", "foot")], True),
        ([EYES, looked("2026-04-03", "body", "again")], True),
        ([EYES, examined("2026-04-03")], False),
        ([EYES, examined("2026-04-03", "deferred")], True),
        ([JOINT, looked("2026-04-03", "body", part="joint")], True),
        ([JOINT, looked("2026-04-03", "body", part="joint", limb="RH")], True),
        ([JOINT, looked("2026-04-03", "body", part="joint", limb="LH")], False),
    ],
)
def test_what_a_vet_must_say_of_a_part_that_is_wrong(told: list[Entry], held: bool) -> None:
    kinds = {kind for kind, *_ in assessed(*told)["reasons"]}
    assert ("body" in kinds) is held


def test_a_body_finding_asks_for_the_vet() -> None:
    bull = assessed(*sound(), EYES)
    assert names(bull) == ["vet-look"]
    assert check(bull, "vet-look")["due"] == day("04-04")
    assert bull["reasons"] == {("body", None, None, "eyes"), plain("vet-look")}


def test_the_walk_waits_for_a_joint_but_not_for_an_eye() -> None:
    bull = assessed(*sound(), JOINT)
    assert names(bull) == ["mobility", "vet-look"]
    again = looked("2026-04-02", "body", "again", again_on="2026-04-06")
    assert check(assessed(*sound(), JOINT, again), "mobility")["not_before"] == day("04-06")
    # ended on 2 April, the walk was on the 1st
    fit = looked("2026-04-02", "body")
    assert names(assessed(*sound(), JOINT, fit)) == ["mobility"]
    assert assessed(*sound(), EYES, fit)["status"] == "GO"


def test_a_look_before_the_finding_of_that_day_does_not_answer_it() -> None:
    before = looked("2026-04-02", "body", "again")
    assert "vet-look" in names(assessed(before, EYES))
    assert "vet-look" not in names(assessed(EYES, before))


def test_taken_out_because_he_is_lame_he_is_lame() -> None:
    out = entry("moved", "2026-04-01", act="out", reason="lame")
    bull = assessed(*sound("2026-04-01"), out)
    assert plain("lame") in bull["reasons"]
    assert check(bull, "lift")["feet"] == ["LF", "RF", "LH", "RH"]
