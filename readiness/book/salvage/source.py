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
from readiness.book.salvage.damaged import Reading, Table
from readiness.entries.ids import canonical
from readiness.trade.tags import tag_key

BOOK, JOURNAL, BACKUP = "book", "journal", "backup"


class Receipt(NamedTuple):
    """A row of the table of receipts. Without ``who`` it is the same one as with it."""

    id: str
    recorded: str
    position: int
    batch: str
    device: str
    who: str

    @property
    def itself(self) -> tuple[str, str, int, str, str]:
        return self[:5]


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
    ``others``: the rows of other tables that a book may have, by name; ``whole``: nothing of it is
    missing or in doubt."""

    what: str
    file: Path
    bodies: dict[str, str]
    receipts: list[Receipt]
    known: list[Known]
    unread: int
    others: dict[str, list[dict[str, str]]]
    damaged_lines: list[Unreadable]
    whole: bool


def of_journal(what: Path, files: Sequence[Path]) -> tuple[Source, set[str]]:
    """A journal's lines with a right checksum; and the ids that stand for two contents in it."""
    bodies: dict[str, str] = {}
    receipts: list[Receipt] = []
    damaged: list[Unreadable] = []
    clashing: set[str] = set()
    taken_in: list[dict[str, str]] = []
    for line in lines(files):
        if isinstance(line, Unreadable):
            damaged.append(line)
        elif isinstance(line, TakenIn):
            taken_in.append(
                {n: v if isinstance(v, str) else json.dumps(v) for n, v in line._asdict().items()}
            )
        elif (bodies.get(line.id) or line.body) != line.body:
            clashing.add(line.id)
        elif content_of(line.body) is not None:
            bodies[line.id] = line.body
            receipts.append(Receipt(*line.receipt, line.who))
    others = {"taken_in": taken_in}
    return Source(JOURNAL, what, bodies, receipts, [], 0, others, damaged, not damaged), clashing


def of_readings(what: str, file: Path, readings: Sequence[Reading]) -> Source:
    """What the readings of one damaged file hold together, and is sure."""
    parts = [_of_reading(what, file, found) for found in readings]
    most = max(range(len(parts)), key=lambda at: (readings[at].counts.get("entry", 0), at))
    bodies: dict[str, str] = {}
    receipts: dict[tuple[Any, ...], Receipt] = {}
    others: dict[str, list[dict[str, str]]] = {}
    for part in parts:
        bodies = {**part.bodies, **bodies}
        receipts = {each.itself: each for each in part.receipts} | receipts
        others |= {name: rows for name, rows in part.others.items() if rows}
    return parts[most]._replace(
        bodies=bodies,
        receipts=list(receipts.values()),
        others=others,
        whole=any(part.whole for part in parts),
    )


def _of_reading(what: str, file: Path, found: Reading) -> Source:
    entries, receipts = found.tables.get("entry", {}), found.tables.get("receipt", {})
    strange = _out_of_order(_ids(entries), _ids(receipts))
    bodies: dict[str, str] = {}
    known: list[Known] = []
    there = None if found.sure else set(_ids(receipts))
    for _, row in sorted(entries.items()):
        id_ = row.get("id", "")
        if id_ in strange or (there is not None and id_ not in there):
            id_ = ""  # which one it is cannot be told
        body = _body(row)
        if body is not None and id_ and bodies.get(id_, body) == body:
            bodies[id_] = body
        else:
            known.append(_known(row, body, id_))
    unread = max(0, found.counts.get("entry", 0) - len(entries))
    taken = _receipts(receipts, strange) if found.sure else []
    others = {
        name: [row for _, row in sorted(table.items())]
        for name, table in found.tables.items()
        if name not in ("meta", "entry", "receipt") and found.sure
    }
    whole = found.whole and not known and len(taken) == len(receipts)
    return Source(what, file, bodies, taken, known, unread, others, [], whole)


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
    return found if _MOMENT.fullmatch(found.recorded) and position >= 0 else None


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
