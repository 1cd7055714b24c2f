"""What is read from the desk at one moment, with the stamp that tells when it is out of date.

Imports neither textual nor, until something is read, the database.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Generic, TypeVar

if TYPE_CHECKING:
    from readiness.cover.groups import GroupCover
    from readiness.desk.desk import Desk
    from readiness.engine.results import Board
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
    ``own_rules``: the values of the farm's own, a line for each farm.
    """

    board: Board
    carried: tuple[GroupCover, ...]
    as_of: bool
    readonly: bool
    own_rules: tuple[str, ...] = ()


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
    return BoardSheet(board, carried, desk.on != desk.clock.today(), desk.readonly, own)


def read_bull(desk: Desk, key: str) -> BullSheet:
    """One bull, by his look-up key."""
    from readiness.shorthand import words

    card = desk.card(key)
    return BullSheet(card, tuple(words(entry.body) for entry in card.entries))
