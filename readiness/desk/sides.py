"""The two copies of a book that disagree: what each has alone, and one thing said against the other
in words. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from readiness.entries.entry import Entry
from readiness.shorthand import words
from readiness.system.plain import plain

Slot = tuple[object, ...]


@dataclass(frozen=True, slots=True)
class Disagreement:
    """``about``: the kind of what is said, or taken-back, corrected, left, healed; ``bull``: his
    tag, None of a group; ``text``: a sentence; ``here``, ``there``: the ids of the entries that
    this copy alone, and the other alone, has."""

    about: str
    bull: str | None
    text: str
    here: tuple[str, ...]
    there: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Sides:
    """``here``, ``there``: the entries that one copy alone has, strikes too; ``both``: all that the
    two have together."""

    here: Sequence[Entry]
    there: Sequence[Entry]
    both: Sequence[Entry]


def disagreement(
    what: str, of: Entry, text: str, here: Iterable[Entry], there: Iterable[Entry]
) -> Disagreement:
    bull = tag_of(of) if of.bull else None
    ids = (tuple(entry.id for entry in side) for side in (here, there))
    return Disagreement(what, bull, plain(text), *ids)


def tag_of(entry: Entry) -> str:
    return plain(str(entry.body.get("bull", "")))


def words_of(entry: Entry) -> str:
    return words(entry.body).rstrip(".")
