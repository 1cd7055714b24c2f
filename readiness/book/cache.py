"""The book as it was last read, for as long as that is still what it holds."""

from __future__ import annotations

import threading
import time
from collections.abc import Collection
from dataclasses import dataclass
from typing import TYPE_CHECKING

from readiness.book.read import Counts
from readiness.book.shelf import Shelf

if TYPE_CHECKING:
    from readiness.book.store import Book, Stamp
    from readiness.book.write import Written
    from readiness.entries.entry import Entry

# Nanoseconds. Two writes within one tick of a file system's clock leave the same stamp, so a stamp
# tells only of a file that was at rest for longer than that: some ms; where times are whole seconds
# (as on a memory stick), up to two.
_REST, _LONG_REST = 100_000_000, 2_500_000_000
_WHOLE_SECOND = 1_000_000_000
_AT_ONCE = 10_000


@dataclass
class Held:
    """A reading: the entries put in order, and how many rows they are. ``stamp``: of the file at
    rest before it, None where it had not come to rest."""

    shelf: Shelf
    counts: Counts
    stamp: Stamp | None = None


class Cache:
    """One book's last reading, so that one bull saved into a book of ten thousand entries does not
    read the whole book again. Any thread may ask; nobody may change the lists that are given."""

    def __init__(self, book: Book) -> None:
        self._book = book
        self._lock = threading.Lock()
        self._held: Held | None = None

    def held(self, *, last: bool = False) -> Held:
        """All that the book holds now, or (``last``) held when it was last read or written by us:
        right after our own writing nothing else has to be known, and who writes finds out by
        himself whether that is still so. Raises what reading the book raises."""
        with self._lock:
            return (self._held if last else None) or self._now()

    def entries(self, ids: Collection[str]) -> list[Entry]:
        """The entries of these ids, in ``entry_order``: out of what was read last, where the book
        holds that still, else read by themselves."""
        with self._lock:
            if held := self._still_so(self._book.stamp(), None):
                return [entry for entry in held.shelf.everything if entry.id in ids]
            return self._book.entries(ids)

    def advance(self, seen: Counts, done: Written) -> None:
        """Go on from a reading of ``seen`` by what was written to it.

        Where entries were skipped, they may have got an earlier receipt, and what was put out may
        be back with one of before: then it is read anew. So is what is too much to be held twice.
        """
        with self._lock:
            held = self._held
            if held is None or held.counts != seen:
                return
            self._held = None
            if done.skipped or len(done.written) > _AT_ONCE:
                return
            new = done.entries
            if len(new) == len(done.written):
                # Somebody else may have written right after us: the next who asks looks.
                self._held = Held(held.shelf.more(new), done.counts)

    def current(self) -> bool:
        """Whether what was read or written last is still all that the book holds."""
        with self._lock:
            held = self._held
            return held is not None and self._book.counts() == held.counts

    def drop(self) -> None:
        """Read the book anew next time."""
        with self._lock:
            self._held = None

    def _now(self) -> Held:
        stamp = self._book.stamp()
        at_rest = stamp if stamp is not None and _rests(stamp, time.time_ns()) else None
        if held := self._still_so(stamp, at_rest):
            return held
        self._held = None
        entries, counts = self._book.snapshot()
        self._held = Held(Shelf(entries), counts, at_rest)
        return self._held

    def _still_so(self, stamp: Stamp | None, at_rest: Stamp | None) -> Held | None:
        """What was read last, where the book holds that still."""
        held = self._held
        if held is None or stamp is None:
            return None
        if held.stamp == stamp:
            return held
        if self._book.counts() == held.counts:
            held.stamp = at_rest
            return held
        return None


def _rests(stamp: Stamp, now: int) -> bool:
    """Whether a write from now on would leave another stamp."""
    times = [file.changed for file in stamp if file is not None]
    return all(now - at > (_REST if at % _WHOLE_SECOND else _LONG_REST) for at in times)
