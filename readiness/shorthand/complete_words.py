"""What may stand next in a part that is not about feet: words, each said once, in any order."""

from __future__ import annotations

from collections.abc import Iterator

from readiness.shorthand import lexicon as lex
from readiness.shorthand.cursor import Cursor
from readiness.shorthand.dates import take_day
from readiness.shorthand.grammar import Part, Slot
from readiness.trade.scales import SCALES

_NOT = lex.word_pattern("not", "no")
_ANY_DAY = "2000-01-01"
"""Days are read over, not read: which year is meant does not matter here."""


def said_next(cursor: Cursor, part: Part, *, foot_known: bool = False) -> list[str]:
    """The words that may stand where the part ends; none where a number must, or where something
    stands that cannot. ``foot_known``: a foot named before may be meant, so the claw comes first.
    """
    left = sorted(part.slots, key=lambda slot: part.offered.index(slot.key) if part.offered else 0)
    said: set[str] = set()
    if part.number:
        number = cursor.take(lex.NUMBER)
        if number is None:
            return []
        left = [_fitting(slot, float(number)) for slot in left]
    if part.first:
        if cursor.done:
            return list(part.first.offered)
        first = cursor.take(part.first.pattern)
        if first is None:
            return []
        said.add(first.lower())
    while not cursor.done:
        if cursor.take_quoted() is not None:
            continue
        if any(slot.day for slot in left) and take_day(cursor, _ANY_DAY) is not None:
            continue
        now = _open(left, said)
        if cursor.take(_NOT) is not None and cursor.done:
            return [word for slot in now if slot.negation for word in slot.offered]
        slot, word = next(_taken(cursor, now), (None, ""))
        if slot is None or (slot.number and cursor.take(lex.NUMBER) is None):
            return []
        left.remove(slot)
        said.add(word.lower())
    now = _open(left, said)
    if foot_known and any(slot.key == "claw" for slot in now):
        now.sort(key=lambda slot: slot.key == "foot")
    found = [word for slot in now for word in slot.offered]
    return [*found, "not"] if any(slot.negation for slot in now) else found


def _fitting(slot: Slot, score: float) -> Slot:
    """Of scales only those that have the score."""
    if slot.key != "scale":
        return slot
    return slot._replace(offered=tuple(name for name in slot.words if SCALES[name].has(score)))


def _open(left: list[Slot], said: set[str]) -> list[Slot]:
    """Those of which a word may be said now."""
    return [slot for slot in left if slot.offered and (not slot.after or said & {*slot.after})]


def _taken(cursor: Cursor, slots: list[Slot]) -> Iterator[tuple[Slot, str]]:
    """The slot one of whose words stands next, and that word, taken."""
    for slot in slots:
        if word := cursor.take(lex.word_pattern(*slot.offered)):
            yield slot, word
