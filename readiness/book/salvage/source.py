"""What one place holds of a book: of a damaged file, of a journal. Pure but for the reading of a
journal's lines.

An entry's text is known to be as written by its digest. Its id and its receipt have none: blocks of
the file that were changed against each other are each whole. But both tables were filled in the
same order, so that one tells of the other, and a batch has one moment, one device and one person.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from hashlib import sha256
from pathlib import Path
from typing import Any, NamedTuple

from readiness.book.journal import TakenIn, Unreadable, lines
from readiness.book.rows import Receipt
from readiness.book.salvage.damaged import Reading, Table
from readiness.entries.ids import canonical
from readiness.trade.tags import tag_key

BOOK, JOURNAL, BACKUP = "book", "journal", "backup"


class Known(NamedTuple):
    """What columns tell of an entry whose text or id is not to be had; "" for what they do not."""

    id: str
    bull: str
    day: str
    kind: str

    @property
    def like(self) -> tuple[str, str, str]:
        """What it has in common with the same entry elsewhere."""
        return tag_key(self.bull), self.day, self.kind


class Source(NamedTuple):
    """``bodies``: id → text that is as written, in order; ``receipts``: in order; ``known``: of
    entries that are not whole here; ``unread``: rows of entries of which nothing is known;
    ``taken_in``: what came in out of other copies and was put out again, in order; ``whole``:
    nothing of it is missing or in doubt."""

    what: str
    file: Path
    bodies: dict[str, str]
    receipts: list[Receipt]
    known: list[Known]
    unread: int
    taken_in: list[TakenIn]
    damaged_lines: list[Unreadable]
    whole: bool


def of_journal(what: Path, files: Sequence[Path]) -> tuple[Source, set[str]]:
    """A journal's lines with a right checksum; and the ids that stand for two contents in it."""
    bodies: dict[str, str] = {}
    receipts: list[Receipt] = []
    damaged: list[Unreadable] = []
    clashing: set[str] = set()
    taken_in: list[TakenIn] = []
    for line in lines(files):
        if isinstance(line, Unreadable):
            damaged.append(line)
        elif isinstance(line, TakenIn):
            taken_in.append(line)
        elif (bodies.get(line.id) or line.body) != line.body:
            clashing.add(line.id)
        elif content_of(line.body) is not None:
            bodies[line.id] = line.body
            receipts.append(Receipt(line.id, *line.receipt[1:], line.who))
    found = Source(JOURNAL, what, bodies, receipts, [], 0, taken_in, damaged, not damaged)
    return found, clashing


class _Part(NamedTuple):
    """One reading of a file. ``whole``, ``known``: by row of the table of entries."""

    whole: dict[int, tuple[str, str]]
    known: dict[int, Known]
    receipts: list[Receipt]
    taken_in: list[TakenIn]
    all_of_it: bool


def of_readings(what: str, file: Path, readings: Sequence[Reading]) -> Source:
    """What the readings of one damaged file hold together, and is sure."""
    bodies: dict[str, str] = {}
    known: dict[int, Known] = {}
    receipts: dict[tuple[Any, ...], Receipt] = {}
    taken_in: list[TakenIn] = []
    parts = [_part(found) for found in readings]
    for part in parts:
        for id_, body in part.whole.values():
            bodies.setdefault(id_, body)
        known |= part.known
        receipts = {each[:5]: each for each in part.receipts} | receipts
        taken_in = taken_in or part.taken_in
    at = {row for part in parts for row in part.whole}
    rows = max(found.counts.get("entry", 0) for found in readings)
    left = [each for row, each in sorted(known.items()) if row not in at]
    return Source(
        what=what,
        file=file,
        bodies=bodies,
        receipts=list(receipts.values()),
        known=left,
        unread=max(0, rows - len(at | known.keys())),
        taken_in=taken_in,
        damaged_lines=[],
        whole=any(part.all_of_it for part in parts),
    )


def _part(found: Reading) -> _Part:
    entries, receipts = found.tables.get("entry", {}), found.tables.get("receipt", {})
    strange = _out_of_order(_ids(entries), _ids(receipts))
    ids: dict[str, str] = {}
    whole: dict[int, tuple[str, str]] = {}
    known: dict[int, Known] = {}
    there = None if found.sure else set(_ids(receipts))
    for at, row in sorted(entries.items()):
        id_ = row.get("id", "") if _ID.fullmatch(row.get("id", "")) else ""
        if id_ in strange or (there is not None and id_ not in there):
            id_ = ""  # which one it is cannot be told
        body = _body(row)
        if body is not None and id_ and ids.setdefault(id_, body) == body:
            whole[at] = (id_, body)
        else:
            known[at] = _known(row, body, id_)
    taken = _receipts(receipts, strange) if found.sure else []
    rows = found.tables.get("taken_in", {}) if found.sure else {}
    taken_in = [each for _, row in sorted(rows.items()) if (each := _taken_in(row))]
    all_of_it = found.whole and not known and len(taken) == len(receipts)
    return _Part(whole, known, taken, taken_in, all_of_it)


def content_of(body: str) -> dict[str, Any] | None:
    """The content that a text says, None where it is none that this program wrote."""
    try:
        content = json.loads(body)
        day, kind = content["on"], content["kind"]
        date.fromisoformat(day)
        whole = isinstance(kind, str) and canonical(content) == body
    except (ValueError, TypeError, KeyError):
        return None
    return content if whole else None


def _body(row: dict[str, str]) -> str | None:
    """The text of an entry's row, if it is what was written and the row's other columns, as far as
    they were read, say the same."""
    body = row.get("body", "")
    if not body or sha256(body.encode("utf-8")).hexdigest() != row.get("digest"):
        return None
    content = content_of(body)
    if content is None:
        return None
    said = {
        "day": content["on"],
        "kind": content["kind"],
        "bull": tag_key(content.get("bull") or ""),
    }
    return body if all(row.get(name, value) == value for name, value in said.items()) else None


def _known(row: dict[str, str], body: str | None, id_: str) -> Known:
    content = content_of(body) if body else None
    if content:
        row = {"day": content["on"], "kind": content["kind"], "bull": content.get("bull") or ""}
    return Known(id_, row.get("bull", ""), row.get("day", ""), row.get("kind", ""))


def _ids(table: Table) -> list[str]:
    """The ids of a table in its order, each once."""
    found = (row["id"] for _, row in sorted(table.items()) if "id" in row)
    return list(dict.fromkeys(found))


def _out_of_order(entries: Sequence[str], receipts: Sequence[str]) -> set[str]:
    """The ids that do not stand at the same place in both tables: which of them is beside a row
    that is not its own cannot be told."""
    both = set(entries) & set(receipts)
    one = [id_ for id_ in entries if id_ in both]
    other = [id_ for id_ in receipts if id_ in both]
    return {id_ for pair in zip(one, other, strict=True) if pair[0] != pair[1] for id_ in pair}


_ID = re.compile(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}")
_MOMENT = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{6}Z")


def _receipts(table: Table, strange: set[str]) -> list[Receipt]:
    """Those of which every column was read and is what it can be."""
    rows = [row for _, row in sorted(table.items())]
    said = [one for one in map(_receipt, rows) if one and one.id not in strange]
    return [one for one, whole in zip(said, _as_its_batch(said), strict=True) if whole]


def _receipt(row: dict[str, str]) -> Receipt | None:
    try:
        position = int(row["position"])
        found = Receipt(**{**{n: row[n] for n in Receipt._fields}, "position": position})  # type: ignore[arg-type]
    except (KeyError, ValueError):
        return None
    proper = _ID.fullmatch(found.id) and _MOMENT.fullmatch(found.recorded) and position >= 0
    return found if proper else None


def _taken_in(row: dict[str, str]) -> TakenIn | None:
    try:
        id_, batch, recorded, device, who, source, here, held = (row[n] for n in TakenIn._fields)
        found = TakenIn(id_, batch, recorded, device, who, source, here == "true", int(held))
    except (KeyError, ValueError):
        return None
    proper = _ID.fullmatch(id_) and _MOMENT.fullmatch(recorded) and here in ("true", "false")
    return found if proper else None


def _as_its_batch(receipts: Sequence[Receipt]) -> Iterator[bool]:
    """Of each whether its batch has one moment and device, and one person as far as it is said."""
    of_batch: dict[str, set[tuple[str, str]]] = {}
    people: dict[str, set[str]] = {}
    for each in receipts:
        of_batch.setdefault(each.batch, set()).add((each.recorded, each.device))
        people.setdefault(each.batch, set()).update({each.who} - {""})
    for each in receipts:
        same = len(of_batch[each.batch]) == 1 and len(people[each.batch]) <= 1
        yield same or not each.batch


def rows_like(known: Iterable[Known]) -> Counter[tuple[str, str, str]]:
    """How many there are of one bull, day and kind."""
    return Counter(each.like for each in known)
