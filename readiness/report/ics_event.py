"""One visit as an event of a calendar file (RFC 5545, 3.6.1), there and back.

It is all-day, since a plan knows days and no hours, and TRANSPARENT (3.8.2.7): it is seen on its
day, but nobody is shown as busy from midnight to midnight for a visit of an hour or two.
"""

from __future__ import annotations

import re
import uuid
from datetime import date, datetime, timedelta
from typing import NamedTuple
from urllib.parse import quote, unquote

from icalendar import Component, Event, vText

from readiness.system.errors import DataError
from readiness.system.plain import plain

# Fixed for ever: another name space would double every visit in every calendar.
_VISITS = uuid.uuid5(uuid.NAMESPACE_URL, "urn:readiness:visit")
# The farm as it stands in the book, percent-encoded: LOCATION is for people, this says it exactly,
# whatever a calendar program makes of backslashes, commas and spaces.
_FARM = "X-READINESS-FARM"
# What stands before the colon of each line of an event, with its parameters.
_ALWAYS = frozenset(
    "BEGIN END UID DTSTART;VALUE=DATE DTEND;VALUE=DATE DTSTAMP CREATED LAST-MODIFIED SEQUENCE "
    f"STATUS TRANSP CATEGORIES SUMMARY {_FARM}".split()
)
_SOMETIMES = frozenset({"LOCATION", "DESCRIPTION"})


class NotOurs(DataError):
    """The file that is there is none that readiness wrote. Its text says why, as the end of a
    sentence that the file's name begins."""


class Appointment(NamedTuple):
    """A visit as a calendar shows it.

    ``farm``: "" is the farm without a name. ``description``: several lines; whoever puts names
    into it makes them plain first, since a line break in a name would be kept. ``status``:
    TENTATIVE, CONFIRMED or CANCELLED (3.8.1.11).
    """

    farm: str
    day: date
    summary: str
    description: str
    status: str


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

    def says(self, shown: Appointment) -> bool:
        """Whether it says just this, wherever its lines are folded."""
        return content(self.raw) == content(event_bytes(shown, self.stamps))


class _Text(vText):
    r"""TEXT (3.3.11). The library takes a backslash before a capital N for a line break where it
    escapes, so what comes before and after is escaped apart."""

    def to_ical(self) -> bytes:
        return b"".join(vText(part).to_ical() for part in re.split(r"(?<=\\)(?=N)", self))


def visit_uid(farm: str, day: date) -> str:
    """The visit's id: the same in every run and on every machine (3.8.4.7)."""
    return f"{uuid.uuid5(_VISITS, f'{day.isoformat()} {_encoded(farm)}')}@readiness"


def event_bytes(shown: Appointment, stamps: Stamps) -> bytes:
    """The event's lines, folded and escaped."""
    event = Event()
    event.add("UID", visit_uid(shown.farm, shown.day))
    event.add("DTSTART", shown.day)
    event.add("DTEND", shown.day + timedelta(days=1))
    event.add("DTSTAMP", stamps.changed)
    event.add("CREATED", stamps.created)
    event.add("LAST-MODIFIED", stamps.changed)
    event.add("SEQUENCE", stamps.sequence)
    event.add("STATUS", shown.status)
    event.add("TRANSP", "TRANSPARENT")
    event.add("CATEGORIES", ["Return visit"])
    event.add("SUMMARY", _Text(plain(shown.summary)))
    if place := plain(shown.farm):
        event.add("LOCATION", _Text(place))
    # Without controls, its line breaks kept.
    if text := "\n".join(map(plain, re.split(r"\r\n|\r|\n", shown.description))):
        event.add("DESCRIPTION", _Text(text))
    event.add(_FARM, vText(_encoded(shown.farm)))
    return bytes(event.to_ical())


def read_event(raw: bytes) -> Kept:
    """An event that ``event_bytes`` made. NotOurs where it did not, or it is damaged."""
    heads = [line.partition(b":")[0].decode() for line in content(raw) if line]
    if len(heads) != len(set(heads)) or not _ALWAYS <= set(heads) <= _ALWAYS | _SOMETIMES:
        raise NotOurs("holds an event that readiness did not write, or that was changed since")
    event = Event.from_ical(raw)
    if event.errors:
        raise NotOurs("is damaged: an event in it cannot be read")
    day, farm = getattr(event["DTSTART"], "dt", None), _decoded(str(event[_FARM]))
    if type(day) is not date or str(event["UID"]) != visit_uid(farm, day):
        raise NotOurs("holds an event that is no visit of readiness's: its UID says so")
    summary, description = str(event["SUMMARY"]), str(event.get("DESCRIPTION", ""))
    shown = Appointment(farm, day, summary, description, str(event["STATUS"]))
    return Kept(shown, _stamps(event), raw)


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
