"""An entry as the pure core sees it: a dated, immutable statement by a person.

The edges (``readiness.entries``) validate; the core trusts. Nothing here imports pydantic, so
that the way from the book to the board stays quick.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from datetime import UTC, date, datetime
from functools import lru_cache
from typing import Any, NamedTuple

PERSONS = ("by", "examiner", "given_by")
"""The fields that name a person, of whichever kind of entry."""
NOBODY = "root"
"""An account, and no person: what he says, nobody said."""
NO_PERSON = f"{NOBODY} is an account and no person"


class Entry(NamedTuple):
    """One entry.

    ``day`` is a proleptic Gregorian ordinal (``date.toordinal``): the engine counts in whole days.
    ``bull`` is the look-up key of the tag (``tag_key``), empty for groups and strikes.
    ``body`` is the canonical content as JSON values: ``kind``, ``on``, ``bull`` as written, ``by``,
    ``note`` and the fields of the kind. ``recorded`` is UTC, ISO 8601, of one fixed width, so that
    text order is time order. ``withdrawn``: a booking that was taken back, which stands all the
    same as long as entries speak of the bull (``Shelf.standing``). ``at_odds``: at the first
    booking of a bull, what copies of the book say of him that cannot both be, in words.
    ``written``: when it was first recorded, where it was taken back and is said once more of the
    same day; else empty.
    """

    day: int
    recorded: str
    position: int
    id: str
    kind: str
    bull: str
    body: Mapping[str, Any]
    batch: str = ""
    device: str = ""
    who: str = ""
    withdrawn: bool = False
    at_odds: tuple[str, ...] = ()
    written: str = ""


def entry_order(entry: Entry) -> tuple[int, str, int, str]:
    """The sort key of what is written: by day, then (recorded, position in its batch, id). So do
    entries count, but for what is said anew in the place of another (``book.anew``)."""
    return entry[:4]


def last_farm(entries: Iterable[Entry]) -> str | None:
    """The farm that a bull's entries, in their order, say last."""
    farm = None
    for entry in entries:
        if entry.kind == "bull":
            farm = entry.body.get("farm", farm)
    return farm


ANOTHER_TAG = "another tag: "
"""Why what stood of a bull was taken back, who was given another tag; then comes that."""
AtOdds = Mapping[str, tuple[str, ...]]
"""Look-up key → what copies of a book say of a bull that cannot both be, in words."""


def in_question(strikes: Sequence[Entry]) -> set[str]:
    """The ids of what was given another tag, or taken back more than once: of nothing else can
    copies of a book be at odds."""
    aims = Counter(strike.body["entry"] for strike in strikes)
    given = {s.body["entry"] for s in strikes if (s.body.get("why") or "").startswith(ANOTHER_TAG)}
    return given | {id_ for id_, often in aims.items() if often > 1}


SEEN = frozenset(("feet", "block-off", "mobility", "condition", "vet-exam", "vet-look", "check"))
"""The kinds that may clear a bull: somebody must have seen it."""


def written_ahead(entry: Entry) -> int:
    """How many days before its own day an entry was recorded, by the clock of UTC; 0 or less where
    it was not, or nobody knows."""
    written = entry.written or entry.recorded
    return entry.day - _day(written[:10]) if written else 0


@lru_cache(maxsize=4096)
def _day(text: str) -> int:
    """Entries are many, and the days on which they were recorded few."""
    return date.fromisoformat(text).toordinal()


ROSTER = "roster-"
"""Stands in the id of a batch that came out of a roster. The id goes with its entries into exports
and copies, so that everywhere they can be told from what was said at the crush."""


def from_roster(entry: Entry) -> bool:
    """Whether it was in a spreadsheet: nobody need have had the bull before him to say so."""
    return ROSTER in entry.batch


def recorded_text(moment: datetime) -> str:
    """An aware moment as ``recorded`` writes it: UTC, ``2026-11-25T14:12:03.123456Z``.

    Always 27 characters, so that text order is time order.
    """
    return moment.astimezone(UTC).isoformat(timespec="microseconds").replace("+00:00", "Z")


class NewEntry(NamedTuple):
    """Content with its id and, where it comes out of another copy of a book, its receipt.

    ``line`` is the line of the file it was read from, 0 where it was typed. ``recorded`` (UTC, of
    the fixed width of ``Entry.recorded``), ``position``, ``batch``, ``device`` and ``who`` are None
    for an entry that no book has taken in before: the book that does fills them in. ``text``: the
    content as ``ids.canonical`` writes it, where that was worked out already, else empty.
    """

    id: str
    content: Mapping[str, Any]
    line: int = 0
    recorded: str | None = None
    position: int | None = None
    batch: str | None = None
    device: str | None = None
    who: str | None = None
    text: str = ""


def is_person(name: str) -> bool:
    """Whether a name may be a person's; however it is spelt, an account's is not."""
    return name.strip().casefold() != NOBODY
