"""Entries into the book: one batch, all or nothing."""

from __future__ import annotations

import json
import uuid
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import NamedTuple

from duckdb import DuckDBPyConnection

from readiness.book.admission import admit, clashes, strikes_barred
from readiness.book.journal import Line, entry_line
from readiness.book.read import Counts, counts, entries_about
from readiness.book.schema import renew_views
from readiness.entries.entry import Entry, NewEntry, entry_order, recorded_text
from readiness.entries.ids import canonical, digest
from readiness.system.errors import CannotWrite
from readiness.system.files import make_room, write_whole
from readiness.trade.tags import tag_key

TICK = timedelta(microseconds=1)
SAME_MOMENT = timedelta(seconds=1)


class Written(NamedTuple):
    """What became of a batch: ids written and ids skipped, in the order given.

    ``batch`` is empty where nothing was written. ``entries``: the written ones, as a later reading
    gives them; ``counts``: how much the book holds after it; ``lines``: for the journal;
    ``remarks``: what there is to say of the writing itself, though it was done.
    """

    written: list[str]
    skipped: list[str]
    batch: str
    entries: list[Entry]
    counts: Counts
    lines: Iterable[bytes] = ()
    remarks: tuple[str, ...] = ()


class Moved(Exception):
    """The book holds something else than what the writer had seen; nothing was written.

    For the caller, who looks again and tries again: never shown to people.
    """


class BatchMeta(NamedTuple):
    """Whose batch it is: its id, the moment, the device and the person."""

    batch: str
    now: datetime
    device: str
    who: str


class _Row(NamedTuple):
    """A row of the table of entries."""

    id: str
    day: str
    bull: str
    kind: str
    body: str
    digest: str


class _Receipt(NamedTuple):
    """A row of the table of receipts."""

    id: str
    recorded: str
    position: int
    batch: str
    device: str
    who: str = ""


# One statement for the whole batch: row by row costs a hundred times as much. `ON CONFLICT` does
# not work on a table with triggers. What is held already was left out in the same transaction.
def _adding(table: str, columns: Sequence[str], **types: str) -> str:
    """The statement that adds ``$rows``, a JSON list of objects. ``types``: of what is no text."""
    shape = json.dumps([dict.fromkeys(columns, "VARCHAR") | types])
    rows = f"SELECT unnest(from_json($rows::JSON, '{shape}'), recursive := true)"
    return f"INSERT INTO {table} SELECT {', '.join(columns)} FROM ({rows}) AS new"


_ADD_ENTRIES = _adding("entry", _Row._fields, day="DATE")
_ADD_OWN_RECEIPTS = _adding("receipt", _Receipt._fields, position="INTEGER")
# Out of another copy of the book the same receipt may come again, and is no new one. `who` is not
# compared: an export does not carry it.
_ADD_RECEIPTS = f"""{_ADD_OWN_RECEIPTS}
    WHERE NOT EXISTS (
        FROM receipt AS old WHERE old.id = new.id AND old.recorded = new.recorded
        AND old.position = new.position AND old.batch = new.batch AND old.device = new.device
    )
"""


def add(
    con: DuckDBPyConnection, name: str, entries: Sequence[NewEntry], meta: BatchMeta
) -> Written:
    """Write what the book does not hold yet, with a receipt for each.

    An entry out of another copy keeps that copy's receipt beside ours; the earliest counts. One
    that is here already is skipped, and leaves only a receipt that was not known here. Raises
    DataError, and nothing is written, where an id stands for other content, for a strike of a
    strike, and for one that would leave a bull with entries but none that books him.
    """
    targets = [e.content["entry"] for e in entries if e.content["kind"] == "strike"]
    about = entries_about(con, name, targets) if targets else []
    held = _held(con, [entry.id for entry in entries])
    admit(clashes(held, entries) + strikes_barred(about, entries))
    renew_views(con)
    new: dict[str, _Row] = {}
    skipped: list[str] = []
    for row in map(_row, entries):
        if row.id in held or row.id in new:
            skipped.append(row.id)
        else:
            new[row.id] = row
    con.execute(_ADD_ENTRIES, {"rows": _as_json(new.values())})
    receipts = [
        _Receipt(e.id, e.recorded, e.position or 0, e.batch or "", e.device or "")
        for e in entries
        if e.recorded is not None
    ]
    statement = _ADD_RECEIPTS if receipts else _ADD_OWN_RECEIPTS
    recorded = _moment(con, meta)
    receipts += [
        _Receipt(id_, recorded, position, meta.batch, meta.device, meta.who)
        for position, id_ in enumerate(new)
    ]
    con.execute(statement, {"rows": _as_json(receipts)})
    batch = meta.batch if new else ""
    lines = _journal_lines(entries, receipts)
    written = _as_read(new.values(), receipts)
    return Written(list(new), skipped, batch, written, counts(con), lines)


def _as_read(new: Iterable[_Row], receipts: Iterable[_Receipt]) -> list[Entry]:
    """The new entries as a reading gives them: each with its earliest receipt, in their order."""
    first: dict[str, _Receipt] = {}
    for receipt in sorted(receipts):
        first.setdefault(receipt.id, receipt)
    entries = []
    for row in new:
        of = first[row.id]
        day, body = date.fromisoformat(row.day).toordinal(), json.loads(row.body)
        entries.append(
            Entry(
                day, of.recorded, of.position, row.id, row.kind, row.bull, body, of.batch, of.device
            )
        )
    return sorted(entries, key=entry_order)


def _journal_lines(entries: Sequence[NewEntry], receipts: Sequence[_Receipt]) -> Iterator[bytes]:
    content = {entry.id: entry.content for entry in entries}
    for receipt in receipts:
        id_, recorded, position, batch, device, who = receipt
        body = canonical(content[id_])
        yield entry_line(Line(id_, body, recorded, position, batch, device, who))


def _as_json(rows: Iterable[_Row] | Iterable[_Receipt]) -> str:
    return json.dumps([row._asdict() for row in rows])


def _row(entry: NewEntry) -> _Row:
    content = entry.content
    return _Row(
        id=entry.id,
        day=content["on"],
        bull=tag_key(content.get("bull") or ""),
        kind=content["kind"],
        body=canonical(content),
        digest=digest(content),
    )


def _held(con: DuckDBPyConnection, ids: list[str]) -> dict[str, str]:
    """The digest of each of these ids that the book holds."""
    found = con.execute(
        "SELECT id, digest FROM entry SEMI JOIN (SELECT unnest($ids) AS id) AS asked USING (id)",
        {"ids": ids},
    )
    return dict(found.fetchall())


def _moment(con: DuckDBPyConnection, meta: BatchMeta) -> str:
    """The batch's moment, a tick after this device's last batch where the clock has not moved on.

    So batches of one device stand in the order in which they were written, even on a coarse clock
    or one that was just set back a little.
    """
    row = con.execute(
        "SELECT max(recorded) FROM receipt "
        "WHERE device = $device AND recorded BETWEEN $now AND $soon",
        {
            "device": meta.device,
            "now": recorded_text(meta.now),
            "soon": recorded_text(meta.now + SAME_MOMENT),
        },
    ).fetchone()
    last = row[0] if row else None
    return recorded_text(datetime.fromisoformat(last) + TICK if last else meta.now)


# ---- which device this is: an id of its own in the user's data directory -------------------------


def device_id(file: Path) -> str:
    """The id in ``file``, made on first use; CannotWrite where it can be neither read nor made."""
    try:
        return str(uuid.UUID(file.read_text("ascii").strip()))
    except (FileNotFoundError, ValueError):
        made = str(uuid.uuid4())
        make_room(file.parent)
        write_whole(file, f"{made}\n".encode("ascii"))
        return made
    except OSError as error:
        raise CannotWrite(f"This device's id, {file}, cannot be read: {error.strerror}.") from error
