"""The desk: the one core behind the screen and the commands.

It puts the book, the rules and the clock together. What is read goes through the pure engine; what
is written is validated first, and the validators are imported only then.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from datetime import date
from functools import cached_property, partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from readiness.book import Book, Cache, Shelf
from readiness.desk.reading import Reading
from readiness.entries.entry import Entry, NewEntry
from readiness.settings.settings import NONE_SET, Settings
from readiness.system.background import Background
from readiness.system.clock import Clock
from readiness.system.errors import CannotWrite
from readiness.system.locations import file_stamp
from readiness.system.progress import Progress, nobody, part

if TYPE_CHECKING:
    from readiness.cover.ahead import Ahead
    from readiness.cover.results import GroupCover
    from readiness.desk.merging import Merging
    from readiness.desk.writing import NewEntries, Outcome, Writer
    from readiness.engine.results import Board
    from readiness.herd.board import Herd, Remembered
    from readiness.herd.card import Card
    from readiness.herd.day_sheet import Sheet
    from readiness.herd.done import Done
    from readiness.herd.stats.results import Figures
    from readiness.history.groups import Group, Key
    from readiness.rules.model import RuleBook
    from readiness.visits.asked import Wishes
    from readiness.visits.plan import VisitPlan


class Desk:
    """One person's desk over one book.

    ``on`` is the day assessed and the day of what is entered (None: today, asked anew each time);
    ``who`` is written as ``by``; ``readonly`` refuses every writing. Whatever reads raises
    ``NotFound`` where there is no book yet, or no such farm, group or bull in it.
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
        settings: Settings = NONE_SET,
    ) -> None:
        self.book = book
        self.rules_path = rules_path
        self.clock = clock
        self.who = who
        self.readonly = readonly
        self.settings = settings
        self._on = on
        self._rules: tuple[object, RuleBook] | None = None
        self._last: Remembered | None = None
        self._cache = Cache(book)

    @property
    def on(self) -> date:
        return self._on or self.clock.today()

    # ---- reading -------------------------------------------------------------------------------

    def rules(self) -> RuleBook:
        """The rules in force, read anew when their file changed."""
        stamp = file_stamp(self.rules_path)
        if self._rules is None or self._rules[0] != stamp:
            from readiness.rules.load import load_rules

            self._rules = (stamp, load_rules(self.rules_path, self.settings.mine))
        return self._rules[1]

    def stamp(self) -> tuple[object, ...]:
        """Changes when the book or the rules change."""
        return (self.book.stamp(), file_stamp(self.rules_path))

    def reading(self, known: str | None = None, *, last: bool = False) -> Reading:
        """The book as it is now, as it was known at a moment (``recorded_text``), or (``last``) as
        it was when this desk last read it or wrote into it."""
        read = partial(self._shelf, known, last=last)
        shelf = read if last else Background(read).result
        # While the database reads, outside Python's lock.
        from readiness.herd.board import Remembered

        rules, on = self.rules(), self.on.toordinal()
        kept = self._last
        if kept is None or kept.rulebook is not rules or kept.on != on:
            kept = self._last = Remembered(rules, on, {}, {})
        return Reading(shelf(), rules, on, self.book.path, kept, self.settings.farm)

    def _shelf(self, known: str | None, *, last: bool) -> Shelf:
        shelf = self._cache.held(last=last).shelf
        return shelf if known is None else shelf.as_known(known)

    def board(
        self,
        *,
        farm: str | None = None,
        group: str | None = None,
        turnout: date | None = None,
        known: str | None = None,
    ) -> Board:
        """The board of the day. ``turnout``: what if it were then. ``known``: as the book knew it
        then (``recorded_text``)."""
        return self._board(farm, group, turnout, known)[1]

    def board_and_cover(
        self,
        *,
        farm: str | None = None,
        group: str | None = None,
        turnout: date | None = None,
        known: str | None = None,
    ) -> tuple[Board, tuple[GroupCover, ...]]:
        """The same, and what the bulls of its groups carry."""
        from readiness.cover.groups import groups_of_board

        herd, board = self._board(farm, group, turnout, known)
        return board, groups_of_board(herd, board)

    def _board(
        self, farm: str | None, group: str | None, turnout: date | None, known: str | None
    ) -> tuple[Herd, Board]:
        from readiness.herd.board import assess_herd

        reading = self.reading(known)
        reading.refuse_unknown(farm=farm, group=group)
        group = None if group is None else reading.called(group)
        herd = reading.herd_if(turnout)
        return herd, assess_herd(herd, farm=farm, group=group)

    def card(self, tag: str, *, known: str | None = None, last: bool = False) -> Card:
        """One bull. ``known``, ``last``: as ``reading`` takes them."""
        return self.reading(known, last=last).card(tag)

    def visits(
        self, wishes: Wishes, *, farm: str | None = None, seconds: float = 20.0
    ) -> VisitPlan:
        """The fewest return visits; what was found in so many seconds where that is not proven.

        Raises ``NotFound`` where there is no such book or farm, ``RulesError`` for a country whose
        public holidays nobody knows, ``UsageError`` for wishes that nobody can meet.
        """
        from readiness.visits.plan import plan_herd

        self.settings.refuse_unknown_places(self.rules(), self.rules_path)
        reading = self.reading()
        reading.refuse_unknown(farm=farm)
        return plan_herd(reading.herd, wishes, seconds, farm=farm)

    def ahead(self, *, farm: str | None = None) -> Ahead:
        """What is to come for everybody. Raises as ``visits`` does for farms and holidays."""
        self.settings.refuse_unknown_places(self.rules(), self.rules_path)
        return self.reading().ahead(farm)

    def stats(
        self, *, farm: str | None = None, since: date | None = None, known: str | None = None
    ) -> Figures:
        """How often what was found on the feet lifted up to the day, from ``since`` on."""
        from readiness.herd.stats.figures import figures
        from readiness.herd.stats.lifts import foot_lifts

        reading = self.reading(known)
        reading.refuse_unknown(farm=farm)
        rules, on = reading.rules, reading.on
        lifts = foot_lifts(reading.shelf.standing, rules, on)
        few, first = rules.for_farm(farm).stats.stats_few, since.toordinal() if since else None
        return figures(lifts, on=on, few=few, since=first, farm=farm)

    def day_sheets(self, *, farm: str | None = None) -> tuple[tuple[Sheet, ...], int | None]:
        """What was seen and done on the day, a sheet for each farm; and the last day before it on
        which something was, where there is no sheet."""
        from readiness.herd.day_sheet import day_sheets, last_day_with_work

        reading = self.reading()
        reading.refuse_unknown(farm=farm)
        entries, rules, on = reading.shelf.standing, reading.rules, reading.on
        sheets = day_sheets(entries, rules, on, farm)
        return sheets, None if sheets else last_day_with_work(entries, rules, on, farm)

    def standing(self, *, last: bool = False) -> list[Entry]:
        """The entries that stand, none where there is no book yet. ``last``: as ``reading``."""
        return self._shelf(None, last=last).standing if self.book.exists() else []

    def groups(self) -> dict[Key, Group]:
        """Every group by all that this desk last read or wrote of it."""
        from readiness.history.groups import groups_of

        return groups_of(self.standing(last=True))

    def entries(self, ids: Collection[str]) -> tuple[Entry, ...]:
        """The entries of these ids, struck ones too, in ``entry_order``."""
        return tuple(self._cache.entries({entry_id.lower() for entry_id in ids}))

    def others_wrote(self) -> bool:
        """Whether the book holds something that this desk has neither read nor written."""
        return not self._cache.current()

    def holds(self, ids: Collection[str]) -> bool:
        """Whether any of these ids is in the book, be it struck."""
        return self.book.exists() and bool(self.entries(ids))

    def handled_on(self, day: date) -> dict[str, Done]:
        """What was done on each bull who was lifted or walked, or had a block fitted or taken off,
        on that day, by his key."""
        from readiness.herd.done import done_on

        return done_on(self.standing(), day.toordinal())

    # ---- writing -------------------------------------------------------------------------------

    def log(self, tag: str, text: str) -> tuple[Outcome, str]:
        """Write what one line of shorthand says of a bull; with it, his name and the words."""
        contents, told = self.reading().said(tag, text, self.who)
        return self.add(contents), told

    def add(
        self, contents: Sequence[Mapping[str, Any]], ids: Sequence[str] | None = None
    ) -> Outcome:
        """Validate and write contents (of forms, of shorthand) as one batch.

        ``ids``: those of the entries, one for each content, so that what may have been saved before
        a crash can be saved again and is there once; by default they get new ones.

        Raises ``DataError`` with every problem and its field.
        """
        from readiness.desk.writing import new_entries, spelt_as_held

        new = new_entries(contents, self.clock, ids)
        return self.write(partial(spelt_as_held, new))

    def import_file(
        self,
        path: Path,
        *,
        check: bool = False,
        dates: str | None = None,
        farm: str | None = None,
        renames: bool = False,
        group: str | None = None,
        before: Sequence[Mapping[str, Any]] = (),
        progress: Progress = nobody,
        screen: bool = False,
    ) -> Outcome:
        """Take in a file of entries, or a roster of bulls, all or nothing.

        ``check``: only look; ``written`` says what would be. Of a roster: ``dates`` ("dmy", "mdy")
        is the order of day and month; ``farm`` that of rows that name none, ``group`` the one there
        that they join; ``renames`` takes births and names that would make other bulls of some;
        ``before``: contents to be written in the same batch before them; ``screen``: who asks can
        give no option. Raises ``DataError`` with every problem, ``NotFound`` for no such file."""
        self._writable(check=check)
        from readiness.desk.taking_in import plan_of
        from readiness.desk.writing import new_entries
        from readiness.roster import COMMAND, Importer, on_screen

        way = on_screen(self.book.path, path) if screen else COMMAND
        said = (self.on, self.who, farm, self.clock.today(), renames, group, self.settings.farm)
        first, then = part(progress, 0.0, 0.5), part(progress, 0.5, 1.0)
        plan = plan_of(path, Importer(*said, way), dates, new_entries(before, self.clock), first)
        return self._writer.write(plan, self.who, check=check, progress=then)

    def merge(self, other: Path, *, check: bool = False) -> Merging:
        """Take in another copy of the book, or (``check``) only look. Raises as ``Book.merge``."""
        from readiness.desk.merging import merge

        self._writable(check=check)
        return merge(self.book, self._cache, other, self.who, check=check)

    def strike(self, entry_id: str, why: str) -> Outcome:
        """Withdraw an entry; ``NotFound`` where the book has none with that id."""
        from readiness.desk.writing import to_withdraw

        return self._instead(lambda held: [to_withdraw(entry_id, held, self.book.path)], [], why)

    def correct(self, entry_id: str, contents: Sequence[Mapping[str, Any]]) -> Outcome:
        """Withdraw an entry and say ``contents`` instead: one batch, one ``undo``. Raises
        ``NotFound`` where the book has no such entry, ``DataError`` where it is a strike or
        withdrawn already, and where nothing is changed or said instead."""
        from readiness.book.anew import CORRECTED
        from readiness.desk.writing import new_entries, to_correct

        new, path = new_entries(contents, self.clock), self.book.path
        return self._instead(lambda held: to_correct(entry_id, held, new, path), new, CORRECTED)

    def instead(
        self, ids: Collection[str], contents: Sequence[Mapping[str, Any]], why: str
    ) -> Outcome:
        """Withdraw these entries and say ``contents`` where they stood: one batch (strikes first),
        one ``undo``. ``why``: of ``book.anew``. ``DataError`` where one does not stand any more."""
        from readiness.desk.writing import new_entries, still_standing

        new = new_entries(contents, self.clock)
        return self._instead(lambda held: still_standing(ids, held), new, why)

    def _instead(
        self, found: Callable[[Sequence[Entry]], list[Entry]], new: list[NewEntry], why: str
    ) -> Outcome:
        return self.write(lambda held: [*(self.taken_back(e, why) for e in found(held)), *new])

    def taken_back(self, target: Entry, why: str) -> NewEntry:
        """What takes an entry back, once it is written."""
        from readiness.desk.writing import new_entries

        content = {"kind": "strike", "on": self.on.isoformat(), "entry": target.id, "why": why}
        return new_entries([{**content, "by": self.who}], self.clock)[0]

    def last_said(self) -> tuple[Entry, ...]:
        """What ``undo`` would take back now. Raises ``NotFound`` where there is nothing left."""
        self._writable()
        return tuple(sorted(self.book.last_said()))

    def undo(self) -> tuple[Entry, ...]:
        """Take this device's last batch back, as ``undone``; NotFound where nothing is left."""
        self._writable()
        from readiness.desk.writing import undone

        return undone(self.book, self._cache, self.who)

    def _writable(self, *, check: bool = False) -> None:
        if self.readonly and not check:
            raise CannotWrite("The book was opened to be read only. Start without --readonly.")

    def write(self, entries: NewEntries) -> Outcome:
        """Write what is made of all that the book holds, as one batch."""
        from readiness.desk.writing import Plan

        self._writable()
        return self._writer.write(Plan(entries), self.who)

    @cached_property
    def _writer(self) -> Writer:
        from readiness.desk.writing import Writer

        return Writer(self.book, self._cache, self.clock, self.rules)
