"""Columns that the tables have in common, and how each kind of column is made."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Any

from readiness.entries.entry import Entry
from readiness.export.shape import Column, Refer, Row
from readiness.history.records import NEVER
from readiness.system.plain import plain
from readiness.trade.feet import FEET

NAME_MOST, NOTE_MOST, ID_LENGTH = 120, 2000, 36


def text(name: str, what: str, **more: Any) -> Column:
    """A column of somebody's words."""
    return Column(name, "string", what, **{"longest": NAME_MOST, **more})


def word(name: str, what: str, words: Iterable[str], **more: Any) -> Column:
    """A column of fixed words."""
    return Column(name, "string", what, words=tuple(words), **more)


def day(name: str, what: str, **more: Any) -> Column:
    return Column(name, "date", what, **more)


def flag(name: str, what: str, **more: Any) -> Column:
    return Column(name, "boolean", what, **more)


def number(name: str, what: str, unit: str, least: float, most: float, **more: Any) -> Column:
    return Column(name, "number", what, unit, least=least, most=most, **more)


def whole(name: str, what: str, unit: str, least: int, most: int, **more: Any) -> Column:
    return Column(name, "integer", what, unit, least=least, most=most, **more)


def foot(what: str, name: str = "foot", **more: Any) -> Column:
    return word(name, f"{what}: left fore, right fore, left hind, right hind", FEET, **more)


ENTRY = Column(
    "entry", "string", "Id of the entry in entries.jsonl (a UUID)", required=True, longest=ID_LENGTH
)
LINE = Column(
    "line", "integer", "Place in that entry's list, from 1", required=True, least=1, most=200
)
ON = day("on", "The day of which it is said", required=True)
BULL = text("bull", "The bull's tag, as he was booked last", required=True)
BY = text("by", "Who said so")
NOTE = text("note", "A note to the entry as a whole", longest=NOTE_MOST)
RECORDED = Column(
    "recorded", "datetime", "When a book first took the entry in", "UTC", required=True
)
OF_BULL = Refer(("bull",), "bulls", ("bull",))

# Which group it is.
GROUP = (text("group", "Its name", required=True), text("farm", "Whose it is"))

# What is said of a bull himself.
PROFILE = (
    text("name", "What he is called"),
    text("breed", "His breed, as written"),
    day("born", "The day he was born"),
    word("origin", "Where he is from", ("homebred", "bought", "hired")),
    day("arrived", "The day he came"),
    word("temper", "How to go near him", ("quiet", "watch", "dangerous")),
    flag("heifer_safe", "Whether he may go on heifers"),
    text("pen", "Where he stands"),
    text("farm", "Whose bull he is"),
)


def cell(value: Any) -> Any:
    """A value as it goes out: somebody's words made plain, empty text as nothing."""
    return (plain(value) or None) if isinstance(value, str) else value


def iso(ordinal: int | None) -> str | None:
    """An ordinal as an ISO date; nothing for None and for what never was."""
    return date.fromordinal(ordinal).isoformat() if ordinal not in (None, NEVER) else None


def tail(entry: Entry) -> Row:
    """What ends each row of what was said: ``BY``, ``NOTE``, ``RECORDED``."""
    return cell(entry.body.get("by")), cell(entry.body.get("note")), entry.recorded
