"""What is read from the desk at one moment, with the stamp that tells when it is out of date.

Imports neither textual nor, until something is read, the database.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby
from typing import TYPE_CHECKING, Generic, NamedTuple, TypeAlias, TypeVar

from readiness.system.forked import forked
from readiness.system.locations import DEMO_DEVICE
from readiness.trade.words import day_words

if TYPE_CHECKING:
    from readiness.cover.results import GroupCover
    from readiness.desk.desk import Desk
    from readiness.engine.results import Board
    from readiness.entries.entry import Entry
    from readiness.herd.card import Card

Stamp = tuple[object, ...]
What = TypeVar("What")


@dataclass(frozen=True, slots=True)
class Seen(Generic[What]):
    """Something read, and the desk's stamp from before it was read."""

    stamp: Stamp
    what: What


@dataclass(frozen=True, slots=True)
class BoardSheet:
    """The board, and what a person should know beside it.

    ``carried``: what the bulls of its groups carry. ``as_of``: the day was chosen, it is not today.
    ``own_rules``: the values of the farm's own, a line for each farm. ``demo``: it is the demo's.
    """

    board: Board
    carried: tuple[GroupCover, ...]
    as_of: bool
    readonly: bool
    own_rules: tuple[str, ...] = ()
    demo: bool = False


@dataclass(frozen=True, slots=True)
class BullSheet:
    """A bull's card, and each of his entries in words."""

    card: Card
    words: tuple[str, ...]


def stamp_of(desk: Desk) -> Stamp:
    """Changes when the book, the rules or the day change."""
    return (desk.on, *desk.stamp())


def read_board(desk: Desk) -> BoardSheet:
    """The board of the desk's day."""
    from readiness.report.rules_text import own_rules

    board, carried = desk.board_and_cover()
    own = tuple(own_rules(desk.rules()))
    as_of, demo = desk.on != desk.clock.today(), is_demo(desk)
    return BoardSheet(board, carried, as_of, desk.readonly, own, demo)


def is_demo(desk: Desk) -> bool:
    """Whether this is the demo, by what was last read of it, whatever else was written there."""
    return any(entry.device == DEMO_DEVICE for entry in desk.standing(last=True))


def read_bull(desk: Desk, key: str) -> BullSheet:
    """One bull, by his look-up key."""
    from readiness.shorthand import words

    card = desk.card(key)
    return BullSheet(card, tuple(words(entry.body) for entry in card.entries))


# ---- what an undo takes back ---------------------------------------------------------------------

SAID_MOST = 5
"""Of more entries than these, what is taken back is only counted."""


class Told(NamedTuple):
    """``keys``: the bulls concerned, "" for a group; ``said``: a line an entry, what goes before
    what stands again in its place, the bull named where another one begins. What goes and stands
    again word for word is not told. ``strikes``: something was withdrawn, and will stand again."""

    keys: frozenset[str]
    said: tuple[str, ...]
    strikes: bool

    @property
    def lines(self) -> str:
        more = len(self.said) - SAID_MOST
        rest = [f"And {more} more."] if more > 0 else []
        return "\n".join([*self.said[:SAID_MOST], *rest])

    @property
    def words(self) -> str:
        return self.lines.replace("\n", " ")


def told(desk: Desk, entries: Sequence[Entry]) -> Told:
    """Entries that are or will be taken back, told so that one sees whose they are."""
    from readiness.entries.ids import canonical

    aimed = [entry.body["entry"] for entry in entries if entry.kind == "strike"]
    back = list(desk.entries(aimed)) if aimed else []
    gone = [entry for entry in entries if entry.kind != "strike"]
    keys = frozenset(entry.bull for entry in (*gone, *back))
    alike = {canonical(e.body) for e in gone} & {canonical(e.body) for e in back}
    changes = [
        ("stands again: " if again else "", entry)
        for again, some in enumerate((gone, back))
        for entry in some
        if canonical(entry.body) not in alike
    ]
    by_bull = groupby(sorted(changes, key=_whose), key=_whose)
    said = [
        _line(desk.on, lead, entry, named=first == 0)
        for _, own in by_bull
        for first, (lead, entry) in enumerate(own)
    ]
    return Told(keys, tuple(said), bool(back))


def _whose(change: tuple[str, Entry]) -> str:
    return change[1].bull


def _line(on: date, lead: str, entry: Entry, *, named: bool) -> str:
    """One entry; its day where that is another one than ``on``."""
    from readiness.shorthand import words

    whose = f"{entry.body['bull']} " if named and "bull" in entry.body else ""
    day = "" if entry.day == on.toordinal() else f"{day_words(entry.day, on)}: "
    return f"{lead}{whose}{day}{words(entry.body)}"


# ---- the first board -----------------------------------------------------------------------------

Early: TypeAlias = "Callable[[], Seen[BoardSheet] | None]"
"""Waits, once, for a board on its way; None where that process could not read it."""


def start_early(open_desk: Callable[[], Desk]) -> Early | None:
    """Begin to read the first board in a process of its own, while this one loads textual: each
    takes about as long as the other. Call it before any thread was started.

    Where the system cannot fork, or the reading fails, there is no early board: the screen then
    reads for itself, and says what is wrong.
    """

    def read() -> Seen[BoardSheet]:
        desk = open_desk()
        return Seen(stamp_of(desk), read_board(desk))

    return forked(read)
