"""The session of the crush, step by step: who comes, what is kept, saved, taken back, asked twice.

The expected is the project's own: what is half said is kept at each key, one bull is never taken
for another, and what decides for good is pressed anew. The estate is that of the screens' tests.
"""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest

from readiness.crush.by_form import answered, in_book
from readiness.crush.effects import (
    AskFarm,
    Back,
    Fetch,
    Go,
    KeepDraft,
    KeepRace,
    OpenForm,
    Save,
    Saved,
    Type,
    Undo,
    Unsaved,
    Write,
)
from readiness.crush.keys import (
    DROP_AGAIN,
    ENTER_AGAIN,
    LEAVE_AGAIN,
    MISSED,
    NOT_SEEN,
    QUIT_AGAIN,
    UNDO_AGAIN,
)
from readiness.crush.race import Race
from readiness.crush.saving import taken_back as after_undo
from readiness.crush.session import HALF, NO_BULL, UNREAD, Session
from readiness.herd.done import Done
from readiness.herd.team import EVERY_FARM, Team
from readiness.trade.words import day_words
from tests.crush.yard import WHO, Yard, board_and_cards
from tests.tui.estate import DAY, ago, bull, done, estate, of

CORRAN, SORREL, BROCK, WREN = "00417", "UK123456700002", "00093", "00777"
DUE = (CORRAN, SORREL, BROCK, WREN)
FAR = [
    {"kind": "bull", "on": ago(200), "bull": "55", "name": "Far", "farm": "Low End"},
    of("55", "mobility", 1, scale="gb0-3", score=2, limb="LF"),
]


# ---- who comes ---------------------------------------------------------------------------------


def test_those_due_come_in_their_order_and_the_first_stands_in_the_crush() -> None:
    yard = Yard()
    assert yard.session.race.keys == DUE
    assert (yard.session.key, yard.session.message) == (CORRAN, "")
    assert yard.asked == [Fetch(CORRAN)]


def test_with_bulls_due_at_several_farms_it_is_asked_first_at_which_one_is() -> None:
    kept = Race(("55", CORRAN), ("00288",))
    yard = Yard(contents=[*estate(), *FAR], kept=kept)
    assert yard.asked == [AskFarm(("Low End", "Sallow Fell"), kept)]
    assert yard.session.key is None
    yard.step(lambda now: now.lined_up(Team("Low End"), kept))
    assert yard.session.race == Race(("55",), ("00288",))
    assert yard.session.key == "55"


@pytest.mark.parametrize(
    "session", [{"first": WREN}, {"team": Team("Sallow Fell", "Hill cows")}], ids=["bull", "group"]
)
def test_with_a_bull_or_a_group_given_no_farm_is_asked_for(session: dict[str, Any]) -> None:
    yard = Yard(contents=[*estate(), *FAR], **session)
    assert not any(isinstance(effect, AskFarm) for effect in yard.asked)
    assert yard.session.key == session.get("first", SORREL)


def test_the_race_goes_on_as_left_without_who_went_through_or_was_dropped() -> None:
    yard = Yard(kept=Race((WREN, SORREL, "gone"), (BROCK,)), handled=(SORREL,))
    assert yard.session.race == Race((WREN, CORRAN), (BROCK,))


def test_a_bull_let_by_comes_last_and_is_brought_back_by_up() -> None:
    yard = Yard("n")
    assert (yard.session.key, yard.session.race.keys[-1]) == (SORREL, CORRAN)
    assert yard.last(KeepRace).race == yard.session.race
    assert yard.press("up").session.key == CORRAN


def test_a_bull_dropped_is_out_for_the_day_and_picked_he_is_back() -> None:
    yard = Yard("s", "x")
    assert (yard.session.key, yard.session.message) == (CORRAN, DROP_AGAIN)
    assert yard.press("x", apart=0.1).session.key == CORRAN
    yard.press("x")
    assert (yard.session.key, yard.session.race.out) == (SORREL, (CORRAN,))
    assert "00417 Corran is out of the race for today" in yard.session.message
    yard.press("/", *"417", "enter")
    assert (yard.session.key, yard.session.race.out) == (CORRAN, ())
    assert yard.session.line == "all ok"


def test_a_group_let_in_comes_behind_the_others_but_for_who_has_been_through() -> None:
    yard = Yard(handled=("00288",))
    yard.step(lambda now: now.let_in(EVERY_FARM))
    assert yard.session.race.keys[: len(DUE)] == DUE
    assert len(yard.session.race.keys) == len(yard.cards) - 1
    assert (
        yard.session.message == "4 bulls new in the race; 1 through today already, Tab lists them."
    )
    assert yard.session.key == CORRAN


def test_a_group_let_in_comes_next_those_first_who_stand_in_the_race() -> None:
    yard = Yard()
    yard.step(lambda now: now.let_in(Team("Sallow Fell", "Hill cows")))
    assert yard.session.race.keys == (CORRAN, SORREL, BROCK, "00501", WREN)
    assert yard.session.message == "3 bulls next, 1 of them new in the race."
    assert yard.session.key == CORRAN
    yard.step(lambda now: now.let_in(Team("Sallow Fell", "")))
    assert yard.session.race.keys == (CORRAN, WREN, SORREL, BROCK, "00501")
    assert yard.session.message == "1 bull next, 0 of them new in the race."


def test_a_bull_that_left_the_book_on_his_way_is_passed_by() -> None:
    yard = Yard()
    del (cards := dict(yard.cards))[SORREL]
    yard.cards = cards
    yard.press("n")
    assert yard.session.key == BROCK
    assert SORREL not in yard.last(KeepRace).race.keys


def test_with_nobody_left_the_crush_is_empty_and_waiting_keys_are_dropped() -> None:
    yard = Yard(*"xxxxxxxx")
    assert yard.session.key is None and yard.session.pad is None
    assert yard.asked[-2:] == [KeepRace(yard.session.race), Fetch(None)]
    for key in ("s", "enter", "l", "v"):
        assert yard.press(key).session.message == NO_BULL


def test_what_others_wrote_changes_race_and_questions_and_nothing_that_is_said() -> None:
    yard = Yard("s")
    found = [{"foot": "LF", "claw": "outer", "code": "SU", "severity": 2}]
    lift = of(CORRAN, "feet", 1, lifted=["LF"], findings=found)
    board, cards = board_and_cards([*estate(), lift, of(WREN, "moved", 0, act="left")])
    yard.step(lambda now: now.reread(board, {}, cards[CORRAN], idle=True))
    assert WREN not in yard.session.race.keys
    assert yard.session.line == "all ok"
    assert yard.session.pad is not None
    assert [found.code for found in yard.session.pad.before.open] == ["SU"]


@pytest.mark.parametrize(("idle", "key"), [(True, CORRAN), (False, None)])
def test_whoever_becomes_due_comes_into_an_empty_crush_unless_one_is_on_his_way(
    idle: bool, key: str | None
) -> None:
    yard = Yard(handled=DUE)
    assert yard.session.key is None
    yard.step(lambda now: now.reread(yard.board, {}, None, idle=idle))
    assert (yard.session.race.keys, yard.session.key) == (DUE, key)


# ---- what is half said -------------------------------------------------------------------------


def test_what_is_said_is_kept_at_each_key_and_taken_back_it_is_kept_no_more() -> None:
    yard = Yard("s", "w", "0")
    kept = [effect.line for effect in yard.asked if isinstance(effect, KeepDraft)]
    assert kept == ["all ok", "all ok; walk 0"]
    yard.press("backspace", "backspace", "backspace")
    assert yard.last(KeepDraft) == KeepDraft(CORRAN, "", DAY)
    assert yard.session.drafts == {}
    older = Unsaved("walk 1", DAY)
    yard.step(lambda now: now.left(CORRAN, older))
    assert yard.session.drafts == {CORRAN: older}


def test_what_is_half_said_of_one_waits_while_another_comes() -> None:
    yard = Yard("s", "n", "n")
    assert (yard.session.line, yard.session.half_entered) == ("", [CORRAN])
    typing = yard.press("/").session.typing
    assert typing is not None and typing.below == "half entered: 00417 Corran"
    assert yard.press(*"417", "enter").session.line == "all ok"
    assert yard.session.half_entered == []


def test_what_an_earlier_window_left_is_named_and_stands_under_its_day() -> None:
    before = DAY - timedelta(days=1)
    yard = Yard(drafts={CORRAN: Unsaved("walk 2 lf", before)})
    assert yard.session.message.startswith("00417 Corran is half entered, not saved:")
    assert yard.session.line == "walk 2 lf"
    assert yard.session.pad is not None
    asked = yard.session.pad.mode.question(yard.session.pad)
    assert asked.endswith(f"Enter saves under {day_words(before, DAY)}.")
    yard.press("enter")
    stood = "00417 Corran stood half entered: walk 2 lf."
    assert yard.session.message == f"{stood} Enter again saves all that is said under 2 Apr."
    assert not any(isinstance(effect, Save) for effect in yard.asked)
    assert yard.press("enter").last(Save).slip.on == before


def test_he_who_comes_half_entered_by_himself_is_not_saved_with_the_next_ones_words() -> None:
    """He came in front after the next saving, and what was typed then was said of him."""
    yard = Yard("w", "0", "n", "n", "w", "1", "enter").saves("a")
    while yard.session.key != CORRAN:
        yard.press("n")
    yard.press("c", "3", "2", "enter")
    assert "00417 Corran stood half entered: walk 0." in yard.session.message
    assert [type(each) for each in yard.asked].count(Save) == 1
    yard.press("backspace", "w", "0", "enter")
    assert [type(each) for each in yard.asked].count(Save) == 2, "asked once"


def test_a_line_that_cannot_be_read_is_kept_said_no_further_and_not_saved() -> None:
    yard = Yard("l", *"all ok; wolk 2")
    assert yard.session.typing is not None
    assert '"wolk" is not known' in yard.session.typing.why
    assert yard.last(KeepDraft).line == yard.session.unread == "all ok; wolk 2"
    yard.press("enter")
    assert yard.session.typing is not None
    for key in ("s", "enter"):
        yard.press("escape", key)
        assert yard.session.pad is not None and "l mends it" in yard.session.pad.said
        yard.press("l")
    assert not any(isinstance(effect, Save) for effect in yard.asked)
    yard.press(*["backspace"] * 8, "enter")
    assert yard.last(Save).line == "all ok"


def test_a_line_that_cannot_be_read_is_mended_by_backspace_and_no_refusal_stays() -> None:
    yard = Yard("l", *"all ok; walk 2x", "escape", "v")
    assert yard.session.message == UNREAD
    yard.press("s", "backspace")
    assert yard.session.typing is not None
    assert (yard.text, yard.session.unread, yard.session.message) == ("all ok; walk 2", "", "")
    yard.press("escape")
    assert (yard.session.line, yard.session.pad and yard.session.pad.said) == ("all ok; walk 2", "")
    yard = Yard("l", *"wolk", "escape", "enter", "l", *["backspace"] * 4, "escape")
    assert (yard.session.line, yard.session.pad and yard.session.pad.said) == ("", "")


def test_one_who_comes_with_a_line_that_cannot_be_read_is_not_said_to_lose_it_by_entries() -> None:
    yard = Yard(drafts={CORRAN: Unsaved("wolk 2", DAY)})
    assert yard.session.message == f"00417 Corran is half entered, not saved. {UNREAD}"


def test_where_several_tags_end_in_what_is_typed_that_is_said_though_a_letter_follows() -> None:
    """/522t said that none has such a tag: two had, and t takes a bull only where one has."""
    twins = [*bull("1522", "Ash", "Hill cows"), *bull("2522", "Elm", "Hill cows")]
    yard = Yard("/", *"522t", contents=[*estate(), *twins])
    assert yard.session.typing is not None and yard.session.typing.found == ("1522", "2522")
    assert (
        yard.session.typing.asks == "2 tags end in 522. Which bull? Enter takes him, arrows choose."
    )
    assert yard.session.typing.below == "1522 Ash  2522 Elm"
    assert yard.press("enter").session.typing is not None
    assert yard.press("down", "enter").session.key == "1522"


def test_a_book_to_read_only_keeps_nothing_and_saves_nothing() -> None:
    yard = Yard("s", "enter", readonly=True)
    assert yard.asked == [Fetch(CORRAN)]
    assert yard.session.pad is not None and "read only" in yard.session.pad.said


PRINTED = "stbwckj1234oihvlfrmdnpuxgeayz0987665.,;@/ +-="
NAMED = (
    "enter",
    "enter",
    "enter",
    "escape",
    "backspace",
    "tab",
    "up",
    "down",
    "left",
    "right",
    "?",
)


@pytest.mark.parametrize("seed", range(12))
def test_whatever_is_pressed_what_is_said_of_each_bull_is_saved_or_kept(seed: int) -> None:
    """What is kept is what a crash leaves: it reads back as what stood there."""
    chance, yard, kept = random.Random(seed), Yard(), 0
    yard.step(lambda now: now.let_in(EVERY_FARM))
    for at in range(300):
        yard.asked.clear()
        yard.press(chance.choice((*PRINTED, *NAMED)))
        if any(isinstance(effect, Save) for effect in yard.asked):
            yard.saves(str(at))
        now = yard.session
        said = now.unread or now.line
        if now.pad is not None and now.key is not None and said and now.typing is None:
            kept += 1
            assert now.drafts[now.key].line.strip() == said.strip()
            assert now.pad.slip.read(now.line, now.pad.before.scales) == now.pad.slip
    assert kept


@pytest.mark.parametrize("key", ["m", "v"])
def test_while_a_line_cannot_be_read_nothing_is_added_in_its_place(key: str) -> None:
    """The line kept is the one that was typed, not what else is said meanwhile."""
    yard = Yard("l", *"all ok; wolk 2", "escape", key)
    assert yard.session.message == UNREAD
    assert yard.session.typing is None and OpenForm not in map(type, yard.asked)
    assert yard.session.drafts[CORRAN].line == "all ok; wolk 2"


# ---- saving ------------------------------------------------------------------------------------


def test_enter_asks_to_save_what_is_said_and_then_the_next_one_comes() -> None:
    yard = Yard("s", "w", "0", "c", "3", "2", "enter")
    save = yard.last(Save)
    assert (save.line, save.following) == ("all ok; walk 0; cond 3.25", SORREL)
    assert [content["kind"] for content in save.slip.contents] == ["feet", "mobility", "condition"]
    assert yard.session.key == CORRAN
    now = yard.saves("a", "b", "c").session
    assert (now.key, sorted(now.handled), now.race.keys) == (SORREL, [CORRAN], DUE[1:])
    assert now.drafts == {} and now.last == Saved(f"saved {CORRAN}")
    assert [(batch.key, batch.ids) for batch in now.saves] == [(CORRAN, frozenset("abc"))]


def test_where_the_race_changed_while_he_was_saved_its_first_one_comes() -> None:
    yard = Yard("s", "enter")
    yard.step(lambda now: replace(now, race=now.race.pick(WREN).pick(CORRAN)))
    yard.saves("a")
    assert yard.session.key == WREN


def test_enter_on_a_bull_of_whom_nothing_is_said_saves_nothing() -> None:
    yard = Yard("enter", "enter")
    assert yard.asked == [Fetch(CORRAN)]
    assert yard.session.pad is not None and "Nothing is said of him yet" in yard.session.pad.said


def test_what_is_forgotten_is_named_before_it_is_saved() -> None:
    yard = Yard("1", "enter", first=WREN)

    def question() -> str:
        assert yard.session.pad is not None
        return yard.session.pad.question

    assert question() == "What else? Not yet: RF, LH and RH lifted, walk, condition. Enter saves."
    yard.press("s", "c", "3", "2")
    assert question() == "What else? Not yet: walk. Enter saves."
    yard = Yard("w", "2", "1")
    assert question() == "What else? Not yet: LF lifted. Enter saves."


# ---- what is pressed anew ----------------------------------------------------------------------


def test_q_ends_the_program_only_pressed_again_and_at_once() -> None:
    yard = Yard("s", "q")
    half = "Half entered and not saved: 00417 Corran."
    assert yard.session.message == f"{QUIT_AGAIN} {half}"
    assert yard.press("w").session.message == ""
    yard.press("0", "q")
    assert Go.QUIT not in yard.asked
    yard.press("q")
    assert yard.asked[-1] is Go.QUIT


def test_a_message_in_between_takes_the_question_away() -> None:
    yard = Yard("q")
    yard.step(lambda now: now.say("The book is busy."))
    assert yard.press("q").session.message == QUIT_AGAIN
    assert Go.QUIT not in yard.asked


def test_enter_held_down_saves_nobody_and_another_key_takes_the_words_away() -> None:
    yard = Yard("1", "o", "s", "u", "4", "enter").press("enter", apart=0.1)
    assert yard.session.message == ENTER_AGAIN
    assert not any(isinstance(effect, Save) for effect in yard.asked)
    assert yard.press("w").session.message == ""
    assert yard.press("0", "enter").last(Save).line == "lf o su@4; walk 0"


@pytest.mark.parametrize("apart", [0.15, 0.2, 0.3, 0.5])
def test_enter_pressed_twice_at_the_pace_of_a_hand_ends_the_foot_and_saves(apart: float) -> None:
    """Else the next bull's keys would be said of this one."""
    yard = Yard("3", "o", "w", "l", "f", "3", "2", "p", "enter").press("enter", apart=apart)
    assert yard.last(Save).line == "lh o wlf@3/2 pare"


def test_enter_held_down_for_long_saves_him_and_nobody_after_him() -> None:
    yard = Yard("k", "7", "8", "0", "enter").press("enter", apart=0.5)
    yard.press(*["enter"] * 40, apart=0.04)
    assert [type(effect) for effect in yard.asked].count(Save) == 1


@pytest.mark.parametrize(
    ("keys", "line"),
    [
        ("1 o s u 4 2+2 p", "lf o su@4/2 pare"),  # else the right fore is pared
        ("1 o s+s u 4 2 p", "lf o su@4/2 pare"),
        ("1 o s u 4 2 p+p", "lf o su@4/2 pare"),  # else it is taken back
        ("w 0 c 3 2+2", "walk 0; cond 3.25"),
        ("2 , d+d 0 2 d", "rf s dd:m2@0 dress"),  # a code's own letters
        ("k 9+9 0 enter", "kg 990"),  # a number's own digits
    ],
)
def test_a_key_that_came_twice_at_once_counts_once(keys: str, line: str) -> None:
    yard = Yard()
    for key in keys.split():
        first, _, again = key.partition("+")
        yard.press(first).press(*again, apart=0.03)
    assert yard.session.line == line


@pytest.mark.parametrize(
    "keys", ["o w 0 Enter", "o w 0 w 1", "o c 3 2", "o c 3 5", "i w 1", "o s w 0 Enter"]
)
def test_a_walk_or_condition_from_habit_with_a_claw_in_the_hand_is_no_finding(keys: str) -> None:
    yard, told = Yard("2"), ""
    for key in keys.lower().split():
        pad = yard.press(key).session.pad
        assert pad is not None and not pad.slip.feet.get("findings")
        told += pad.said
    assert "means nothing here" in told


def test_a_score_put_in_the_place_of_another_is_said() -> None:
    assert said_after("w", "0", "w", "1") == "No longer said: Walk 0 (GB scale 0-3)."
    assert said_after("1", "t", "t") == "No longer said: LF trimmed."
    assert said_after("w", "2", "1") == ""  # a limb is no other score


def said_after(*keys: str) -> str:
    pad = Yard(*keys).session.pad
    assert pad is not None
    return pad.said


def test_a_key_held_down_answers_one_finding_only() -> None:
    yard = Yard("2", "h", first=SORREL).press("h", "h", apart=0.1)
    assert yard.session.line.count("healed") == 1
    assert yard.press("h").session.line.count("healed") == 2


def test_undo_of_what_is_half_said_is_asked_for_twice() -> None:
    """Fingers that say "sole ulcer" at another question press it."""
    yard = Yard("2", "=", "=", "enter", "u", first=SORREL)
    assert yard.session.message == UNDO_AGAIN
    assert not any(isinstance(effect, Undo) for effect in yard.asked)
    yard.press("1", "u")
    assert not any(isinstance(effect, Undo) for effect in yard.asked)
    yard.press("backspace", "s", "u", "u")
    assert yard.last(Undo) == Undo(frozenset())


def test_undo_held_down_is_asked_for_once() -> None:
    yard = Yard("u").press("u", "u", apart=0.1)
    assert [effect for effect in yard.asked if isinstance(effect, Undo)] == [Undo(frozenset())]
    assert "held down, it takes back one bull only" in yard.session.message


@pytest.mark.parametrize("keys", [("1",), ("l",), ("m",), ("/",)], ids=lambda k: k[0])
def test_one_escape_too_many_does_not_leave_the_crush(keys: tuple[str, ...]) -> None:
    """The first closes the foot or the line; the crush's keys would go on to act on the Board."""
    yard = Yard(*keys, "escape").press("escape", "escape", apart=0.2)
    assert Go.LEAVE not in yard.asked and yard.session.message == LEAVE_AGAIN
    assert yard.press("escape", apart=0.3).asked[-1] is Go.LEAVE
    assert Yard(*keys, "escape").press("escape", apart=0.8).asked[-1] is Go.LEAVE


def test_he_who_is_half_entered_is_left_only_by_a_second_escape() -> None:
    """A trimmer who took the first for the end of a foot went on with keys of the crush, on the
    Board."""
    yard = Yard("s", "escape")
    assert Go.LEAVE not in yard.asked
    assert yard.session.message == f"{LEAVE_AGAIN} Half entered and not saved: 00417 Corran."
    yard.press("w", "0")
    assert yard.session.line == "all ok; walk 0" and Go.LEAVE not in yard.press("escape").asked
    assert yard.press("escape").asked[-1] is Go.LEAVE


HALF_ENTERED = {CORRAN: Unsaved("all ok; walk 0", DAY)}


def test_what_is_typed_past_the_question_whose_it_is_is_not_taken_for_him() -> None:
    """The trimmer took him for saved: the next bull's words were said of him, and all after."""
    yard = Yard(drafts=HALF_ENTERED).press("enter")
    assert "00417 Corran stood half entered: all ok; walk 0." in yard.session.message
    yard.press("t", "w", "0", "c", "3", "0", apart=0.6)
    assert yard.session.line == "all ok; walk 0"
    assert yard.session.pad is not None
    assert "00417 Corran is not saved yet: Enter saves him" in yard.session.pad.said
    assert yard.press("enter", "enter").last(Save).line == "all ok; walk 0"


LAME = ["s", "9", "w", "2", "1", "c", "3", "0", "enter"]
"""With a key that means nothing, so that Enter asks whether all is said."""


@pytest.mark.parametrize("apart", [1 / 3, 0.6])
def test_the_next_bulls_words_make_no_lame_bull_sound_whose_enter_was_not_taken(
    apart: float,
) -> None:
    """He was saved with the walk of the one after him, and was GO."""
    yard = Yard().press(*LAME, apart=1).press("s", apart=2)
    assert yard.session.message == "" and yard.session.line == "all ok; walk 2 lf; cond 3"
    assert yard.session.pad is not None
    assert "00417 Corran is not saved yet: Enter saves him" in yard.session.pad.said
    yard.press("w", "0", "c", "3", "0", "enter", apart=apart)
    assert not any(isinstance(effect, Save) for effect in yard.asked)
    assert yard.press("enter", "enter").last(Save).line == "all ok; walk 2 lf; cond 3"


def test_at_a_key_in_nearly_a_second_he_is_not_saved_with_the_next_ones_words_unasked() -> None:
    """The first of them was not taken; the others were, and Enter saved him."""
    yard = Yard().press("s", "9", "enter", apart=1)
    yard.press(*"sw0c32", "enter", apart=0.8)
    assert not any(isinstance(effect, Save) for effect in yard.asked)
    assert yard.session.message == MISSED


def test_a_score_in_place_of_another_is_asked_about_before_he_is_saved() -> None:
    """At one key a second the next bull's walk took the place of his: told for a moment only."""
    yard = Yard("w", "2", "1", "w", "0").press("enter")
    told = "No longer said of 00417 Corran: Walk 2 (GB scale 0-3): LF. Enter again saves him."
    assert yard.session.message == told
    assert not any(isinstance(effect, Save) for effect in yard.asked)
    assert yard.press("enter").last(Save).line == "walk 0"
    assert Yard("w", "2", "1", "backspace", "backspace", "w", "0", "enter").last(Save).line


def test_whoever_reads_the_question_whose_it_is_goes_on_with_him() -> None:
    yard = Yard(drafts=HALF_ENTERED).press("enter", "backspace", "w", "1", "enter")
    assert yard.last(Save).line == "all ok; walk 1"
    assert Yard(drafts=HALF_ENTERED).press("enter", "y").session.typing is not None


def test_what_was_taken_back_of_what_a_crash_left_is_not_asked_about() -> None:
    """Enter named words that stood there no more, and was wanted three times."""
    yard = Yard(drafts=HALF_ENTERED).press("backspace", "enter")
    assert "stood half entered: all ok." in yard.session.message
    yard = Yard(drafts=HALF_ENTERED).press("backspace", "backspace", "s", "w", "2", "1", "enter")
    assert yard.last(Save).line.startswith("all ok; walk 2")


PAUSED = 0.75
"""Seconds: so long after a key that was refused, the next one is heard."""


@pytest.mark.parametrize("apart", [0.05, 0.15, 1 / 3, 0.5])
@pytest.mark.parametrize("keys", ["w 0 enter", "c 3 2 enter", "4 p enter enter"])
def test_enter_typed_without_a_pause_since_before_he_came_saves_nobody(
    keys: str, apart: float
) -> None:
    """Typed on from the bull before him: nobody has seen who stands there."""
    yard = Yard("s").press("enter").saves("a")
    yard.press(*keys.split(), apart=apart)
    assert (yard.session.key, sum(isinstance(each, Save) for each in yard.asked)) == (SORREL, 1)
    assert yard.session.pad is not None and yard.session.pad.said.startswith(NOT_SEEN)
    assert yard.press("enter", apart=PAUSED).last(Save).card.assessment.key == SORREL


def test_he_who_was_named_by_his_tag_is_saved_however_fast_one_types_on() -> None:
    """Who types a tag knows of whom he speaks."""
    yard = Yard("s").press("enter").saves("a")
    yard.press("/", *"777t", *"w0c32", "enter", apart=0.25)
    assert yard.last(Save).card.assessment.key == WREN


@pytest.mark.parametrize("goes_on", ["y", "/", "m"])
def test_a_condition_of_which_half_is_said_is_said_when_one_goes_on(goes_on: str) -> None:
    yard = Yard("w", "1", "c", "3", goes_on)
    assert yard.session.line == "walk 1; cond 3"


@pytest.mark.parametrize("keys", ["w 0 enter", "c 3 2 enter", "4 p enter enter"])
def test_after_a_pause_enter_saves_at_once_as_of_everybody(keys: str) -> None:
    """Whoever rests once, however fast he is, is not asked twice."""
    yard = Yard("s").press("enter").saves("a")
    first, *rest = keys.split()
    yard.press(first, apart=PAUSED).press(*rest, apart=1 / 3)
    assert yard.last(Save).card.assessment.key == SORREL


# ---- undo --------------------------------------------------------------------------------------


def taken_back(yard: Yard, key: str, *, here: bool = True) -> Session:
    """The session once the last saving was taken back: of the bull of this key, or ("") of
    several."""
    save = yard.last(Save)
    back = Back(Saved("taken back"), key, save.slip if key else None)
    card = yard.cards[key or str(yard.session.key)]
    yard.step(lambda now: after_undo(now, back, card, here=here))
    return yard.session


def test_a_bull_taken_back_stands_there_again_with_what_was_said() -> None:
    yard = Yard("s", "enter").saves("a").press("u")
    assert yard.last(Undo) == Undo(frozenset({"a"}))
    now = taken_back(yard, CORRAN)
    assert (now.key, now.line, now.race.keys) == (CORRAN, "all ok", DUE)
    assert (len(now.handled), now.saves, now.last) == (0, (), Saved("taken back"))


def test_a_bull_taken_back_is_half_entered_at_once_whatever_comes_then() -> None:
    """His entries are struck from the book: what was said of him stands nowhere else."""
    yard = Yard("s", "enter").saves("a").press("u")
    taken_back(yard, CORRAN)
    assert yard.last(KeepDraft) == KeepDraft(CORRAN, "all ok", DAY)
    assert yard.press("n").session.half_entered == [CORRAN]


@pytest.mark.parametrize("again", [False, True], ids=["come back to", "taken back"])
def test_once_all_is_taken_away_nothing_says_still_that_he_is_half_entered(again: bool) -> None:
    yard = (
        Yard("s", "enter").saves("a").press("u") if again else Yard("s", "n", "/", *"417", "enter")
    )
    if again:
        taken_back(yard, CORRAN)
    assert HALF in yard.session.message
    yard.press("backspace")
    assert (yard.session.line, yard.session.message) == ("", "")


def test_who_was_done_before_what_is_taken_back_waits_no_more_once_nothing_is_said() -> None:
    """Scored after he had been through, and that taken back: he was lifted today all the same."""
    yard = Yard("s", "enter").saves("a").press("/", *"417", "enter", *"c32", "enter").saves("b")
    lifted = yard.session.saves[0].pad.slip.contents
    back = Back(Saved("taken back"), CORRAN, yard.last(Save).slip, done=Done().and_then(lifted))
    card = yard.cards[CORRAN]
    yard.step(lambda now: after_undo(now, back, card, here=True))
    assert CORRAN in yard.session.race.keys
    yard.press(*["backspace"] * 3)
    assert (yard.session.line, CORRAN in yard.session.race.keys) == ("", False)
    assert yard.session.through == [CORRAN]


def test_what_is_half_said_of_the_bull_taken_back_is_not_lost() -> None:
    yard = Yard("s", "enter").saves("a").press("/", *"417", "enter", "w", "1")
    assert taken_back(yard, CORRAN).line == "walk 1"


def test_what_was_taken_back_of_others_leaves_the_bull_in_the_crush_as_he_is() -> None:
    yard = Yard("s", "enter").saves("a").press("w", "1")
    now = taken_back(yard, "", here=False)
    assert (now.key, now.line, [batch.key for batch in now.saves]) == (SORREL, "walk 1", [CORRAN])


# ---- what is typed -----------------------------------------------------------------------------

ALIKE = [*estate(), *bull("10417", "Other", "Heifers"), *done("10417")]


def test_the_bull_that_stands_there_is_picked_by_the_end_of_his_tag() -> None:
    yard = Yard("/", *"288", "enter")
    assert (yard.session.key, yard.session.race.keys[:2]) == ("00288", ("00288", CORRAN))
    assert yard.session.typing is None


def test_of_two_bulls_that_fit_nobody_is_guessed() -> None:
    yard = Yard("n", "/", *"417", "enter", contents=ALIKE)
    assert yard.session.key == SORREL and yard.session.typing is not None
    assert yard.session.typing.asks.startswith("Which of them?")
    yard.press("down", "down")
    assert yard.session.typing is not None and "→10417 Other" in yard.session.typing.below
    assert yard.press("enter").session.key == "10417"
    assert Yard("/", *"00417", "enter", contents=ALIKE).session.key == CORRAN


def test_of_no_bull_that_fits_enter_takes_none() -> None:
    yard = Yard("/", *"zzz", "enter")
    assert yard.session.typing is not None
    assert yard.session.typing.below == "none has such a tag or name"
    assert yard.press("escape").session.key == CORRAN


def test_tab_completes_the_word_and_the_line_goes_on_by_keys() -> None:
    yard = Yard("l", *"all ok; wa", "tab")
    assert yard.last(Type) == Type("all ok; walk ")
    yard.press(*"2 lf", "escape", "c", "3", "5")
    assert yard.session.line == "all ok; walk 2 lf; cond 3.5"
    assert yard.press("l").last(Type).text == yard.session.line


def test_a_note_goes_with_what_is_said_and_is_typed_anew() -> None:
    yard = Yard("s", "m", *"kicks", "enter")
    assert yard.session.line == 'all ok "kicks"'
    assert yard.press("m").last(Type) == Type("kicks")
    assert yard.press("escape").session.line == 'all ok "kicks"'


# ---- forms and papers --------------------------------------------------------------------------


def test_what_shorthand_can_say_joins_the_slip_and_the_rest_is_written_at_once() -> None:
    yard = Yard("v")
    assert yard.last(OpenForm) == OpenForm("")
    yard.step(lambda now: answered(now, "join", {"group": "Heifers"}))
    assert yard.session.line == "join Heifers"
    on = {"on": "2026-04-03", "by": WHO}
    yard.step(lambda now: answered(now, "bull", {"name": "Corry"}))
    assert yard.last(Write).content == {"kind": "bull", **on, "name": "Corry", "bull": CORRAN}
    yard.step(lambda now: answered(now, "group", {"group": "Late"}))
    assert yard.last(Write).content == {"kind": "group", **on, "group": "Late"}
    yard.step(lambda now: in_book(now, Saved("saved Late")))
    assert (yard.session.last, yard.asked[-1]) == (Saved("saved Late"), Go.READ)


def test_a_question_mark_explains_the_codes_only_where_a_code_is_asked_for() -> None:
    assert Yard("?").meant is False
    yard = Yard("1", "o", "?")
    assert (yard.meant, yard.asked[-1]) == (True, Go.CODES)


def test_each_key_of_its_own_asks_for_what_it_says() -> None:
    for key, effect in (("g", Go.TEAMS), ("e", Go.CODES), ("escape", Go.LEAVE)):
        assert Yard(key).asked[-1] is effect


def test_a_key_that_means_nothing_says_so_and_only_named_ones_are_left_to_others() -> None:
    assert Yard("pageup").meant is False
    for yard in (Yard("!"), Yard("w", "!"), Yard("1", "!")):
        assert yard.meant
        assert yard.session.pad is not None and yard.session.pad.said == "! means nothing here."


def test_a_bull_begun_before_midnight_keeps_his_day_the_next_one_has_the_new() -> None:
    yard = Yard("s")
    yard.session = replace(yard.session, today=date(2026, 4, 4))
    assert yard.press("w", "0", "enter").last(Save).slip.on == DAY
    yard.saves("a").press("w", "1", "enter")
    assert yard.last(Save).slip.on == date(2026, 4, 4)


def test_a_note_left_by_esc_comes_again_and_one_that_was_kept_does_not() -> None:
    yard = Yard("s", "m", *"lame?", "escape")
    assert yard.session.line == "all ok" and "m brings your words back" in yard.session.message
    yard.press("m", "enter")
    assert yard.session.line == 'all ok "lame?"'
    yard.press("m", *["backspace"] * 5, "escape")
    assert yard.session.noted == ("", "")
