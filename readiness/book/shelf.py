"""A book's entries put in order once: which stand, by bull, the groups, the tags as written."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from functools import cached_property
from typing import TYPE_CHECKING

from readiness.entries.entry import AtOdds, Entry, in_question
from readiness.system.grouped import grouped

if TYPE_CHECKING:
    from readiness.book.anew import Anew


def struck_ids(entries: Iterable[Entry]) -> set[str]:
    """The ids that strikes take away; a strike itself cannot be struck."""
    return aims_of([entry for entry in entries if entry.kind == "strike"])


def aims_of(strikes: Sequence[Entry]) -> set[str]:
    """The ids that these strikes take away; a strike itself cannot be struck."""
    return {strike.body["entry"] for strike in strikes} - {strike.id for strike in strikes}


def untouched(entries: Iterable[Entry]) -> list[Entry]:
    """The entries that nobody took back, in their order: without strikes and what they strike."""
    said = list(entries)
    struck = struck_ids(said)
    return [entry for entry in said if entry.kind != "strike" and entry.id not in struck]


def standing(
    entries: Sequence[Entry], struck: Collection[str], odds: AtOdds, anew: Anew | None
) -> list[Entry]:
    """The entries that stand, as ``Shelf.standing`` says it, out of all of some bulls; ``struck``:
    the ids that strikes take away; ``odds``: what is against them; ``anew``: what is said anew in
    the place of what was taken back, None for nothing."""
    left = _left(entries, struck)
    if anew is not None:
        left = anew.in_order(left)
    return _held_for(left, odds) if odds else left


def _held_for(left: list[Entry], odds: AtOdds) -> list[Entry]:
    """With what is against each bull at the first booking of him that stands."""
    first: dict[str, int] = {}
    for place, entry in enumerate(left):
        if entry.kind == "bull" and entry.bull in odds:
            first.setdefault(entry.bull, place)
    for key, place in first.items():
        left[place] = left[place]._replace(at_odds=odds[key])
    return left


def _left(entries: Sequence[Entry], struck: Collection[str]) -> list[Entry]:
    left = [e for e in entries if e.kind != "strike" and e.id not in struck]
    unbooked = {e.bull for e in entries if e.kind == "bull" and e.id in struck}
    if unbooked:
        booked = {entry.bull for entry in left if entry.kind == "bull"}
        unbooked &= {entry.bull for entry in left} - booked
    if unbooked:
        back = (e for e in entries if e.kind == "bull" and e.bull in unbooked)
        left = sorted([*left, *(entry._replace(withdrawn=True) for entry in back)])
    return left


def effective(entries: list[Entry]) -> list[Entry]:
    """The entries that stand, as ``Shelf.standing`` gives them."""
    return Shelf(entries).standing


def _whose(entry: Entry) -> str:
    return entry.bull


class Shelf:
    """``everything``: strikes and struck ones too, in ``entry_order``. Nobody may change the lists
    that are given."""

    def __init__(self, everything: list[Entry]) -> None:
        self.everything = everything

    def as_known(self, moment: str) -> Shelf:
        """As the book was then (``recorded_text``): later entries and later strikes left out."""
        return Shelf([entry for entry in self.everything if entry.recorded <= moment])

    @cached_property
    def strikes(self) -> list[Entry]:
        return [entry for entry in self.everything if entry.kind == "strike"]

    @cached_property
    def struck(self) -> set[str]:
        """The ids that strikes take away, be they here or still to come out of another copy."""
        return aims_of(self.strikes)

    @cached_property
    def anew(self) -> Anew | None:
        """What is said anew in the place of what was taken back; None where nothing was."""
        if not self.strikes:
            return None
        from readiness.book.anew import Anew

        struck = self.struck
        return Anew(self.strikes, [entry for entry in self.everything if entry.id in struck])

    @cached_property
    def unbooked(self) -> set[str]:
        """The bulls, by key, of whom a booking was taken back, be he booked otherwise or not."""
        return {e.bull for e in self.everything if e.kind == "bull" and e.id in self.struck}

    @cached_property
    def standing(self) -> list[Entry]:
        """The entries that stand: nobody took them back; in ``entry_order``, but what is said anew
        in the place of what that said before (``Anew``).

        The only booking of a bull with other entries cannot be taken back. Two copies of a book may
        say both, the one taking his booking back and the other speaking of him: then it stands all
        the same (``withdrawn``), so that he is on the board, and not gone without a word. What else
        copies say of a bull that cannot both be stands at his booking (``at_odds``).
        """
        return standing(self.everything, self.struck, self.at_odds, self.anew)

    @cached_property
    def at_odds(self) -> AtOdds:
        if not (asked := in_question(self.strikes)):
            return {}
        from readiness.book.at_odds import at_odds, of_those  # hardly a book needs it

        return at_odds(of_those(self.everything, self.strikes, asked), self.strikes, asked)

    @cached_property
    def by_bull(self) -> dict[str, list[Entry]]:
        """Each bull's own entries, by his look-up key."""
        return grouped((entry for entry in self.standing if entry.bull), _whose)

    @cached_property
    def groups(self) -> list[Entry]:
        return [entry for entry in self.standing if entry.kind == "group"]

    @cached_property
    def bookings(self) -> dict[str, list[Entry]]:
        """Each booked bull's ``bull`` entries, by his look-up key."""
        return grouped((entry for entry in self.standing if entry.kind == "bull"), _whose)

    @cached_property
    def tags(self) -> dict[str, str]:
        """Look-up key → tag as it was last written, of the bulls that are booked."""
        return {key: own[-1].body["bull"] for key, own in self.bookings.items()}

    @cached_property
    def names(self) -> dict[str, str]:
        """Look-up key → name as it was last written, of the bulls that have one."""
        booked = (entry for own in self.bookings.values() for entry in own)
        return {entry.bull: entry.body["name"] for entry in booked if entry.body.get("name")}

    def of(self, key: str) -> list[Entry]:
        """The entries of one bull."""
        return self.by_bull.get(key, [])

    def more(self, new: Sequence[Entry]) -> Shelf:
        """With these entries too: what is in order already stays so, where no strike has a say."""
        # Entries compare as `entry_order` does, their ids being unlike: the key would cost more
        # than the sorting.
        shelf = Shelf(sorted([*self.everything, *new]))
        struck, unbooked = self.struck, self.unbooked
        if any(e.kind == "strike" or e.id in struck or e.bull in unbooked for e in new):
            return shelf
        kept = shelf.__dict__
        kept |= {
            "strikes": self.strikes,
            "at_odds": self.at_odds,
            "struck": struck,
            "unbooked": unbooked,
            "anew": self.anew,
        }
        if "standing" in self.__dict__:
            kept["standing"] = self._with_new(self.standing, new)
        if "by_bull" in self.__dict__:
            kept["by_bull"] = dict(self.by_bull)
            for key in {entry.bull for entry in new if entry.bull}:
                own = [entry for entry in new if entry.bull == key]
                kept["by_bull"][key] = self._with_new(self.of(key), own)
        if not any(entry.kind in ("bull", "group") for entry in new):
            for name in {"groups", "bookings", "tags", "names"} & self.__dict__.keys():
                kept[name] = self.__dict__[name]
        return shelf

    def _with_new(self, ordered: list[Entry], new: Sequence[Entry]) -> list[Entry]:
        if self.anew is None:
            return sorted([*ordered, *new])
        return self.anew.with_new(ordered, new)
