"""Reading the parts that are not about feet: one reader for each first word."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

from readiness.shorthand import lexicon as lex
from readiness.shorthand.cursor import Cursor
from readiness.shorthand.dates import take_day
from readiness.shorthand.feet_parts import as_number
from readiness.shorthand.line import EntrySoFar, LineSoFar
from readiness.trade.body import JOINT
from readiness.trade.feet import FEET
from readiness.trade.words import list_words

_STOPPED = r"(?![^\s,\"])"
_PAIN_STOP = re.compile(rf"(?:not?\s+pain|pain|until|for){_STOPPED}", re.IGNORECASE | re.ASCII)
_ROLE_STOP = re.compile(rf"(?:reserve|worker){_STOPPED}", re.IGNORECASE | re.ASCII)
_BY = re.compile(r"([^:\"]+?)\s*(?=:)")
_COLON = re.compile(r"(:)")

_FEET = tuple(foot.lower() for foot in FEET)
_OR_ABOUT = list_words(lex.ABOUT, "or")

_SPOKEN = {
    "act": "on or off",
    "again_on": "the day",
    "withdrawal_until": "until",
    "pain_relief": "pain",
    "feet_seen": "feet",
    "stands": "stands",
    "outcome": "what the vet said",
    "state": "how it is",
    "reason": "the reason",
    **{key: word for word, key in lex.FIGURES.items()},
}
"""Field → what it is called in a line, where that is another word."""

Words = dict[re.Pattern[str], Callable[[str], dict[str, Any]]]


def read_words(
    cursor: Cursor,
    line: LineSoFar,
    entry: EntrySoFar,
    words: Words,
    known: tuple[str, ...],
    day_key: str | None = None,
) -> None:
    """Words in any order, each saying something of the entry, and its note; nothing else.

    ``known`` are the words that may stand here, for the message. ``day_key``: the key that a day
    is the value of; None where no day may stand.
    """
    while not cursor.done:
        if (note := cursor.take_quoted()) is not None:
            line.take_note(note, entry)
            continue
        if day_key and (day := take_day(cursor, line.on)) is not None:
            _say(cursor, entry, {day_key: day})
            continue
        for pattern, saying in words.items():
            if (word := cursor.take(pattern)) is not None:
                _say(cursor, entry, saying(word.lower()))
                break
        else:
            raise cursor.fail_word(known)


def _say(cursor: Cursor, entry: EntrySoFar, fields: dict[str, Any]) -> None:
    for key, value in fields.items():
        if entry.fields.get(key, value) != value:
            raise cursor.fail(f"says {_SPOKEN.get(key, key)} twice; say it once")
        entry.fields[key] = value


def _named(key: str, *words: str) -> Words:
    """One of some words is the value of a key."""
    return {lex.word_pattern(*words): lambda word: {key: word}}


def _foot(key: str) -> Words:
    return {lex.FOOT: lambda foot: {key: foot.upper()}}


def _flag(key: str, word: str) -> Words:
    """The word says yes, "not" or "no" before it no."""
    negated = re.compile(rf"(not?\s+{word})(?![A-Za-z])", re.IGNORECASE | re.ASCII)
    return {negated: lambda _: {key: False}, lex.word_pattern(word): lambda _: {key: True}}


def _number(cursor: Cursor, after: str) -> int | float:
    text = cursor.take(lex.NUMBER)
    if text is None:
        raise cursor.fail(f"write a number after {after}, with a point where need be, as in 3.25")
    return as_number(text)


def _read_block(cursor: Cursor, line: LineSoFar, _: str) -> None:
    """The foot may be left out where a foot part names one foot before."""
    entry = line.begin("block-on", cursor)
    words: Words = {
        **_foot("foot"),
        lex.CLAW: lambda claw: {"claw": lex.CLAW_LETTERS.get(claw, claw)},
        **_named("act", "on", "off"),
        **_flag("lost", "lost"),
    }
    read_words(cursor, line, entry, words, ("on", "off", "lost", "o", "i", *_FEET))
    act = entry.fields.pop("act", None)
    if act == "on" and "lost" in entry.fields:
        raise cursor.fail("a block is on or lost, not both")
    if act == "off" or "lost" in entry.fields:
        entry.kind = "block-off"
    if "foot" not in entry.fields and len(line.held) == 1:
        entry.fields["foot"] = line.held[0]
    if "foot" not in entry.fields or entry.fields.get("claw") not in ("outer", "inner"):
        raise cursor.fail("write the foot and the claw that carries the block, as in block lh i")


def _read_walk(cursor: Cursor, line: LineSoFar, head: str) -> None:
    entry = line.begin("mobility", cursor, score=_number(cursor, head))
    words = {**_foot("limb"), lex.WALK_SCALE: lambda scale: {"scale": scale}}
    read_words(cursor, line, entry, words, (*_FEET, "gb0-3", "five1-5", "nz0-3"))
    entry.fields.setdefault("scale", line.scales.mobility)


def _read_condition(cursor: Cursor, line: LineSoFar, head: str) -> None:
    entry = line.begin("condition", cursor, score=_number(cursor, head))
    read_words(
        cursor, line, entry, {lex.CONDITION_SCALE: lambda scale: {"scale": scale}}, ("five", "nine")
    )
    entry.fields.setdefault("scale", line.scales.condition)


def _read_weight(cursor: Cursor, line: LineSoFar, head: str) -> None:
    entry = line.begin("weight", cursor, kg=_number(cursor, head))
    read_words(cursor, line, entry, {}, ())


def _read_incident(cursor: Cursor, line: LineSoFar, head: str) -> None:
    entry = line.begin("incident", cursor, cause=lex.INCIDENTS[head])
    words = {
        **_flag("lame", "lame"),
        **_flag("fever", "fever"),
        **_foot("limb"),
        **_named("suspect", *lex.SUSPECTS),
    }
    read_words(cursor, line, entry, words, ("lame", "fever", *_FEET, *lex.SUSPECTS))


def _read_vet(cursor: Cursor, line: LineSoFar, _: str) -> None:
    if cursor.take(lex.word_pattern("look")):
        _read_vet_look(cursor, line, "vetlook")
        return
    outcome = cursor.take(lex.word_pattern(*lex.OUTCOMES, *lex.OUTCOMES.values()))
    if outcome is None:
        raise cursor.fail("what did the vet say? write vet ok, vet again or vet no")
    outcome = lex.OUTCOMES.get(outcome.lower(), outcome.lower())
    entry = line.begin("vet-exam", cursor, outcome=outcome)
    _take_figures(cursor, line, entry)


def _take_figures(cursor: Cursor, line: LineSoFar, entry: EntrySoFar) -> None:
    """The vet's date and figures, in any order."""
    figure = lex.word_pattern(*lex.FIGURES)
    flags = {**_flag("feet_seen", "feet"), **_flag("stands", "stands")}
    while not cursor.done:
        if (day := take_day(cursor, line.on)) is not None:
            _say(cursor, entry, {"again_on": day})
        elif word := cursor.take(figure):
            value = _number(cursor, word)
            _say(cursor, entry, {lex.FIGURES[word.lower()]: value})
        elif (note := cursor.take_quoted()) is not None:
            line.take_note(note, entry)
        else:
            saying = next(
                (saying for pattern, saying in flags.items() if cursor.take(pattern)), None
            )
            if saying is None:
                raise cursor.fail_word((*lex.FIGURES, "feet", "stands", "a day as 3 apr"))
            _say(cursor, entry, saying(""))


def _read_vet_look(cursor: Cursor, line: LineSoFar, _: str) -> None:
    about = cursor.take(lex.word_pattern(*lex.ABOUT))
    if about is None:
        raise cursor.fail(f"what did the vet look at? write vetlook {_OR_ABOUT}")
    about = about.lower()
    entry = line.begin("vet-look", cursor, about=about)
    words = {
        **_named("outcome", *lex.LOOKS),
        **_foot("limb" if about == "body" else "foot"),
        **_named("part", *lex.BODY_PARTS),
    }
    places = lex.BODY_PARTS if about == "body" else _FEET
    read_words(cursor, line, entry, words, (*lex.LOOKS, *places, "a day as 3 apr"), "again_on")
    if "outcome" not in entry.fields:
        raise cursor.fail(
            f"what did the vet say? write fit, unfit or again, as in vetlook {about} fit"
        )


def _read_body(cursor: Cursor, line: LineSoFar, _: str) -> None:
    part = cursor.take(lex.word_pattern(*lex.BODY_PARTS))
    if part is None:
        known = list_words(lex.BODY_PARTS, "or")
        raise cursor.fail(f"which part of the body? write {known}, as in body eyes wrong")
    part = part.lower()
    entry = line.begin("body", cursor, part=part)
    words = {**_foot("limb"), **_named("state", *lex.BODY_STATES)}
    read_words(cursor, line, entry, words, (*lex.BODY_STATES, *(_FEET if part == JOINT else ())))
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
    pain = _flag("pain_relief", "pain")
    while not cursor.done:
        if cursor.take(lex.word_pattern("until")):
            day = take_day(cursor, line.on)
            if day is None:
                raise cursor.fail("write a day after until, as in until 3 apr")
            _say(cursor, entry, {"withdrawal_until": day})
        elif cursor.take(lex.word_pattern("for")):
            _say(cursor, entry, {"reason": cursor.take_value("reason", _PAIN_STOP)})
        elif (note := cursor.take_quoted()) is not None:
            line.take_note(note, entry)
        else:
            saying = next(
                (saying for pattern, saying in pain.items() if cursor.take(pattern)), None
            )
            if saying is None:
                raise cursor.fail_word(("pain", "no pain", "until", "for"))
            _say(cursor, entry, saying(""))


def _read_moved(cursor: Cursor, line: LineSoFar, head: str) -> None:
    entry = line.begin("moved", cursor, act=head)
    read_words(cursor, line, entry, _named("reason", *lex.REASONS), lex.REASONS)


def _read_check(cursor: Cursor, line: LineSoFar, head: str) -> None:
    name = cursor.take(lex.NAME)
    if name is None:
        raise cursor.fail(
            f"write the check's name after {head}, in letters, digits and hyphens, "
            f"as in {head} bvd-test"
        )
    entry = line.begin("check", cursor, check=name, result=lex.RESULTS[head])
    read_words(cursor, line, entry, {}, ())


def _read_join(cursor: Cursor, line: LineSoFar, _: str) -> None:
    """The word none takes him out; a group that is really called none stands in quotes."""
    in_quotes = cursor.text[cursor.at : cursor.at + 1] == '"'
    group = cursor.take_value("group", _ROLE_STOP)
    entry = line.begin("join", cursor)
    out = not in_quotes and group.lower() == lex.NO_GROUP
    entry.fields["group"] = None if out else group
    read_words(cursor, line, entry, _named("role", *lex.ROLES), lex.ROLES)


def _read_new_feet(cursor: Cursor, line: LineSoFar, _: str) -> None:
    """What follows on feet is another entry of the same day."""
    if not cursor.done:
        raise cursor.fail_word((), "known here; then stands alone")
    line.feet, line.held, line.claw = None, (), None


Reader = Callable[[Cursor, LineSoFar, str], None]
READERS: dict[str, Reader] = {
    "block": _read_block,
    "walk": _read_walk,
    "cond": _read_condition,
    "kg": _read_weight,
    **dict.fromkeys(lex.INCIDENTS, _read_incident),
    "vet": _read_vet,
    "vetlook": _read_vet_look,
    "body": _read_body,
    "given": _read_given,
    **dict.fromkeys(lex.MOVES, _read_moved),
    **dict.fromkeys(lex.RESULTS, _read_check),
    "join": _read_join,
    lex.NEW_FEET: _read_new_feet,
}
