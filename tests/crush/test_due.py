"""What there is to do on the bull in the crush today, what waits, and his last visit."""

from __future__ import annotations

from readiness.crush.before import Task, advised, blocks_to_stay, last_visit, tasks, wraps_on
from tests.build import day, lift, said, ulcer
from tests.crush.cards import card

BLOCK = said("block-on", "2026-03-01", foot="LH", claw="inner")
FOUND = lift("2026-03-01", findings=ulcer(2), by="A. Trimmer")
BLOCKED = (FOUND, BLOCK)


def test_a_block_stays_until_its_first_day_and_may_come_off_from_then_on() -> None:
    """AHDB, "How to block a lame cow's foot": 28 days; off by 42 (New Zealand dairy hoof-care
    training, 4 to 6 weeks). Fitted 1 March 2026: from 29 March, by 12 April."""
    early, late = card("2026-03-28", *BLOCKED), card("2026-03-29", *BLOCKED)
    stays = blocks_to_stay(early, day("2026-03-28"))
    assert stays == ["block on LH inner stays until 29 Mar"]
    assert blocks_to_stay(late, day("2026-03-29")) == []
    off = Task("block off LH inner (by 12 Apr)", late=False)
    assert off not in tasks(early.assessment, day("2026-03-28"))
    assert off in tasks(late.assessment, day("2026-03-29"))


def test_what_is_overdue_says_since_when_and_comes_first() -> None:
    """The 42nd day is the last, as above; the look at a sole ulcer is due after 28 days and a
    week (AHDB: 28; the week is a project choice)."""
    on = "2026-04-13"
    found = tasks(card(on, *BLOCKED).assessment, day(on))
    assert found[:2] == [
        Task("look at sole ulcer LH outer (was due 5 Apr)", late=True),
        Task("block off LH inner (was due 12 Apr)", late=True),
    ]
    assert not any(task.late for task in found[2:])


def test_the_vets_own_comes_last_however_late_it_is() -> None:
    on = "2026-04-03"
    walk = said("mobility", "2026-03-01", scale="gb0-3", score=3, limb="LH")
    held = card(on, walk, turnout="2026-04-05")
    kinds = [check.who for check in held.assessment.outstanding if check.not_before <= day(on)]
    vets = kinds.count("vet")
    assert vets
    texts = {c.text for c in held.assessment.outstanding if c.who == "vet"}
    found = tasks(held.assessment, day(on))
    assert all(any(task.words.startswith(text) for text in texts) for task in found[-vets:])
    assert not any(task.words.startswith(text) for text in texts for task in found[:-vets])


def test_what_cannot_be_done_yet_is_no_task_today() -> None:
    on = "2026-03-02"
    held = card(on, *BLOCKED, turnout="2026-06-01")
    assert {check.check for check in held.assessment.outstanding} >= {"look", "clear", "block-off"}
    assert tasks(held.assessment, day(on)) == []


def test_an_advised_look_at_what_holds_nobody_is_said_in_the_crush_too() -> None:
    """The board says when to look at a digital dermatitis that holds him no more; the crush said
    that nothing has to be done."""
    skin = {"foot": "LH", "claw": "skin", "code": "DD"}
    small = lift("2026-03-01", findings=[{**skin, "stage": "M3"}])
    on = card("2026-03-20", small)
    [text] = advised(on)
    assert text.startswith("look at digital dermatitis LH about")
    assert advised(card("2026-03-20", lift("2026-03-01"))) == []


def test_turnout_bounds_what_has_no_clock_of_its_own() -> None:
    on = "2026-03-25"
    held = card(on, lift("2026-03-01"), turnout="2026-04-01")
    [walk] = [task for task in tasks(held.assessment, day(on)) if "walk" in task.words]
    assert walk.words.endswith("(by 1 Apr)")


def test_the_last_visit_is_the_last_lift_by_that_day_with_who_and_what() -> None:
    later = lift("2026-05-01", "RF")
    on = "2026-04-03"
    seen = last_visit(card(on, FOUND, BLOCK, later), day(on))
    assert seen.startswith("Last lifted 1 Mar (A. Trimmer): LH outer: sole ulcer, moderate, zone 4")
    assert last_visit(card("2026-05-02", FOUND, later), day("2026-05-02")).startswith(
        "Last lifted 1 May: RF lifted"
    )


def test_feet_refused_or_never_lifted_are_no_visit() -> None:
    refused = said("feet", "2026-04-02", lifted=[], refused=["LF"])
    assert last_visit(card("2026-04-03", refused), day("2026-04-03")) == ""
    assert last_visit(card("2026-04-03", lift("2026-04-04")), day("2026-04-03")) == ""


def test_a_wrap_is_said_since_when_and_by_when_it_is_off() -> None:
    """Five days in a trial (Fiedler 2015): put on 3 April, off by the 8th. On the day itself it is
    not due to come off, and has to be said all the same."""
    wrapped = lift("2026-04-03", "LF", work=[{"foot": "LF", "act": "wrap"}])
    said_of_it = "wrap on LF since {}, off by 8 Apr: no walk counts on it"
    today, later = card("2026-04-03", wrapped), card("2026-04-05", wrapped)
    assert wraps_on(today, day("2026-04-03")) == [said_of_it.format("today")]
    assert wraps_on(later, day("2026-04-05")) == [said_of_it.format("3 Apr")]
    off = Task("wrap off LF (by 8 Apr)", late=False)
    assert off not in tasks(today.assessment, day("2026-04-03"))
    assert off in tasks(later.assessment, day("2026-04-05"))
    late = card("2026-04-09", wrapped)
    assert Task("wrap off LF (was due 8 Apr)", late=True) in tasks(
        late.assessment, day("2026-04-09")
    )
    lifted = card("2026-04-05", wrapped, lift("2026-04-05", "LF"))
    assert wraps_on(lifted, day("2026-04-05")) == []
