"""What the Crush screen asks of the desk: to read, to save, to take back. Imports no textual, and
runs in a thread."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from readiness.book.drafts import Half
from readiness.crush.before import Before, before_of
from readiness.crush.meaning import meaning
from readiness.crush.severity import unsaid
from readiness.crush.slip import Slip
from readiness.herd.card import Card
from readiness.system.errors import NotFound
from readiness.tui.crush.views import Saved
from readiness.tui.shared.undoing import told

if TYPE_CHECKING:
    from readiness.book.drafts import Halves
    from readiness.desk.desk import Desk
    from readiness.engine.results import Board
    from readiness.entries.entry import Entry


@dataclass(frozen=True, slots=True)
class CrushSheet:
    """The board, who has been handled on its day, and the bull in the crush, where there is one."""

    board: Board
    handled: frozenset[str]
    card: Card | None
    readonly: bool


@dataclass(frozen=True, slots=True)
class Back:
    """What was taken back: how it is told, and, where it is all of one bull and can be written as
    shorthand, whose it is and the slip that says it again."""

    saved: Saved
    key: str = ""
    slip: Slip | None = None


def read_crush(desk: Desk, key: str | None) -> CrushSheet:
    """The board of the day and the bull of this key; without him where he is not there."""
    board = desk.board()
    return CrushSheet(board, frozenset(desk.handled_on(desk.on)), card_of(desk, key), desk.readonly)


def left_over(desk: Desk, halves: Halves) -> dict[str, Half]:
    """What earlier windows left half entered, by bull, the newest of each. What was saved before
    its window went is not half entered any more."""
    left = {half.key: half for half in halves.open()}
    for key, half in list(left.items()):
        last: Half | None = half
        while last is not None and last.ids and desk.holds(last.ids):
            last = halves.drop(key)
        if last is None:
            del left[key]
        else:
            left[key] = last
    return left


def card_of(desk: Desk, key: str | None, *, last: bool = False) -> Card | None:
    """The card of a bull; None where he is not, or not any more, on the book. ``last``: as the book
    was when we last read it or wrote into it."""
    if key is None:
        return None
    try:
        return desk.card(key, last=last)
    except NotFound:
        return None


def stands(card: Card, today: date) -> Before:
    """What is known of him before anything is said today."""
    return before_of(card, today)


def save(desk: Desk, halves: Halves, card: Card, half: Half, slip: Slip, called: str) -> Saved:
    """Write the slip of the bull that is ``called`` so; what was written, and what it means.

    The ids go into ``half`` before they go into the book: whoever finds that half after a crash
    sees whether it was saved.
    """
    halves.put(half)
    done = desk.add(slip.contents, ids=half.ids)
    halves.drop(half.key)
    after = desk.card(half.key, last=True)
    before = before_of(card, slip.on)
    odd = (warning.text for warning in done.warnings)
    left = before.unanswered(slip)
    silent = [f"not spoken of, so it stays open: {found.words}" for found in left]
    return Saved(
        title=f"saved {called}",
        said=tuple(slip.said()),
        means=tuple(meaning(card.assessment, after.assessment, desk.on.toordinal())),
        odd=tuple(dict.fromkeys((*odd, *silent, *unsaid(before, slip)))),
    )


def take_back(desk: Desk, called: Callable[[str], str]) -> Back:
    """Undo this device's last batch; ``called`` says whose by his key. Raises ``NotFound`` where
    there is none left."""
    entries = desk.entries(desk.undo())
    back = told(desk, entries)
    key = next(iter(back.keys)) if len(back.keys) == 1 else ""
    card = card_of(desk, key or None)
    if card is None:
        return Back(Saved("taken back (struck)", back.said))
    saved = Saved(f"taken back (struck): {called(key)}", back.said)
    return Back(saved, key, None if back.strikes else _slip_of(entries, card))


def _slip_of(entries: tuple[Entry, ...], card: Card) -> Slip | None:
    """What these entries said, to be said again; None where shorthand cannot say it."""
    from readiness.shorthand import WRITABLE

    first = entries[0].body
    said_alike = {(entry.body["on"], entry.body.get("by", "")) for entry in entries}
    if len(said_alike) > 1 or not all(entry.kind in WRITABLE for entry in entries):
        return None
    return Slip(
        card.assessment.bull,
        date.fromisoformat(first["on"]),
        first.get("by", ""),
        tuple(entry.body for entry in entries),
    )
