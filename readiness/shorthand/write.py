"""Entries to a line of shorthand that reads back to the same entries."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from itertools import groupby
from operator import itemgetter
from typing import Any, NamedTuple

from readiness.shorthand import lexicon as lex
from readiness.shorthand.cursor import ShorthandError, quote, value_words
from readiness.shorthand.grammar import PAIN, PARTS
from readiness.shorthand.lexicon import CLAW_TO_LETTER
from readiness.shorthand.line import Scales
from readiness.trade.feet import FEET, MEASURES
from readiness.trade.words import number_words

Content = Mapping[str, Any]

_STOP = lex.stop("pain", "until", "for", "no", "not", lex.NO_GROUP, *lex.ROLES, number=False)


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
    return value_words(text, _STOP)


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


# ---- feet ----------------------------------------------------------------------------------------


class _Item(NamedTuple):
    """One thing said of a foot: in which list, its place there, and on which claw."""

    foot: str
    claw: str | None
    list_rank: int
    place: int
    text: str


def feet_parts(content: Mapping[str, Any]) -> str:
    """The parts of one feet entry, without its note.

    Its lists keep the order in which things were said, and shorthand says them foot by foot. Where
    the order of a list would be lost that way, the feet are named first and the lists said one
    after the other.
    """
    lifted = content["lifted"]
    items = _items(content)
    ordered = _foot_by_foot(items, lifted)
    parts = _by_foot(ordered, lifted) if ordered is not None else [_ok(lifted), *_parts(items)]
    if refused := content.get("refused"):
        parts.append(f"{_names(refused)} refused")
    return "; ".join(parts)


def _items(content: Mapping[str, Any]) -> list[_Item]:
    return [
        _Item(item["foot"], item.get("claw"), rank, index, _TEXTS[key](item))
        for rank, key in enumerate(lex.FEET_LISTS)
        for index, item in enumerate(content.get(key, ()))
    ]


def _foot_by_foot(items: list[_Item], lifted: list[str]) -> list[_Item] | None:
    """The items by foot and claw, else by foot, in the first way that keeps each list's order."""
    claws: dict[tuple[str, str | None], int] = {}
    for item in items:
        claws.setdefault((item.foot, item.claw), len(claws))
    by_claw = sorted(items, key=lambda i: (lifted.index(i.foot), claws[i.foot, i.claw]))
    by_foot = sorted(items, key=lambda i: lifted.index(i.foot))
    return next((way for way in (by_claw, by_foot) if _keeps_order(way)), None)


def _keeps_order(items: list[_Item]) -> bool:
    by_list = sorted(items, key=lambda item: item.list_rank)
    return by_list == sorted(by_list, key=lambda item: (item.list_rank, item.place))


def _by_foot(items: list[_Item], lifted: list[str]) -> list[str]:
    """Each foot in the order lifted; neighbours without anything to note said together."""
    parts: list[str] = []
    spoken_of = {item.foot for item in items}
    for foot, feet in groupby(lifted, key=lambda foot: foot if foot in spoken_of else None):
        parts += _parts([item for item in items if item.foot == foot]) if foot else [_ok(feet)]
    return parts


def _ok(feet: Iterable[str]) -> str:
    return f"{_names(feet)} ok"


def _names(feet: Iterable[str]) -> str:
    names = list(feet)
    return "all" if tuple(names) == FEET else " ".join(name.lower() for name in names)


def _parts(items: list[_Item]) -> list[str]:
    """Items in this order; a new part for each foot, claw and measure."""
    parts: list[str] = []
    foot: str | None = None
    claw: str | None = None
    measured = lex.FEET_LISTS.index("measures")
    for item in items:
        letter = CLAW_TO_LETTER[item.claw] if item.claw else ""
        if item.foot != foot or (item.claw is None and claw is not None):
            parts.append(" ".join(filter(None, (item.foot.lower(), letter, item.text))))
        elif item.claw != claw or item.list_rank == measured:
            parts.append(f"{letter} {item.text}")
        else:
            parts[-1] += f" {item.text}"
        foot, claw = item.foot, item.claw
    return parts


def _finding(item: Mapping[str, Any]) -> str:
    text = str(item["code"]).lower()
    text += f":{item['stage'].lower()}" if "stage" in item else ""
    text += f"@{item['zone']}" if "zone" in item else ""
    text += f"/{item['severity']}" if "severity" in item else ""
    text += f" {number_words(item['size_mm'])}mm" if "size_mm" in item else ""
    return text + (f" was {item['was'].lower()}" if "was" in item else "")


def _healed(item: Mapping[str, Any]) -> str:
    stable = {None: "", True: " stable", False: " not stable"}[item.get("stable")]
    return f"{item['code'].lower()} healed{stable}"


def _measure(item: Mapping[str, Any]) -> str:
    return " ".join(
        f"{word} {number_words(item[key])}" for key, word in MEASURES.items() if key in item
    )


_TEXTS: dict[str, Callable[[Mapping[str, Any]], str]] = {
    "findings": _finding,
    "healed": _healed,
    "work": itemgetter("act"),
    "measures": _measure,
}
