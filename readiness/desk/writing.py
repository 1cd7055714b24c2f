"""Into the book: new entries are checked against all it holds and written, in one step."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, ClassVar

from readiness.book import Book, Cache, Counts, Held, Shelf
from readiness.book.admission import admit, all_that_bars, as_entry, concerning
from readiness.book.write import Moved
from readiness.entries.entry import Entry
from readiness.entries.new import NewEntry, recorded_text
from readiness.system.clock import Clock
from readiness.system.errors import BookBusy, ReadinessError

if TYPE_CHECKING:
    from readiness.entries.problem import Problem
    from readiness.roster import Changes
    from readiness.rules.model import RuleBook

TRIES = 40
"""Often enough that one of several windows that write without a pause gets its turn."""


@dataclass(frozen=True, slots=True)
class Warning_:
    """What is odd about an entry, by its id, but may be true. Of a roster also what is about no
    entry: then the id is empty."""

    entry: str
    text: str


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a writing did: ids of the entries written and of those that were there already.

    ``roster``: where it was a roster, what that changes, row by row.
    """

    written: tuple[str, ...]
    skipped: tuple[str, ...]
    warnings: tuple[Warning_, ...]
    roster: Changes | None = None


NewEntries = Callable[[Sequence[Entry]], Sequence[NewEntry]]
"""All that the book holds in, what is to be written out; asked again when the book has moved."""


@dataclass
class Plan:
    """What somebody wants to write. ``source``: the file, "" where typed."""

    entries: NewEntries
    source: str = ""
    roster: ClassVar = False

    def admit(self, barred: Sequence[Problem]) -> None:
        """Raise ``DataError`` where something bars the entries."""
        admit(barred, self.source)

    def told(self, outcome: Outcome) -> Outcome:
        """The outcome as whoever wants to write it is told of it."""
        return outcome


@dataclass
class Writer:
    """Writes into one book. ``rules``: those in force, for what is odd about an entry."""

    book: Book
    cache: Cache
    clock: Clock
    rules: Callable[[], RuleBook]

    def write(self, plan: Plan, who: str, *, check: bool = False) -> Outcome:
        """Write what is planned, all or nothing; with ``check``, only say what would be written.

        Where another window writes between the check and the writing, both are done again. Raises
        ``DataError`` with all that bars it, ``BookBusy`` where others never stop writing.
        """
        for turn in range(TRIES):
            held = self._held(sure=check or turn > 0)
            try:
                new = plan.entries(held.shelf.everything)
                outcome = self._checked(plan, held.shelf.everything, new)
            except ReadinessError:
                if check or turn > 0:
                    raise
                continue  # it may have been barred by what is no longer so
            if check:
                return outcome
            self.book.begin()
            try:
                done = self.book.append(new, who, seen=held.counts, roster=plan.roster)
            except Moved:
                continue
            self.cache.advance(held.counts, done)
            return replace(outcome, written=tuple(done.written), skipped=tuple(done.skipped))
        raise BookBusy(
            f"Others kept writing into the book {self.book.path} meanwhile. Nothing was written; "
            "try again."
        )

    def _held(self, *, sure: bool) -> Held:
        """What the book holds; not ``sure``, what it held last: the writing finds out whether that
        is still so, and to look before it costs as much again."""
        if not self.book.exists():
            return Held(Shelf([]), Counts())
        return self.cache.held(last=not sure)

    def _checked(self, plan: Plan, held: Sequence[Entry], new: Sequence[NewEntry]) -> Outcome:
        """What would be written, and what is odd about it."""
        from readiness.desk.warnings import still_withdrawn, warnings_of

        held = concerning(held, new)
        plan.admit(all_that_bars(held, new))
        there = {entry.id for entry in held}
        skipped = tuple(entry.id for entry in new if entry.id in there)
        now = self.clock.now()
        fresh = (entry for entry in new if entry.id not in there)
        coming = [as_entry(entry, recorded_text(now), place) for place, entry in enumerate(fresh)]
        odd = warnings_of(held, coming, self.rules(), now, self.clock.today())
        odd += still_withdrawn(held, skipped)
        warnings = tuple(Warning_(entry, text) for entry, text in odd)
        return plan.told(Outcome(tuple(entry.id for entry in coming), skipped, warnings))
