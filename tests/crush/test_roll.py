"""Who waits, who is left over, who is done: the race is who is expected, and the list says why."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from readiness.crush.effects import Go, Unsaved
from readiness.crush.race import Race
from readiness.crush.roll import NOTHING_DUE, SCORED, roll
from readiness.desk.desk import Desk
from readiness.herd.done import done_on
from readiness.herd.team import EVERY_FARM
from readiness.tui.crush.desk import undo
from tests.build import entries_of
from tests.crush.yard import SOUND, BookYard, Yard, board_and_cards
from tests.tui.estate import DAY, FEET, bull, desk_at, estate, of

CORRAN, SORREL, BROCK, WREN, ROWAN = "00417", "UK123456700002", "00093", "00777", "00288"
WAIT, LEFT, DONE = range(3)


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return desk_at(tmp_path / "bulls.duckdb", estate())


def told(yard: Yard, part: int) -> dict[str, str]:
    """What one part of the list says, by bull."""
    return {line.key: line.words for line in roll(yard.session)[part].lines}


# ---- who is expected ---------------------------------------------------------------------------


def test_a_bull_who_was_only_walked_waits_again_for_the_foot_he_is_asked_for(desk: Desk) -> None:
    yard = BookYard(desk).press("w", "2", "1", "enter")
    now = yard.session
    assert (now.race.keys, list(now.handled)) == ((SORREL, BROCK, WREN, CORRAN), [CORRAN])
    assert now.message == "00417 Corran waits again: lift LF. x when he comes: not today."
    assert told(yard, WAIT)[CORRAN] == "lift LF; walked today"
    yard.press(*"nnn", "1", "enter", "s", "enter")
    assert CORRAN not in yard.session.race.keys
    assert told(yard, DONE)[CORRAN] == "lifted all four, walked"


def test_a_bull_who_was_only_weighed_has_not_been_through(desk: Desk) -> None:
    yard = BookYard(desk).press("k", *"990", "enter", "enter")
    assert (yard.session.handled, yard.session.race.keys[-1]) == ({}, CORRAN)
    yard.step(lambda now: now.let_in(EVERY_FARM))
    assert yard.session.message == "5 bulls new in the race."


def test_whom_the_vet_alone_examined_waits_while_more_is_due_on_him(desk: Desk) -> None:
    """His walk was due, and he was done: neither the race nor a group brought him."""
    desk.log("417", "vet ok cm 37 mot 65 norm 78")
    yard = BookYard(desk)
    assert CORRAN in yard.session.race.keys
    assert "lift LF" in told(yard, WAIT)[CORRAN] and CORRAN not in told(yard, DONE)
    desk.log("288", "vet ok cm 37 mot 65 norm 78")  # nothing else is due on him
    yard = BookYard(desk)
    assert told(yard, DONE)[ROWAN] == "examined by the vet"
    yard.step(lambda now: now.let_in(EVERY_FARM))
    assert ROWAN in yard.session.race.keys, "he was neither lifted, walked nor blocked"


def test_who_was_only_scored_stands_in_the_list_though_nobody_let_him_in(desk: Desk) -> None:
    """Brought by his tag, he was neither done nor waiting, and looked as if nobody had seen him."""
    yard = BookYard(desk).press("/", *"310", "enter", "c", "3", "2", "enter")
    if yard.session.again == "enter":
        yard.press("enter")
    named = [part for part in roll(yard.session) if part.lines and "310" in str(part.lines)]
    assert [part.heading for part in named] == [SCORED]
    assert "condition" in named[0].lines[0].words
    yard.press("/", *"310", "enter", "w", "0", "enter")
    assert "310" in str(next(part for part in roll(yard.session) if part.heading == "done").lines)


def test_a_foot_that_would_not_lift_was_tried_and_is_left_over(desk: Desk) -> None:
    yard = BookYard(desk).press("1", "x", "enter", "enter")
    assert CORRAN not in yard.session.race.keys
    assert told(yard, LEFT) == {CORRAN: "LF would not lift"}
    assert told(yard, DONE) == {}


def herd_of_one(folder: Path, turnout: str) -> BookYard:
    """Ash, never lifted, of the only group."""
    group, *_ = (each for each in estate() if each.get("group") == "Hill cows")
    told = [{**group, "turnout": turnout}, *bull("00601", "Ash", "Hill cows")]
    return BookYard(desk_at(folder / "one.duckdb", told))


def test_a_foot_asked_for_by_a_later_day_and_left_out_is_said_and_comes_again_with_the_group(
    tmp_path: Path,
) -> None:
    yard = herd_of_one(tmp_path, "2026-07-01")  # lifted by 6 May is better
    yard.step(lambda now: now.let_in(EVERY_FARM))
    yard.press("1", "p", "enter", "enter")
    assert not yard.session.race.keys
    assert told(yard, DONE) == {"00601": "lifted LF; still to lift: RF, LH and RH"}
    yard.step(lambda now: now.let_in(EVERY_FARM))
    assert yard.session.race.keys == ("00601",)
    yard.press("s", "enter").step(lambda now: now.let_in(EVERY_FARM))
    assert told(yard, DONE) == {"00601": "lifted all four"}
    assert not yard.session.race.keys


@pytest.mark.parametrize("turnout", ["2026-05-28", "2026-05-29"])
def test_who_was_not_lifted_by_the_advised_day_waits_on_the_day_after_it_too(
    tmp_path: Path, turnout: str
) -> None:
    """56 days before turnout is advised (SRUC): a trimmer who is late is not told that nobody
    waits for him."""
    assert herd_of_one(tmp_path, turnout).session.race.keys == ("00601",)


def test_who_was_put_through_elsewhere_waits_no_more_and_who_was_only_walked_does() -> None:
    yard = Yard()
    lift = [of(key, "feet", 0, lifted=FEET) for key in (SORREL, WREN)]
    walk = of(BROCK, "mobility", 0, scale="gb0-3", score=2, limb="LF")
    board, _ = board_and_cards([*estate(), *lift, walk])
    done = done_on(entries_of([*estate(), *lift, walk]), DAY.toordinal())
    yard.step(lambda now: now.reread(board, done, None, idle=True))
    assert yard.session.race.keys == (CORRAN, BROCK)


def test_who_is_half_entered_or_stands_in_the_crush_stays_though_put_through_elsewhere() -> None:
    yard = Yard("n", "w", "0", "n", "n")
    assert (yard.session.key, yard.session.half_entered) == (BROCK, [SORREL])
    done = dict.fromkeys((SORREL, BROCK), SOUND)
    yard.step(lambda now: now.reread(yard.board, done, None, idle=True))
    assert {SORREL, BROCK} <= set(yard.session.race.keys)


def test_who_is_done_stays_done_though_he_is_brought_in_front_again(desk: Desk) -> None:
    """Picked to look at, or to mend what was saved, he was counted as waiting."""
    yard = BookYard(desk).press("s", "w", "0", "enter", "n")
    waits = yard.session.race.keys
    assert (yard.session.key, yard.session.through) == (BROCK, [CORRAN])
    for more, front in (("n", BROCK), ("up", SORREL), (("x", "x"), SORREL)):
        yard.press("/", *"417", "enter")
        assert (yard.session.key, yard.session.through) == (CORRAN, [CORRAN])
        assert CORRAN not in told(yard, WAIT) and told(yard, LEFT) == {}
        assert told(yard, DONE) == {CORRAN: "in the crush: lifted all four, walked"}
        yard.press(*more) if isinstance(more, tuple) else yard.press(more)
        assert (yard.session.key, yard.session.through) == (front, [CORRAN])
        assert set(yard.session.race.keys) == set(waits) and yard.session.race.out == ()


def test_of_who_is_done_more_is_said_and_he_waits_until_it_is_saved_or_taken_back(
    desk: Desk,
) -> None:
    yard = BookYard(desk).press("s", "w", "0", "enter", "/", *"417", "enter", "c", "3", "2")
    assert yard.session.through == []
    assert told(yard, WAIT)[CORRAN].startswith("in the crush; half entered (cond 3.25): ")
    yard.press("backspace", "backspace", "backspace")
    assert (yard.session.line, yard.session.through) == ("", [CORRAN])
    assert CORRAN not in told(yard, WAIT)
    yard.press("c", "3", "2", "n", "n")
    assert yard.session.race.keys[-1] == CORRAN
    yard.press("/", *"417", "enter", "enter", "enter")
    assert (yard.session.through, CORRAN in yard.session.race.keys) == ([CORRAN], False)
    assert (yard.session.key, told(yard, LEFT)) == (SORREL, {})


def test_the_crush_opened_on_one_who_is_done_leaves_him_done() -> None:
    yard = Yard(handled=(CORRAN,), first=CORRAN)
    assert (yard.session.key, yard.session.through) == (CORRAN, [CORRAN])
    assert yard.press("n").session.key == SORREL


def test_a_bull_let_in_with_his_group_and_only_scored_waits_again_and_it_is_said(
    desk: Desk,
) -> None:
    """He vanished from both lists: nothing is due on him, and he has not been through."""
    yard = BookYard(desk)
    yard.step(lambda now: now.let_in(EVERY_FARM))
    yard.press("/", *"288", "enter", "c", "3", "2", "enter")
    assert yard.session.message == (
        "00288 Rowan waits again: neither lifted nor walked today. x when he comes: not today."
    )
    assert yard.session.race.keys[-1] == ROWAN
    yard.press("/", *"288", "enter", "s", "enter")
    assert (ROWAN in yard.session.race.keys, yard.session.through) == (False, [ROWAN])


def test_one_let_in_waits_though_what_he_was_expected_for_was_done_elsewhere() -> None:
    yard = Yard()
    yard.step(lambda now: now.let_in(EVERY_FARM))
    bulls = (b._replace(outstanding=()) if b.key == WREN else b for b in yard.board.bulls)
    board = replace(yard.board, bulls=tuple(bulls))
    yard.step(lambda now: now.reread(board, {}, None, idle=True))
    assert WREN in yard.session.race.keys
    yard.step(lambda now: now.reread(yard.board, {WREN: SOUND}, None, idle=True))
    assert WREN not in yard.session.race.keys


def test_one_let_in_waits_until_he_was_through_in_a_new_window_too() -> None:
    assert ROWAN in Yard(kept=Race((CORRAN, ROWAN))).session.let
    assert CORRAN not in Yard(kept=Race((CORRAN, ROWAN))).session.let


def test_a_bull_picked_by_hand_and_only_weighed_is_done_with(desk: Desk) -> None:
    yard = BookYard(desk).press("/", *"288", "enter", "k", *"990", "enter", "enter")
    assert ROWAN not in yard.session.race.keys and yard.session.message == ""


# ---- the list ----------------------------------------------------------------------------------


def test_the_list_has_each_bull_once_with_what_is_to_be_known_of_him() -> None:
    drafts = {SORREL: Unsaved("walk 2 lf", DAY), ROWAN: Unsaved("cond 3", DAY)}
    yard = Yard(kept=Race(out=(WREN,)), drafts=drafts, handled=("00291",))
    assert told(yard, WAIT) == {
        CORRAN: "in the crush: lift LF",
        SORREL: "half entered (walk 2 lf): look RF",
        BROCK: "look LH inner",
    }
    assert told(yard, LEFT) == {WREN: "not today", ROWAN: "half entered (cond 3)"}
    assert told(yard, DONE) == {"00291": "lifted all four"}
    heads = ["wait, and are left over if the day ends now", "left over", "done", SCORED]
    assert [part.heading for part in roll(yard.session)] == heads


def test_who_was_let_in_with_nothing_due_is_said_to_be_so() -> None:
    yard = Yard()
    yard.step(lambda now: now.let_in(EVERY_FARM))
    assert told(yard, WAIT)[ROWAN] == NOTHING_DUE


def test_what_could_be_done_is_said_of_one_of_whom_nothing_is_due_yet() -> None:
    """His screen says what he can have done today; the list said that nothing is due."""
    far = [{"kind": "group", "on": "2026-01-05", "group": "Late", "turnout": "2026-06-20",
            "farm": "Sallow Fell"}]  # fmt: skip
    yard = Yard(contents=[*estate(), *far, *bull("555", "Young", "Late")])
    yard.step(lambda now: now.let_in(EVERY_FARM))
    assert told(yard, WAIT)["555"] == "lift and trim all four feet (by 25 Apr)"


def test_who_is_done_by_what_was_mended_is_not_said_to_wait(desk: Desk) -> None:
    """His lift was written under the wrong day, and moved to today's by the keys on the feet."""
    yard = BookYard(desk).press("/", *"288", "enter", "s", "w", "0", "enter")
    if yard.session.again == "enter":
        yard.press("enter")
    yard.press("/", *"288", "enter")
    now = yard.session
    # As after a reading before which the book did not know of it.
    yard.session = replace(now, handled={}, race=now.race.pick(ROWAN))
    yard.step(lambda now: now.do(Go.READ))
    assert ROWAN not in yard.session.race.keys
    assert ROWAN in told(yard, DONE)


def test_tab_shows_the_list_whatever_is_asked() -> None:
    assert Yard("tab").asked[-1] is Go.LIST
    yard = Yard("1", "o", "tab")
    assert yard.asked[-1] is Go.LIST
    assert yard.session.pad is not None and yard.session.pad.said == ""


# ---- what stands half entered is said ----------------------------------------------------------


def test_he_who_leaves_the_crush_half_entered_is_said_to_be_so() -> None:
    assert Yard("s", "n", "n").session.message == "00417 Corran stays half entered, not saved."
    assert Yard("s", "x", "x").session.message.startswith(
        "00417 Corran is out of the race for today, half entered;"
    )
    assert Yard("n").session.message == ""


def test_he_who_comes_half_entered_is_said_to_be_so_with_what_backspace_does() -> None:
    back = Yard("s", "w", "0", "n", "n", "up").session
    words = "00417 Corran is half entered, not saved: Backspace takes back key by key."
    assert back.message == words
    others = Yard(drafts={SORREL: Unsaved("walk 2 lf", DAY)}).session
    assert others.message == (
        "Half entered and not saved: 00002 Sorrel. / and his tag brings each back."
    )
    left = Yard("n", drafts={SORREL: Unsaved("walk 2 lf", DAY)}).session
    assert left.message == (
        "00002 Sorrel is half entered, not saved: Backspace takes back entry by entry."
    )


def test_the_next_bull_who_is_half_entered_is_not_taken_for_a_new_one() -> None:
    yard = Yard("s", "enter", drafts={SORREL: Unsaved("walk 2 lf", DAY)}).saves("a")
    assert yard.session.key == SORREL
    told = "Saved 00417. 00002 Sorrel is half entered, not saved:"
    assert yard.session.message.startswith(told)


# ---- Backspace on what was brought back --------------------------------------------------------


def test_what_a_crash_left_is_taken_back_entry_by_entry_and_that_is_said() -> None:
    yard = Yard(drafts={CORRAN: Unsaved("lf o su@4; walk 2 lf; cond 3", DAY)})
    lines = [yard.press("backspace").session.line for _ in range(3)]
    assert lines == ["lf o su@4; walk 2 lf", "lf o su@4", ""]
    assert yard.session.pad is not None
    assert yard.session.pad.said.startswith("Taken back whole, since its keys are not known")
    assert yard.session.drafts == {}
    assert yard.press("backspace").session.line == ""


def test_keys_pressed_after_a_crash_are_taken_back_before_what_it_left() -> None:
    yard = Yard("w", "0", drafts={CORRAN: Unsaved("all ok; cond 3", DAY)})
    lines = [yard.press("backspace").session.line for _ in range(4)]
    assert lines == ["all ok; cond 3", "all ok; cond 3", "all ok", ""]


def test_what_undo_brought_back_is_taken_back_key_by_key(desk: Desk) -> None:
    yard = BookYard(desk).press("1", "o", "s", "u", "4", "enter", "w", "0", "enter", "u")
    words = "00417 Corran is half entered again, not saved: Backspace takes back key by key."
    assert (yard.session.key, yard.session.message) == (CORRAN, words)
    lines = [yard.press("backspace").session.line for _ in range(4)]
    assert lines == ["lf o su@4", "lf o su@4", "lf o su@4", "lf o su"]


def test_what_an_earlier_window_saved_comes_back_by_undo_entry_by_entry(desk: Desk) -> None:
    earlier = BookYard(desk)
    earlier.press("s", "w", "0", "enter")
    earlier.drafts.close()
    yard = BookYard(desk)
    yard.step(undo(desk, yard.session, here=False))
    assert yard.session.message.endswith("Backspace takes back entry by entry.")
    assert yard.press("backspace").session.line == "all ok"


def test_undo_after_undo_is_not_asked_for_twice(desk: Desk) -> None:
    """What was brought back stays half entered; nobody pressed a key for it."""
    yard = BookYard(desk).press("s", "enter", "s", "escape", "escape", "enter")
    yard.press("u", "u")
    assert yard.session.half_entered == [SORREL]
    assert (yard.session.key, yard.session.line) == (CORRAN, "all ok")
