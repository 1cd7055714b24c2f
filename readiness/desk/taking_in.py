"""A file taken in: entries as JSON Lines, a roster of bulls, or a vet's sheet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from readiness.book.admission import admit, as_entry
from readiness.book.shelf import effective
from readiness.desk.writing import Outcome, Plan, Warning_
from readiness.entries.entry import Entry, NewEntry
from readiness.entries.problem import Problem
from readiness.roster import (
    Changes,
    Importer,
    Odd,
    Roster,
    changes_of,
    problems_once,
    read_roster,
    vet_changes,
    warnings_once,
)
from readiness.system.files import bytes_of
from readiness.system.limits import ENTRIES_MOST
from readiness.system.progress import Progress, nobody


def plan_of(
    path: Path,
    importer: Importer,
    dates: str | None,
    before: Sequence[NewEntry] = (),
    progress: Progress = nobody,
) -> Plan:
    """What a file (.jsonl, or else a roster) would write, and of what is to be written ``before`` a
    roster, which knows of it. Raises ``DataError`` with the line and
    field, or row and column, of all that is wrong, ``NotFound`` where it cannot be read."""
    if path.suffix.lower() != ".jsonl":
        by = (importer.on, dates, importer.today)
        roster = read_roster(path, *by, progress, importer.way)
        if roster.head.sort == "vet":
            return VetSheetPlan(roster, importer, str(path))
        return RosterPlan(roster, importer, str(path), before)
    from readiness.entries.jsonl import read_jsonl

    reading = read_jsonl(bytes_of(path, ENTRIES_MOST), path.name, progress)
    admit(reading.problems, str(path))
    return Plan(lambda held: reading.entries, str(path))


class RosterPlan(Plan):
    """What a roster changes in the book."""

    roster = True
    changes_of = staticmethod(changes_of)

    def __init__(
        self, roster: Roster, importer: Importer, source: str, before: Sequence[NewEntry] = ()
    ) -> None:
        super().__init__(self._entries, source)
        self._roster = roster
        self._importer = importer
        self._before = before
        self._changes: Changes

    def _entries(self, held: Sequence[Entry]) -> Sequence[NewEntry]:
        ids = {entry.id for entry in held}
        coming = [as_entry(entry) for entry in self._before]
        there = effective(sorted([*held, *coming]))
        standing = [entry for entry in there if not entry.withdrawn]
        self._changes = self.changes_of(self._roster, standing, ids, self._importer)
        return [*self._before, *self._changes.entries]

    def admit(self, barred: Sequence[Problem]) -> None:
        found = ((problem.line or 0, problem.field, problem.text) for problem in barred)
        admit(problems_once([*self._changes.problems, *self._changes.barred(found)]), self.source)

    def told(self, outcome: Outcome) -> Outcome:
        """Warnings with the row where there is one, in the order of the rows."""
        rows = {entry.id: entry.line for entry in self._changes.entries}
        odd = [Odd(row, "", text) for row, text in self._changes.warnings]
        odd += [Odd(rows.get(w.entry, 0), w.entry, w.text) for w in outcome.warnings]
        warnings = tuple(Warning_(entry, text) for entry, text in warnings_once(odd))
        return replace(outcome, roster=self._changes, warnings=warnings)


class VetSheetPlan(RosterPlan):
    """What a vet's sheet adds to the book: he had the bulls before him, so that it stands on the
    day's sheet."""

    roster = False
    changes_of = staticmethod(vet_changes)
