"""The book as the rest of the program sees it."""

from __future__ import annotations

import os
from collections.abc import Callable, Collection, Iterator, Sequence
from contextlib import contextmanager, suppress
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING

from duckdb import DuckDBPyConnection

from readiness.book import journal
from readiness.book.faults import Damaged
from readiness.book.read import Counts, Snapshot, all_entries, counts, entries_of
from readiness.book.schema import OldVersion, make_book, renew_views
from readiness.book.session import PATIENCE, connection, look, session
from readiness.entries.entry import ROSTER, Entry, NewEntry
from readiness.system import limits
from readiness.system.clock import Clock
from readiness.system.errors import CannotWrite, ReadinessError
from readiness.system.locations import FileStamp, device_file, file_stamp, log_beside
from readiness.system.progress import Progress, nobody

if TYPE_CHECKING:
    from contextlib import AbstractContextManager

    from readiness.book.merge import Coming
    from readiness.book.stream import Stream
    from readiness.book.verify import Report
    from readiness.book.write import BatchMeta, Written


MERGE = "merge-"
"""How the id of a batch begins that took in another copy of the book."""

Stamp = tuple[FileStamp, FileStamp | None]
"""Of a book's file, and of the log that another program's DuckDB keeps: what that holds counts."""


Change = Callable[[DuckDBPyConnection, Counts], "Written"]


class Book:
    """One book file. Each method is one operation: attach, one transaction, detach.

    ``device``: this device's id, by default the one kept in the user's data directory.
    ``patience``: seconds to wait while another process holds the file. ``remarks``: what there is
    to say of the last writing itself, though it was done. Every method raises
    NotFound, DataError, CannotWrite or BookBusy, as the file demands.
    """

    def __init__(
        self, path: Path, clock: Clock, device: str | None = None, patience: float = PATIENCE
    ) -> None:
        self.path = path.absolute()
        self._clock = clock
        self._device = device
        self._patience = patience
        self.remarks: tuple[str, ...] = ()
        self._not_backed_up = ""
        self._renewed = 0

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
        with self._whole() as (con, now):
            return Snapshot(all_entries(con, str(self.path)), now)

    def entries(self, ids: Collection[str]) -> list[Entry]:
        """Of a snapshot, the entries of these ids; no others are read."""
        with self._whole() as (con, _):
            return entries_of(con, str(self.path), ids)

    @contextmanager
    def _whole(self) -> Iterator[tuple[DuckDBPyConnection, Counts]]:
        """The book, to be read, and how much it holds: never less than its journal says."""
        known = journal.last_counts(self.path)  # before the book, which is never behind it
        with session(self.path, self._patience) as con:
            now = counts(con)
            if known != now:
                from readiness.book.held_against import hold_against

                hold_against(con, self.path, known, now)
            yield con, now

    def is_big(self) -> bool:
        """Whether it is read bull by bull, where that will do."""
        stamp = file_stamp(self.path)
        return stamp is not None and stamp.size > limits.BIG_BOOK

    def streamed(self, part: int = 0, parts: int = 1) -> AbstractContextManager[Stream]:
        """The same, bull by bull: ``part`` of so many ``parts`` of its bulls."""
        from readiness.book.stream import streamed

        return streamed(self.path, self._patience, part, parts)

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
        source: str = "",
        progress: Progress = nobody,
    ) -> Written:
        """Write a batch, all or nothing; an entry that is here with the same content is skipped.

        ``seen``: what the book held when the batch was checked against it; where it holds something
        else by now, nothing is written and ``Moved`` is raised. Raises DataError where an id
        stands for other content, for a strike of a strike, and for one that would leave a bull
        with entries but none that books him.
        """
        from readiness.book.write import Moved, add

        meta = self._meta(who, ROSTER if roster else "", source)

        def adding(con: DuckDBPyConnection, now: Counts) -> Written:
            if seen is not None and now != seen:
                raise Moved
            return add(con, str(self.path), entries, meta, now, progress=progress)

        return self._write(adding)

    def undo(self, who: str) -> list[Entry]:
        """Take back this device's last batch that is not taken back yet; its entries, as they were.

        What it said is struck. What it struck by hand is said again, with the same content and the
        id ``again_id(strike)``: a strike cannot be struck. Again goes one batch further back,
        across restarts. Raises NotFound where there is none left.
        """
        from readiness.book.strikes import undo

        taken: list[list[Entry]] = []

        def undoing(con: DuckDBPyConnection, now: Counts) -> Written:
            entries, done = undo(con, str(self.path), self._meta(who), now, self._clock.today())
            taken.append(entries)
            return done

        self._write(undoing)
        return taken[-1]

    def merge(self, other: Path, who: str, *, check: bool = False) -> tuple[Coming, Written | None]:
        """Take in another copy of the book (a book or backup, an export, a journal); with
        ``check``, only look what it would bring, and nothing is written.

        Raises DataError, with all that bars it, and what reading the other raises.
        """
        from readiness.book.merge import look_at, take_in
        from readiness.book.other_copy import read_copy

        copy = read_copy(other, self.path, self._patience)
        if check and not self.exists():
            with connection() as con:
                make_book(con)
                return look_at(con, str(self.path), copy, str(other)), None
        if check:
            with session(self.path, self._patience) as con:
                return look_at(con, str(self.path), copy, str(other)), None
        self.begin()
        found: list[Coming] = []
        meta = self._meta(who, MERGE, str(other))

        def merging(con: DuckDBPyConnection, now: Counts) -> Written:
            coming, done = take_in(con, str(self.path), copy, meta, now)
            found.append(coming)
            return done

        done = self._write(merging, mends=copy.own)
        return found[-1], done

    def last_said(self) -> list[Entry]:
        """What ``undo`` would take back now. Raises NotFound where there is nothing."""
        from readiness.book.strikes import to_undo

        with session(self.path, self._patience) as con:
            return to_undo(con, str(self.path), self.device).entries

    def backup(self, target: Path | None = None) -> Path:
        """A consistent copy at ``target``, by default among the backups beside the book; where.

        Raises CannotWrite where something stands at ``target``.
        """
        from readiness.book.copies import backup_by_hand, copy_book

        place = target or backup_by_hand(self.path, self._clock.now())
        copy_book(self.path, place.absolute(), self._patience)
        return place

    def verify(self, progress: Progress = nobody) -> Report:
        """Read all of the book and check it."""
        from readiness.book.verify import verify

        return verify(self.path, self._patience, progress)

    def stamp(self) -> Stamp | None:
        """Changes when the book does; None where there is no book."""
        found = file_stamp(self.path)
        return None if found is None else (found, file_stamp(log_beside(self.path)))

    def _write(self, change: Change, *, mends: bool = False) -> Written:
        """One writing: into the book, whole or not at all, then into its journal; only then is it
        acknowledged. ``change`` is given the book and how much it holds. ``mends``: it brings in
        what the book lacks of what its journal says."""
        from readiness.book.log import settle

        self.back_up_first()
        remarks = [self._not_backed_up, settle(self.path, self._patience)]
        try:
            return self._written(change, remarks, mends=mends)
        except OldVersion:
            from readiness.book.migration import migrate

            migrate(self.path, self._clock.now(), self._patience)
            return self._written(change, remarks, mends=mends)

    def _written(self, change: Change, remarks: list[str | None], *, mends: bool) -> Written:
        known = journal.last_counts(self.path)
        done: Written | None = None
        before: list[bytes] = []
        now = Counts()
        try:
            with session(self.path, self._patience, write=True) as con:
                # Once for each file: to ask takes a twentieth of a saving.
                if (inode := look(self.path)) != self._renewed:
                    renew_views(con)
                now = counts(con)
                if known != now:
                    before = self._not_yet_in_journal(con, mends=mends)
                done = change(con, now)
                if mends:
                    self._not_yet_in_journal(con, mends=False)
            self._renewed = inode
        except (CannotWrite, Damaged) as error:
            if done is None or not self._holds(done.batch, error):
                raise
            remarks.append(_AT_THE_END.format(error=error))
        if before or done.counts != now:
            batch = chain(before, done.lines, [journal.counts_line(done.counts)])
            try:
                journal.append(self.path, self._clock.now(), batch)
            except CannotWrite as error:
                remarks.append(NOT_IN_JOURNAL.format(error=error))
        self.remarks = tuple(filter(None, remarks))
        return done._replace(lines=(), remarks=self.remarks)

    def _not_yet_in_journal(self, con: DuckDBPyConnection, *, mends: bool) -> list[bytes]:
        from readiness.book.held_against import compare, missing_lines, refuse_behind

        found = compare(con, self.path)
        if not mends:
            refuse_behind(found, self.path)
        return [*missing_lines(con, found)]

    def _holds(self, batch: str, error: ReadinessError) -> bool:
        """Whether a batch is in the book, though its writing ended in ``error``: what is said of a
        disk that fails at the very end must be what is so."""
        if not batch:
            return False
        try:
            with session(self.path, self._patience) as con:
                found = con.execute(
                    "FROM (SELECT batch FROM receipt UNION ALL SELECT batch FROM taken_in) "
                    "WHERE batch = $batch LIMIT 1",
                    {"batch": batch},
                )
                return found.fetchone() is not None
        except ReadinessError:
            raise CannotWrite(
                f"The book {self.path} failed while it was written and cannot be read now, so "
                "whether this was written is not known. See to the disk, then look what the book "
                "holds before you say it again."
            ) from error

    def _meta(self, who: str, prefix: str = "", source: str = "") -> BatchMeta:
        from readiness.book.write import BatchMeta
        from readiness.entries.ids import typed_id

        now = self._clock.now()
        return BatchMeta(prefix + typed_id(now), now, self.device, who, source)

    def back_up_first(self) -> None:
        """The day's backup, where there is none yet: made before the day's first writing, which
        tells where it could not be."""
        from readiness.book.copies import daily_backup

        made = daily_backup(self.path, self._clock.today(), self._patience)
        self._not_backed_up = made or ""
        if made == "":
            self._complete_journal()

    def _complete_journal(self) -> None:
        """What the journal lacks, be it that lines of it are damaged, brought into it."""
        from readiness.book.held_against import compare, missing_lines

        with session(self.path, self._patience) as con:
            found = compare(con, self.path)
            missing, now = [*missing_lines(con, found)], counts(con)
        behind = found.lost or found.forgotten  # then the end would say that nothing is amiss
        if missing and not behind:
            with suppress(CannotWrite):  # said at the next writing
                journal.append(self.path, self._clock.now(), [*missing, journal.counts_line(now)])


_AT_THE_END = (
    "It is in the book, but the disk reported a fault at the end of writing: see to the disk, and "
    "make a backup elsewhere. ({error})"
)
NOT_IN_JOURNAL = "It is in the book, but not in its journal yet. {error} The next entry brings it."
