"""What `undo` takes back: what a device wrote or took in last in this copy of the book."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from datetime import date
from typing import NamedTuple

from duckdb import DuckDBPyConnection

from readiness.book.read import all_entries, notes_what_came_in
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
    return todo.ids, add(con, name, new, meta, todo.out)


class ToUndo(NamedTuple):
    """What takes a batch back: the ids to strike, (strike, what it withdrew) to say again, and the
    ids that came in out of another copy, to be put out again."""

    strike: list[str]
    again: list[tuple[Entry, Entry]]
    out: list[str]

    @property
    def ids(self) -> list[str]:
        """What is taken back: entries, and strikes."""
        return [*self.strike, *(strike.id for strike, _ in self.again), *self.out]


def to_undo(con: DuckDBPyConnection, book: list[Entry], device: str) -> ToUndo:
    """How to take back what this device wrote or took in last in this copy of the book, and has not
    taken back yet.

    What it wrote is struck; a strike cannot be struck, so what it withdrew is said again. What came
    in out of another copy is somebody's own day there: it is put out of this copy, and no strike of
    it travels. Raises NotFound where nothing is left to take back.
    """
    withdrawals = _Withdrawals(book)
    for batch in _batches(con, device):
        standing = dict.fromkeys(s for id_ in batch.wrote for s in withdrawals.standing_for(id_))
        out = _not_needed(book, batch.took_in)
        todo = ToUndo(list(standing), withdrawals.withdrawn_by(batch.wrote), out)
        if todo.ids:
            return todo
    raise NotFound("There is nothing on this device to take back.")


def _not_needed(book: list[Entry], came: Collection[str]) -> list[str]:
    """Of what came in, all that can be put out: not what books a bull, or names a group, that other
    entries of this copy speak of and nothing else books or names."""
    if not came:
        return []
    stays = [entry for entry in book if entry.id not in came]
    bulls = {e.bull for e in stays} - {e.bull for e in stays if e.kind == "bull"}
    groups = {e.body["group"] for e in stays if e.kind == "join"}
    groups -= {e.body["group"] for e in stays if e.kind == "group"}
    return [
        entry.id
        for entry in book
        if entry.id in came
        and not (entry.kind == "bull" and entry.bull in bulls)
        and not (entry.kind == "group" and entry.body["group"] in groups)
    ]


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


class _Batch(NamedTuple):
    """What one batch of this copy wrote, and what it took in out of another and is here."""

    wrote: list[str]
    took_in: frozenset[str]


# An entry was written by the batch of its first receipt in this copy: others came in later. What a
# merge took in was written by nobody here, be it this device's own in another copy.
_WROTE = """
    SELECT batch, list(receipt.id ORDER BY position, receipt.id), max(receipt.rowid)
    FROM receipt SEMI JOIN (
        SELECT min(rowid) AS at FROM receipt GROUP BY id
    ) AS first ON first.at = receipt.rowid
    WHERE device = $device AND NOT starts_with(batch, $undo) GROUP BY batch
"""
_TOOK_IN = """
    SELECT id, arg_max(batch, rowid), arg_max(here AND device = $device, rowid) FROM taken_in
    GROUP BY id
"""
_TAKINGS_IN = """
    SELECT batch, min(receipts), max(rowid) FROM taken_in
    WHERE device = $device AND here AND NOT starts_with(batch, $undo) GROUP BY batch
"""


def _batches(con: DuckDBPyConnection, device: str) -> Iterator[_Batch]:
    """Each batch of the device, undo's own left out, the last batch first.

    The last is the one that was written last: the book only grows, and the clock may have been set
    back meanwhile.
    """
    asked = {"device": device, "undo": UNDO}
    wrote = {batch: (ids, last) for batch, ids, last in con.execute(_WROTE, asked).fetchall()}
    place = {batch: (last, 0) for batch, (_, last) in wrote.items()}
    came: dict[str, list[str]] = {}
    foreign: set[str] = set()
    if notes_what_came_in(con):
        for id_, batch, here in con.execute(_TOOK_IN, {"device": device}).fetchall():
            foreign.add(id_)
            if here:
                came.setdefault(batch, []).append(id_)
        for batch, receipts, last in con.execute(_TAKINGS_IN, asked).fetchall():
            place[batch] = (receipts - 0.5, last)
    for batch in sorted(place, key=lambda each: place[each], reverse=True):
        ids, _ = wrote.get(batch, ((), 0))
        yield _Batch([id_ for id_ in ids if id_ not in foreign], frozenset(came.get(batch, ())))
