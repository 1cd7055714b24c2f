"""Entries into the book: one batch, all or nothing."""

from __future__ import annotations

import uuid
from collections.abc import Callable, Collection, Container, Iterable, Iterator, Sequence
from datetime import datetime, timedelta
from functools import partial
from pathlib import Path
from typing import Any, NamedTuple

from duckdb import DuckDBPyConnection

from readiness.book.admission import admit, clashes, strikes_barred
from readiness.book.journal import TakenIn
from readiness.book.read import Counts, entries_about
from readiness.book.rows import (
    Receipt,
    as_read,
    in_parts,
    journal_lines,
    not_here,
    put,
    receipt_of,
    row_of,
    text_of,
)
from readiness.book.views import WITHHELD
from readiness.entries.entry import Entry, NewEntry, recorded_text
from readiness.system.errors import CannotWrite
from readiness.system.files import make_room, write_whole
from readiness.system.progress import Progress, counted, nobody, part

TICK = timedelta(microseconds=1)
SAME_MOMENT = timedelta(seconds=1)


class Written(NamedTuple):
    """What became of a batch: ids written and ids skipped, in the order given.

    ``batch`` is empty where nothing was written. ``as_read``: gives the new ones as a later reading
    does; ``counts``: how much the book holds after it; ``lines``: for the journal;
    ``remarks``: what there is to say of the writing itself, though it was done.
    """

    written: list[str]
    skipped: list[str]
    batch: str
    counts: Counts
    as_read: Callable[[], list[Entry]] = list
    lines: Iterable[bytes] = ()
    remarks: tuple[str, ...] = ()

    @property
    def entries(self) -> list[Entry]:
        """The new ones as a later reading gives them, made when they are asked for."""
        return self.as_read()


class Moved(Exception):
    """The book holds something else than what the writer had seen; nothing was written.

    For the caller, who looks again and tries again: never shown to people.
    """


class BatchMeta(NamedTuple):
    """Whose batch it is: its id, the moment, the device and the person. ``source``: the file that
    it comes out of, "" where typed."""

    batch: str
    now: datetime
    device: str
    who: str
    source: str = ""


def add(
    con: DuckDBPyConnection,
    name: str,
    entries: Sequence[NewEntry],
    meta: BatchMeta,
    now: Counts,
    out: Collection[str] = (),
    *,
    progress: Progress = nobody,
) -> Written:
    """Write what the book, that holds ``now``, does not hold yet, with a receipt for each.

    An entry out of another copy keeps that copy's receipt beside ours; the earliest counts. One
    that is here already is skipped, and leaves only a receipt that was not known here; one that was
    put out is back. ``out``: what came in out of another copy, and is put out. Raises DataError
    where an id stands for other content, for a strike of a strike, and for one that would leave a
    bull with entries but none that books him.
    """
    once = _first_of_each(entries)
    held, withheld, last = _found(con, once, meta, now)
    admit(clashes(held, entries) + strikes_barred(_about_strikes(con, name, entries, out), entries))
    back = withheld & once.keys()
    written = [id_ for id_ in once if id_ not in held or id_ in back]
    new = [once[id_] for id_ in written if id_ not in held]
    recorded = _moment(meta, last)
    told = _told(con, entries, held)
    receipts = partial(_receipts, told, new, recorded, meta)
    came = {entry.id for entry in entries if entry.recorded is not None} | back
    taken_in = noted(con, meta, recorded, [id_ for id_ in written if id_ in came], out)
    into_book = counted(map(row_of, new), len(new), part(progress, 0.0, 0.6))
    lines = journal_lines(lambda id_: text_of(once[id_]), receipts(), taken_in)
    return Written(
        written=written,
        skipped=_skipped(entries, written),
        batch=meta.batch if written or out else "",
        counts=now.after(put(con, into_book, receipts(), taken_in)),
        as_read=lambda: as_read(map(row_of, new), receipts()),
        lines=counted(lines, len(told) + len(new), part(progress, 0.7, 1.0)),
    )


def _first_of_each(entries: Iterable[NewEntry]) -> dict[str, NewEntry]:
    """By id, in the order given."""
    once: dict[str, NewEntry] = {}
    for entry in entries:
        once.setdefault(entry.id, entry)
    return once


def _told(
    con: DuckDBPyConnection, entries: Iterable[NewEntry], held: Container[str]
) -> list[Receipt]:
    """The receipts that the entries bring along and the book does not have. ``held``: the ids that
    it holds: of others it has none."""
    told = [receipt for receipt in map(receipt_of, entries) if receipt is not None]
    unknown = set(not_here(con, (receipt for receipt in told if receipt.id in held)))
    return [receipt for receipt in told if receipt.id not in held or receipt in unknown]


def _receipts(
    told: Iterable[Receipt], new: Iterable[NewEntry], recorded: str, meta: BatchMeta
) -> Iterator[Receipt]:
    """Those that came along, then our own; made one after the other, each time they are asked for:
    all of a large file's would be in memory beside its entries."""
    yield from told
    for position, entry in enumerate(new):
        yield Receipt(entry.id, recorded, position, meta.batch, meta.device, meta.who)


def _about_strikes(
    con: DuckDBPyConnection, name: str, entries: Sequence[NewEntry], out: Collection[str]
) -> list[Entry]:
    """What the book holds that bears on the strikes among ``entries``."""
    targets = [e.content["entry"] for e in entries if e.content["kind"] == "strike"]
    about = entries_about(con, name, targets) if targets else []
    return [entry for entry in about if entry.id not in out]


def noted(
    con: DuckDBPyConnection,
    meta: BatchMeta,
    recorded: str,
    came: Collection[str],
    out: Collection[str] = (),
) -> list[TakenIn]:
    """The rows that say that these ids came in with this batch, and those were put out."""
    if not came and not out:
        return []
    row = con.execute("SELECT count(*) FROM receipt").fetchone()
    of_all = (meta.batch, recorded, meta.device, meta.who, meta.source)
    held = row[0] if row else 0
    return [
        TakenIn(id_, *of_all, here=here, receipts=held)
        for ids, here in ((came, True), (out, False))
        for id_ in ids
    ]


def _skipped(entries: Sequence[NewEntry], written: Sequence[str]) -> list[str]:
    """The ids, in the order given, that were there already or stand here twice."""
    left = set(written)
    skipped = []
    for entry in entries:
        if entry.id in left:
            left.remove(entry.id)
        else:
            skipped.append(entry.id)
    return skipped


class _Found(NamedTuple):
    """What a book holds that a writing asks for: of some ids the digest of each that it holds; the
    ids of what came in and was put out again; the ``last`` moment of late at which this device
    wrote, None where it did not."""

    held: dict[str, str]
    withheld: set[str]
    last: str | None


# One statement: to make each of them ready takes longer than to run it.
_FIND = """
    SELECT 'held', id, digest FROM entry SEMI JOIN (SELECT unnest($ids) AS id) AS asked USING (id)
    UNION ALL SELECT 'last', max(recorded), NULL FROM receipt
        WHERE device = $device AND recorded BETWEEN $now AND $soon
"""
_AND_WITHHELD = f"UNION ALL SELECT 'withheld', id, NULL FROM ({WITHHELD})"


def _found(con: DuckDBPyConnection, ids: Iterable[str], meta: BatchMeta, now: Counts) -> _Found:
    found: dict[str, dict[Any, Any]] = {"held": {}, "withheld": {}, "last": {}}
    asked = {
        "device": meta.device,
        "now": recorded_text(meta.now),
        "soon": recorded_text(meta.now + SAME_MOMENT),
    }
    query = _FIND + (_AND_WITHHELD if now.taken_in else "")
    for some in [*in_parts(ids)] or [[""]]:
        for what, value, digest in con.execute(query, {"ids": some, **asked}).fetchall():
            found[what][value] = digest
    (last,) = found["last"]
    return _Found(found["held"], {*found["withheld"]}, last)


def moment(con: DuckDBPyConnection, meta: BatchMeta) -> str:
    """The batch's moment, a tick after this device's last batch where the clock has not moved on.

    So batches of one device stand in the order in which they were written, even on a coarse clock
    or one that was just set back a little.
    """
    return _moment(meta, _found(con, (), meta, Counts()).last)


def _moment(meta: BatchMeta, last: str | None) -> str:
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
