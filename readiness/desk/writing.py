"""Into the book: new entries are checked against all it holds and written, in one step."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

from readiness.book import Book, Counts, Kept, Moved, Snapshot
from readiness.entries.canon import canonical
from readiness.entries.entry import Entry
from readiness.entries.new import NewEntry, recorded_text
from readiness.system.clock import Clock
from readiness.system.errors import BookBusy, DataError, NotFound, ReadinessError
from readiness.system.source import bytes_of, paragraph
from readiness.trade.tags import tag_key

if TYPE_CHECKING:
    from readiness.book.admission import Missing
    from readiness.entries.problem import Problem
    from readiness.roster import Changes, Importer, Roster
    from readiness.rules.model import RuleBook

TRIES = 40
"""Often enough that one of several windows that write without a pause gets its turn."""

Plan = Callable[[Sequence[Entry]], Sequence[NewEntry]]
"""All that the book holds in, what is to be written out; asked again when the book has moved."""


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


class Pen:
    """Writes into one book. ``rules``: those in force, for what is odd about an entry."""

    def __init__(self, book: Book, kept: Kept, clock: Clock, rules: Callable[[], RuleBook]) -> None:
        self.book = book
        self.kept = kept
        self.clock = clock
        self.rules = rules

    def write(
        self, plan: Plan, who: str, *, source: str = "", check: bool = False, roster: bool = False
    ) -> Outcome:
        """Write what ``plan`` says, all or nothing; with ``check``, only say what would be written.
        ``roster``: it is out of one.

        Where another window writes between the check and the writing, both are done again. Raises
        ``DataError`` with all that bars it, ``BookBusy`` where others never stop writing.
        """
        for turn in range(TRIES):
            held = self._held(sure=check or turn > 0)
            try:
                new = plan(held.entries)
                outcome = self._checked(held.entries, new, source)
            except ReadinessError:
                if check or turn > 0:
                    raise
                continue  # it may have been barred by what is no longer so
            if check:
                return outcome
            self.book.begin()
            try:
                done = self.book.append(new, who, seen=held.counts, roster=roster)
            except Moved:
                continue
            self.kept.took(held.counts, done)
            return Outcome(tuple(done.written), tuple(done.skipped), outcome.warnings)
        raise BookBusy(
            f"Others kept writing into the book {self.book.path} meanwhile. Nothing was written; "
            "try again."
        )

    def take_file(
        self,
        path: Path,
        on: date,
        who: str,
        *,
        check: bool = False,
        dates: str | None = None,
        farm: str | None = None,
        renames: bool = False,
    ) -> Outcome:
        """Write what a file says: entries (.jsonl) or a roster. Raises ``DataError`` with the line
        and field, or row and column, of all that is wrong, ``NotFound`` where it cannot be read.

        Of a roster: ``dates`` ("dmy", "mdy") is the order of day and month; ``farm`` that of rows
        that name none; ``renames`` takes births and names that would make other bulls of some.
        """
        if path.suffix.lower() == ".jsonl":
            from readiness.entries.jsonl import read_jsonl

            reading = read_jsonl(bytes_of(path), path.name)
            if reading.problems:
                raise DataError(paragraph(str(path), reading.problems))
            return self.write(lambda held: reading.entries, who, source=str(path), check=check)
        from readiness.roster import Importer, read_roster

        today = self.clock.today()
        roster = read_roster(path, on, dates, today)
        return self._take_roster(
            roster, Importer(on, who, farm, today, renames), str(path), check=check
        )

    def _take_roster(
        self, roster: Roster, importer: Importer, source: str, *, check: bool
    ) -> Outcome:
        """Write what a roster changes, all or nothing."""
        from readiness.book.admission import effective
        from readiness.roster import changes_of, problems_once

        made: list[Changes] = []

        def plan(held: Sequence[Entry]) -> Sequence[NewEntry]:
            ids = {entry.id for entry in held}
            changes = changes_of(roster, sorted(effective(held)), ids, importer)
            barred = self._bars(concerning(held, changes.entries), changes.entries)[1]
            problems = [*changes.problems, *changes.barred(barred)]
            if problems:
                raise DataError(paragraph(source, problems_once(problems)))
            made[:] = [changes]
            return changes.entries

        outcome = self.write(plan, importer.by, source=source, check=check, roster=True)
        return replace(outcome, roster=made[0], warnings=_by_row(outcome.warnings, made[0]))

    def _held(self, *, sure: bool) -> Snapshot:
        """What the book holds; not ``sure``, what it held last: the writing finds out whether that
        is still so, and to look before it costs as much again."""
        if not self.book.exists():
            return Snapshot([], Counts())
        return self.kept.snapshot() if sure else self.kept.last()

    def _checked(self, held: Sequence[Entry], new: Sequence[NewEntry], source: str) -> Outcome:
        from readiness.desk.warnings import still_withdrawn, warnings_of

        held = concerning(held, new)
        there = {entry.id for entry in held}
        skipped = tuple(entry.id for entry in new if entry.id in there)
        coming, barred = self._bars(held, new)
        if barred:
            from readiness.entries.problem import Problem

            problems = [Problem(line or None, where, text) for line, where, text in barred]
            raise DataError(paragraph(source, problems))
        odd = warnings_of(held, coming, self.rules(), self.clock.now(), self.clock.today())
        odd += still_withdrawn(held, skipped)
        warnings = tuple(Warning_(entry, text) for entry, text in odd)
        return Outcome(tuple(entry.id for entry in coming), skipped, warnings)

    def _bars(
        self, held: Sequence[Entry], new: Sequence[NewEntry]
    ) -> tuple[list[Entry], list[Missing]]:
        """The entries that are not in the book yet, as the core sees them, and all that bars."""
        from readiness.book.admission import as_entry, clashes, missing

        there = {entry.id: entry for entry in held}
        fresh = [entry for entry in new if entry.id not in there]
        now = recorded_text(self.clock.now())
        coming = [as_entry(entry, now, place) for place, entry in enumerate(fresh)]
        return coming, clashes(there, new) + missing(held, coming, fresh)


def _by_row(odd: Sequence[Warning_], changes: Changes) -> tuple[Warning_, ...]:
    """Warnings of a roster, with the row where there is one, in the order of the rows."""
    from readiness.roster import Odd, warnings_once

    rows = {entry.id: entry.line for entry in changes.entries}
    said = [Odd(row, "", text) for row, text in changes.warnings]
    said += [Odd(rows[warning.entry], warning.entry, warning.text) for warning in odd]
    return tuple(Warning_(entry, text) for entry, text in warnings_once(said))


def new_entries(
    contents: Sequence[Mapping[str, Any]], clock: Clock, ids: Sequence[str] | None = None
) -> list[NewEntry]:
    """Contents validated, each under its id or a new one; ``DataError`` with every problem."""
    from readiness.entries.ids import typed_id
    from readiness.entries.validate import validate

    named = [typed_id(clock.now()) for _ in contents] if ids is None else ids
    new: list[NewEntry] = []
    problems: list[Problem] = []
    for id_, content in zip(named, contents, strict=True):
        checked, wrong = validate(content)
        problems += wrong
        if checked is not None:
            new.append(NewEntry(id_, checked))
    if problems:
        raise DataError(paragraph("", problems))
    return new


def to_withdraw(entry_id: str, held: Sequence[Entry], book: Path) -> Entry:
    """The entry of this id; ``NotFound`` where there is none, ``DataError`` for a strike."""
    target = next((entry for entry in held if entry.id == entry_id.lower()), None)
    if target is None:
        raise NotFound(
            f"There is no entry {entry_id} in {book}. "
            "`readiness bull TAG` shows the ids of his entries."
        )
    if target.kind == "strike":
        raise DataError(
            f"{entry_id} is a strike, and a strike cannot be struck. "
            "Say again what it withdrew, as a new entry."
        )
    return target


def refuse_correction(target: Entry, held: Sequence[Entry], new: Sequence[NewEntry]) -> None:
    """Raise ``DataError`` where ``new`` cannot stand in the place of ``target``."""
    if not new:
        raise DataError("Nothing is said instead. To withdraw an entry, strike it.")
    if any(entry.kind == "strike" and entry.body["entry"] == target.id for entry in held):
        raise DataError(
            f"{target.id} was withdrawn already. Correct what was said in its place, or say it "
            "again as a new entry."
        )
    if [canonical(entry.content) for entry in new] == [canonical(target.body)]:
        raise DataError(f"In the entry {target.id} nothing is changed. Nothing was written.")


def concerning(held: Sequence[Entry], new: Sequence[NewEntry]) -> list[Entry]:
    """Of what the book holds, all that can bear on the new entries.

    The same ids and what the new strikes aim at, all of the bulls these speak of, every group and
    every strike: whatever else there is, neither bars a new entry nor makes it odd.
    """
    ids = {entry.id for entry in new}
    ids |= {e.content["entry"] for e in new if e.content["kind"] == "strike"}
    bulls = {tag_key(entry.content.get("bull", "")) for entry in new}
    bulls |= {entry.bull for entry in held if entry.id in ids}
    # Groups and strikes are of no bull, and each may bear on any.
    bulls.add("")
    return [entry for entry in held if entry.bull in bulls]
