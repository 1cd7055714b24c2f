"""What `undo` takes back: what a device wrote or took in last in this copy of the book."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from datetime import date
from typing import NamedTuple

from duckdb import DuckDBPyConnection

from readiness.book.read import Counts, entries_of, notes_what_came_in, strikes_of
from readiness.book.shelf import untouched
from readiness.book.views import WITHHELD
from readiness.book.write import BatchMeta, Written, add
from readiness.entries.entry import ROSTER, Entry, NewEntry, from_roster
from readiness.entries.ids import again_id, typed_id
from readiness.system.errors import NotFound
from readiness.system.grouped import grouped

# The batches that undo itself writes are known by the beginning of their id: undoing goes past
# them, further back.
UNDO = "undo-"


def undo(
    con: DuckDBPyConnection, name: str, meta: BatchMeta, now: Counts, today: date
) -> tuple[list[Entry], Written]:
    """Take a device's last batch back, in a batch of its own, out of the book that holds ``now``;
    what is taken back, as it was, and what was written."""
    todo = to_undo(con, name, meta.device)
    rostered = todo.again and all(from_roster(target) for _, target in todo.again)
    meta = meta._replace(batch=f"{UNDO}{ROSTER if rostered else ''}{meta.batch}")
    new = [NewEntry(again_id(strike.id), target.body) for strike, target in todo.again]
    strike = {"kind": "strike", "on": today.isoformat(), "why": "undo"}
    strike |= {"by": meta.who} if meta.who else {}
    new += [NewEntry(typed_id(meta.now), {**strike, "entry": id_}) for id_ in todo.strike]
    return todo.entries, add(con, name, new, meta, now, todo.out)


class ToUndo(NamedTuple):
    """What takes a batch back: the ids to strike, (strike, what it withdrew) to say again, and the
    ids that came in out of another copy, to be put out again. ``entries``: what is taken back,
    entries and strikes, in this order."""

    strike: list[str]
    again: list[tuple[Entry, Entry]]
    out: list[str]
    entries: list[Entry]


def to_undo(con: DuckDBPyConnection, name: str, device: str) -> ToUndo:
    """How to take back what this device wrote or took in last in this copy of the book, and has not
    taken back yet. Of the book, only what bears on that is read.

    What it wrote is struck; a strike cannot be struck, so what it withdrew is said again. What came
    in out of another copy is somebody's own day there: it is put out of this copy, and no strike of
    it travels. Raises NotFound where nothing is left to take back.
    """
    for batch in _batches(con, device):
        found = _concerning(con, name, [*batch.wrote, *batch.took_in])
        withdrawals = _Withdrawals(found)
        strike = dict.fromkeys(s for id_ in batch.wrote for s in withdrawals.standing_for(id_))
        again = withdrawals.withdrawn_by(batch.wrote)
        out = _not_needed(con, found, batch.took_in)
        ids = [*strike, *(said.id for said, _ in again), *out]
        if ids:
            entries = [withdrawals.entries[id_] for id_ in ids]
            return ToUndo(list(strike), again, out, entries)
    raise NotFound("There is nothing on this device to take back.")


def _concerning(con: DuckDBPyConnection, name: str, ids: Sequence[str]) -> list[Entry]:
    """The entries of these ids, what those withdrew and what withdrew them, what was said again in
    their place, and the same of each of these; in ``entry_order``."""
    found: dict[str, Entry] = {}
    asked: set[str] = set()
    while new := set(ids) - asked:
        asked |= new
        of_ids, strikes = entries_of(con, name, new), strikes_of(con, name, new)
        found |= {entry.id: entry for entry in (*of_ids, *strikes)}
        said_again = (again_id(strike.id) for strike in strikes)
        aims = (entry.body["entry"] for entry in of_ids if entry.kind == "strike")
        ids = [*(strike.id for strike in strikes), *said_again, *aims]
    return sorted(found.values())


# Of what stays in this copy: the bulls that are spoken of, and which of them are booked; the groups
# that are joined, and which of them are named.
_STAYING = """
    WITH stays AS (
        SELECT * FROM entry ANTI JOIN (SELECT unnest($came) AS id) USING (id)
        ANTI JOIN ({withheld}) USING (id)
    )
    SELECT 'bull', bull, bool_or(kind = 'bull') FROM stays
    WHERE bull IN (SELECT unnest($bulls)) GROUP BY bull
    UNION ALL
    SELECT 'group', body->>'$.group' AS named, bool_or(kind = 'group') FROM stays
    WHERE kind IN ('join', 'group') AND named IN (SELECT unnest($groups)) GROUP BY named
"""


def _not_needed(
    con: DuckDBPyConnection, found: Sequence[Entry], came: Collection[str]
) -> list[str]:
    """Of what came in, all that can be put out: not what books a bull, or names a group, that other
    entries of this copy speak of and nothing else books or names."""
    if not came:
        return []
    own = [entry for entry in found if entry.id in came]
    asked = {
        "came": list(came),
        "bulls": [entry.bull for entry in own if entry.kind == "bull"],
        "groups": [entry.body["group"] for entry in own if entry.kind == "group"],
    }
    rows = con.execute(_STAYING.format(withheld=WITHHELD), asked).fetchall()
    needed = {(kind, name) for kind, name, otherwise in rows if not otherwise}
    return [
        entry.id
        for entry in own
        if (entry.kind, entry.body["group"] if entry.kind == "group" else entry.bull) not in needed
    ]


class _Withdrawals:
    """Entries by id, and the strikes by what they strike. ``book``: all that bears on what is
    asked."""

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
_FIRST = """
    SEMI JOIN (SELECT min(rowid) AS row FROM receipt GROUP BY id) AS first ON first.row = own.rowid
"""
_WRITINGS = f"""
    SELECT batch, max(own.rowid) FROM receipt AS own {_FIRST}
    WHERE device = $device AND NOT starts_with(batch, $undo) GROUP BY batch
"""
_WROTE = f"""
    SELECT own.id FROM receipt AS own {_FIRST}
    WHERE device = $device AND batch = $batch ORDER BY position, own.id
"""
_TAKINGS_IN = """
    SELECT batch, min(receipts), max(rowid) FROM taken_in
    WHERE device = $device AND here AND NOT starts_with(batch, $undo) GROUP BY batch
"""
_TOOK_IN = """
    SELECT id FROM taken_in GROUP BY id
    HAVING arg_max(batch, rowid) = $batch AND arg_max(here AND device = $device, rowid)
"""
_CAME = "SELECT DISTINCT id FROM taken_in SEMI JOIN (SELECT unnest($ids) AS id) AS own USING (id)"


def _batches(con: DuckDBPyConnection, device: str) -> Iterator[_Batch]:
    """Each batch of the device, undo's own left out, the last batch first.

    The last is the one that was written last: the book only grows, and the clock may have been set
    back meanwhile.
    """
    asked = {"device": device, "undo": UNDO}
    place: dict[str, tuple[float, int]] = {
        batch: (last, 0) for batch, last in con.execute(_WRITINGS, asked).fetchall()
    }
    notes = notes_what_came_in(con)
    if notes:
        for batch, receipts, last in con.execute(_TAKINGS_IN, asked).fetchall():
            place[batch] = (receipts - 0.5, last)
    for batch in sorted(place, key=lambda each: place[each], reverse=True):
        own = {"device": device, "batch": batch}
        wrote = _ids(con, _WROTE, own)
        if not notes:
            yield _Batch(wrote, frozenset())
            continue
        foreign = set(_ids(con, _CAME, {"ids": wrote})) if wrote else set[str]()
        took_in = frozenset(_ids(con, _TOOK_IN, own))
        yield _Batch([id_ for id_ in wrote if id_ not in foreign], took_in)


def _ids(con: DuckDBPyConnection, query: str, asked: Mapping[str, object]) -> list[str]:
    return [id_ for (id_,) in con.execute(query, asked).fetchall()]
