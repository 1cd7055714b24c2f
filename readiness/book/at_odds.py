"""What copies of a book that came together say of a bull that cannot both be.

Each was written without the other in sight: one took back what the other says still, or the bull
stands under two tags. Neither is left out; he is held until a person has said which is right. What
was written in the place of an entry is told by its strike: it is of the strike's batch, or it is
what undo says again. Pure.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from shlex import quote
from typing import NamedTuple

from readiness.book.former import key_given
from readiness.entries.entry import AtOdds, Entry, in_question
from readiness.entries.ids import again_id
from readiness.shorthand import words
from readiness.system.grouped import grouped
from readiness.system.plain import plain
from readiness.trade.words import full_day_words


def bulls_of(
    asked: Collection[str], entries: Iterable[Entry], strikes: Iterable[Entry]
) -> set[str]:
    """The bulls, by key, whose entries are in question, and those to whom they were given."""
    keys = {entry.bull for entry in entries if entry.id in asked}
    given = (key_given(strike) for strike in strikes if strike.body["entry"] in asked)
    return (keys | set(given)) - {""}


def at_odds(entries: Iterable[Entry], strikes: Sequence[Entry], asked: set[str]) -> AtOdds:
    """``entries``: all of the ``bulls_of`` the ids ``asked`` (``in_question``); ``strikes``: every
    one."""
    told = _Told(entries, strikes)
    found: dict[str, dict[str, None]] = {}
    for key, text in told.two_tags(asked):
        found.setdefault(key, {})[text] = None
    for entry, strike in told.denied(asked):
        found.setdefault(entry.bull, {})[_denied(entry, strike)] = None
    return {key: tuple(texts) for key, texts in found.items()}


def of_those(
    everything: Sequence[Entry], strikes: Iterable[Entry], asked: Collection[str]
) -> list[Entry]:
    """The entries of the bulls in question."""
    bulls = bulls_of(asked, everything, strikes)
    return [entry for entry in everything if entry.bull in bulls]


class Odds(NamedTuple):
    """``two_tags``: look-up key → what is against a bull who stands under another tag too;
    ``denied``: (what stands, the strike), what is said of a bull in the place of what somebody took
    back and said nothing instead."""

    two_tags: dict[str, str]
    denied: list[tuple[Entry, Entry]]


def odds_among(everything: Sequence[Entry]) -> Odds:
    strikes = [entry for entry in everything if entry.kind == "strike"]
    asked = in_question(strikes)
    told = _Told(of_those(everything, strikes, asked) if asked else (), strikes)
    return Odds(dict(told.two_tags(asked)), [*told.denied(asked)])


class _Told:
    def __init__(self, entries: Iterable[Entry], strikes: Sequence[Entry]) -> None:
        said = sorted(entry for entry in entries if entry.kind != "strike")
        self.by_id = {entry.id: entry for entry in said}
        self.strikes = grouped(sorted(strikes), lambda strike: str(strike.body["entry"]))
        self.by_bull = grouped((e for e in said if e.bull), lambda entry: entry.bull)
        batches = {strike.batch for strike in strikes} - {""}
        self.by_batch = grouped((e for e in said if e.batch in batches), lambda entry: entry.batch)

    def stands(self, entry: Entry) -> bool:
        return entry.id not in self.strikes

    def instead(self, target: Entry, strike: Entry) -> Iterator[Entry]:
        """What was said in the place of an entry with the strike that took it back, or in the place
        of that strike."""
        if (again := self.by_id.get(again_id(strike.id))) is not None:
            yield again
        given = key_given(strike)
        for entry in self.by_batch.get(strike.batch, ()):
            if given:
                if entry.bull == given and _but_for_the_tag(entry) == _but_for_the_tag(target):
                    yield entry
            elif entry.bull == target.bull and entry.kind == target.kind:
                yield entry

    def come_of(self, first: Iterable[Entry]) -> list[Entry]:
        """These and all that was said in the place of any of them, be it taken back."""
        found: dict[str, Entry] = {}
        left = [*first]
        while left:
            entry = left.pop()
            if entry.id not in found:
                found[entry.id] = entry
                strikes = self.strikes.get(entry.id, ())
                left += (new for strike in strikes for new in self.instead(entry, strike))
        return sorted(found.values())

    # ---- one took it back, and another says it still ---------------------------------------------

    def denied(self, asked: set[str]) -> Iterator[tuple[Entry, Entry]]:
        for id_ in sorted(asked & self.by_id.keys()):
            target = self.by_id[id_]
            said = [(strike, [*self.instead(target, strike)]) for strike in self.strikes[id_]]
            nothing = [strike for strike, instead in said if not instead]
            if not nothing:
                continue
            for entry in self.come_of(each for _, instead in said for each in instead):
                if entry.bull and self.stands(entry):
                    yield entry, nothing[0]

    # ---- one bull under two tags -----------------------------------------------------------------

    def two_tags(self, asked: set[str]) -> Iterator[tuple[str, str]]:
        for target in map(self.by_id.__getitem__, sorted(asked & self.by_id.keys())):
            if target.kind != "bull":
                continue
            bookings = self.come_of([target])
            booked = {entry.bull for entry in bookings if self.stands(entry)}
            spoken_of = {entry.bull for entry in bookings if self._left_behind(entry)}
            keys = sorted(booked | spoken_of)
            for key in keys if booked else ():
                for other in keys:
                    if other == key:
                        continue
                    was, now = (other, key) if key in booked else (key, other)
                    yield key, self._one_bull(other, was, now)

    def _left_behind(self, booking: Entry) -> bool:
        """Whether what was written under the tag of a booking that was taken back still speaks of
        this bull: unless he who has that tag since was booked before it was written."""
        standing = [entry for entry in self.by_bull[booking.bull] if self.stands(entry)]
        if not any(entry.kind == "bull" for entry in standing):
            return bool(standing)
        given = [s.recorded for s in self.strikes.get(booking.id, ()) if key_given(s)]
        if not given:
            return False
        of_him = (e for e in self.by_bull[booking.bull] if e.kind == "bull")
        since = min((e.recorded for e in of_him if e.recorded >= given[0]), default="")
        return any(not since or entry.recorded < since for entry in standing)

    def _one_bull(self, other: str, was: str, now: str) -> str:
        return (
            f"in the book as {self._tag(other)} too, since copies of it came together: "
            f"`{one_bull(self._tag(was), self._tag(now))}` makes the two one"
        )

    def _tag(self, key: str) -> str:
        booked = [entry for entry in self.by_bull[key] if entry.kind == "bull"]
        return plain(str(booked[-1].body["bull"]))


def one_bull(was: str, now: str) -> str:
    """The command that puts what is said of one tag under another."""
    return f"readiness retag {quote(was)} {quote(now)} --same"


def _but_for_the_tag(entry: Entry) -> dict[str, object]:
    return {name: value for name, value in entry.body.items() if name != "bull"}


def _denied(entry: Entry, strike: Entry) -> str:
    why = plain(strike.body.get("why") or "")
    said = plain(words(entry.body)).rstrip(".")
    return (
        f"one copy of the book took back what another says still, {said} of "
        f"{full_day_words(entry.day)}{f' ({why})' if why else ''}: `readiness strike {entry.id}` "
        "takes it back here too; if it is right, say it anew after that"
    )
