"""What was taken back and said anew counts within its day where it counted before.

Undo says again what a strike took back; a correction, a lift mended, words given to another bull
and a new tag say it otherwise, in one batch: first the strikes, then, in their order, what is said
instead of each. Else a note added to the morning's examination would have it said after what was
seen wrong in the afternoon, and would end that.
"""

from __future__ import annotations

from bisect import bisect, insort
from collections.abc import Iterable, Sequence
from typing import Any

from readiness.entries.entry import ANOTHER_TAG, Entry
from readiness.entries.ids import again_id

INSTEAD = CORRECTED, MENDED, WRONG_BULL = "corrected", "mended", "wrong bull"
"""Why something was taken back in whose place its batch says something else; so does a new tag."""

Place = tuple[Any, ...]


class Anew:
    """``strikes``: all of a book; ``struck``: what they take back, as far as it is there."""

    def __init__(self, strikes: Sequence[Entry], struck: Iterable[Entry]) -> None:
        self._struck = {entry.id: entry for entry in struck}
        self._again = {again_id(strike.id): strike.body["entry"] for strike in strikes}
        self._instead = _instead(strikes)

    def place(self, entry: Entry) -> Place:
        """The key by which entries count: as ``entry_order``, but that of what it stands for goes
        before its own."""
        place: Place = ()
        passed = set()
        at: Entry | None = entry
        while at is not None and at.id not in passed:
            passed.add(at.id)
            place = (*at[1:4], *place)
            at = self.stands_for(at)
        return (entry.day, *place)

    def stands_for(self, entry: Entry) -> Entry | None:
        """What was taken back and is said anew by this entry."""
        target = self._again.get(entry.id)
        if target is None and entry.batch in self._instead and entry.kind != "strike":
            targets = self._instead[entry.batch]
            at = entry.position - len(targets)
            target = targets[min(at, len(targets) - 1)] if at >= 0 else None
        return None if target is None else self._struck.get(target)

    def in_order(self, entries: list[Entry]) -> list[Entry]:
        """Entries that are in ``entry_order``, in the order in which they count."""
        again, instead = self._again, self._instead
        may_move = [
            at for at, each in enumerate(entries) if each.id in again or each.batch in instead
        ]
        moved = [at for at in may_move if self.stands_for(entries[at]) is not None]
        if not moved:
            return entries
        rest = [*entries]
        for at in reversed(moved):
            del rest[at]
        found: list[Entry] = []
        done = 0
        for place, at in sorted((self.place(entries[at]), at) for at in moved):
            upto = bisect(rest, place, done)  # the rest compare as they count
            found += rest[done:upto]
            found.append(self._as_written(entries[at]))
            done = upto
        return [*found, *rest[done:]]

    def with_new(self, ordered: list[Entry], new: Iterable[Entry]) -> list[Entry]:
        """Entries in the order in which they count, and new ones, put among them."""
        found = [*ordered]
        for entry in new:
            insort(found, self._as_written(entry), key=self.place)
        return found

    def _as_written(self, entry: Entry) -> Entry:
        """The entry that knows when it was first recorded: said once more of the same day it was
        seen no better than it was then."""
        first, passed = entry, {entry.id}
        before = self.stands_for(first)
        while before is not None and before.day == entry.day and before.id not in passed:
            passed.add(before.id)
            first, before = before, self.stands_for(before)
        return entry if first is entry else entry._replace(written=first.recorded)


def _instead(strikes: Iterable[Entry]) -> dict[str, list[str]]:
    """Batch → what its strikes take back, of each batch that begins with them and goes on with what
    is said instead."""
    aims: dict[str, dict[int, str]] = {}
    for strike in strikes:
        if _says_instead(strike):
            aims.setdefault(strike.batch, {})[strike.position] = strike.body["entry"]
    return {
        batch: [of[at] for at in range(len(of))]
        for batch, of in aims.items()
        if max(of) == len(of) - 1
    }


def _says_instead(strike: Entry) -> bool:
    why = strike.body.get("why") or ""
    return why in INSTEAD or why.startswith(ANOTHER_TAG)
