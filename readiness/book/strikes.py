"""Which strikes a book takes, and what `undo` strikes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from duckdb import DuckDBPyConnection

from readiness.book.read import effective
from readiness.entry import Entry
from readiness.entry_new import NewEntry
from readiness.errors import DataError, NotFound

# The batches that undo itself writes are known by the beginning of their id: undoing goes past
# them, further back.
UNDO = "undo-"


def check_strikes(book: Sequence[Entry], new: Sequence[NewEntry]) -> None:
    """Raise DataError for a strike, said here and now, that the book cannot take.

    A strike cannot be struck, and a bull with other entries keeps a `bull` entry. Strikes that
    come out of another copy of the book were accepted there, and are not asked again.
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
    orphans = (_booked(standing) - _booked(left)) & {e.bull for e in left}
    if orphans:
        raise DataError(
            f"This would strike the only entry that books the bull {min(orphans)}, who has other "
            "entries: strike those first, or book him anew. Nothing was written."
        )


def _booked(entries: Iterable[Entry]) -> set[str]:
    return {entry.bull for entry in entries if entry.kind == "bull"}


def to_undo(con: DuckDBPyConnection, book: Sequence[Entry], device: str) -> list[str]:
    """The ids in this device's last batch that is not undone, as far as they still stand.

    Raises NotFound where there is none, DataError where that batch is a strike by hand.
    """
    kinds = {entry.id: entry.kind for entry in book}
    standing = {entry.id for entry in effective(book)}
    for batch in _batches(con, device):
        left = [id_ for id_ in batch if id_ in standing]
        if left:
            return left
        if all(kinds.get(id_) == "strike" for id_ in batch):
            raise DataError(
                "The last thing written on this device was a strike, and a strike cannot be "
                "struck: enter what was struck once more. Nothing was changed."
            )
    raise NotFound("There is nothing on this device to take back.")


def _batches(con: DuckDBPyConnection, device: str) -> list[list[str]]:
    """The ids of each batch of the device, undo's own left out, the last batch first."""
    rows = con.execute(
        "SELECT list(id ORDER BY position, id) FROM receipt "
        "WHERE device = $device AND NOT starts_with(batch, $undo) "
        "GROUP BY batch ORDER BY max(recorded) DESC, max(rowid) DESC",
        {"device": device, "undo": UNDO},
    ).fetchall()
    return [row[0] for row in rows]


def strike_of(id_: str, on: str, who: str) -> dict[str, Any]:
    """The content of the strike by which `undo` takes an entry back."""
    said = {"kind": "strike", "on": on, "entry": id_, "why": "undo"}
    return said | {"by": who} if who else said
