"""What the parts that are not about feet may say: stated once, and read, written and completed by
that."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any, NamedTuple

from readiness.shorthand import lexicon as lex
from readiness.shorthand.cursor import Cursor, as_number, take_day
from readiness.trade.body import JOINT
from readiness.trade.feet import FEET
from readiness.trade.scales import CONDITION, MOBILITY
from readiness.trade.words import list_words, number_words


class Slot(NamedTuple):
    """A field of an entry, and how a part says it: by what ``pattern`` takes, one of the ``words``,
    each with its value, or a name.

    ``offered``: the words that are completed; ``after``: one of these has to be said before.
    ``negation``: of a flag, the word before its own that says no. ``number``: one follows the word
    and is the value. ``day``: a day is the value, and there are no words.
    """

    key: str
    words: Mapping[str, Any]
    pattern: re.Pattern[str]
    offered: tuple[str, ...]
    after: tuple[str, ...] = ()
    negation: str = ""
    number: bool = False
    day: bool = False

    def take(self, cursor: Cursor, on: str) -> Any:
        """The value that stands next, taken; None where nothing is said of this field."""
        if self.day:
            return take_day(cursor, on)
        if self.negation and cursor.take(lex.negated_pattern(*self.words)):
            return False
        word = cursor.take(self.pattern)
        if word is None:
            return None
        return take_number(cursor, word) if self.number else self.words.get(word.lower(), word)

    def say(self, value: Any) -> str:
        """The value as it is written."""
        if self.day:
            return str(value)
        if self.number:
            return f"{self.offered[0]} {number_words(value)}"
        if value is False:
            return f"{self.negation} {self.offered[0]}"
        return next((word for word, means in self.words.items() if means == value), str(value))


def take_number(cursor: Cursor, after: str) -> int | float:
    """The number that has to stand next."""
    why = f"write a number after {after}, with a point where need be, as in 3.25"
    return as_number(cursor.need(lex.NUMBER, why))


def _named(key: str, words: Iterable[str], *usual: str) -> Slot:
    """One of these words is the value; the usual ones are offered first."""
    known = {word: word for word in words}
    return Slot(key, known, lex.word_pattern(*known), tuple(dict.fromkeys((*usual, *known))))


def _flag(key: str, word: str, negation: str = "not") -> Slot:
    return Slot(key, {word: True}, lex.word_pattern(word), (word,), negation=negation)


def _foot(key: str) -> Slot:
    words = {foot.lower(): foot for foot in FEET}
    return Slot(key, words, lex.FOOT, tuple(words))


class Part(NamedTuple):
    """An entry of this ``kind``, begun by a word that says what it ``sets``.

    ``number``: the field whose number stands first; ``first``: the field of which a word has to,
    and ``missing`` what is said where it does not. ``slots``: what may follow in any order, as it
    is written; ``offered``: their fields in the order of completing, where that is another one;
    ``known``: all that may follow, for people, where it is not just their words.
    """

    kind: str
    slots: tuple[Slot, ...] = ()
    sets: Mapping[str, str] = {}
    number: str = ""
    first: Slot | None = None
    missing: str = ""
    offered: tuple[str, ...] = ()
    known: tuple[str, ...] = ()


FOOT, LIMB = _foot("foot"), _foot("limb")
BODY_PART = _named("part", lex.BODY_PARTS)
OUTCOME = _named("outcome", lex.LOOKS)
PAIN = _flag("pain_relief", "pain", "no")
ROLE = _named("role", lex.ROLES)
_AGAIN_ON = Slot("again_on", {}, lex.NUMBER, (), day=True)
_HURT = (_flag("lame", "lame"), _flag("fever", "fever"), LIMB, _named("suspect", lex.SUSPECTS))
_USUAL_WHY = {"out": ("hired",), "in": ("lame", "rested"), "left": ()}

PARTS: dict[str, Part] = {
    "block": Part(
        "block-on",
        (
            FOOT,
            Slot("claw", lex.CLAW_WORDS, lex.CLAW, ("o", "i")),
            # Read as the flag; completed as an act, and after off as what can be added to it.
            _flag("lost", "lost")._replace(after=("off",)),
            _named("act", ("off", "lost", "on")),
        ),
        offered=("foot", "claw", "act", "lost"),
        known=("on", "off", "lost", "o", "i", *FOOT.words),
    ),
    "walk": Part(
        "mobility",
        (_named("scale", MOBILITY)._replace(pattern=lex.WALK_SCALE), LIMB),
        number="score",
        offered=("limb", "scale"),
        known=(*FOOT.words, *MOBILITY),
    ),
    "cond": Part("condition", (_named("scale", CONDITION),), number="score"),
    "kg": Part("weight", number="kg"),
    **{
        head: Part(
            "incident", _HURT, {"cause": cause}, offered=("lame", "limb", "suspect", "fever")
        )
        for head, cause in lex.INCIDENTS.items()
    },
    "ill": Part(
        "incident", _HURT, {"cause": "illness"}, offered=("fever", "lame", "limb", "suspect")
    ),
    "vet": Part(
        "vet-exam",
        (
            _AGAIN_ON,
            *(
                Slot(key, {word: None}, lex.word_pattern(word), (word,), number=True)
                for word, key in lex.FIGURES.items()
            ),
            _flag("feet_seen", "feet"),
            _flag("stands", "stands")._replace(after=("ok", lex.OUTCOMES["ok"])),
        ),
        first=Slot(
            "outcome", lex.OUTCOME_WORDS, lex.word_pattern(*lex.OUTCOME_WORDS), tuple(lex.OUTCOMES)
        ),
        missing="what did the vet say? write vet ok, vet again or vet no",
    ),
    "vetlook": Part(
        "vet-look",
        (
            OUTCOME,
            _AGAIN_ON,
            FOOT._replace(after=("lame", "foot")),
            BODY_PART._replace(after=("body",)),
            LIMB._replace(after=(JOINT,)),
        ),
        first=_named("about", lex.ABOUT),
        missing=f"what did the vet look at? write vetlook {list_words(lex.ABOUT, 'or')}",
    ),
    "body": Part(
        "body",
        (LIMB._replace(after=(JOINT,)), _named("state", lex.BODY_STATES)),
        first=BODY_PART,
        missing=f"which part of the body? write {list_words(lex.BODY_PARTS, 'or')}, "
        "as in body eyes wrong",
        offered=("state", "limb"),
    ),
    **{
        act: Part("moved", (_named("reason", lex.REASONS, *_USUAL_WHY[act]),), {"act": act})
        for act in lex.MOVES
    },
    **{
        head: Part(
            "check",
            sets={"result": result},
            first=Slot("check", {}, lex.NAME, ()),
            missing=f"write the check's name after {head}, in letters, digits and hyphens, "
            f"as in {head} bvd-test",
        )
        for head, result in lex.RESULTS.items()
    },
}
"""The word that begins a part → the part."""
