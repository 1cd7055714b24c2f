"""What may stand next in a line of shorthand, as whole lines to choose from.

What is offered, the reader takes. Numbers, days, free text and the hints of a finding (@ / :) are
not completed.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from readiness.shorthand import lexicon as lex
from readiness.shorthand.complete_feet import FeetLine
from readiness.shorthand.cursor import Cursor, ShorthandError, quote, split_parts, take_day
from readiness.shorthand.feet_parts import begins_feet, goes_on_about_feet
from readiness.shorthand.grammar import PARTS, Part, Slot, take_number
from readiness.shorthand.write import write
from readiness.trade.scales import SCALES

MOST = 12
"""As many as a person can look through beside the line."""

_BETWEEN = re.compile(r'[\s,;"]')


def complete(
    text: str, *, groups: Sequence[str] = (), checks: Sequence[str] = (), most: int = MOST
) -> list[str]:
    """The lines that ``text``, with the cursor at its end, may go on to; the most usual first.

    The last word is completed where it is begun (case is free); after a space or ``;`` every word
    that may stand next. At most ``most``. ``groups`` and ``checks``: the names on this farm.
    """
    try:
        found = _lines(text, groups, checks)
    except ShorthandError:
        return []  # what stands before cannot be read: nothing can be said of what follows
    same = text.casefold()
    return [line for line in dict.fromkeys(found) if line.casefold() != same][:most]


def _lines(text: str, groups: Sequence[str], checks: Sequence[str]) -> list[str]:
    open_quote = text.count('"') % 2 == 1
    *before, part = split_parts(text + '"' if open_quote else text)
    begun = _BETWEEN.split(text)[-1]
    kept = text[: len(text) - len(begun)]
    if part.lower().startswith("join"):
        return after_join(text, begun, groups)
    if open_quote or kept.endswith('"'):
        return []  # inside a note, or right behind one
    done = part[: len(part) - len(begun)]
    return [
        kept + word
        for word in _next(before, done, checks)
        if word.casefold().startswith(begun.casefold())
    ]


def _next(before: Sequence[str], done: str, checks: Sequence[str]) -> Iterable[str]:
    """The words that may stand after ``done`` in a part; ``before``: the parts before it."""
    feet = FeetLine()
    for part in before:
        _take(Cursor(part, 0), feet)
    cursor = Cursor(done, 0)
    if cursor.done:
        return feet.beginnings()
    if _about_feet(cursor, feet):
        return feet.take(cursor)
    head = (cursor.take(lex.HEAD_WORD) or "").lower()
    if head == "given":
        return after_given(done)
    if head in lex.RESULTS and cursor.done:
        return checks
    if head in PARTS:
        return said_next(cursor, PARTS[head], foot_known=len(feet.held) == 1)
    return ()


def _take(cursor: Cursor, feet: FeetLine) -> None:
    """A whole part, for what it says about feet."""
    if _about_feet(cursor, feet):
        feet.take(cursor)
    elif (cursor.take(lex.HEAD_WORD) or "").lower() == lex.NEW_FEET:
        feet.begin_anew()


def _about_feet(cursor: Cursor, feet: FeetLine) -> bool:
    if begins_feet(cursor):
        return True
    start = cursor.at
    head = (cursor.take(lex.HEAD_WORD) or "").lower()
    cursor.at = start
    return head not in lex.HEADS and bool(feet.held) and goes_on_about_feet(cursor)


# ---- parts that are not about feet: words, each said once, in any order, and free text -----------

_NOT = lex.word_pattern("not", "no")
_ANY_DAY = "2000-01-01"
"""Days are read over, not read: which year is meant does not matter here."""

_QUOTED = r'"(?:[^"]|"")*"'
_JOIN = re.compile(r'(?:\A|;)\s*join\s+([^";]*|"(?:[^"]|"")*)\Z', re.IGNORECASE | re.ASCII)
_JOINED = re.compile(rf'(?:\A|;)\s*join\s+{_QUOTED}\s+[^\s,;"]*\Z', re.IGNORECASE | re.ASCII)
_GIVEN = re.compile(rf'given\s+(?:{_QUOTED}|[^:"]+):', re.IGNORECASE | re.ASCII)
_WORD = re.compile(rf'{_QUOTED}|[^\s,"]+')


def said_next(cursor: Cursor, part: Part, *, foot_known: bool = False) -> list[str]:
    """The words that may stand where the part ends; none where a number must, or where something
    stands that cannot. ``foot_known``: a foot named before may be meant, so the claw comes first.
    """
    left = sorted(part.slots, key=lambda slot: part.offered.index(slot.key) if part.offered else 0)
    said: set[str] = set()
    if part.number:
        number = take_number(cursor, part.number)
        if number is None:
            return []
        left = [_fitting(slot, number) for slot in left]
    if part.first:
        if cursor.done:
            return list(part.first.offered)
        first = cursor.take(part.first.pattern)
        if first is None:
            return []
        said.add(first.lower())
    while not cursor.done:
        dated = any(slot.day and not slot.words for slot in left)
        if cursor.take_quoted() is not None or (dated and take_day(cursor, _ANY_DAY) is not None):
            continue
        now = _open(left, said)
        if cursor.take(_NOT) is not None and cursor.done:
            return [word for slot in now if slot.negation for word in slot.offered]
        slot, word = next(_taken(cursor, now), (None, ""))
        if slot is None:
            return []
        if (wanted := _wanted(cursor, slot, now)) is not None:
            return wanted
        if not slot.parts:
            left.remove(slot)
        said.add(word.lower())
    now = _open(left, said)
    if foot_known and any(slot.key == "claw" for slot in now):
        now.sort(key=lambda slot: slot.key == "foot")
    return _words(now)


def _words(slots: Sequence[Slot]) -> list[str]:
    """The words of these, and what denies one where one can be."""
    found = [word for slot in slots for word in slot.offered]
    return [*found, "not"] if any(slot.negation for slot in slots) else found


def _wanted(cursor: Cursor, slot: Slot, now: list[Slot]) -> list[str] | None:
    """The words that may stand after a slot's own, where what it takes is not said yet or may go
    on; None where it is said, and passed over."""
    if slot.number and take_number(cursor, slot.key) is None:
        return []
    if slot.day and take_day(cursor, _ANY_DAY) is None:
        return []
    if slot.stop and not cursor.take_raw(slot.stop):
        return []
    named: list[str] = []
    while slot.parts and (word := cursor.take(lex.word_pattern(*slot.parts))):
        named.append(word.lower())
    if not slot.parts or not cursor.done:
        return None
    more = [part for part in slot.parts if part not in named]
    return [*more, *(_words(now) if named else ())]


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


def after_join(text: str, begun: str, groups: Sequence[str]) -> list[str]:
    """Lines with a group's name, in quotes where it needs them; after a name, with a role."""
    kept = text[: len(text) - len(begun)]
    roles = [kept + role for role in lex.ROLES if role.startswith(begun.lower())]
    if _JOINED.search(text):
        return roles
    match = _JOIN.search(text)
    if match is None:
        return []
    name = match[1]
    before = text[: match.start(1)]
    if name.startswith('"'):
        return [before + quote(each) for each in groups if _begins(quote(each), name)]
    named = name[: len(name) - len(begun)].lower().split()
    if set(named) & set(lex.ROLES):
        return []
    found = [
        before + written
        for each in groups
        if _begins(written := _as_written(each), name) or (not named and _begins(each, name))
    ]
    if _begins(lex.NO_GROUP, name):
        found.append(before + lex.NO_GROUP)
    return found + roles if named else found


def _begins(word: str, begun: str) -> bool:
    return word.casefold().startswith(begun.casefold())


def _as_written(group: str) -> str:
    return write([{"kind": "join", "group": group}]).removeprefix("join ")


def after_given(done: str) -> list[str]:
    """The words that may stand after who gave it and the product, both free text."""
    match = _GIVEN.match(done)
    words = _WORD.findall(done[match.end() :]) if match else []
    if not words:
        return []
    given = [word.lower() for word in words[1:]]
    if given and given[-1] in ("until", "for"):
        return []
    if given and given[-1] in ("no", "not"):
        return ["pain"]
    left = [word for word in ("pain", "until", "for") if word not in given]
    return [*left, "no"] if "pain" in left else left
