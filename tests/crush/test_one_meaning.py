"""A key means one thing, whatever is asked; one that means nothing is refused aloud, with what was
typed in the same breath. What a trimmer tried it with: a walk typed with a foot in the hand, and a
note typed where none was open.

The expected is the project's own: what follows a refused key within 0.7 s was typed on unseen,
and a letter has one meaning.
"""

from __future__ import annotations

import pytest

from readiness.crush.effects import Go, OpenForm, Save, Undo
from readiness.crush.keys import NEXT_AGAIN
from readiness.crush.modes_foot import OnClaw
from readiness.crush.typed import NOTED
from readiness.system.breath import UNHEARD
from tests.crush.test_session import BROCK, CORRAN, SORREL
from tests.crush.yard import Yard

QUICK, SLOW = 0.15, 0.75
WHERE = ["1", "1 o s u 4", "1 o s u 4 2", "w", "c 3", "b", "a", "a 4", "k"]
"""Questions: a foot, a claw, how bad, scores, a block, a part of him, a number."""


def said(yard: Yard) -> str:
    assert yard.session.pad is not None
    return yard.session.pad.said or yard.session.message


# ---- the same breath ---------------------------------------------------------------------------


@pytest.mark.parametrize("refused", ["y", "f", "=", "7", "p"])
def test_what_follows_a_refused_key_in_one_breath_is_not_taken_and_that_is_said(
    refused: str,
) -> None:
    yard = Yard("s", "enter").saves("a").press("w", "1")
    yard.press(refused)
    before, todo = yard.session, len(yard.asked)
    yard.press(*"u sun 1 osu", "enter", "q", "q", "x", "x", "backspace", "escape", apart=QUICK)
    after = yard.session
    assert (after.line, after.key, after.race) == (before.line, SORREL, before.race)
    assert after.pad is not None and before.pad is not None and after.pad.mode == before.pad.mode
    assert yard.asked[todo:] == []
    assert said(yard).endswith(UNHEARD)


def test_after_a_breath_keys_mean_what_they_mean_again() -> None:
    yard = Yard("y").press("w", "0", apart=SLOW)
    assert yard.session.line == "walk 0"
    assert yard.session.pad is not None and yard.session.pad.said == ""


def test_a_breath_is_as_long_as_its_keys_follow_each_other() -> None:
    yard = Yard("y").press(*"kicks at the gate", apart=0.69).press("s", apart=0.71)
    assert yard.session.line == "all ok"


def test_a_refused_key_held_down_says_it_once_and_does_nothing() -> None:
    yard = Yard("1").press(*["u"] * 20, apart=0.03)
    assert said(yard) == f"u means nothing here. {UNHEARD}"
    assert not any(isinstance(effect, Undo) for effect in yard.asked)


def test_a_number_refused_takes_what_follows_with_it() -> None:
    """The nought of the walk would have made 190 kg of 19."""
    yard = Yard("k", "1", "9").press("w", "0", apart=QUICK)
    assert "20 to 2500 kg" in said(yard)
    assert yard.session.pad is not None and yard.session.pad.question == "Weight: 19 kg"


# ---- a note ------------------------------------------------------------------------------------


@pytest.mark.parametrize("where", WHERE)
def test_a_note_can_be_typed_whatever_is_asked_which_is_asked_still(where: str) -> None:
    """Typed as commands it took back the bull saved before."""
    yard = Yard("s", "enter").saves("a").press("s", *where.split())
    assert yard.session.pad is not None
    asked = yard.session.pad.mode
    yard.press("m", *"un u sound", "enter", apart=SLOW)
    assert (
        yard.session.line.startswith('all ok "un u sound"') or '"un u sound"' in yard.session.line
    )
    if where != "k":
        assert yard.session.pad.mode == asked
    assert not any(isinstance(effect, Undo) for effect in yard.asked)


def test_a_note_typed_before_anything_is_said_waits_for_that() -> None:
    yard = Yard("m", *"kicks", "enter")
    assert (yard.session.message, yard.session.line) == (NOTED, "")
    assert yard.press("s", "m").text == "kicks"
    assert yard.press("enter").session.line == 'all ok "kicks"'
    other = Yard("m", *"kicks", "enter", "n", "s", "m")
    assert (other.session.key, other.text) == (SORREL, "")


# ---- a key of its own, whatever is asked -------------------------------------------------------


@pytest.mark.parametrize("where", WHERE)
def test_another_bull_is_another_bull_whatever_is_asked(where: str) -> None:
    """Refused, the digits of his tag would be feet of the one who stands there."""
    yard = Yard(*where.split())
    line = "cond 3" if where == "c 3" else yard.session.line
    yard.press("/", *"93", "enter")
    assert yard.session.key == BROCK and yard.session.line == ""
    assert yard.press("/", *"417", "enter").session.line == line


@pytest.mark.parametrize("where", WHERE)
def test_the_next_one_is_the_next_one_whatever_is_asked(where: str) -> None:
    yard = Yard(*where.split(), "n")
    if yard.session.line:
        assert yard.session.message == NEXT_AGAIN
        yard.press("n")
    yard.press("s")
    assert (yard.session.key, yard.session.line.split(";")[0]) != (CORRAN, "all ok")
    assert yard.session.key == SORREL


@pytest.mark.parametrize("where", WHERE)
def test_forms_groups_and_codes_are_a_key_away_whatever_is_asked(where: str) -> None:
    for key, effect in (("v", OpenForm("")), ("g", Go.TEAMS), ("e", Go.CODES)):
        assert Yard(*where.split(), key).asked[-1] == effect


def test_a_number_typed_is_said_before_one_goes_on() -> None:
    yard = Yard("k", *"980", "n")
    assert yard.session.key == SORREL
    assert yard.press("up").session.line == "kg 980"
    refused = Yard("k", "9", "n")
    assert refused.session.key == CORRAN and "20 to 2500 kg" in said(refused)


def test_with_a_foot_in_the_hand_nothing_ends_undoes_or_drops_him() -> None:
    yard = Yard("s", "enter").saves("a").press("4", *"quq", "x")
    assert not any(isinstance(effect, Undo) or effect is Go.QUIT for effect in yard.asked)
    assert yard.session.key == SORREL
    assert yard.session.line == "rh refused"


# ---- a tag, and what is said of him at once ----------------------------------------------------


@pytest.mark.parametrize(
    ("key", "says"), [("s", "all ok"), ("t", "lf trim; rf trim; lh trim; rh trim")]
)
def test_after_the_digits_of_his_tag_sound_and_trimmed_take_him(key: str, says: str) -> None:
    yard = Yard("n", "/", *"288", key, "w", "0")
    assert (yard.session.key, yard.session.typing) == ("00288", None)
    assert yard.session.line == f"{says}; walk 0"


def test_where_several_bulls_fit_or_a_name_is_typed_the_key_is_a_letter() -> None:
    for typed in ("7", "", "cor", "999"):
        yard = Yard("n", "/", *typed, "s")
        assert (yard.session.key, yard.text) == (SORREL, f"{typed}s")
        assert yard.session.typing is not None


def test_keys_of_a_bull_already_picked_are_for_him() -> None:
    yard = Yard("n", "/", *"417", "t").press("enter")
    assert yard.last(Save).card.assessment.key == CORRAN


def test_worse_typed_with_a_claw_in_the_hand_is_of_that_claw() -> None:
    yard = Yard("1", "o", "s", "u", "4", "2", "+")
    assert yard.session.pad is not None and isinstance(yard.session.pad.mode, OnClaw)
    assert yard.session.line == "lf o su@4/3"
