"""One event of a calendar file of ours (RFC 5545, 3.6.1), there and back.

It is all-day, since a plan knows days and no hours, and TRANSPARENT (3.8.2.7): it is seen on its
days, but nobody is shown as busy from midnight to midnight for a visit of an hour or two.
"""

from __future__ import annotations

import re
import uuid
from datetime import date, datetime, timedelta
from typing import NamedTuple
from urllib.parse import quote, unquote

from icalendar import Component, Event, vRecur, vText

from readiness.system.errors import DataError
from readiness.system.plain import plain

# The farm as it stands in the book, percent-encoded: LOCATION is for people, this says it exactly,
# whatever a calendar program makes of backslashes, commas and spaces.
_FARM = "X-READINESS-FARM"
_WHAT = "X-READINESS-WHAT"  # the same of what tells the events of a farm and day apart
_DAILY = "DAILY"
# What stands before the colon of each line of an event, with its parameters.
_ALWAYS = frozenset(
    "BEGIN END UID DTSTART;VALUE=DATE DTEND;VALUE=DATE DTSTAMP CREATED LAST-MODIFIED SEQUENCE "
    f"STATUS TRANSP CATEGORIES SUMMARY {_FARM}".split()
)
_SOMETIMES = frozenset({"LOCATION", "DESCRIPTION", "RRULE", _WHAT})


class NotOurs(DataError):
    """The file that is there is none that readiness wrote. Its text says why, as the end of a
    sentence that the file's name begins."""


class Sort(NamedTuple):
    """A sort of calendar files: no event of one is taken for one of another.

    ``product``: what PRODID says; ``space``: the name space of its UIDs. Both are fixed for ever:
    others would double every event in every calendar.
    """

    product: str
    name: str
    category: str
    space: uuid.UUID


VISITS = Sort(
    "-//readiness//return visits//EN",
    "Return visits",
    "Return visit",
    uuid.uuid5(uuid.NAMESPACE_URL, "urn:readiness:visit"),
)
DIARY = Sort(
    "-//readiness//diary//EN",
    "Diary of the bulls",
    "Diary of the bulls",
    uuid.uuid5(uuid.NAMESPACE_URL, "urn:readiness:diary"),
)
SORTS = (VISITS, DIARY)

Key = tuple[date, str, str]  # day, farm, what


class Appointment(NamedTuple):
    """A visit, or what else stands in the diary, as a calendar shows it.

    ``farm``: "" is the farm without a name. ``description``: several lines; whoever puts names
    into it makes them plain first, since a line break in a name would be kept. ``status``:
    TENTATIVE, CONFIRMED or CANCELLED (3.8.1.11). ``last``: its last day, where it has several.
    ``what`` tells it from others of its farm and day; "" for a visit. ``every``: it comes again
    each so many days up to the last, and lasts one.
    """

    farm: str
    day: date
    summary: str
    description: str
    status: str
    last: date | None = None
    what: str = ""
    every: int | None = None

    @property
    def key(self) -> Key:
        return self.day, self.farm, self.what


class Stamps(NamedTuple):
    """When an event was first written and last changed (UTC, whole seconds), and how often it was
    changed (3.8.7)."""

    created: datetime
    changed: datetime
    sequence: int

    def next(self, now: datetime) -> Stamps:
        """After one more change."""
        return Stamps(self.created, now, self.sequence + 1)


class Kept(NamedTuple):
    """An event as it stands in a file: ``raw`` are its very bytes."""

    shown: Appointment
    stamps: Stamps
    raw: bytes

    def says(self, shown: Appointment, sort: Sort) -> bool:
        """Whether it says just this, wherever its lines are folded."""
        return content(self.raw) == content(event_bytes(shown, self.stamps, sort))


class _Text(vText):
    r"""TEXT (3.3.11). The library takes a backslash before a capital N for a line break where it
    escapes, so what comes before and after is escaped apart."""

    def to_ical(self) -> bytes:
        return b"".join(vText(part).to_ical() for part in re.split(r"(?<=\\)(?=N)", self))


def uid_of(key: Key, sort: Sort) -> str:
    """The id of an event of this sort: the same in every run and on every machine (3.8.4.7)."""
    day, farm, what = key
    named = f"{day.isoformat()} {_encoded(farm)}{f' {_encoded(what)}' if what else ''}"
    return f"{uuid.uuid5(sort.space, named)}@readiness"


def event_bytes(shown: Appointment, stamps: Stamps, sort: Sort = VISITS) -> bytes:
    """The event's lines, folded and escaped."""
    event = Event()
    event.add("UID", uid_of(shown.key, sort))
    event.add("DTSTART", shown.day)
    ends = shown.last if shown.last and not shown.every else shown.day
    event.add("DTEND", ends + timedelta(days=1))
    if shown.every:  # UNTIL is a day where DTSTART is one (3.3.10)
        event.add("RRULE", vRecur(FREQ=_DAILY, INTERVAL=shown.every, UNTIL=shown.last))
    event.add("DTSTAMP", stamps.changed)
    event.add("CREATED", stamps.created)
    event.add("LAST-MODIFIED", stamps.changed)
    event.add("SEQUENCE", stamps.sequence)
    event.add("STATUS", shown.status)
    event.add("TRANSP", "TRANSPARENT")
    event.add("CATEGORIES", [sort.category])
    event.add("SUMMARY", _Text(plain(shown.summary)))
    if place := plain(shown.farm):
        event.add("LOCATION", _Text(place))
    # Without controls, its line breaks kept.
    if text := "\n".join(map(plain, re.split(r"\r\n|\r|\n", shown.description))):
        event.add("DESCRIPTION", _Text(text))
    event.add(_FARM, vText(_encoded(shown.farm)))
    if shown.what:
        event.add(_WHAT, vText(_encoded(shown.what)))
    return bytes(event.to_ical())


def read_event(raw: bytes, sort: Sort = VISITS) -> Kept:
    """An event that ``event_bytes`` made. NotOurs where it did not, or it is damaged."""
    heads = [line.partition(b":")[0].decode() for line in content(raw) if line]
    if len(heads) != len(set(heads)) or not _ALWAYS <= set(heads) <= _ALWAYS | _SOMETIMES:
        raise NotOurs("holds an event that readiness did not write, or that was changed since")
    event = Event.from_ical(raw)
    if event.errors:
        raise NotOurs("is damaged: an event in it cannot be read")
    day, end = (getattr(event[name], "dt", None) for name in ("DTSTART", "DTEND"))
    farm, what = _decoded(str(event[_FARM])), _decoded(str(event.get(_WHAT, "")))
    if type(day) is not date or str(event["UID"]) != uid_of((day, farm, what), sort):
        raise NotOurs(f"holds an event that is none of readiness's {sort.name}: its UID says so")
    if type(end) is not date or end <= day:
        raise NotOurs("is damaged: an event in it ends before it begins")
    until, every = _again(event, end - timedelta(days=1))
    summary, description = str(event["SUMMARY"]), str(event.get("DESCRIPTION", ""))
    last = None if until == day and not every else until
    shown = Appointment(farm, day, summary, description, str(event["STATUS"]), last, what, every)
    return Kept(shown, _stamps(event), raw)


def _again(event: Component, last: date) -> tuple[date, int | None]:
    """An event's last day, and each how many days it comes again, None where it does not."""
    rule = event.get("RRULE")
    if rule is None:
        return last, None
    freq, every, until = (rule.get(part, [None])[0] for part in ("FREQ", "INTERVAL", "UNTIL"))
    if freq != _DAILY or not isinstance(every, int) or every < 1 or type(until) is not date:
        raise NotOurs("is damaged: an event in it comes again otherwise than readiness writes it")
    return until, every


def _stamps(event: Component) -> Stamps:
    created, changed = (getattr(event[name], "dt", None) for name in ("CREATED", "DTSTAMP"))
    sequence = event["SEQUENCE"]
    if (
        not (isinstance(created, datetime) and created.tzinfo)
        or not (isinstance(changed, datetime) and changed.tzinfo)
        or not (isinstance(sequence, int) and sequence >= 0)
    ):
        raise NotOurs("is damaged: an event in it does not say when it was changed, or how often")
    return Stamps(created, changed, int(sequence))


def content(raw: bytes) -> list[bytes]:
    """The lines unfolded (3.1), in an order of their own."""
    return sorted(re.sub(rb"\r\n[ \t]", b"", raw).split(b"\r\n"))


def _encoded(farm: str) -> str:
    return quote(farm, safe="", errors="surrogatepass")


def _decoded(text: str) -> str:
    try:
        return unquote(text, errors="surrogatepass")
    except ValueError as problem:
        raise NotOurs("is damaged: an event in it names no farm") from problem
