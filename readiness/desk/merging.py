"""Another copy of the book, taken in or only looked at: what comes in by bull, what disagrees."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from readiness.book import Book, Cache
from readiness.book.merge import Coming
from readiness.desk.disagreements import disagreements
from readiness.desk.sides import Disagreement
from readiness.entries.entry import Entry
from readiness.entries.models import KINDS
from readiness.system.grouped import grouped
from readiness.system.plain import plain
from readiness.trade.words import Day


@dataclass(frozen=True, slots=True)
class KindCount:
    """So many entries of a kind."""

    kind: str
    count: int


@dataclass(frozen=True, slots=True)
class ComesIn:
    """What comes in of one bull (his tag and name), or (``bull`` None) of a group, or (both None)
    of what the book does not know. ``first``, ``last``: the days it is of. What takes an entry back
    counts as of whom that was."""

    bull: str | None
    name: str | None
    group: str | None
    entries: int
    first: Day
    last: Day
    kinds: tuple[KindCount, ...]


@dataclass(frozen=True, slots=True)
class Merging:
    """``other``: the copy, as it was named; ``written``: the ids that came in, none where it was
    only looked at (``would_write``); ``receipts``: how many were new here; ``remarks``: what could
    not be read of it, and what there is to say of the writing."""

    other: str
    written: tuple[str, ...]
    would_write: tuple[str, ...]
    receipts: int
    comes_in: tuple[ComesIn, ...]
    disagreements: tuple[Disagreement, ...]
    remarks: tuple[str, ...]

    @property
    def entries(self) -> int:
        return len(self.written) + len(self.would_write)


def merge(book: Book, cache: Cache, other: Path, who: str, *, check: bool) -> Merging:
    """Take another copy of the book in, or (``check``) only look. Raises as ``Book.merge``."""
    try:
        coming, done = book.merge(other, who, check=check)
    finally:
        cache.drop()
    ids = tuple(entry.id for entry in coming.entries)
    return Merging(
        other=str(other),
        written=() if check else ids,
        would_write=ids if check else (),
        receipts=coming.receipts,
        comes_in=tuple(_comes_in(coming)),
        disagreements=tuple(disagreements(coming.held, coming.entries, coming.theirs)),
        remarks=(*coming.remarks, *(done.remarks if done else ())),
    )


def _comes_in(coming: Coming) -> Iterable[ComesIn]:
    """By bull, in the order of their tags; then the groups."""
    every = {entry.id: entry for entry in (*coming.held, *coming.entries)}
    booked = {e.bull: e for e in every.values() if e.kind == "bull"}
    names = {
        e.bull: e.body["name"] for e in every.values() if e.kind == "bull" and "name" in e.body
    }

    def whose(entry: Entry) -> tuple[str, str]:
        if entry.kind == "strike":
            target = every.get(entry.body["entry"])
            return ("", "") if target is None or target.kind == "strike" else whose(target)
        return entry.bull, "" if entry.bull else entry.body.get("group", "")

    by_whom = grouped(coming.entries, whose)
    for bull, group in sorted(by_whom, key=lambda each: (not each[0], each)):
        own = by_whom[bull, group]
        tag = (booked.get(bull) or own[0]).body.get("bull") if bull else None
        days = [entry.day for entry in own]
        counted = Counter(entry.kind for entry in own)
        yield ComesIn(
            bull=plain(tag) if tag else None,
            name=plain(names[bull]) if bull in names else None,
            group=plain(group) or None,
            entries=len(own),
            first=min(days),
            last=max(days),
            kinds=tuple(KindCount(kind, counted[kind]) for kind in KINDS if kind in counted),
        )
