"""The wrong bull: what was said of one, half entered or saved, is said of another by one key."""

from __future__ import annotations

import random
from pathlib import Path
from typing import Any

import pytest

from readiness.crush.effects import Fetch, Give, Go, KeepDraft, Undo, Unsaved
from readiness.crush.giving import EARLIER, LAST, given_words, may_be_given
from readiness.crush.keys import UNDO_AGAIN
from readiness.crush.meaning import odd
from readiness.crush.session import UNREAD, Session
from readiness.crush.typed import NOTHING_TO_GIVE, give_words
from readiness.desk.desk import Desk
from readiness.system.errors import DataError
from readiness.tui.crush.desk import undo
from tests.build import standing
from tests.crush.yard import BookYard, Yard
from tests.tui.estate import DAY, FEET, desk_at, estate, of
from tests.volume import sampled

CORRAN, SORREL, BROCK, WREN = "00417", "UK123456700002", "00093", "00777"
TO_WREN = ("y", *"777", "enter")
TO_BROCK = ("y", *"093", "enter")
LIFT = {"kind": "feet", "lifted": FEET}
WALK = {"kind": "mobility", "scale": "gb0-3", "score": 0}


def give_last(session: Session) -> Session:
    """As by y, and s where it is asked which."""
    return give_words(session, session.saves[-1])


# ---- half entered ------------------------------------------------------------------------------


def test_what_is_half_said_of_one_is_half_said_of_the_other_and_of_him_no_more() -> None:
    yard = Yard("s", "w", "0", *TO_WREN)
    now = yard.session
    assert (now.key, now.line, now.race.keys[:2]) == (WREN, "all ok; walk 0", (WREN, CORRAN))
    assert now.drafts == {WREN: Unsaved("all ok; walk 0", DAY)}
    assert {content["bull"] for content in now.pad.slip.contents} == {WREN} if now.pad else False
    told = "What was half entered of 00417 Corran is said of 00777 Wren, not saved."
    assert now.message == f"{told} 00417 Corran comes next."
    assert yard.press("n", "n").session.key == CORRAN
    assert yard.session.line == ""


def test_a_crash_between_keeps_what_is_given_with_one_of_the_two() -> None:
    yard = Yard("s", *TO_WREN)
    kept = [effect for effect in yard.asked if isinstance(effect, KeepDraft)][-2:]
    assert kept == [KeepDraft(WREN, "all ok", DAY), KeepDraft(CORRAN, "", DAY)]


def test_what_holds_the_other_is_asked_of_what_was_given() -> None:
    yard = Yard("s", *TO_BROCK)
    assert yard.session.pad is not None
    asked = "Sole ulcer, moderate, LH inner, open since 4 Mar: and now?"
    assert yard.session.pad.question == asked
    assert yard.press("h").session.line == "lf rf ok; lh i su healed; rh ok"


def test_what_cannot_be_of_the_other_is_said() -> None:
    yard = Yard("2", "h", first=SORREL).press(*TO_WREN)
    assert (yard.session.key, yard.session.line) == (WREN, "rf s dd healed")
    assert yard.session.pad is not None and yard.session.card is not None
    said = odd(yard.session.pad.slip, yard.session.card)
    assert "healed: digital dermatitis, RF: no such finding was open there" in said


def test_it_is_given_from_any_question_for_by_what_is_asked_one_sees_that_it_is_not_he() -> None:
    yard = Yard("s", *TO_WREN, first=BROCK)
    assert (yard.session.key, yard.session.line) == (WREN, "all ok")


def test_among_the_letters_of_a_code_it_is_one_of_them() -> None:
    yard = Yard("s", "1", "o", "y")
    assert (yard.session.line, yard.session.typing) == ("all ok", None)


def test_what_was_given_is_taken_back_answer_by_answer() -> None:
    yard = Yard("1", "o", "s", "u", "4", "enter", "w", "0", *TO_WREN)
    lines = [yard.press("backspace").session.line for _ in range(4)]
    assert lines == ["lf o su@4", "lf o su", "", ""]
    assert yard.session.drafts == {}


def test_undo_beside_what_was_given_is_asked_for_twice() -> None:
    """It was said a moment ago: it is not an older thing that was brought back."""
    assert Yard("s", *TO_WREN, "u").session.message == UNDO_AGAIN


def test_to_one_who_is_half_entered_himself_nothing_is_given() -> None:
    yard = Yard("w", "2", "1", "n", "n", "s", "y", *"417", "enter")
    assert (yard.session.key, yard.session.line) == (SORREL, "all ok")
    assert "00417 Corran is half entered himself" in yard.session.message
    assert yard.session.drafts[CORRAN].line == "walk 2 lf"


def test_to_himself_nothing_is_given() -> None:
    yard = Yard("s", "y", *"417", "enter")
    assert yard.session.message == "It is said of 00417 Corran already."
    assert yard.session.line == "all ok"


def test_letters_far_apart_in_a_name_give_nobody_what_is_another_s() -> None:
    """A bull to look at they find; typed in a hurry for something else, they would give away."""
    yard = Yard("s", "y", *"fnw", "enter")
    assert yard.session.typing is not None
    assert yard.session.typing.asks.startswith("Which of them?")
    assert yard.press("down", "enter").session.key == "00310"
    assert Yard("s", "y", *"fenw", "enter").session.key == "00310"
    assert Yard("/", *"fnw", "enter").session.key == "00310"


def test_one_letter_gives_nobody_what_is_another_s() -> None:
    """ "y s", for "saved last" where nothing is asked, found a name with an s in it."""
    yard = Yard("1", "enter", "y", "b", "enter")
    assert yard.session.typing is not None and yard.session.key == CORRAN
    assert yard.press("r", "o", "enter").session.key == BROCK


def test_one_who_left_the_book_is_given_nothing() -> None:
    yard = Yard("s")
    yard.cards = {key: card for key, card in yard.cards.items() if key != WREN}
    yard.press(*TO_WREN)
    assert (yard.session.key, yard.session.line) == (CORRAN, "all ok")
    assert "00777 Wren is not on the book any more" in yard.session.message


@pytest.mark.parametrize(
    ("keys", "more", "words"),
    [
        ("y", {}, NOTHING_TO_GIVE),
        ("sy", {"readonly": True}, "Nothing is given: the book was opened to be read only."),
    ],
    ids=["nothing said", "readonly"],
)
def test_where_nothing_can_be_given_that_is_said(
    keys: str, more: dict[str, Any], words: str
) -> None:
    yard = Yard(*keys, **more)
    assert (yard.session.message, yard.session.typing) == (words, None)


def test_a_line_that_cannot_be_read_is_mended_before_it_is_given() -> None:
    yard = Yard("l", *"all ok; wolk 2", "escape", "y")
    assert (yard.session.message, yard.session.typing) == (UNREAD, None)


def test_what_is_given_and_whose_it_was_stands_under_the_question() -> None:
    typing = Yard("s", "w", "0", "y").session.typing
    assert typing is not None
    assert (typing.asks, typing.below) == (
        "Half entered of 00417 Corran: to which bull?",
        "half entered of 00417 Corran: all ok; walk 0",
    )


# ---- saved -------------------------------------------------------------------------------------


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return desk_at(tmp_path / "bulls.duckdb", estate())


def today(desk: Desk) -> list[tuple[str, dict[str, Any]]]:
    """Whose is what stands in the book of today, and what it says."""
    entries = [e for e in standing(desk.book) if e.day == DAY.toordinal()]
    own = ("bull", "on", "by")
    return [(e.bull, {k: v for k, v in e.body.items() if k not in own}) for e in entries]


def test_what_was_saved_stands_of_the_other_in_one_go_and_he_waits_again(desk: Desk) -> None:
    yard = BookYard(desk).press("s", "w", "0", "enter", *TO_WREN)
    assert today(desk) == [(WREN, LIFT), (WREN, WALK)]
    now = yard.session
    assert (now.key, now.race.keys, list(now.handled)) == (SORREL, (SORREL, BROCK, CORRAN), [WREN])
    assert now.message == "Said of 00777 Wren now; 00417 Corran waits again. u takes it back."
    assert now.last is not None and now.last.title == "saved 00777 Wren, not 00417 Corran"
    strikes = [e for e in desk.book.snapshot().entries if e.kind == "strike"]
    assert [e.body["why"] for e in strikes] == ["wrong bull", "wrong bull"]


def test_one_undo_takes_the_giving_back_and_the_next_one_what_was_saved(desk: Desk) -> None:
    yard = BookYard(desk).press("s", "w", "0", "enter", *TO_WREN, "u")
    assert today(desk) == [(CORRAN, LIFT), (CORRAN, WALK)]
    now = yard.session
    assert now.message == "What was said of 00777 Wren is said of 00417 Corran again."
    assert (list(now.handled), CORRAN in now.race.keys) == ([CORRAN], False)
    assert WREN in now.race.keys
    yard.press("u")
    assert today(desk) == []
    assert (yard.session.key, yard.session.line) == (CORRAN, "all ok; walk 0")


def test_given_to_a_wrong_one_again_it_is_given_on(desk: Desk) -> None:
    BookYard(desk).press("s", "enter", *TO_WREN, "y", *"501", "enter")
    assert today(desk) == [("00501", LIFT)]


def test_what_stays_open_on_the_other_is_said_with_what_was_given(desk: Desk) -> None:
    yard = BookYard(desk).press("s", "enter", *TO_BROCK)
    assert yard.session.last is not None
    left = [words for words in yard.session.last.odd if words.startswith("not spoken of")]
    assert any("sole ulcer, moderate, LH inner" in words for words in left)


def test_where_he_stood_in_the_crush_already_the_next_one_comes(desk: Desk) -> None:
    """Corran was saved, and it was Sorrel who stood there: Sorrel is done now."""
    yard = BookYard(desk).press("s", "enter")
    assert yard.session.key == SORREL
    yard.press("y", *"00002", "enter")
    assert (yard.session.key, yard.session.race.keys) == (BROCK, (BROCK, WREN, CORRAN))


def test_with_something_half_said_it_is_asked_which_of_the_two_was_the_wrong_bull(
    desk: Desk,
) -> None:
    yard = BookYard(desk).press("s", "enter", "w", "0", "y")
    assert (yard.asked[-1], yard.session.typing) == (Go.GIVE, None)
    assert given_words(yard.session, None) == "half entered of 00002 Sorrel: walk 0"
    saved = yard.session.saves[-1]
    assert given_words(yard.session, saved) == "saved of 00417 Corran: all ok"
    yard.step(give_last)
    yard.press(*"777", "enter")
    assert (today(desk), yard.session.key, yard.session.line) == (
        [(WREN, LIFT)], SORREL, "walk 0",
    )  # fmt: skip


def test_with_one_saved_earlier_in_front_it_is_asked_which_words_were_wrong(desk: Desk) -> None:
    """Corran stood there large, and Sorrel's record went."""
    yard = BookYard(desk).press("s", "enter", "2", "=", "=", "enter", "enter")
    yard.press("/", *"417", "enter", "y")
    assert (yard.asked[-1], yard.session.typing) == (Go.GIVE, None)
    which = may_be_given(yard.session)
    assert [key for key in which] == [EARLIER, LAST]
    words = [given_words(yard.session, batch) for batch in which.values()]
    assert words[0] == "saved earlier of 00417 Corran: all ok"
    assert words[1].startswith("saved of 00002 Sorrel: rf")
    before = [said for said in today(desk) if said[0] == SORREL]
    yard.step(lambda now: give_words(now, which[EARLIER]))
    yard.press(*"777")
    assert yard.session.typing is not None
    asks = "Saved earlier of 00417 Corran: to 00777 Wren? Enter gives it to him."
    assert yard.session.typing.asks == asks
    yard.press("enter")
    assert [(WREN, LIFT), *before] == today(desk)  # said of him when it was said of Corran
    assert yard.session.message.startswith("Said of 00777 Wren now; 00417 Corran waits again.")
    assert list(may_be_given(yard.session)) == [LAST]  # of Corran nothing stands any more
    yard.press("u")
    assert sorted(today(desk)) == sorted([*before, (CORRAN, LIFT)])
    assert list(may_be_given(yard.session)) == [EARLIER, LAST]
    yard.press("u")
    assert (today(desk), yard.session.saves[-1].key) == ([(CORRAN, LIFT)], CORRAN)


def test_with_one_in_front_of_whom_nothing_was_said_a_tag_gives_no_other_s_words(
    desk: Desk,
) -> None:
    yard = BookYard(desk).press("s", "enter", "/", *"093", "enter", "y", *"777", "enter")
    assert (today(desk), Go.GIVE in yard.asked) == ([(CORRAN, LIFT)], True)


def test_what_was_taken_back_meanwhile_is_not_given(desk: Desk) -> None:
    yard = BookYard(desk).press("s", "enter")
    desk.undo()
    before = desk.book.snapshot()
    with pytest.raises(DataError, match="taken back or corrected meanwhile"):
        yard.press(*TO_WREN)
    assert desk.book.snapshot() == before


def test_the_asked_are_the_right_ones() -> None:
    """What the screen is asked to do: of a half-said slip to read the other's card, of a saved
    batch to write it."""
    assert Yard("s", *TO_WREN).last(Fetch).key == WREN
    yard = Yard("s", "enter").saves("a").press(*TO_WREN)
    assert (yard.last(Give).key, yard.last(Give).batch.said) == (WREN, frozenset("a"))
    assert not any(isinstance(effect, Undo) for effect in yard.asked)


def test_a_correction_taken_back_of_another_bull_changes_nothing_of_what_was_saved(
    desk: Desk,
) -> None:
    yard = BookYard(desk).press("s", "enter")
    before = yard.session.saves
    old = next(e.id for e in standing(desk.book) if e.bull == BROCK and e.kind == "condition")
    desk.correct(old, [of(BROCK, "condition", 20, scale="five", score=3)])
    yard.step(undo(desk, yard.session, here=False))
    assert yard.session.saves == before


@sampled("seed", range(6))
def test_whatever_is_saved_given_and_taken_back_the_book_holds_what_is_left(
    desk: Desk, seed: int
) -> None:
    """The last step not taken back says whose each batch is; each undo takes back one step."""
    chance, yard = random.Random(seed), BookYard(desk)
    steps: list[list[str]] = [[]]
    for _ in range(24):
        now = yard.session
        what = chance.choice(("save", "save", "give", "undo"))
        if what == "undo" and len(steps) > 1:
            yard.press("u")
            if yard.session.again == "u":
                yard.press("u")
            steps.pop()
        elif what == "give" and now.saves:
            of = now.saves[-1].key
            key = chance.choice([key for key in now.bulls if key != of])
            yard.step(give_last)
            yard.press(*key, "enter")
            steps.append([*steps[-1][:-1], key])
        elif what == "save" and now.key is not None:
            yard.press(*(() if now.line else ("w", "0")), "enter")
            if yard.session.again == "enter":  # he came half entered
                yard.press("enter")
            steps.append([*steps[-1], now.key])
        assert sorted(bull for bull, _ in today(desk)) == sorted(steps[-1])
        assert [batch.key for batch in yard.session.saves[-1:]] == steps[-1][-1:]
