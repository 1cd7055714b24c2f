"""Planned visits as a calendar file: RFC 5545, its name by RFC 7986.

A visit is known by its farm and day alone, so that a calendar that reads the file again updates
what it has and doubles nothing. What the file said last time is taken up: a visit that did not
change keeps its stamps, one that is off the plan stays as cancelled until it is planned again.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable
from datetime import UTC, date, datetime
from typing import NamedTuple

from icalendar import Calendar

from readiness.report.ics_event import (
    Appointment,
    Kept,
    NotOurs,
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

_PRODUCT = "-//readiness//return visits//EN"
_PRODUCT_LINE = f"PRODID:{_PRODUCT}".encode()
_NAME = "Return visits"
_SHORT = 80  # characters of somebody else's file that are shown
_OPEN, _CLOSE = b"\r\nBEGIN:VEVENT\r\n", b"\r\nEND:VEVENT"
_END = b"\r\nEND:VCALENDAR\r\n"
_CANCELLED, _OFF = "CANCELLED", "Cancelled: "

Key = tuple[date, str]  # day and farm


class Span(NamedTuple):
    """What the plan speaks of: its days, both ends included, and its farms (None: every farm)."""

    first: date
    last: date
    farms: frozenset[str] | None

    def holds(self, day: date, farm: str) -> bool:
        return self.first <= day <= self.last and (self.farms is None or farm in self.farms)


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
    visits: Iterable[Appointment], *, span: Span, now: datetime, before: bytes | None
) -> Written:
    """The calendar of the planned visits, by day and farm.

    ``now``: aware. ``before``: the file as it was written last time. What it holds outside the
    span stays byte for byte as it is; within, what is planned no more is cancelled.

    Raises NotOurs for a ``before`` that is damaged or holds anything that readiness did not write,
    ValueError for two visits to one farm on one day.
    """
    stamp = now.astimezone(UTC).replace(microsecond=0)
    old = {} if before is None else _events(before)
    planned: dict[Key, Appointment] = {}
    for each in visits:
        if (each.day, each.farm) in planned:
            raise ValueError(f"two visits to {each.farm!r} on {each.day}")
        planned[each.day, each.farm] = each
    blocks = {key: kept.raw for key, kept in old.items()}
    tally: Counter[str] = Counter()
    for key, shown in planned.items():
        what, blocks[key] = _put(old.get(key), shown, stamp)
        tally[what] += 1
    for key, kept in old.items():
        if key not in planned and span.holds(*key) and kept.shown.status != _CANCELLED:
            blocks[key] = _cancelled(kept, stamp)
            tally["cancelled"] += 1
    counted = Counted(*(tally[what] for what in Counted._fields))
    return Written(_head() + b"".join(blocks[key] for key in sorted(blocks)) + _END[2:], counted)


def _put(old: Kept | None, shown: Appointment, now: datetime) -> tuple[str, bytes]:
    """What becomes of a planned visit (the name of a count), and its event."""
    if old is None:
        return "new", event_bytes(shown, Stamps(now, now, 0))
    if old.says(shown):
        return "same", old.raw
    return "changed", event_bytes(shown, old.stamps.next(now))


def _cancelled(kept: Kept, now: datetime) -> bytes:
    """The event, cancelled: also in words, since not every calendar shows the status."""
    shown = kept.shown._replace(status=_CANCELLED, summary=f"{_OFF}{kept.shown.summary}")
    return event_bytes(shown, kept.stamps.next(now))


def _head() -> bytes:
    """The calendar's own lines (3.6), as far as its first event."""
    empty = Calendar()
    empty.add("PRODID", _PRODUCT)
    empty.add("VERSION", "2.0")
    empty.add("CALSCALE", "GREGORIAN")
    empty.add("METHOD", "PUBLISH")
    empty.add("NAME", _NAME)  # RFC 7986, 5.1
    empty.add("X-WR-CALNAME", _NAME)  # the same, for those that do not know it yet
    return bytes(empty.to_ical()).removesuffix(_END) + b"\r\n"


def _events(data: bytes) -> dict[Key, Kept]:
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
    _be_ours(head + b"".join(after for _, _, after in parts))
    events: dict[Key, Kept] = {}
    for inside, close, _ in parts:
        kept = read_event(_OPEN[2:] + inside + close + b"\r\n")
        if (kept.shown.day, kept.shown.farm) in events:
            raise NotOurs("is damaged: one event stands in it twice")
        events[kept.shown.day, kept.shown.farm] = kept
    return events


def _be_ours(around: bytes) -> None:
    """NotOurs where what stands around the events is not what readiness writes there."""
    lines = content(around)
    if lines == content(_head() + _END[2:]):
        return
    if _PRODUCT_LINE not in lines:
        maker = "".join(_short(line) for line in lines if line.upper().startswith(b"PRODID:"))
        raise NotOurs(f"was written by something else ({maker or 'it does not say what'})")
    inside = {_short(line) for line in lines if line.upper().startswith(b"BEGIN:")}
    if others := ", ".join(sorted(inside - {"VCALENDAR"})):
        raise NotOurs(f"holds what readiness did not write: {others[:_SHORT]}")
    raise NotOurs("is damaged, or was changed by something else since it was written")


def _short(line: bytes) -> str:
    """A line's value, fit to be shown."""
    return plain(line.partition(b":")[2].decode())[:_SHORT]
