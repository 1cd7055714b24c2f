"""What an export is made of: the book's entries, and how the bulls stand on the day."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import count

from readiness.book.admission import last_farm
from readiness.book.read import effective
from readiness.book.shelf import Shelf
from readiness.engine.results import Board
from readiness.entries.entry import Entry
from readiness.herd.board import Herd, assess_herd, fold_book
from readiness.history import History, history
from readiness.rules.model import RuleBook
from readiness.system.plain import plain


@dataclass(frozen=True)
class Reading:
    """``everything``: strikes and struck ones too, in ``entry_order``. ``on``: the day (an
    ordinal) of what is worked out; what was said is told whatever its own day."""

    everything: list[Entry]
    rules: RuleBook
    on: int

    @cached_property
    def shelf(self) -> Shelf:
        return Shelf(effective(self.everything))

    @cached_property
    def herd(self) -> Herd:
        """The bulls that are here or out."""
        return fold_book(self.shelf.standing, self.rules, self.on)

    @cached_property
    def board(self) -> Board:
        return assess_herd(self.herd)

    @cached_property
    def states(self) -> dict[str, History]:
        """Every bull of whom anything stands, also one that left or is not booked yet, by key."""
        folded = {state.key: state for state in self.herd.states}
        return {
            key: folded.get(key) or self._state(key, own)
            for key, own in sorted(self.shelf.by_bull.items())
        }

    def _state(self, key: str, own: list[Entry]) -> History:
        farm = last_farm(entry for entry in own if entry.day <= self.on)
        return history(own, self.rules.for_farm(farm), self.on, key)

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

    def of(self, kinds: Collection[str]) -> Iterator[Entry]:
        """The entries of these kinds that stand."""
        return (entry for entry in self.shelf.standing if entry.kind in kinds)

    def farm_on(self, key: str, on: int) -> str | None:
        """The farm that the bull was on that day, by what was said up to it."""
        return last_farm(entry for entry in self._bookings.get(key, ()) if entry.day <= on)

    @cached_property
    def _bookings(self) -> dict[str, list[Entry]]:
        return {
            key: [entry for entry in own if entry.kind == "bull"]
            for key, own in self.shelf.by_bull.items()
        }
