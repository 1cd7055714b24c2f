"""Entries to a line of shorthand that reads back to the same entries."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from typing import Any

from readiness.shorthand import lexicon as lex
from readiness.shorthand.cursor import ShorthandError, quote
from readiness.shorthand.grammar import PAIN, PARTS
from readiness.shorthand.line import Scales
from readiness.shorthand.write_feet import feet_parts
from readiness.trade.words import number_words

Content = Mapping[str, Any]

_PLAIN_VALUE = re.compile(r"[A-Za-z0-9][\w.%'/+-]*(?: [\w.%'/+-]+)*")
_VALUE_WORDS = frozenset(("pain", "until", "for", "no", "not", lex.NO_GROUP, *lex.ROLES))


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


def _by_grammar(content: Content, scales: Scales | None) -> str:
    head, part = next(
        (head, part)
        for head, part in PARTS.items()
        if part.kind == content["kind"] and part.sets.items() <= content.items()
    )
    words = [head]
    if part.number:
        words.append(number_words(content[part.number]))
    slots = [part.first, *part.slots] if part.first else part.slots
    usual = getattr(scales, part.kind) if scales and part.number == "score" else None
    words += [
        slot.say(content[slot.key])
        for slot in slots
        if slot.key in content and content[slot.key] != usual
    ]
    return " ".join(words)


def _block(content: Content, _: Scales | None) -> str:
    lost = content.get("lost")
    how = None
    if content["kind"] == "block-off":
        how = {None: "off", True: "lost", False: "off not lost"}[lost]
    return _joined("block", content["foot"].lower(), lex.CLAW_TO_LETTER[content["claw"]], how)


def _treatment(content: Content, _: Scales | None) -> str:
    until, reason = content.get("withdrawal_until"), content.get("reason")
    return _joined(
        f"given {_value(content['given_by'])}: {_value(content['product'])}",
        PAIN.say(content["pain_relief"]) if "pain_relief" in content else None,
        f"until {until}" if until else None,
        f"for {_value(reason)}" if reason else None,
    )


def _join(content: Content, _: Scales | None) -> str:
    group = content["group"]
    return _joined("join", lex.NO_GROUP if group is None else _value(group), content.get("role"))


_WRITERS: dict[str, Callable[[Content, Scales | None], str]] = {
    **dict.fromkeys((part.kind for part in PARTS.values()), _by_grammar),
    "block-on": _block,
    "block-off": _block,
    "treatment": _treatment,
    "join": _join,
}

# The kinds that shorthand can say.
WRITABLE = frozenset((*_WRITERS, "feet"))
