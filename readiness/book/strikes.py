"""What `undo` takes back: the last batch of a device, by striking it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from duckdb import DuckDBPyConnection

from readiness.book.read import all_entries
from readiness.book.shelf import untouched
from readiness.book.write import BatchMeta, Written, add
from readiness.entries.entry import ROSTER, Entry, NewEntry, from_roster
from readiness.entries.ids import again_id, typed_id
from readiness.system.errors import NotFound
from readiness.system.grouped import grouped

# The batches that undo itself writes are known by the beginning of their id: undoing goes past
# them, further back.
UNDO = "undo-"


def undo(
    con: DuckDBPyConnection, name: str, meta: BatchMeta, today: date
) -> tuple[list[str], Written]:
    """Take a device's last batch back, in a batch of its own; the ids of what is taken back, and
    what was written."""
    todo = to_undo(con, all_entries(con, name), meta.device)
    rostered = todo.again and all(from_roster(target) for _, target in todo.again)
    meta = meta._replace(batch=f"{UNDO}{ROSTER if rostered else ''}{meta.batch}")
    new = [NewEntry(again_id(strike.id), target.body) for strike, target in todo.again]
    strike = {"kind": "strike", "on": today.isoformat(), "why": "undo"}
    strike |= {"by": meta.who} if meta.who else {}
    new += [NewEntry(typed_id(meta.now), {**strike, "entry": id_}) for id_ in todo.strike]
    return todo.ids, add(con, name, new, meta)


class ToUndo(NamedTuple):
    """What takes a batch back: the ids to strike, and (strike, what it withdrew) to say again."""

    strike: list[str]
    again: list[tuple[Entry, Entry]]

    @property
    def ids(self) -> list[str]:
        """What is taken back: entries, and strikes."""
        return [*self.strike, *(strike.id for strike, _ in self.again)]


def to_undo(con: DuckDBPyConnection, book: list[Entry], device: str) -> ToUndo:
    """How to take back this device's last batch that is not taken back yet.

    A strike cannot be struck, so what it withdrew is said again. Raises NotFound where nothing is
    left to take back.
    """
    withdrawals = _Withdrawals(book)
    for batch in _batches(con, device):
        standing = dict.fromkeys(s for id_ in batch for s in withdrawals.standing_for(id_))
        todo = ToUndo(list(standing), withdrawals.withdrawn_by(batch))
        if todo.strike or todo.again:
            return todo
    raise NotFound("There is nothing on this device to take back.")


class _Withdrawals:
    """The book's entries by id, and the strikes by what they strike."""

    def __init__(self, book: list[Entry]) -> None:
        self.entries = {entry.id: entry for entry in book}
        self.standing = {entry.id for entry in untouched(book)}
        strikes = (entry for entry in book if entry.kind == "strike")
        self.strikes = grouped(strikes, lambda strike: str(strike.body["entry"]))

    def standing_for(self, id_: str) -> list[str]:
        """The entry itself where it stands, else what was said again in its place and stands."""
        if id_ in self.standing:
            return [id_]
        again = [again_id(strike.id) for strike in self.strikes.get(id_, ())]
        return [left for id_ in again if id_ in self.entries for left in self.standing_for(id_)]

    def withdrawn_by(self, batch: Sequence[str]) -> list[tuple[Entry, Entry]]:
        """(strike, what it withdrew) for what nothing but this batch's strikes withdrew.

        Left out: what the batch itself had said, and what was said again already.
        """
        found: dict[str, tuple[Entry, Entry]] = {}
        for id_ in batch:
            strike = self.entries.get(id_)
            if strike is None or strike.kind != "strike":
                continue
            target = self.entries.get(strike.body["entry"])
            if target is None or target.kind == "strike" or target.id in batch:
                continue
            ids = {each.id for each in self.strikes[target.id]}
            if ids <= set(batch) and not any(again_id(each) in self.entries for each in ids):
                found.setdefault(target.id, (strike, target))
        return list(found.values())


def _batches(con: DuckDBPyConnection, device: str) -> list[list[str]]:
    """The ids of each batch of the device, undo's own left out, the last batch first.

    The last is the one that was written last: the book only grows, and the clock may have been set
    back meanwhile.
    """
    rows = con.execute(
        "SELECT list(id ORDER BY position, id) FROM receipt "
        "WHERE device = $device AND NOT starts_with(batch, $undo) "
        "GROUP BY batch ORDER BY max(rowid) DESC",
        {"device": device, "undo": UNDO},
    ).fetchall()
    return [row[0] for row in rows]
