"""What may stand next in a line of shorthand, as whole lines to choose from.

What is offered, the reader takes. Numbers, days, free text and the hints of a finding (@ / :) are
not completed.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from readiness.shorthand import lexicon as lex
from readiness.shorthand.complete_feet import FeetLine
from readiness.shorthand.complete_words import after_given, after_join, said_next
from readiness.shorthand.cursor import Cursor, ShorthandError, split_parts
from readiness.shorthand.feet_parts import begins_feet, goes_on_about_feet
from readiness.shorthand.grammar import PARTS

MOST = 12
"""As many as a person can look through beside the line."""

_LAST_WORD = re.compile(r'[^\s,;"]*\Z')


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
    match = _LAST_WORD.search(text)
    begun = match[0] if match else ""
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
    if head in lex.RESULTS:
        return checks if cursor.done else ()
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
