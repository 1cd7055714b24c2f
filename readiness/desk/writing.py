"""Into the book: what a person types is validated; new entries are checked against all that the
book holds and written, in one step."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, ClassVar

from readiness.book import Book, Cache, Counts, Held, Shelf
from readiness.book.admission import admit, all_that_bars, as_entry, concerning
from readiness.book.shelf import untouched
from readiness.book.write import Moved, Written
from readiness.desk.warnings import perhaps_booked_twice, still_withdrawn, warnings_of
from readiness.entries.entry import ROSTER, SEEN, Entry, NewEntry, recorded_text
from readiness.entries.ids import canonical, typed_id
from readiness.entries.problem import Problem
from readiness.entries.validate import validate_said
from readiness.history.groups import farms_named, groups_of, spelt
from readiness.system.clock import Clock
from readiness.system.errors import BookBusy, DataError, NotFound, ReadinessError
from readiness.system.progress import Progress, nobody, part
from readiness.trade.tags import tag_key

if TYPE_CHECKING:
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

    def write(
        self, plan: Plan, who: str, *, check: bool = False, progress: Progress = nobody
    ) -> Outcome:
        """Write what is planned, all or nothing; with ``check``, only say what would be written.

        Where another window writes between the check and the writing, both are done again. Raises
        ``DataError`` with all that bars it, ``BookBusy`` where others never stop writing.
        """
        for turn in range(TRIES):
            held = self._held(sure=check or turn > 0)
            try:
                new = plan.entries(held.shelf.everything)
                outcome = self._checked(plan, held.shelf.everything, new, part(progress, 0.0, 0.5))
            except ReadinessError:
                if check or turn > 0:
                    raise
                continue  # it may have been barred by what is no longer so
            if check:
                return outcome
            self.book.begin()
            try:
                done = self._append(plan, new, who, held.counts, part(progress, 0.5, 1.0))
            except Moved:
                continue
            self.cache.advance(held.counts, done)
            return replace(
                outcome,
                written=tuple(done.written),
                skipped=tuple(done.skipped),
                warnings=(*outcome.warnings, *(Warning_("", text) for text in done.remarks)),
            )
        raise BookBusy(
            f"Others kept writing into the book {self.book.path} meanwhile. Nothing was written; "
            "try again."
        )

    def _append(
        self, plan: Plan, new: Sequence[NewEntry], who: str, seen: Counts, progress: Progress
    ) -> Written:
        return self.book.append(
            new, who, seen=seen, roster=plan.roster, source=plan.source, progress=progress
        )

    def _held(self, *, sure: bool) -> Held:
        """What the book holds; not ``sure``, what it held last: the writing finds out whether that
        is still so, and to look before it costs as much again."""
        if not self.book.exists():
            return Held(Shelf([]), Counts())
        return self.cache.held(last=not sure)

    def _checked(
        self, plan: Plan, held: Sequence[Entry], new: Sequence[NewEntry], progress: Progress
    ) -> Outcome:
        """What would be written, and what is odd about it."""
        everything, held = held, concerning(held, new)
        there = {entry.id for entry in held}
        skipped = tuple(entry.id for entry in new if entry.id in there)
        now = self.clock.now()
        fresh = (entry for entry in new if entry.id not in there)
        recorded, batch = recorded_text(now), ROSTER if plan.roster else ""
        coming = [as_entry(e, recorded, place, batch) for place, e in enumerate(fresh)]
        plan.admit(all_that_bars(held, new, coming))
        odd = warnings_of(held, coming, self.rules(), now, self.clock.today(), progress)
        odd += perhaps_booked_twice(everything, coming, typed=not plan.source)
        odd += still_withdrawn(held, skipped)
        if any(entry.recorded for entry in new):  # out of another copy of the book
            from readiness.desk.disagreements import disagreements

            told = disagreements(held, coming, frozenset(entry.id for entry in new))
            odd += [(each.there[-1], each.text) for each in told]
        warnings = tuple(Warning_(entry, text) for entry, text in odd)
        return plan.told(Outcome(tuple(entry.id for entry in coming), skipped, warnings))


def undone(book: Book, cache: Cache, who: str) -> tuple[Entry, ...]:
    """Take back what this device wrote or took in last: its entries (a strike where what it
    withdrew is said again), in ``entry_order``. What had come in out of another copy is put out
    again, and in the book no more."""
    try:
        return tuple(sorted(book.undo(who)))
    finally:
        cache.drop()


@contextmanager
def though_taken_back() -> Iterator[None]:
    """What goes wrong inside, while it is read what was taken back, is told with that it was: said
    once more, undo would take back what was written before."""
    try:
        yield
    except ReadinessError as error:
        error.args = (f"{_TAKEN_BACK} {error}",)
        raise


_TAKEN_BACK = (
    "What was last written on this device is taken back, and that is in the book; what it was "
    "could not be read after it."
)


# ---- what a person types: contents validated, an entry withdrawn, an entry corrected -------------

STILL_TO_COME = "is still to come: nobody has seen him then. Write it on that day"


def new_entries(
    contents: Sequence[Mapping[str, Any]], clock: Clock, ids: Sequence[str] | None = None
) -> list[NewEntry]:
    """Contents validated, each under its id or a new one; ``DataError`` with every problem."""
    named = [typed_id(clock.now()) for _ in contents] if ids is None else ids
    today = clock.today().isoformat()
    new: list[NewEntry] = []
    problems: list[Problem] = []
    for id_, content in zip(named, contents, strict=True):
        checked, wrong = validate_said(content)
        problems += wrong
        if checked is not None:
            problems += to_come(checked, today)
            new.append(NewEntry(id_, checked))
    admit([*dict.fromkeys(problems)])  # of several on one day, that once
    return new


def to_come(content: Mapping[str, Any], today: str) -> list[Problem]:
    """That a day (ISO) is still to come, of what somebody must have seen on it; else nothing."""
    if content["kind"] not in SEEN or content["on"] <= today:
        return []
    return [Problem(None, "on", f"{content['on']} {STILL_TO_COME}")]


NAMED = ("bull", "join", "group")
"""Entries that name a farm or a group."""


def spelt_as_held(new: Sequence[NewEntry], held: Sequence[Entry]) -> list[NewEntry]:
    """New entries with farms and groups named as the book names them, where only case and spaces
    differ: else one group would be two."""
    if not any(entry.content["kind"] in NAMED for entry in new):
        return list(new)
    said = untouched(held)
    farms, groups = farms_named(said), groups_of(said).keys()
    of_bull = {e.bull: e.body["farm"] for e in said if e.kind == "bull" and "farm" in e.body}
    found = []
    for entry in new:
        content = dict(entry.content)
        if "farm" in content:
            content["farm"] = spelt(content["farm"], farms)
        farm = content.get("farm", "")
        if content["kind"] == "bull" and farm:
            of_bull[tag_key(content["bull"])] = farm
        elif content["kind"] == "join":
            farm = of_bull.get(tag_key(content["bull"]), "")
        if "group" in content:
            content["group"] = spelt(content["group"], [name for at, name in groups if at == farm])
        found.append(entry._replace(content=content))
    return found


def to_withdraw(entry_id: str, held: Sequence[Entry], book: Path) -> Entry:
    """The entry of this id; ``NotFound`` where there is none."""
    target = next((entry for entry in held if entry.id == entry_id.lower()), None)
    if target is None:
        raise NotFound(
            f"There is no entry {entry_id} in {book}. "
            "`readiness bull TAG` shows the ids of his entries."
        )
    return target


def still_standing(ids: Collection[str], held: Sequence[Entry]) -> list[Entry]:
    """The entries of these ids; ``DataError`` where one of them does not stand any more."""
    struck = {entry.body["entry"] for entry in held if entry.kind == "strike"}
    found = [entry for entry in held if entry.id in ids and entry.id not in struck]
    if len(found) < len(ids):
        raise DataError(
            "What was saved of him was taken back or corrected meanwhile. Nothing was written; "
            "his own screen shows what stands."
        )
    return found


def to_correct(
    entry_id: str, held: Sequence[Entry], new: Sequence[NewEntry], book: Path
) -> list[Entry]:
    """The entry in whose place ``new`` is said. ``NotFound`` where there is none of this id,
    ``DataError`` where ``new`` cannot stand there."""
    target = to_withdraw(entry_id, held, book)
    if not new:
        raise DataError(
            "Nothing is said instead. `readiness strike` takes an entry back, and no more."
        )
    if any(entry.kind == "strike" and entry.body["entry"] == target.id for entry in held):
        raise DataError(
            f"{target.id} was taken back already. Correct what was said in its place, or say it "
            "again as a new entry."
        )
    if [canonical(entry.content) for entry in new] == [canonical(target.body)]:
        raise DataError(f"In the entry {target.id} nothing is changed. Nothing was written.")
    return [target]
