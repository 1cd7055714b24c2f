"""What may stand next in a part that is not about feet: words, each said once, in any order."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from readiness.shorthand import lexicon as lex
from readiness.shorthand.cursor import Cursor
from readiness.shorthand.dates import take_day
from readiness.trade.body import JOINT
from readiness.trade.feet import FEET
from readiness.trade.scales import CONDITION, MOBILITY, Scale

_NOT = lex.word_pattern("not", "no")
_ANY_DAY = "2000-01-01"
"""Days are read over, not read: which year is meant does not matter here."""


class Slot(NamedTuple):
    """Words of which one may be said. ``number``: a number follows it; ``flag``: "not" may stand
    before it; ``foot``: it names the foot; ``then``: what may follow one of them."""

    words: tuple[str, ...]
    number: bool = False
    flag: bool = False
    foot: bool = False
    then: Mapping[str, Slot] = {}


class Part(NamedTuple):
    """``number``: a number stands first, ``scales``: on one of these; ``first``: one of these has
    to, or of ``also``, which say the same at length; ``then``: what may follow one of those;
    ``day``: a day may stand among the words."""

    slots: tuple[Slot, ...] = ()
    first: tuple[str, ...] = ()
    also: tuple[str, ...] = ()
    then: Mapping[str, Slot] = {}
    number: bool = False
    scales: Mapping[str, Scale] = {}
    day: bool = False


_FEET = Slot(tuple(foot.lower() for foot in FEET), foot=True)
_CARRIES = Slot(("o", "i"))
_LOST = Slot(("lost",), flag=True)
_INCIDENT = (
    Slot(("lame",), flag=True),
    _FEET,
    Slot(lex.SUSPECTS),
    Slot(("fever",), flag=True),
)
_ILL = (_INCIDENT[3], _INCIDENT[0], _FEET, _INCIDENT[2])
_STANDS = Slot(("stands",), flag=True)
_PARTS = Slot(lex.BODY_PARTS, then={JOINT: _FEET})


def _why(*usual: str) -> Slot:
    """The reasons of a move, the usual ones first."""
    return Slot((*usual, *(word for word in lex.REASONS if word not in usual)))


WORDS_OF: dict[str, Part] = {
    "block": Part((_FEET, _CARRIES, Slot(("off", "lost", "on"), then={"off": _LOST}))),
    "walk": Part((_FEET,), number=True, scales=MOBILITY),
    "cond": Part(number=True, scales=CONDITION),
    "kg": Part(number=True),
    **dict.fromkeys(lex.INCIDENTS, Part(_INCIDENT)),
    "ill": Part(_ILL),
    "vet": Part(
        (*(Slot((word,), number=True) for word in lex.FIGURES), Slot(("feet",), flag=True)),
        first=tuple(lex.OUTCOMES),
        also=tuple(lex.OUTCOMES.values()),
        then=dict.fromkeys(("ok", lex.OUTCOMES["ok"]), _STANDS),
        day=True,
    ),
    "vetlook": Part(
        (Slot(lex.LOOKS),),
        first=lex.ABOUT,
        then={"lame": _FEET, "foot": _FEET, "body": _PARTS},
        day=True,
    ),
    "body": Part((Slot(lex.BODY_STATES),), first=lex.BODY_PARTS, then={JOINT: _FEET}),
    "out": Part((_why("hired"),)),
    "in": Part((_why("lame", "rested"),)),
    "left": Part((_why(),)),
}
"""Head → what may follow it, the most usual first."""


def said_next(cursor: Cursor, part: Part, *, foot_known: bool = False) -> list[str]:
    """The words that may stand where the part ends; none where a number must, or where something
    stands that cannot. ``foot_known``: a foot named before may be meant, so the claw comes first.
    """
    left = list(part.slots)
    if part.number:
        number = cursor.take(lex.NUMBER)
        if number is None:
            return []
        fitting = [name for name, scale in part.scales.items() if scale.has(float(number))]
        left.append(Slot(tuple(fitting)))
    if part.first:
        if cursor.done:
            return list(part.first)
        first = cursor.take(lex.word_pattern(*part.first, *part.also))
        if first is None:
            return []
        left += _then(part.then, first)
    while not cursor.done:
        if cursor.take_quoted() is not None:
            continue
        if part.day and take_day(cursor, _ANY_DAY) is not None:
            continue
        negated = cursor.take(_NOT) is not None
        if negated and cursor.done:
            return [word for slot in left if slot.flag for word in slot.words]
        slot, word = next(_said(cursor, left), (None, ""))
        if slot is None or (slot.number and cursor.take(lex.NUMBER) is None):
            return []
        at = left.index(slot)
        left[at : at + 1] = _then(slot.then, word)
    return _words(left, foot_known=foot_known)


def _said(cursor: Cursor, left: Sequence[Slot]) -> Iterator[tuple[Slot, str]]:
    """The slot one of whose words stands next, and that word; over it."""
    for slot in left:
        if slot.words and (word := cursor.take(lex.word_pattern(*slot.words))):
            yield slot, word


def _then(following: Mapping[str, Slot], word: str) -> list[Slot]:
    """What may be said because this word was."""
    slot = following.get(word.lower())
    return [slot] if slot else []


def _words(left: list[Slot], *, foot_known: bool) -> list[str]:
    if foot_known and _CARRIES in left:
        left = sorted(left, key=lambda slot: slot.foot)
    found = [word for slot in left for word in slot.words]
    return [*found, "not"] if any(slot.flag for slot in left) else found
