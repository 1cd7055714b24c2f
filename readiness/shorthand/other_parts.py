"""Reading the parts that are not about feet: by the grammar, and what it does not say of them."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from typing import Any

from readiness.shorthand import lexicon as lex
from readiness.shorthand.cursor import Cursor, need_day
from readiness.shorthand.grammar import (
    BODY_PART,
    BY,
    FOOT,
    OUTCOME,
    PAIN,
    PARTS,
    ROLE,
    Slot,
    need_number,
)
from readiness.shorthand.line import EntrySoFar, LineSoFar
from readiness.trade.body import JOINT

_STOPPED = r"(?![^\s,\"])"
_PAIN_STOP = re.compile(rf"(?:not?\s+pain|pain|until|for){_STOPPED}", re.IGNORECASE | re.ASCII)
_ROLE_STOP = re.compile(rf"(?:reserve|worker){_STOPPED}", re.IGNORECASE | re.ASCII)
_BY = re.compile(r"([^:\"]+)(?=:)")
_COLON = re.compile(r"(:)")
_A_DAY = "a day as 3 apr"

_SPOKEN = {
    "act": "on or off",
    "again_on": "the day",
    "withdrawal_until": "until",
    "pain_relief": "pain",
    "feet_seen": "feet",
    "outcome": "what the vet said",
    "state": "how it is",
    "collection": "how semen was got",
    "motility_by": "how motility was judged",
    "morphology": "morph",
    "examiner": "who examined him",
    "laboratory": "the laboratory",
    "reading": "what the laboratory wrote",
    "valid_until": "until",
    "reason": "the reason",
    **{key: word for word, key in lex.FIGURES.items()},
}
"""Field → what it is called in a line, where that is another word."""


def _begin(cursor: Cursor, line: LineSoFar, head: str) -> EntrySoFar:
    """The entry that a part begins, with what has to stand first in it."""
    part = PARTS[head]
    entry = line.begin(part.kind, cursor, **part.sets)
    if part.number:
        entry.fields[part.number] = need_number(cursor, head, part.number)
    if part.first:
        value = part.first.take(cursor, line.on)
        if value is None:
            raise cursor.fail(part.missing)
        entry.fields[part.first.key] = value
    return entry


def _read_slots(
    cursor: Cursor,
    line: LineSoFar,
    entry: EntrySoFar,
    slots: Iterable[Slot],
    known: tuple[str, ...] = (),
) -> None:
    """What may follow, in any order, and its note; nothing else. ``known``: the words that may
    stand here, for the message."""
    while not cursor.done:
        if (note := cursor.take_quoted()) is not None:
            line.take_note(note, entry)
        elif not any(_take(cursor, line, entry, slot) for slot in slots):
            words = [word for slot in slots for word in slot.words]
            days = [_A_DAY for slot in slots if slot.day and not slot.words]
            raise cursor.fail_word(known or (*words, *days))


def _take(cursor: Cursor, line: LineSoFar, entry: EntrySoFar, slot: Slot) -> bool:
    value = slot.take(cursor, line.on)
    if value is None:
        return False
    if slot.parts:
        for item in value:
            entry.add(slot.key, item, cursor.number)
        return True
    _say(cursor, entry, slot.key, value)
    return True


def _say(cursor: Cursor, entry: EntrySoFar, key: str, value: Any) -> None:
    if entry.fields.get(key, value) != value:
        raise cursor.fail(f"says {_SPOKEN.get(key, key)} twice; say it once")
    entry.fields[key] = value


def _read_by_grammar(cursor: Cursor, line: LineSoFar, head: str) -> EntrySoFar:
    part = PARTS[head]
    entry = _begin(cursor, line, head)
    _read_slots(cursor, line, entry, part.slots, part.known)
    if part.number == "score":
        entry.fields.setdefault("scale", getattr(line.scales, part.kind))
    return entry


def _read_block(cursor: Cursor, line: LineSoFar, head: str) -> None:
    """The foot may be left out where a foot part names one foot before."""
    entry = _read_by_grammar(cursor, line, head)
    act = entry.fields.pop("act", None)
    if act == "on" and "lost" in entry.fields:
        raise cursor.fail("a block is on or lost, not both")
    if act == "off" or "lost" in entry.fields:
        entry.kind = "block-off"
    if "foot" not in entry.fields and len(line.held) == 1:
        entry.fields["foot"] = line.held[0]
    if "foot" not in entry.fields or entry.fields.get("claw") not in ("outer", "inner"):
        raise cursor.fail("write the foot and the claw that carries the block, as in block lh i")


def _read_vet(cursor: Cursor, line: LineSoFar, head: str) -> None:
    if cursor.take(lex.word_pattern("look")):
        _read_vet_look(cursor, line, "vetlook")
    else:
        _read_by_grammar(cursor, line, head)


def _read_vet_look(cursor: Cursor, line: LineSoFar, head: str) -> None:
    """A foot that is named is that of the joint where the body was looked at."""
    entry = _begin(cursor, line, head)
    about = entry.fields["about"]
    place, other = (BODY_PART, "foot") if about == "body" else (FOOT, "limb")
    slots = [slot for slot in PARTS[head].slots if slot.key != other]
    _read_slots(cursor, line, entry, slots, (*OUTCOME.words, *place.words, _A_DAY, *BY.words))
    if "outcome" not in entry.fields:
        raise cursor.fail(
            f"what did the vet say? write fit, unfit or again, as in vetlook {about} fit"
        )


def _read_body(cursor: Cursor, line: LineSoFar, head: str) -> None:
    entry = _begin(cursor, line, head)
    part = entry.fields["part"]
    known = (*lex.BODY_STATES, *(FOOT.words if part == JOINT else ()))
    _read_slots(cursor, line, entry, PARTS[head].slots, known)
    if "state" not in entry.fields:
        raise cursor.fail(f"how is it? write wrong, watch or right, as in body {part} wrong")


def _read_given(cursor: Cursor, line: LineSoFar, _: str) -> None:
    given_by = cursor.take_quoted()
    if given_by is None:
        given_by = cursor.take(_BY)
    if given_by is None or not cursor.take(_COLON):
        raise cursor.fail("write who gave it, a colon, and the product, as in given vet: product")
    product = cursor.take_value("product", _PAIN_STOP)
    entry = line.begin("treatment", cursor, given_by=given_by, product=product)
    while not cursor.done:
        if cursor.take(lex.word_pattern("until")):
            _say(cursor, entry, "withdrawal_until", need_day(cursor, line.on, "until"))
        elif cursor.take(lex.word_pattern("for")):
            _say(cursor, entry, "reason", cursor.take_value("reason", _PAIN_STOP))
        elif (note := cursor.take_quoted()) is not None:
            line.take_note(note, entry)
        elif not _take(cursor, line, entry, PAIN):
            raise cursor.fail_word(("pain", "no pain", "until", "for"))


def _read_join(cursor: Cursor, line: LineSoFar, _: str) -> None:
    """The word none takes him out; a group that is really called none stands in quotes."""
    in_quotes = cursor.text[cursor.at : cursor.at + 1] == '"'
    group = cursor.take_value("group", _ROLE_STOP)
    entry = line.begin("join", cursor)
    out = not in_quotes and group.lower() == lex.NO_GROUP
    entry.fields["group"] = None if out else group
    _read_slots(cursor, line, entry, (ROLE,))


def _read_new_feet(cursor: Cursor, line: LineSoFar, _: str) -> None:
    """What follows on feet is another entry of the same day."""
    if not cursor.done:
        raise cursor.fail_word((), "known here; then stands alone")
    line.feet, line.held, line.claw = None, (), None


READERS: dict[str, Callable[[Cursor, LineSoFar, str], EntrySoFar | None]] = {
    **dict.fromkeys(PARTS, _read_by_grammar),
    "block": _read_block,
    "vet": _read_vet,
    "vetlook": _read_vet_look,
    "body": _read_body,
    "given": _read_given,
    "join": _read_join,
    lex.NEW_FEET: _read_new_feet,
}
