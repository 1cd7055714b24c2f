"""The book as the rest of the program sees it."""

from __future__ import annotations

import os
import threading
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from readiness.book.read import Counts, Snapshot, all_entries, counts
from readiness.book.session import PATIENCE, session
from readiness.book.shelf import Shelf
from readiness.entries.entry import ROSTER, NewEntry
from readiness.system.clock import Clock
from readiness.system.errors import CannotWrite
from readiness.system.locations import FileStamp, device_file, file_stamp, log_beside

if TYPE_CHECKING:
    from readiness.book.verify import Progress, Report
    from readiness.book.write import BatchMeta, Written


Stamp = tuple[FileStamp, FileStamp | None]
"""Of a book's file, and of the log that another program's DuckDB keeps: what that holds counts."""


class Book:
    """One book file. Each method is one operation: attach, one transaction, detach.

    ``device``: this device's id, by default the one kept in the user's data directory.
    ``patience``: seconds to wait while another process holds the file. Every method raises
    NotFound, DataError, CannotWrite or BookBusy, as the file demands.
    """

    def __init__(
        self, path: Path, clock: Clock, device: str | None = None, patience: float = PATIENCE
    ) -> None:
        self.path = path.absolute()
        self._clock = clock
        self._device = device
        self._patience = patience
        self.not_backed_up = ""

    @property
    def device(self) -> str:
        """This device's id, read (on first use made) when it is first needed."""
        if self._device is None:
            from readiness.book.write import device_id

            self._device = device_id(device_file())
        return self._device

    def exists(self) -> bool:
        """Whether there is something at the book's path; whether it is a book shows on reading."""
        return os.path.lexists(self.path)

    def create(self) -> None:
        """An empty book, with its folder; CannotWrite where something stands there already."""
        from readiness.book.copies import new_book

        new_book(self.path)

    def begin(self) -> None:
        """An empty book where there is none yet; another process may begin it meanwhile."""
        try:
            if not self.exists():
                self.create()
        except CannotWrite:
            if not self.exists():
                raise

    def snapshot(self) -> Snapshot:
        """All entries, strikes and struck ones too, in ``entry_order``, and how many rows there
        are, of one moment. ``recorded`` is that of the earliest receipt, from whichever copy of
        the book."""
        with session(self.path, self._patience) as con:
            return Snapshot(all_entries(con, str(self.path)), counts(con))

    def counts(self) -> Counts:
        """How much the book holds: the same as before means that its content is the same."""
        with session(self.path, self._patience) as con:
            return counts(con)

    def append(
        self,
        entries: Sequence[NewEntry],
        who: str,
        *,
        seen: Counts | None = None,
        roster: bool = False,
    ) -> Written:
        """Write a batch, all or nothing; an entry that is here with the same content is skipped.

        ``seen``: what the book held when the batch was checked against it; where it holds something
        else by now, nothing is written and ``Moved`` is raised. Raises DataError where an id
        stands for other content, for a strike of a strike, and for one that would leave a bull
        with entries but none that books him.
        """
        from readiness.book.write import Moved, add

        self.back_up_first()
        with session(self.path, self._patience, write=True) as con:
            if seen is not None and counts(con) != seen:
                raise Moved
            return add(con, str(self.path), entries, self._meta(who, ROSTER if roster else ""))

    def undo(self, who: str) -> list[str]:
        """Take back this device's last batch that is not taken back yet; the ids of its entries.

        What it said is struck. What it struck by hand is said again, with the same content and the
        id ``again_id(strike)``: a strike cannot be struck. Again goes one batch further back,
        across restarts. Raises NotFound where there is none left.
        """
        from readiness.book.strikes import undo

        self.back_up_first()
        with session(self.path, self._patience, write=True) as con:
            return undo(con, str(self.path), self._meta(who), self._clock.today())

    def last_said(self) -> list[str]:
        """The ids that ``undo`` would take back now. Raises NotFound where there are none."""
        from readiness.book.strikes import to_undo

        with session(self.path, self._patience) as con:
            return to_undo(con, all_entries(con, str(self.path)), self.device).ids

    def backup(self, target: Path | None = None) -> Path:
        """A consistent copy at ``target``, by default among the backups beside the book; where.

        Raises CannotWrite where something stands at ``target``.
        """
        from readiness.book.copies import backup_by_hand, copy_book

        place = target or backup_by_hand(self.path, self._clock.now())
        copy_book(self.path, place.absolute(), self._patience)
        return place

    def verify(self, progress: Progress | None = None) -> Report:
        """Read all of the book and check it; ``progress(done, total)`` counts entries."""
        from readiness.book.verify import verify

        return verify(self.path, self._patience, progress)

    def stamp(self) -> Stamp | None:
        """Changes when the book does; None where there is no book."""
        found = file_stamp(self.path)
        return None if found is None else (found, file_stamp(log_beside(self.path)))

    def _meta(self, who: str, prefix: str = "") -> BatchMeta:
        from readiness.book.write import BatchMeta
        from readiness.entries.ids import typed_id

        now = self._clock.now()
        return BatchMeta(prefix + typed_id(now), now, self.device, who)

    def back_up_first(self) -> None:
        """The day's backup, where there is none yet: made before the day's first writing.
        ``not_backed_up``: what to say of it where it could not be."""
        from readiness.book.copies import daily_backup

        self.not_backed_up = daily_backup(self.path, self._clock.today(), self._patience)


# ---- the book as it was last read, for as long as that is still what it holds --------------------

# Nanoseconds. Two writes within one tick of a file system's clock leave the same stamp, so a stamp
# tells only of a file that was at rest for longer than that: some ms; where times are whole seconds
# (as on a memory stick), up to two.
_REST, _LONG_REST = 100_000_000, 2_500_000_000
_WHOLE_SECOND = 1_000_000_000


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

    def advance(self, seen: Counts, done: Written) -> None:
        """Go on from a reading of ``seen`` by what was written to it.

        Where entries were skipped, they may have got an earlier receipt: then it is read anew.
        """
        with self._lock:
            held = self._held
            if held is None or held.counts != seen:
                return
            # Somebody else may have written right after us: the next who asks looks.
            after = Held(held.shelf.more(done.entries), done.counts)
            self._held = None if done.skipped else after

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
        held = self._held
        if held is not None and stamp is not None:
            if held.stamp == stamp:
                return held
            if self._book.counts() == held.counts:
                held.stamp = at_rest
                return held
        self._held = None
        entries, counts = self._book.snapshot()
        self._held = Held(Shelf(entries), counts, at_rest)
        return self._held


def _rests(stamp: Stamp, now: int) -> bool:
    """Whether a write from now on would leave another stamp."""
    times = [file.changed for file in stamp if file is not None]
    return all(now - at > (_REST if at % _WHOLE_SECOND else _LONG_REST) for at in times)
