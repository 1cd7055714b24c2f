"""The book read: what stands in it, under the rules in force, on one day."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from itertools import count
from operator import attrgetter
from pathlib import Path
from typing import TYPE_CHECKING, Any

from readiness.book.lookup import find_bull, known_name
from readiness.book.shelf import Shelf
from readiness.entries.entry import Entry, last_farm
from readiness.system.errors import NotFound, UsageError
from readiness.system.plain import plain
from readiness.trade.words import FARM_LESS, list_words, year_day_words

if TYPE_CHECKING:
    from readiness.cover.ahead import Ahead
    from readiness.cover.turnout import TurnoutDay
    from readiness.cover.whole import Cover
    from readiness.engine.results import Board
    from readiness.herd.board import Herd, Remembered
    from readiness.herd.card import Card
    from readiness.history import History
    from readiness.rules.model import RuleBook, Rules

_OF_FARM = ("bull", "group")


@dataclass(frozen=True)
class Reading:
    """``shelf``: the entries, as they are or as they were known once. ``on``: the day (an ordinal)
    of what is worked out; what was said is told whatever its own day. ``book``: its path.
    ``last``: what was worked out before of that day under these rules. ``home``: the farm that is
    meant where several could be, "" for none."""

    shelf: Shelf
    rules: RuleBook
    on: int
    book: Path
    last: Remembered
    home: str = ""

    # ---- all bulls -----------------------------------------------------------------------------

    @cached_property
    def herd(self) -> Herd:
        """The bulls that are here or out."""
        return self.herd_if(None)

    def herd_if(self, turnout: date | None) -> Herd:
        """The same, what if every group were turned out then (None: as it is)."""
        from readiness.herd.board import fold_book

        late = turnout.toordinal() if turnout else None
        return fold_book(self.shelf.standing, self.rules, self.on, late, self.last)

    @cached_property
    def board(self) -> Board:
        from readiness.herd.board import assess_herd

        return assess_herd(self.herd)

    def cover(
        self,
        *,
        farm: str | None = None,
        group: str | None = None,
        turnout: date | None = None,
        females: int | None = None,
    ) -> Cover:
        """Whether the bulls of each group are enough, and the moves that mend a shortage.
        ``turnout``, ``females``: what if the groups that are asked for had those."""
        from readiness.cover.whole import cover_of
        from readiness.herd.board import assess_herd

        group = None if group is None else self.called(group)
        self.refuse_unknown(farm=farm, group=group)
        herd = self.herd_if(turnout)
        asked = {
            key: of if females is None else of._replace(females=females)
            for key, of in herd.groups.items()
            if farm in (None, key[0]) and group in (None, key[1])
        }
        over = [
            name
            for where, name in self.herd.groups.keys() - herd.groups.keys()
            if farm in (None, where) and group in (None, name)
        ]
        if over:  # left as they are they would be shown as if nothing had been asked
            raise NotFound(
                f"Turned out on {turnout}, {list_words(sorted(over))} would be past the season: "
                "give a later day."
            )
        if group is not None and not asked:
            raise self._no_season(group, farm)
        herd = herd._replace(groups={**self.herd.groups, **asked})
        return cover_of(herd, assess_herd(herd, farm=farm)).only(group)

    def ahead(self, farm: str | None = None) -> Ahead:
        """What is to come for everybody, on one farm or (None) on all."""
        from readiness.cover.ahead import ahead

        self.refuse_unknown(farm=farm)
        return ahead(self.herd, farm)

    def turnout(self, group: str, farm: str | None = None) -> TurnoutDay:
        """Who of a group goes. Raises ``NotFound`` where none of that name has its season before it
        or under way, ``UsageError`` where several farms have one."""
        from readiness.cover.groups import groups_of_board
        from readiness.cover.turnout import turnout_day
        from readiness.herd.board import assess_herd

        group = self.called(group)
        self.refuse_unknown(farm=farm, group=group)
        every = groups_of_board(self.herd, assess_herd(self.herd, farm=farm))
        groups = [each for each in every if each.group == group]
        if not groups:
            raise self._no_season(group, farm)
        if len(groups) > 1:
            groups = [each for each in groups if each.farm == self.home] or groups
        if len(groups) > 1:
            farms = list_words(f'--farm "{each.farm or ""}"' for each in groups)
            raise UsageError(f"Several farms have a group {group}: give one of {farms}.")
        return turnout_day(self.herd, groups[0])

    def _no_season(self, group: str, farm: str | None) -> NotFound:
        """Why a group that somebody named has no season to come or under way that day."""
        said = (e for e in self.shelf.groups if e.body["group"] == group)
        first = min((e.day for e in said if farm in (None, e.body.get("farm", ""))), default=None)
        whose = group if farm is None else f"{group} at {farm or FARM_LESS}"
        if first is None:
            return NotFound(f"There is no group {whose}.")
        over = NotFound(f"The season of {whose} is over: `readiness group` writes the next one.")
        return self._unsaid(whose, first) or over

    def _unsaid(self, whose: str, first: int) -> NotFound | None:
        """Where nothing was said of a group by the day, being first said on another."""
        on, since = map(year_day_words, (self.on, first))
        text = f"On {on} nothing was said yet of {whose}: the first entry is of {since}."
        return NotFound(text) if first > self.on else None

    def called(self, group: str) -> str:
        """The name of a group as the board has it, where only case and spaces differ."""
        from readiness.history.groups import names_of, spelt

        return spelt(group, names_of(self.shelf.groups).values())

    def refuse_unknown(self, *, farm: str | None, group: str | None = None) -> None:
        """Raise ``NotFound`` for a farm or a group (None: all) that nobody ever named, and for a
        group of which nobody had said anything by the day."""
        if farm is not None:
            known_name("farm", farm, self.farms, self.book)
        if group is not None:
            known_name("group", group, (e.body["group"] for e in self.shelf.groups), self.book)
            told = (e.day for e in self.of(("group", "join")) if e.body.get("group") == group)
            if unsaid := self._unsaid(group, min(told)):
                raise unsaid

    @cached_property
    def farms(self) -> set[str]:
        """The farms that somebody named; "" is the one without a name."""
        return {entry.body.get("farm", "") for entry in self.of(_OF_FARM)}

    def of(self, kinds: Collection[str]) -> Iterator[Entry]:
        """The entries of these kinds that stand."""
        return (entry for entry in self.shelf.standing if entry.kind in kinds)

    # ---- one bull ------------------------------------------------------------------------------

    def find(self, tag: str) -> str:
        """The key of the bull that a typed tag or name means; ``NotFound`` for none or several, and
        for a tag that he had before: it says which he has now."""
        tags = self.shelf.tags
        try:
            return find_bull(tag, tags, self.shelf.names, self.book)
        except NotFound as problem:
            from readiness.book.former import formerly
            from readiness.trade.tags import match_tag

            now = set(formerly(self.shelf.everything, tag).values()) & tags.keys()
            if match_tag(tag, tags) or len(now) != 1:
                raise
            his = tags[now.pop()]
            raise NotFound(f"{tag} has another tag since: he is {his} now.") from problem

    def card(self, tag: str) -> Card:
        """One bull and all that is known of him; ``NotFound`` where he is not booked by the day."""
        from readiness.engine.assess import assess
        from readiness.herd.board import assess_herd, fold_book
        from readiness.herd.card import Card

        key = self.find(tag)
        own, on = self.shelf.of(key), self.on
        first = self.shelf.bookings[key][0].day
        if first > on:
            since, asked = (date.fromordinal(day).isoformat() for day in (first, on))
            raise NotFound(f"{tag} is booked from {since} on; on {asked} he is not.")
        by_day = sorted([*self.shelf.groups, *own], key=attrgetter("day"))  # each as it counts
        herd = fold_book(by_day, self.rules, on)
        if herd.states:
            (state,), (assessment,) = herd.states, assess_herd(herd).bulls
        else:  # he has left
            state = self.history_of(key)
            assessment = assess(state, on, turnout=None, group=None, role=None)
        return Card(assessment, state, tuple(reversed(own)), state.rules, herd.groups)

    def history_of(self, key: str) -> History:
        """The bull's history under the rules of the farm he is on that day."""
        from readiness.history import history

        return history(self.shelf.of(key), self.rules_of(key), self.on, key)

    def rules_of(self, key: str) -> Rules:
        """The rules of the farm he is on that day."""
        return self.rules.for_farm(self.farm_on(key, self.on))

    def farm_on(self, key: str, on: int) -> str | None:
        """The farm that the bull was on that day, by what was said up to it."""
        return last_farm(entry for entry in self.shelf.bookings.get(key, ()) if entry.day <= on)

    def said(self, tag: str, text: str, who: str) -> tuple[list[dict[str, Any]], str]:
        """What one line of shorthand says of a bull that day; his name and the words, each score
        with its scale. Raises ``ShorthandError``."""
        from readiness.shorthand import Scales, read, words

        key = self.find(tag)
        rules = self.rules_of(key)
        scales = Scales(rules.default_mobility, rules.default_condition)
        written = self.shelf.bookings[key][0].body["bull"]
        on = date.fromordinal(self.on)
        contents = read(text, bull=written, on=on, by=who, scales=scales)
        whose = f"{written} {self.shelf.names.get(key, '')}".strip()
        return contents, f"{whose}: {' '.join(map(words, contents))}"

    # ---- every bull, for files -----------------------------------------------------------------

    @cached_property
    def states(self) -> dict[str, History]:
        """Every bull of whom anything stands, also one that left or is not booked yet, by key."""
        folded = {state.key: state for state in self.herd.states}
        keys = sorted(self.shelf.by_bull)
        return {key: folded.get(key) or self.history_of(key) for key in keys}

    @cached_property
    def tags(self) -> dict[str, str]:
        """Key → the tag, made plain, that names him in every file: as he was booked last, else as
        he was spoken of. Where two that another copy let in look alike, the second is numbered."""
        found: dict[str, str] = {}
        taken: set[str] = set()
        for key, own in sorted(self.shelf.by_bull.items()):
            tag = plain(self.shelf.tags.get(key) or own[-1].body["bull"]) or "?"
            alike = (f"{tag} ({number})" for number in count(2))
            found[key] = tag if tag not in taken else next(t for t in alike if t not in taken)
            taken.add(found[key])
        return found
