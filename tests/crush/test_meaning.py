"""What saving means, said at once: how he stands, what is asked for and when, what is answered."""

from __future__ import annotations

from datetime import date
from typing import Any

from readiness.crush.meaning import meaning, odd
from readiness.crush.slip import Slip
from readiness.shorthand import Scales
from tests.build import TAG, assessed, day, lift, said, ulcer
from tests.crush.cards import card

READY = (
    said("bull", "2026-01-01", born="2022-03-01"),
    lift("2026-02-10"),
    said("condition", "2026-03-20", scale="five", score=3.25),
    said("vet-exam", "2026-03-10", outcome="satisfactory"),
)


def saved(on: str, *entries: dict[str, Any], before: tuple[dict[str, Any], ...] = (),
          turnout: str | None = "2026-06-01") -> list[str]:  # fmt: skip
    then = assessed(on, *before, turnout=turnout)
    return meaning(then, assessed(on, *before, *entries, turnout=turnout), day(on))


def test_a_block_fitted_says_its_window() -> None:
    """From 28 days: AHDB, "How to block a lame cow's foot". By 42: New Zealand dairy hoof-care
    training, 4 to 6 weeks. Fitted 1 March 2026: from 29 March, by 12 April."""
    lines = saved("2026-03-01", said("block-on", "2026-03-01", foot="LH", claw="inner"))
    assert "block off LH between 29 Mar and 12 Apr" in lines
    assert lines[0].startswith("HOLD for a reason: block on LH inner. Could go on ")


def test_a_day_after_turnout_is_no_day_to_plan_by() -> None:
    """Off from 28 to 42 days after it was fitted (published), and a week before he goes (project
    choice), so that he walks without it."""
    lines = saved(
        "2026-03-01", said("block-on", "2026-03-01", foot="LH", claw="inner"), turnout="2026-04-10"
    )
    assert "block off LH between 29 Mar and 3 Apr" in lines


def test_a_bull_who_can_go_says_go_and_what_was_answered() -> None:
    on = "2026-04-03"
    walk = said("mobility", on, scale="gb0-3", score=0)
    lines = saved(on, walk, before=READY, turnout="2026-04-10")
    assert lines == ["GO for 10 Apr", "done with this: walk"]


def test_a_lame_bull_is_held_and_asked_for_by_the_days_of_the_guidance() -> None:
    """DairyNZ: score 2 is lifted within 48 hours. Lame on 3 April: by 5 April; the walk that counts
    a week after (project choice), on the day of turnout, which is the only one left."""
    on = "2026-04-03"
    lame = said("mobility", on, scale="gb0-3", score=2, limb="LF")
    lines = saved(on, lame, before=READY, turnout="2026-04-10")
    assert lines[0].startswith("HOLD for a reason: lame LF")
    assert lines[1:] == ["lift LF by 5 Apr", "walk on 10 Apr"]


def test_of_what_is_asked_for_anew_the_first_to_be_done_is_said_first() -> None:
    """A narrow screen cuts off the end: the vet's look in two days was lost behind a look at the
    foot in three weeks."""
    on = "2026-04-03"
    trimmed = lift(on, "LF", findings=ulcer(2, "LF"), work=[{"foot": "LF", "act": "wrap"}])
    wrong = said("body", on, part="sheath", state="wrong")
    lines = saved(on, trimmed, wrong, before=READY)
    assert [line.rsplit(" ", 2)[0] for line in lines[1:4]] == [
        "vet look by", "wrap off LF between 4 Apr and", "look LF outer between 24 Apr and",
    ]  # fmt: skip


def test_what_is_asked_for_today_alone_says_today() -> None:
    on = "2026-04-03"
    lines = meaning(None, assessed(on, *READY, turnout=on), day(on))
    assert lines[1:] == ["walk today"]


def test_what_stays_as_it_was_is_not_said_anew() -> None:
    on = "2026-03-02"
    before = (lift("2026-03-01", findings=ulcer(2)),)
    assert len(saved(on, said("weight", on, kg=900), before=before)) == 1
    first = meaning(None, assessed(on, *before), day(on))
    assert "look LH outer between 22 Mar and 5 Apr" in first


def test_a_check_whose_days_moved_is_said_anew_and_not_called_answered() -> None:
    """Lischer et al. 2001: horn covers a severe ulcer after 42 days, a moderate one after 33."""
    on = "2026-03-08"
    before = (lift("2026-03-01", findings=ulcer(2)),)
    lines = saved(on, lift(on, "LH", findings=ulcer(3)), before=before)
    assert any(line.startswith("healed? LH outer between 19 Apr and") for line in lines)
    assert not any(line.startswith("answered") and "healed?" in line for line in lines)


def test_what_was_answered_is_named_once() -> None:
    on = "2026-04-03"
    before = (
        said("block-on", "2026-03-01", foot="LH", claw="inner"),
        lift("2026-03-01", findings=ulcer(2)),
    )
    off = said("block-off", on, foot="LH", claw="inner")
    healed = [{"foot": "LH", "claw": "outer", "code": "SU"}]
    lines = saved(on, off, lift(on, healed=healed), before=before)
    assert lines[-1].startswith("done with this: ")
    answered = lines[-1].removeprefix("done with this: ").split(", ")
    assert {"block off LH", "healed? LH outer", "look LH"} <= set(answered)
    assert len(answered) == len(set(answered))


def test_an_unsatisfactory_examination_promises_no_day() -> None:
    on = "2026-04-03"
    lines = saved(on, said("vet-exam", on, outcome="unsatisfactory"), before=READY)
    assert lines[0].startswith("HOLD for a reason")
    assert "a person decides, and no day is given" in lines[0]


# ---- wraps, and what is not said of a severity -------------------------------------------------

WRAPPED = lift("2026-04-03", "LF", work=[{"foot": "LF", "act": "wrap"}])
NO_WALK = "not lame, but on a wrap: no walk counts until the wrap is off"


def oddly(
    on: str, line: str, *entries: dict[str, Any], in_hand: tuple[str, str] = ("", "")
) -> list[str]:
    """What is odd about a line said on this day."""
    slip = Slip(TAG, date.fromisoformat(on)).read(line, Scales("gb0-3", "five"))
    return odd(slip, card(on, *entries), in_hand)


def test_a_wrap_put_on_says_by_when_it_is_off() -> None:
    """Five days in a trial (Fiedler 2015): put on 3 April, off by the 8th."""
    lines = saved("2026-04-03", WRAPPED)
    assert lines[0].startswith("HOLD for a reason: wrap on LF")
    assert any(line.startswith("wrap") and line.endswith("4 Apr and 8 Apr") for line in lines)


def test_a_sound_walk_on_a_wrap_is_said_to_count_for_nothing() -> None:
    assert oddly("2026-04-05", "walk 0", WRAPPED) == [NO_WALK]
    assert oddly("2026-04-03", "lf wrap; walk 0") == [NO_WALK]
    assert oddly("2026-04-03", "walk 0; lf wrap") == []
    assert oddly("2026-04-05", "walk 2", WRAPPED) == []


def test_a_wrap_that_counts_as_off_by_a_lift_alone_is_told_before_he_is_saved() -> None:
    """All four sound by habit, then walked: nobody had said that the wrap was off."""
    told = ["wrap on LF counts as off, since LF was lifted"]
    assert oddly("2026-04-05", "all ok; walk 0", WRAPPED) == told
    assert oddly("2026-04-05", "rf ok", WRAPPED) == []
    assert oddly("2026-04-05", "all ok", WRAPPED, in_hand=("LF", "")) == []


def test_a_walk_after_the_wrap_came_off_today_is_not_called_one_on_a_wrap() -> None:
    assert oddly("2026-04-05", "lf unwrap ok; walk 0", WRAPPED) == []
    assert oddly("2026-04-03", "lf unwrap; walk 0", WRAPPED) == []
    assert oddly("2026-04-05", "lf wrap; walk 0", WRAPPED) == [NO_WALK]


def test_a_walk_after_the_block_came_off_today_is_not_called_one_on_a_block() -> None:
    block = said("block-on", "2026-03-01", foot="LH", claw="inner")
    on_block = "not lame, but on a block: no walk counts until the block is off"
    assert oddly("2026-04-05", "walk 0", block) == [on_block]
    assert oddly("2026-04-05", "block lh i off; lh ok; walk 0", block) == []


def test_a_severity_not_said_is_told_once_and_not_while_it_may_yet_be_said() -> None:
    held = "white line fissure, LF outer: severity not said: it holds him"
    assert oddly("2026-04-03", "lf o wlf@2") == [held]
    assert oddly("2026-04-03", "lf o wlf@2", in_hand=("LF", "outer")) == []
    assert oddly("2026-04-03", "lf o su") == [
        "sole ulcer, LF outer: severity not said: it holds him"
    ]
    assert oddly("2026-04-03", "lf o wlf/1; rf o hhe") == []


def test_what_is_odd_leaves_the_card_as_it_was() -> None:
    before = card("2026-04-05", WRAPPED)
    slip = Slip(TAG, date(2026, 4, 5)).read("all ok; walk 0; kg 900", Scales("gb0-3", "five"))
    odd(slip, before)
    assert list(before.state.wraps) == ["LF"]
    assert before.state.walk is None


# ---- a vet's look ------------------------------------------------------------------------------


def test_a_look_to_be_had_again_without_a_day_says_from_when_it_is_asked() -> None:
    """Seven days, a project choice."""
    told = "the vet gave no day: his next look is asked for from 10 Apr"
    assert oddly("2026-04-03", "vetlook body again eyes") == [told]
    assert oddly("2026-04-03", "vetlook body again 2026-04-20 eyes") == []
    assert oddly("2026-04-03", "vetlook body fit eyes") == []


def test_a_part_that_is_wrong_holds_him_and_asks_the_vet_who_answers_it() -> None:
    on = "2026-04-03"
    wrong = said("body", on, part="eyes", state="wrong")
    lines = saved(on, wrong)
    assert lines[0].startswith("HOLD for a reason: eyes wrong")
    assert any(line.startswith("vet look") for line in lines)
    fit = said("vet-look", on, about="body", outcome="fit", part="eyes")
    assert any(line.startswith("done with this: ") for line in saved(on, fit, before=(wrong,)))


def test_a_figure_that_is_too_low_is_told_before_he_is_saved() -> None:
    """60 per cent motile: BCVA, ACV and WCABP, Bovine Reproduction, 2nd ed."""
    told = "motility 45 %, least 60: it holds him until the vet stands by it"
    assert oddly("2026-04-03", "vet ok mot 45") == [told]
    assert oddly("2026-04-03", "vet ok mot 45 stands") == []
    assert oddly("2026-04-03", "vet again mot 45") == []
    assert oddly("2026-04-03", "vet ok mot 60") == []


def test_a_low_figure_of_the_last_examination_is_told_if_not_taken_again() -> None:
    """It stands as it was until it is measured anew or the vet stands by it."""
    low = said("vet-exam", "2026-03-20", outcome="satisfactory", motility_pct=45)
    told = "motility 45 %, least 60: it holds him until the vet stands by it"
    assert oddly("2026-04-03", "vet ok norm 80", low) == [told]
    assert oddly("2026-04-03", "vet ok mot 65", low) == []
