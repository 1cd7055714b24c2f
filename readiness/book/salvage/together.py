"""What was found at all places put together, and what is lost all the same. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import UTC, datetime
from typing import Any, NamedTuple
from uuid import UUID

from readiness.book.journal import TakenIn
from readiness.book.read import Counts
from readiness.book.rows import Receipt
from readiness.book.salvage.source import (
    BOOK,
    JOURNAL,
    Known,
    Source,
    content_of,
    rows_like,
)
from readiness.entries.entry import recorded_text

GIVEN = "salvage-"
"""How the batch of a receipt begins that was made because an entry's own is lost."""


class Lost(NamedTuple):
    """An entry that is not to be had again, by what is known of it; "" for what is not. ``said``:
    the day that its id tells it was first said, in UTC."""

    id: str
    bull: str
    day: str
    kind: str
    recorded: str
    batch: str
    who: str
    said: str


class Together(NamedTuple):
    """``receipts``: in the order of their writing, each of one of the ``bodies``; ``came``: of each
    source how many entries no source before it had; ``given``: the ids that got a receipt anew;
    ``more``: how many entries are lost besides, of which nothing is known; ``sure``: no others
    are."""

    bodies: dict[str, str]
    receipts: list[Receipt]
    taken_in: list[TakenIn]
    came: list[int]
    clashing: list[str]
    given: list[str]
    lost: list[Lost]
    more: int
    sure: bool


def put_together(sources: Sequence[Source], last: Counts | None, now: datetime) -> Together:
    """``last``: how much the book held when its journal was last written, where that says so."""
    first = sorted(sources, key=lambda source: source.what != JOURNAL)
    bodies: dict[str, str] = {}
    clashing: dict[str, None] = {}
    for source in first:
        for id_, body in source.bodies.items():
            if bodies.setdefault(id_, body) != body:
                clashing[id_] = None
    known = woven([source.receipts for source in first])
    lost, more = _lost(sources, bodies, known)
    taken_in = [*dict.fromkeys(row for source in first for row in source.taken_in)]
    held = (len(bodies), len(known), len(taken_in))
    as_said = last is not None and all(
        here >= there
        for here, there in zip(held, (last.entries, last.receipts, last.taken_in), strict=True)
    )
    if as_said:  # rows of the file that say nothing sure are then of what is here
        lost, more = [each for each in lost if each.id], 0
    elif last is not None:
        more = max(more, last.entries - len(bodies) - len(lost))
    receipts = [receipt for receipt in known if receipt.id in bodies]
    having = {receipt.id for receipt in receipts}
    without = [id_ for id_ in bodies if id_ not in having]
    receipts += [_anew(id_, now) for id_ in without]
    in_order = {receipt.id: bodies[receipt.id] for receipt in receipts}
    sure = as_said or _sure(sources, known)
    came = _came(sources)
    return Together(in_order, receipts, taken_in, came, [*clashing], without, lost, more, sure)


def woven(sequences: Iterable[Iterable[Receipt]]) -> list[Receipt]:
    """Each receipt once, in the order of each sequence as far as those before it allow: what is new
    stands right after what it follows. One that names who wrote it down, if any does."""
    after: dict[Any, Any] = {None: None}  # each one's follower; None stands before the first
    found: dict[Any, Receipt] = {}
    for sequence in sequences:
        at = None
        for receipt in sequence:
            if receipt[:5] not in found:
                found[receipt[:5]] = receipt
                after[receipt[:5]], after[at] = after[at], receipt[:5]
            elif not found[receipt[:5]].who:
                found[receipt[:5]] = receipt
            at = receipt[:5]
    in_order = []
    at = after[None]
    while at is not None:
        in_order.append(found[at])
        at = after[at]
    return in_order


def _anew(id_: str, now: datetime) -> Receipt:
    """A receipt in the place of one that is lost: of the moment that the id tells, by nobody and no
    device, so that nobody's undo takes it back."""
    moment = _moment(id_) or now
    return Receipt(id_, recorded_text(moment), 0, f"{GIVEN}{id_}", "", "")


def _moment(id_: str) -> datetime | None:
    """When an entry was said, of an id of version 7."""
    try:
        uuid = UUID(id_)
        seconds = (uuid.int >> 80) / 1000
        return datetime.fromtimestamp(seconds, UTC) if uuid.version == 7 else None
    except (ValueError, OverflowError, OSError):
        return None


def _lost(
    sources: Sequence[Source], bodies: dict[str, str], receipts: Sequence[Receipt]
) -> tuple[list[Lost], int]:
    by_id: dict[str, Known] = {}
    nameless: list[Known] = []
    unread = 0
    for source in sources:
        # A row that has lost its id here may be what stands whole elsewhere.
        elsewhere = [_known(id_, bodies[id_]) for id_ in bodies if id_ not in source.bodies]
        spare = rows_like(elsewhere) + rows_like(nameless)
        for known in source.known:
            if known.id:
                by_id.setdefault(known.id, known)
            elif spare[known.like]:
                spare[known.like] -= 1
            else:
                nameless.append(known)
        unread = max(unread, source.unread - spare.total())
    first: dict[str, Receipt] = {}
    for receipt in sorted(receipts):
        first.setdefault(receipt.id, receipt)
    ids = [id_ for id_ in dict.fromkeys([*first, *by_id]) if id_ not in bodies]
    lost = [_one_lost(id_, by_id.get(id_), first.get(id_)) for id_ in ids]
    lost += [_one_lost("", known, None) for known in nameless]
    return lost, max(0, unread - sum(id_ not in by_id for id_ in ids))


def _known(id_: str, body: str) -> Known:
    content = content_of(body) or {}
    return Known(id_, content.get("bull") or "", content["on"], content["kind"])


def _one_lost(id_: str, known: Known | None, receipt: Receipt | None) -> Lost:
    bull, day, kind = known[1:] if known else ("", "", "")
    recorded, _, batch, _, who = receipt[1:] if receipt else ("", 0, "", "", "")
    moment = _moment(id_)
    said = moment.date().isoformat() if moment else ""
    return Lost(id_, bull, day, kind, recorded, batch, who, said)


def _sure(sources: Sequence[Source], receipts: Sequence[Receipt]) -> bool:
    """Whether nothing can be missing but what is known to be, though the journal does not say how
    much there was: the book is whole, and what the journal lacks is no less than its damaged lines.
    """
    journals = (source.receipts for source in sources if source.what == JOURNAL)
    journal = {receipt[:5] for receipts_ in journals for receipt in receipts_}
    beside = sum(receipt[:5] not in journal for receipt in receipts)
    damaged = sum(len(source.damaged_lines) for source in sources)
    return beside >= damaged and any(s.what == BOOK and s.whole for s in sources)


def _came(sources: Sequence[Source]) -> list[int]:
    seen: set[str] = set()
    came = []
    for source in sources:
        came.append(len(source.bodies.keys() - seen))
        seen |= source.bodies.keys()
    return came
