"""Planned visits, and whatever else is planned by day, as a calendar file: RFC 5545, its name by
RFC 7986.

A visit is known by its farm and day alone, so that a calendar that reads the file again updates
what it has and doubles nothing. What the file said last time is taken up: a visit that did not
change keeps its stamps, one that is off the plan stays as cancelled until it is planned again.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable
from datetime import UTC, date, datetime
from typing import NamedTuple, Protocol

from icalendar import Calendar

from readiness.report.ics_event import (
    SORTS,
    VISITS,
    Appointment,
    Kept,
    Key,
    NotOurs,
    Sort,
    Stamps,
    content,
    event_bytes,
    read_event,
)
from readiness.report.rows import short_tags
from readiness.report.visits_text import load_words, stop_words
from readiness.system.plain import plain
from readiness.trade.cautions import HANDLING
from readiness.trade.words import FARM_LESS, plural
from readiness.visits.plan import Visit, VisitPlan

_SHORT = 80  # characters of somebody else's file that are shown
_OPEN, _CLOSE = b"\r\nBEGIN:VEVENT\r\n", b"\r\nEND:VEVENT"
_END = b"\r\nEND:VCALENDAR\r\n"
_CANCELLED, _OFF = "CANCELLED", "Cancelled: "


class Spoken(Protocol):
    """What a plan speaks of: what it holds, and the plan does not, is off the plan."""

    def holds(self, shown: Appointment, /) -> bool: ...


class Span(NamedTuple):
    """What the plan speaks of: its days, both ends included, and its farms (None: every farm)."""

    first: date
    last: date
    farms: frozenset[str] | None

    def holds(self, shown: Appointment, /) -> bool:
        of_farm = self.farms is None or shown.farm in self.farms
        return of_farm and self.first <= shown.day <= self.last


class Counted(NamedTuple):
    """What became of the visits: ``new``, ``changed`` (also those planned again), ``cancelled``
    by this writing, and planned ones that stayed the ``same``."""

    new: int
    changed: int
    cancelled: int
    same: int


class Written(NamedTuple):
    """A calendar file's bytes, and what became of the visits."""

    data: bytes
    counted: Counted


def appointments(plan: VisitPlan) -> list[Appointment]:
    """Each visit of the plan, with its bulls in order and what to bring."""
    names = short_tags(bull.bull for bull in plan.board.bulls)
    return [_appointment(visit, names) for visit in plan.visits]


def _appointment(visit: Visit, names: dict[str, str]) -> Appointment:
    where = plain(visit.farm) or FARM_LESS
    bulls = [plain(stop_words(stop, names)) for stop in visit.stops]
    lines = [load_words(visit).capitalize(), *bulls, HANDLING]
    return Appointment(
        farm=visit.farm,
        day=date.fromordinal(visit.on),
        summary=f"Bulls' feet at {where}: {plural(len(visit.stops), 'bull')}",
        description="\n".join(lines),
        status="CONFIRMED" if visit.promised else "TENTATIVE",
    )


def span_of(plan: VisitPlan) -> Span:
    """What the plan speaks of: its days, and its farms; every farm where it was not narrowed.

    Not today: a visit that was made this morning is off the plan, and not cancelled.
    """
    first, last = max(plan.asked.first, plan.board.on + 1), plan.asked.last
    farms = None if plan.farm is None else frozenset({plan.farm})
    return Span(date.fromordinal(first), date.fromordinal(last), farms)


def calendar(
    visits: Iterable[Appointment],
    *,
    span: Spoken,
    now: datetime,
    before: bytes | None,
    sort: Sort = VISITS,
) -> Written:
    """The calendar of the planned visits (or what else this ``sort`` holds), by day and farm.

    ``now``: aware. ``before``: the file as it was written last time. What it holds outside the
    span stays byte for byte as it is; within, what is planned no more is cancelled.

    Raises NotOurs for a ``before`` that is damaged or holds anything that readiness did not write,
    ValueError for two events of one day, farm and kind.
    """
    stamp = now.astimezone(UTC).replace(microsecond=0)
    old = {} if before is None else _events(before, sort)
    planned: dict[Key, Appointment] = {}
    for each in visits:
        if each.key in planned:
            raise ValueError(f"two events {each.key!r}")
        planned[each.key] = each
    blocks = {key: kept.raw for key, kept in old.items()}
    tally: Counter[str] = Counter()
    for key, shown in planned.items():
        what, blocks[key] = _put(old.get(key), shown, stamp, sort)
        tally[what] += 1
    for key, kept in old.items():
        if key not in planned and span.holds(kept.shown) and kept.shown.status != _CANCELLED:
            blocks[key] = _cancelled(kept, stamp, sort)
            tally["cancelled"] += 1
    counted = Counted(*(tally[what] for what in Counted._fields))
    events = b"".join(blocks[key] for key in sorted(blocks))
    return Written(_head(sort) + events + _END[2:], counted)


def _put(old: Kept | None, shown: Appointment, now: datetime, sort: Sort) -> tuple[str, bytes]:
    """What becomes of a planned visit (the name of a count), and its event."""
    if old is None:
        return "new", event_bytes(shown, Stamps(now, now, 0), sort)
    if old.says(shown, sort):
        return "same", old.raw
    return "changed", event_bytes(shown, old.stamps.next(now), sort)


def _cancelled(kept: Kept, now: datetime, sort: Sort) -> bytes:
    """The event, cancelled: also in words, since not every calendar shows the status."""
    shown = kept.shown._replace(status=_CANCELLED, summary=f"{_OFF}{kept.shown.summary}")
    return event_bytes(shown, kept.stamps.next(now), sort)


def _head(sort: Sort) -> bytes:
    """The calendar's own lines (3.6), as far as its first event."""
    empty = Calendar()
    empty.add("PRODID", sort.product)
    empty.add("VERSION", "2.0")
    empty.add("CALSCALE", "GREGORIAN")
    empty.add("METHOD", "PUBLISH")
    empty.add("NAME", sort.name)  # RFC 7986, 5.1
    empty.add("X-WR-CALNAME", sort.name)  # the same, for those that do not know it yet
    return bytes(empty.to_ical()).removesuffix(_END) + b"\r\n"


def _events(data: bytes, sort: Sort) -> dict[Key, Kept]:
    """The events of a file that ``calendar`` made; NotOurs where it did not."""
    if not data.startswith(b"BEGIN:VCALENDAR\r\n"):
        raise NotOurs("is no calendar that readiness wrote")
    if not data.endswith(_END) or re.search(rb"(?<!\r)\n|\r(?!\n)|\0", data):
        raise NotOurs("is damaged: its end is missing, or its lines end otherwise than CR LF")
    try:
        data.decode()
    except UnicodeDecodeError as problem:
        raise NotOurs("is damaged: it is not in UTF-8") from problem
    head, *rest = data.split(_OPEN)
    parts = [piece.partition(_CLOSE) for piece in rest]
    _be_ours(head + b"".join(after for _, _, after in parts), sort)
    events: dict[Key, Kept] = {}
    for inside, close, _ in parts:
        kept = read_event(_OPEN[2:] + inside + close + b"\r\n", sort)
        if kept.shown.key in events:
            raise NotOurs("is damaged: one event stands in it twice")
        events[kept.shown.key] = kept
    return events


def _be_ours(around: bytes, sort: Sort) -> None:
    """NotOurs where what stands around the events is not what readiness writes there."""
    lines = content(around)
    if lines == content(_head(sort) + _END[2:]):
        return
    for other in SORTS:
        if other is not sort and _product_line(other) in lines:
            raise NotOurs(f"holds another calendar of readiness's, {other.name}")
    if _product_line(sort) not in lines:
        maker = "".join(_short(line) for line in lines if line.upper().startswith(b"PRODID:"))
        raise NotOurs(f"was written by something else ({maker or 'it does not say what'})")
    inside = {_short(line) for line in lines if line.upper().startswith(b"BEGIN:")}
    if others := ", ".join(sorted(inside - {"VCALENDAR"})):
        raise NotOurs(f"holds what readiness did not write: {others[:_SHORT]}")
    raise NotOurs("is damaged, or was changed by something else since it was written")


def _product_line(sort: Sort) -> bytes:
    return f"PRODID:{sort.product}".encode()


def _short(line: bytes) -> str:
    """A line's value, fit to be shown."""
    return plain(line.partition(b":")[2].decode())[:_SHORT]
