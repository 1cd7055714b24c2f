"""Which strikes a book takes, and what `undo` strikes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any, NamedTuple

from duckdb import DuckDBPyConnection

from readiness.book.read import effective
from readiness.entries.entry import Entry
from readiness.entries.ids import again_id
from readiness.entries.new import NewEntry
from readiness.system.errors import DataError, NotFound
from readiness.trade.tags import tag_key

# The batches that undo itself writes are known by the beginning of their id: undoing goes past
# them, further back.
UNDO = "undo-"


def check_strikes(book: Sequence[Entry], new: Sequence[NewEntry]) -> None:
    """Raise DataError for a strike, said here and now, that the book cannot take.

    A strike cannot be struck, and a bull with other entries keeps a `bull` entry, or gets one in
    the same batch. Strikes that come out of another copy of the book were accepted there, and are
    not asked again.
    """
    said = [e for e in new if e.content["kind"] == "strike" and e.recorded is None]
    if not said:
        return
    targets = {entry.content["entry"] for entry in said}
    strikes = {entry.id for entry in book if entry.kind == "strike"} | {
        entry.id for entry in new if entry.content["kind"] == "strike"
    }
    if targets & strikes:
        raise DataError(
            f"{min(targets & strikes)} is itself a strike, and a strike cannot be struck: enter "
            "what was struck once more. Nothing was written."
        )
    standing = effective(book)
    left = [entry for entry in standing if entry.id not in targets]
    anew = {tag_key(e.content["bull"]) for e in new if e.content["kind"] == "bull"}
    orphans = (_booked(standing) - _booked(left) - anew) & {e.bull for e in left}
    if orphans:
        raise DataError(
            f"This would strike the only entry that books the bull {min(orphans)}, who has other "
            "entries: strike those first, or book him anew. Nothing was written."
        )


def _booked(entries: Iterable[Entry]) -> set[str]:
    return {entry.bull for entry in entries if entry.kind == "bull"}


class ToUndo(NamedTuple):
    """What takes a batch back: the ids to strike, and (strike, what it withdrew) to say again."""

    strike: list[str]
    again: list[tuple[Entry, Entry]]


def to_undo(con: DuckDBPyConnection, book: Sequence[Entry], device: str) -> ToUndo:
    """How to take back this device's last batch that is not taken back yet.

    A strike cannot be struck, so what it withdrew is said again. Raises NotFound where nothing is
    left to take back.
    """
    shelf = _Shelf(book)
    for batch in _batches(con, device):
        standing = dict.fromkeys(id_ for said in batch for id_ in shelf.standing_for(said))
        todo = ToUndo(list(standing), shelf.withdrawn_by(batch))
        if todo.strike or todo.again:
            return todo
    raise NotFound("There is nothing on this device to take back.")


class _Shelf:
    """The book's entries by id, and the strikes by what they strike."""

    def __init__(self, book: Sequence[Entry]) -> None:
        self.entries = {entry.id: entry for entry in book}
        self.standing = {entry.id for entry in effective(book)}
        self.strikes: dict[str, list[str]] = {}
        for entry in book:
            if entry.kind == "strike":
                self.strikes.setdefault(entry.body["entry"], []).append(entry.id)

    def standing_for(self, id_: str) -> list[str]:
        """The entry itself where it stands, else what was said again in its place and stands."""
        if id_ in self.standing:
            return [id_]
        again = [again_id(strike) for strike in self.strikes.get(id_, ())]
        return [left for said in again if said in self.entries for left in self.standing_for(said)]

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
            strikes = self.strikes[target.id]
            if set(strikes) <= set(batch) and not any(again_id(s) in self.entries for s in strikes):
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


def strike_of(id_: str, on: str, who: str) -> dict[str, Any]:
    """The content of the strike by which `undo` takes an entry back."""
    said = {"kind": "strike", "on": on, "entry": id_, "why": "undo"}
    return said | {"by": who} if who else said
