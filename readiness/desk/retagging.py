"""A bull under another tag: misread when he was booked, or lost and replaced."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING, NamedTuple

from readiness.book.at_odds import one_bull
from readiness.book.lookup import find_bull
from readiness.book.shelf import Shelf
from readiness.entries.entry import ANOTHER_TAG, Entry, NewEntry
from readiness.system.errors import DataError
from readiness.system.plain import plain
from readiness.trade.tags import match_tag, no_tag, tag_key
from readiness.trade.words import plural, sentence

if TYPE_CHECKING:
    from readiness.desk.desk import Desk
    from readiness.desk.writing import Outcome


class TagTaken(DataError):
    """Another bull has it: ``tag``, as the book writes it; ``there``: that he is in the book, and
    since when nothing was said of him."""

    def __init__(self, was: str, tag: str, shelf: Shelf) -> None:
        key = tag_key(tag)
        self.tag, last = tag, date.fromordinal(shelf.of(key)[-1].day)
        called = f"{tag} {shelf.names.get(key, '')}".strip()
        self.there = f"{called} is in the book already, last spoken of on {last}"
        super().__init__(
            f"{self.there}, as a bull of his own. Where both are one animal, "
            f"`{one_bull(was, tag)}` puts them together; else give the whole tag that he has now. "
            "Nothing was written."
        )


class Retagged(NamedTuple):
    """``tag``: the bull's now; ``words``: what was done."""

    outcome: Outcome
    tag: str
    words: str


def retag(desk: Desk, tag: str, new: str, *, same: bool = False) -> Retagged:
    """Take back all that stands of a bull and say it of the tag ``new`` instead, each on its day:
    one batch, which one undo takes back.

    ``same``: a bull who has that tag already is this one, too. Of bookings that differ the later
    counts, as it does of one bull; none is left out, for it may be what holds him.
    Raises ``NotFound`` for no such bull, ``TagTaken`` without ``same``, ``DataError`` for no tag.
    """
    from readiness.desk.writing import new_entries

    reading = desk.reading()
    tag = reading.shelf.tags[reading.find(tag)]
    told: list[tuple[str, str]] = []

    def instead(held: Sequence[Entry]) -> list[NewEntry]:
        shelf = Shelf([*held])
        key = find_bull(tag, shelf.tags, shelf.names, desk.book.path)
        # A booking that somebody took back is not said again: that he is held for it stands.
        own = [entry for entry in shelf.of(key) if not entry.withdrawn]
        # As it would be written: else one with a mark that nobody sees would be no other bull's.
        typed = plain(new).strip()
        was, taken = shelf.tags[key], whose(typed, shelf.tags, key)
        _refuse(was, typed)
        if taken is not None and not same:
            raise TagTaken(was, taken, shelf)
        if taken is None:
            _refuse_unbooked(was, own)
        name = taken or typed
        said = [{**entry.body, "bull": name} for entry in own]
        new_entries(said[:1], desk.clock)  # a tag that is none is told once, not for each entry
        told.append((name, _done(was, name, len(own), one=taken is not None)))
        why = f"{ANOTHER_TAG}{name}"
        return [*(desk.taken_back(entry, why) for entry in own), *new_entries(said, desk.clock)]

    done = desk.write(instead)
    if not same:  # what else may be odd was said when it was first written
        booked = {entry.id for entry in desk.entries(done.written) if entry.kind == "bull"}
        odd = tuple(each for each in done.warnings if each.entry in {"", *booked})
        done = replace(done, warnings=odd)
    return Retagged(done, *told[-1])


def whose(new: str, tags: Mapping[str, str], key: str) -> str | None:
    """The tag, as the book writes it, of another bull than the one of this ``key`` who has the tag
    ``new``, or whose last digits these are, where they are fewer than his own; None: nobody's.
    ``tags``: key → tag."""
    typed = tag_key(new)
    whole = len(typed) >= len(key)
    meant = [typed] if whole or not typed else match_tag(typed, tags)
    return next((tags[each] for each in meant if each != key and each in tags), None)


def _done(was: str, name: str, many: int, *, one: bool) -> str:
    who = f"{was} and {name} are one bull now" if one else f"{was} is {name} now"
    entries = plural(many, "entry", "entries")
    return f"{who}: {entries} taken back and said of {name}, each on its own day"


def _refuse_unbooked(was: str, own: Sequence[Entry]) -> None:
    if not any(entry.kind == "bull" for entry in own):
        raise DataError(
            f"The booking of {was} was taken back in one copy of the book, and no other stands. "
            f"Book {was} in again (`readiness book-in`), then give him the new tag. Nothing was "
            "written."
        )


def _refuse(was: str, new: str) -> None:
    if not new:
        raise DataError("No new tag is given. Give the whole tag that he has now.")
    if why := no_tag(new):
        raise DataError(f"{sentence(why)} Nothing was written.")
    if tag_key(was) == tag_key(new):
        raise DataError(
            f"{was} is his tag already. `readiness book-in` writes it otherwise, where only blanks "
            "or capitals differ."
        )
