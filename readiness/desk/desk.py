"""The desk: the one core behind the screen and the commands.

It puts the book, the rules and the clock together. What is read goes through the pure engine; what
is written is validated first, and the validators are imported only then.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

from readiness.book import Book, Kept, Shelf
from readiness.book.lookup import find_bull, known_name
from readiness.desk.writing import (
    Outcome,
    Pen,
    Plan,
    Warning_,
    new_entries,
    refuse_correction,
    to_withdraw,
)
from readiness.entries.entry import Entry, from_roster
from readiness.entries.new import NewEntry
from readiness.herd.card import Card
from readiness.history.groups import Group, Key, groups_of
from readiness.system.ahead import Ahead
from readiness.system.clock import Clock
from readiness.system.errors import CannotWrite, NotFound
from readiness.system.locations import file_stamp, no_book

if TYPE_CHECKING:
    from readiness.engine.results import Board
    from readiness.herd.day_sheet import Sheet
    from readiness.herd.stats.results import Figures
    from readiness.history import History
    from readiness.rules.model import RuleBook
    from readiness.visits.asked import Wishes
    from readiness.visits.plan import VisitPlan

__all__ = ["Card", "Desk", "Outcome", "Warning_"]

_OF_FARM = ("bull", "group")
_HANDLED = ("feet", "mobility", "condition", "weight", "block-on", "block-off")


class Desk:
    """One person's desk over one book.

    ``on`` is the day assessed and the day of what is entered (None: today, asked anew each time);
    ``who`` is written as ``by``; ``readonly`` refuses every writing.
    """

    def __init__(
        self,
        book: Book,
        rules_path: Path | None,
        clock: Clock,
        *,
        on: date | None = None,
        who: str = "",
        readonly: bool = False,
    ) -> None:
        self.book = book
        self.rules_path = rules_path
        self.clock = clock
        self.who = who
        self.readonly = readonly
        self._on = on
        self._rules: tuple[object, RuleBook] | None = None
        self._kept = Kept(book)
        self._pen = Pen(book, self._kept, clock, self.rules)

    @property
    def on(self) -> date:
        return self._on or self.clock.today()

    # ---- reading -------------------------------------------------------------------------------

    def rules(self) -> RuleBook:
        """The rules in force, read anew when their file changed."""
        stamp = file_stamp(self.rules_path)
        if self._rules is None or self._rules[0] != stamp:
            from readiness.rules.load import load_rules

            self._rules = (stamp, load_rules(self.rules_path))
        return self._rules[1]

    def stamp(self) -> tuple[object, ...]:
        """Changes when the book or the rules change."""
        return (self.book.stamp(), file_stamp(self.rules_path))

    def board(
        self,
        *,
        farm: str | None = None,
        group: str | None = None,
        turnout: date | None = None,
        known: str | None = None,
    ) -> Board:
        """The board of the day. ``known``: as the book knew it then (``recorded_text``).

        Raises ``NotFound`` where there is no such book, farm or group.
        """
        reading = Ahead(lambda: self._read(known))
        from readiness.herd.board import assess_book

        rules = self.rules()
        entries = reading.result()
        if farm is not None:
            self._known_farm(farm, entries)
        if group is not None:
            named = (e.body["group"] for e in entries if e.kind == "group")
            known_name("group", group, named, self.book.path)
        return assess_book(
            entries,
            rules,
            self.on.toordinal(),
            turnout=turnout.toordinal() if turnout else None,
            farm=farm,
            group=group,
        )

    def card(self, tag: str, *, known: str | None = None, last: bool = False) -> Card:
        """One bull. ``last``: as the book was when this desk last read it or wrote into it. Raises
        ``NotFound`` where none or more than one match."""
        from readiness.engine.assess import assess
        from readiness.herd.board import assess_book, groups_on

        shelf = self._shelf(known, last=last)
        key = find_bull(tag, shelf.tags, shelf.names, self.book.path)
        own = shelf.of(key)
        on = self.on.toordinal()
        if not any(entry.kind == "bull" and entry.day <= on for entry in own):
            first = date.fromordinal(min(e.day for e in own if e.kind == "bull")).isoformat()
            raise NotFound(f"{tag} is booked from {first} on; on {self.on.isoformat()} he is not.")
        rulebook = self.rules()
        mine = sorted([*shelf.groups, *own])
        board = assess_book(mine, rulebook, on)
        state = _state(own, rulebook, on, key)
        if board.bulls:
            assessment = board.bulls[0]
        else:
            assessment = assess(state, on, turnout=None, group=None, role=None)
        groups = groups_on(shelf.groups, rulebook, on)
        return Card(assessment, state, tuple(reversed(own)), state.rules, groups)

    def visits(
        self,
        wishes: Wishes,
        *,
        farm: str | None = None,
        turnout: date | None = None,
        seconds: float = 20.0,
    ) -> VisitPlan:
        """The fewest return visits; what was found in so many seconds where that is not proven.

        Raises ``NotFound`` where there is no such book or farm, ``RulesError`` for a country whose
        public holidays nobody knows, ``UsageError`` for wishes that nobody can meet.
        """
        from readiness.herd.board import fold_book
        from readiness.rules.public_holidays import check_places
        from readiness.visits.plan import plan_herd

        check_places(self.rules(), self.rules_path.name if self.rules_path else "")
        entries = self._read()
        if farm is not None:
            self._known_farm(farm, entries)
        late = turnout.toordinal() if turnout else None
        herd = fold_book(entries, self.rules(), self.on.toordinal(), late)
        return plan_herd(herd, wishes, seconds, farm=farm)

    def stats(
        self, *, farm: str | None = None, since: date | None = None, known: str | None = None
    ) -> Figures:
        """How often what was found on the feet lifted up to the day, from ``since`` on.

        Raises ``NotFound`` where there is no such book or farm.
        """
        from readiness.herd.stats.figures import figures
        from readiness.herd.stats.lifts import foot_lifts

        entries, rules, on = self._read(known), self.rules(), self.on.toordinal()
        if farm is not None:
            self._known_farm(farm, entries)
        return figures(
            foot_lifts(entries, rules, on),
            on=on,
            few=rules.for_farm(farm).stats.stats_few,
            since=since.toordinal() if since else None,
            farm=farm,
        )

    def day_sheets(self, *, farm: str | None = None) -> tuple[tuple[Sheet, ...], int | None]:
        """What was seen and done on the day, a sheet for each farm; and the last day before it on
        which something was, where there is no sheet. Raises ``NotFound`` where there is no such
        book or farm."""
        from readiness.herd.day_sheet import day_sheets, last_day_with_work

        entries = self._read()
        if farm is not None:
            self._known_farm(farm, entries)
        on = self.on.toordinal()
        rules = self.rules()
        sheets = day_sheets(entries, rules, on, farm)
        return sheets, None if sheets else last_day_with_work(entries, rules, on, farm)

    def groups(self) -> dict[Key, Group]:
        """Every group by all that this desk last read or wrote of it."""
        return groups_of(self._shelf(last=True).groups) if self.book.exists() else {}

    def entries(self, ids: Collection[str]) -> tuple[Entry, ...]:
        """The entries of these ids, struck ones too, in ``entry_order``."""
        wanted = {entry_id.lower() for entry_id in ids}
        return tuple(entry for entry in self._kept.snapshot().entries if entry.id in wanted)

    def others_wrote(self) -> bool:
        """Whether the book holds something that this desk has neither read nor written."""
        return not self._kept.current()

    def holds(self, ids: Collection[str]) -> bool:
        """Whether any of these ids is in the book, be it struck."""
        return self.book.exists() and bool(self.entries(ids))

    def handled_on(self, day: date) -> set[str]:
        """The keys of the bulls who were lifted, walked, scored, weighed (in a roster is not) or
        had a block fitted or taken off on that day."""
        on = day.toordinal()
        standing = self._kept.standing() if self.book.exists() else []
        return {
            e.bull for e in standing if e.day == on and e.kind in _HANDLED and not from_roster(e)
        }

    def _read(self, known: str | None = None) -> list[Entry]:
        if not self.book.exists():
            raise NotFound(no_book(self.book.path))
        return self._kept.standing() if known is None else self.book.read(known)

    def _shelf(self, known: str | None = None, *, last: bool = False) -> Shelf:
        if not self.book.exists():
            raise NotFound(no_book(self.book.path))
        return self._kept.shelf(last=last) if known is None else Shelf(self.book.read(known))

    def _known_farm(self, farm: str, entries: Iterable[Entry]) -> None:
        known_name("farm", farm, (e.body.get("farm", "") for e in entries if e.kind in _OF_FARM),
                   self.book.path)  # fmt: skip

    # ---- writing -------------------------------------------------------------------------------

    def log(self, tag: str, text: str) -> tuple[Outcome, str]:
        """Write what one line of shorthand says of a bull; with it, his name and the words, and
        the scales of its scores as the farm's rules name them."""
        from readiness.shorthand import Scales, read, words

        shelf = self._shelf()
        key = find_bull(tag, shelf.tags, shelf.names, self.book.path)
        own = shelf.of(key)
        rules = _state(own, self.rules(), self.on.toordinal(), key).rules
        scales = Scales(rules.default_mobility, rules.default_condition)
        written = next(entry.body["bull"] for entry in own if entry.kind == "bull")
        contents = read(text, bull=written, on=self.on, by=self.who, scales=scales)
        name = next((e.body["name"] for e in reversed(own) if "name" in e.body), "")
        whose = f"{written} {name}".strip()
        said = [words(content) for content in contents]
        if scored := dict.fromkeys(c["scale"] for c in contents if "scale" in c):
            said.append(f"In the farm's scales: {', '.join(scored)}.")
        return self.add(contents), f"{whose}: {' '.join(said)}"

    def add(
        self, contents: Sequence[Mapping[str, Any]], ids: Sequence[str] | None = None
    ) -> Outcome:
        """Validate and write contents (of forms, of shorthand) as one batch.

        ``ids``: those of the entries, one for each content, so that what may have been saved before
        a crash can be saved again and is there once; by default they get new ones.

        Raises ``DataError`` with every problem and its field.
        """
        new = new_entries(contents, self.clock, ids)
        return self._write(lambda held: new)

    def import_file(self, path: Path, *, check: bool = False, **of_roster: Any) -> Outcome:
        """Take in a file of entries, or a roster of bulls, all or nothing.

        ``check``: only look; ``written`` then says what would be written. ``of_roster``: as
        ``Pen.take_file`` takes it. Raises ``DataError`` with the place of every problem,
        ``NotFound`` where it cannot be read.
        """
        if not check:
            self._writable()
        return self._pen.take_file(path, self.on, self.who, check=check, **of_roster)

    def strike(self, entry_id: str, why: str) -> Outcome:
        """Withdraw an entry. Raises ``NotFound`` where the book has none with that id."""
        return self._write(
            lambda held: [self._strike(to_withdraw(entry_id, held, self.book.path), why)]
        )

    def correct(self, entry_id: str, contents: Sequence[Mapping[str, Any]]) -> Outcome:
        """Withdraw an entry and say ``contents`` instead: one batch, which one ``undo`` takes back.

        Raises ``NotFound`` where the book has no such entry, ``DataError`` where it is a strike or
        withdrawn already, and where nothing is changed or said instead.
        """
        new = new_entries(contents, self.clock)

        def plan(held: Sequence[Entry]) -> list[NewEntry]:
            target = to_withdraw(entry_id, held, self.book.path)
            refuse_correction(target, held, new)
            return [self._strike(target, "corrected"), *new]

        return self._write(plan)

    def _strike(self, target: Entry, why: str) -> NewEntry:
        said = {"kind": "strike", "on": self.on.isoformat(), "entry": target.id, "why": why}
        return new_entries([{**said, "by": self.who}], self.clock)[0]

    def last_said(self) -> tuple[Entry, ...]:
        """What ``undo`` would take back now. Raises ``NotFound`` where there is nothing left."""
        self._writable()
        if not self.book.exists():
            raise NotFound(no_book(self.book.path))
        return self.entries(self.book.last_said())

    def undo(self) -> tuple[str, ...]:
        """Take back this device's last batch; the ids of its entries (a strike's where what it
        withdrew is said again). Raises ``NotFound`` where there is nothing left."""
        self._writable()
        if not self.book.exists():
            raise NotFound(no_book(self.book.path))
        try:
            return tuple(self.book.undo(self.who))
        finally:
            self._kept.drop()

    def _writable(self) -> None:
        if self.readonly:
            raise CannotWrite("The book was opened to be read only. Start without --readonly.")

    def _write(self, plan: Plan, source: str = "", *, check: bool = False) -> Outcome:
        if not check:
            self._writable()
        return self._pen.write(plan, self.who, source=source, check=check)


def _state(own: Sequence[Entry], rulebook: RuleBook, on: int, key: str) -> History:
    """The bull's history under the rules of the farm he is on that day."""
    from readiness.book.admission import last_farm

    farm = last_farm(entry for entry in own if entry.day <= on)
    from readiness.history import history

    return history(own, rulebook.for_farm(farm), on, key)
