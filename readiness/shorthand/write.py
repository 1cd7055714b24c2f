"""Entries to a line of shorthand that reads back to the same entries."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from typing import Any

from readiness.shorthand import lexicon as lex
from readiness.shorthand.cursor import ShorthandError, quote
from readiness.shorthand.line import Scales
from readiness.shorthand.write_feet import feet_parts
from readiness.trade.words import number_words

Content = Mapping[str, Any]

_PLAIN_VALUE = re.compile(r"[A-Za-z0-9][\w.%'/+-]*(?: [\w.%'/+-]+)*")
_VALUE_WORDS = frozenset(("pain", "until", "for", "no", "not", lex.NO_GROUP, *lex.ROLES))
_WORD_OF_OUTCOME = {outcome: word for word, outcome in lex.OUTCOMES.items()}
_WORD_OF_RESULT = {result: word for word, result in lex.RESULTS.items()}


def write(contents: Iterable[Content], scales: Scales | None = None) -> str:
    """One line that reads back to these contents of one bull, day and person.

    A score's scale is written out, unless it is the one in ``scales``, which then has to be the
    reader's too. Raises ``ShorthandError`` for a kind that shorthand cannot say (``WRITABLE``).
    """
    parts: list[str] = []
    feet_before = False
    for content in contents:
        kind = content["kind"]
        if kind not in WRITABLE:
            raise ShorthandError(0, kind, f"shorthand has no words for an entry of kind {kind}")
        if kind == "feet" and feet_before:
            parts.append(lex.NEW_FEET)
        feet_before = feet_before or kind == "feet"
        text = feet_parts(content) if kind == "feet" else _WRITERS[kind](content, scales)
        note = content.get("note")
        parts.append(f"{text} {quote(note)}" if note else text)
    return "; ".join(parts)


def _joined(*words: str | None) -> str:
    return " ".join(word for word in words if word)


def _value(text: str) -> str:
    """Free text as it is where it cannot be misread, else in quotes."""
    safe = _PLAIN_VALUE.fullmatch(text) and not _VALUE_WORDS & set(text.lower().split())
    return text if safe else quote(text)


def _flag(content: Content, key: str, word: str, negation: str = "not") -> str | None:
    value = content.get(key)
    return None if value is None else word if value else f"{negation} {word}"


def _lower(content: Content, key: str) -> str | None:
    value = content.get(key)
    return value.lower() if value else None


def _block(content: Content, _: Scales | None) -> str:
    lost = content.get("lost")
    how = None
    if content["kind"] == "block-off":
        how = {None: "off", True: "lost", False: "off not lost"}[lost]
    return _joined("block", content["foot"].lower(), lex.CLAW_TO_LETTER[content["claw"]], how)


def _walk(content: Content, scales: Scales | None) -> str:
    scale = None if scales and scales.mobility == content["scale"] else content["scale"]
    return _joined("walk", number_words(content["score"]), scale, _lower(content, "limb"))


def _condition(content: Content, scales: Scales | None) -> str:
    scale = None if scales and scales.condition == content["scale"] else content["scale"]
    return _joined("cond", number_words(content["score"]), scale)


def _weight(content: Content, _: Scales | None) -> str:
    return f"kg {number_words(content['kg'])}"


def _incident(content: Content, _: Scales | None) -> str:
    return _joined(
        lex.CAUSE_TO_WORD[content["cause"]],
        _flag(content, "lame", "lame"),
        _flag(content, "fever", "fever"),
        _lower(content, "limb"),
        content.get("suspect"),
    )


def _vet_exam(content: Content, _: Scales | None) -> str:
    figures = [
        f"{word} {number_words(content[key])}"
        for word, key in lex.FIGURES.items()
        if key in content
    ]
    outcome = _WORD_OF_OUTCOME[content["outcome"]]
    feet, stands = _flag(content, "feet_seen", "feet"), _flag(content, "stands", "stands")
    return _joined("vet", outcome, content.get("again_on"), *figures, feet, stands)


def _vet_look(content: Content, _: Scales | None) -> str:
    """A look of an old book may say no outcome; the reader asks for one then."""
    return _joined(
        "vetlook",
        content["about"],
        content.get("outcome"),
        content.get("again_on"),
        _lower(content, "foot"),
        content.get("part"),
        _lower(content, "limb"),
    )


def _body(content: Content, _: Scales | None) -> str:
    return _joined("body", content["part"], _lower(content, "limb"), content["state"])


def _treatment(content: Content, _: Scales | None) -> str:
    until, reason = content.get("withdrawal_until"), content.get("reason")
    return _joined(
        f"given {_value(content['given_by'])}: {_value(content['product'])}",
        _flag(content, "pain_relief", "pain", "no"),
        f"until {until}" if until else None,
        f"for {_value(reason)}" if reason else None,
    )


def _check(content: Content, _: Scales | None) -> str:
    return f"{_WORD_OF_RESULT[content['result']]} {content['check']}"


def _moved(content: Content, _: Scales | None) -> str:
    return _joined(content["act"], content.get("reason"))


def _join(content: Content, _: Scales | None) -> str:
    group = content["group"]
    return _joined("join", lex.NO_GROUP if group is None else _value(group), content.get("role"))


_WRITERS: dict[str, Callable[[Content, Scales | None], str]] = {
    "block-on": _block,
    "block-off": _block,
    "mobility": _walk,
    "condition": _condition,
    "weight": _weight,
    "incident": _incident,
    "vet-exam": _vet_exam,
    "vet-look": _vet_look,
    "body": _body,
    "treatment": _treatment,
    "check": _check,
    "moved": _moved,
    "join": _join,
}

# The kinds that shorthand can say.
WRITABLE = frozenset((*_WRITERS, "feet"))
