"""What the parts that are not about feet may say: stated once, and read, written and completed by
that."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from itertools import groupby
from operator import itemgetter
from typing import Any, NamedTuple

from readiness.shorthand import lexicon as lex
from readiness.shorthand.cursor import Cursor, need_day, take_day, value_words
from readiness.trade.body import JOINT
from readiness.trade.feet import FEET
from readiness.trade.numbers import UNIT_OF, as_number
from readiness.trade.scales import CONDITION, MOBILITY
from readiness.trade.words import list_words, number_words


class Slot(NamedTuple):
    """A field of an entry, and how a part says it: by what ``pattern`` takes, one of the ``words``,
    each with its value, or a name.

    ``offered``: the words that are completed; ``after``: one of these has to be said before.
    ``negation``: of a flag, the word before its own that says no. ``number``, ``day``, ``stop``:
    a number, a day, or free text up to this or a quote, follows the word and is the value; a day
    may have no word before it. ``parts``: some of these follow the word, each an item
    of the field, which is a list, with the word as its ``how``.
    """

    key: str
    words: Mapping[str, Any]
    pattern: re.Pattern[str]
    offered: tuple[str, ...]
    after: tuple[str, ...] = ()
    negation: str = ""
    number: bool = False
    day: bool = False
    stop: re.Pattern[str] | None = None
    parts: tuple[str, ...] = ()

    def take(self, cursor: Cursor, on: str) -> Any:
        """The value that stands next, taken; None where nothing is said of this field."""
        if self.day and not self.words:
            return take_day(cursor, on)
        if self.negation and cursor.take(lex.negated_pattern(*self.words)):
            return False
        word = cursor.take(self.pattern)
        if word is None:
            return None
        if self.number:
            return need_number(cursor, word, self.key)
        if self.day:
            return need_day(cursor, on, word)
        if self.stop:
            return cursor.take_value(f"text after {word}", self.stop)
        if self.parts:
            return self._items(cursor, word.lower())
        return self.words.get(word.lower(), word)

    def _items(self, cursor: Cursor, how: str) -> list[dict[str, str]]:
        part = lex.word_pattern(*self.parts)
        found = []
        while word := cursor.take(part):
            found.append({"part": word.lower(), "how": how})
        if not found:
            raise cursor.fail(
                f"{how}: which parts? write {list_words(self.parts, 'or')}, as in {how} eyes "
                "mouth; of feet the word feet alone"
            )
        return found

    def say(self, value: Any) -> str:
        """The value as it is written."""
        if self.day:
            return " ".join((*self.offered, str(value)))
        if self.stop:
            return f"{self.offered[0]} {value_words(value, self.stop)}"
        if self.parts:
            ways = groupby(value, key=itemgetter("how"))
            return " ".join(" ".join((how, *(one["part"] for one in same))) for how, same in ways)
        if self.number:
            return f"{self.offered[0]} {number_words(value)}"
        if value is False:
            return f"{self.negation} {self.offered[0]}"
        return next((word for word, means in self.words.items() if means == value), str(value))


def take_number(cursor: Cursor, key: str) -> int | float | None:
    """The number that stands next and its field's unit, taken; None where none does."""
    text = cursor.take(lex.NUMBER)
    if text is not None and key in UNIT_OF:
        cursor.take(lex.UNIT[UNIT_OF[key]])
    return None if text is None else as_number(text)


def need_number(cursor: Cursor, after: str, key: str) -> int | float:
    """As ``take_number``; where no number stands next, after this word, the part is refused."""
    number = take_number(cursor, key)
    if number is None:
        raise cursor.fail(f"write a number after {after}, as in {after} {_EXAMPLES.get(key, 3.25)}")
    return number


_EXAMPLES = {"kg": 980, "score": 1, "scrotum_cm": 36.5, "motility_pct": 65, "normal_pct": 78}


def _named(key: str, words: Iterable[str], *usual: str) -> Slot:
    """One of these words is the value; the usual ones are offered first."""
    known = {word: word for word in words}
    return Slot(key, known, lex.word_pattern(*known), tuple(dict.fromkeys((*usual, *known))))


def _flag(key: str, word: str, negation: str = "not") -> Slot:
    return Slot(key, {word: True}, lex.word_pattern(word), (word,), negation=negation)


def _meaning(key: str, words: Mapping[str, str]) -> Slot:
    """One of these words stands for its value; the value itself will do."""
    known = {**words, **{value: value for value in words.values()}}
    return Slot(key, known, lex.word_pattern(*known), tuple(words))


def _after(key: str, word: str, **how: Any) -> Slot:
    """The value follows this word: a number, a day or free text."""
    return Slot(key, {word: None}, lex.word_pattern(word), (word,), **how)


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
EXAMINED = Slot(
    "examined", {way: None for way in lex.WAYS}, lex.word_pattern(*lex.WAYS), lex.WAYS,
    parts=lex.EXAMINED,
)  # fmt: skip


def examined_of(text: str) -> list[dict[str, str]]:
    """The parts examined, and how, where a text says nothing else: "seen eyes legs, felt testes";
    other marks between are as free as commas. Raises ``ShorthandError``."""
    cursor, found = Cursor(re.sub(r"[;:+&]", " ", text), 0), []
    while not cursor.done:
        items = EXAMINED.take(cursor, "")
        if items is None:
            raise cursor.fail_word(EXAMINED.offered)
        found += items
    return found


_FIGURES = {key: _after(key, word, number=True) for word, key in lex.FIGURES.items()}
_SEMEN = _meaning("collection", lex.COLLECTED)
_JUDGED = _named("motility_by", lex.JUDGED)
_LIBIDO = _meaning("libido", lex.LIBIDO)
_FEET_SEEN, _MORPHOLOGY = _flag("feet_seen", "feet"), _flag("morphology", "morph")
_PASSED = tuple(word for word, means in lex.OUTCOME_WORDS.items() if means == lex.OUTCOMES["ok"])
_STANDS = _flag("stands", "stands")._replace(after=_PASSED)
_BEFORE_BY = (
    *_FIGURES.values(), _SEMEN, _JUDGED, _LIBIDO, EXAMINED, _FEET_SEEN, _MORPHOLOGY, _STANDS,
    OUTCOME, FOOT, BODY_PART,
)  # fmt: skip
BY = _after(
    "examiner", "by", stop=lex.stop("no", "not", *(w for slot in _BEFORE_BY for w in slot.words))
)
"""Who examined him."""
_VET_OFFERED = (
    *_FIGURES, "feet_seen", "stands", "examiner", "examined", "libido", "morphology", "collection",
    "motility_by", "again_on",
)  # fmt: skip
_TESTED = lex.stop("lab", "says", "until", number=False)
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
            _FIGURES["scrotum_cm"],
            _SEMEN,
            _FIGURES["motility_pct"],
            _JUDGED,
            _MORPHOLOGY,
            _FIGURES["normal_pct"],
            _LIBIDO,
            EXAMINED,
            _FEET_SEEN,
            _STANDS,
            BY,
        ),
        offered=_VET_OFFERED,
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
            BY,
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
            (
                _after("laboratory", "lab", stop=_TESTED),
                _after("reading", "says", stop=_TESTED),
                _after("valid_until", "until", day=True),
            ),
            {"result": result},
            first=Slot("check", {}, lex.NAME, ()),
            missing=f"write the check's name after {head}, in letters, digits and hyphens, "
            f"as in {head} bvd-test",
        )
        for head, result in lex.RESULTS.items()
    },
}
"""The word that begins a part → the part."""
