"""What all messages have in common: who sends, which animal, which farm, when.

Follows, in adewg/ICAR: resources/icarResource.json (e5fd79e), resources/icarEventCoreResource.json
(8211348), resources/icarAnimalEventCoreResource.json (492c4cb), types/icarMetaDataType.json
(8ccda44), types/icarIdentifierType.json (68829f0); time stamps as docs/types/icarDateTimeType.md
(036312e) asks: UTC, three decimals of the second.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from typing import Any

from readiness.desk.reading import Reading
from readiness.entries.entry import Entry
from readiness.system.plain import plain
from readiness.trade.tags import fits_iso_11784, tag_key, tag_problem

Json = dict[str, Any]

SOURCE = "urn:readiness"
OWN_TAG, OWN_FARM = "urn:readiness:tag", "urn:readiness:farm"
OWN_SCALE, OWN_RULE = "urn:readiness:scale", "urn:readiness:rule"
# The standard registers no scheme for the short codes of ICAR's own Claw Health Atlas
# (well-known/icarDiagnosisIdentifierType.md, 89d9b5b: icar.disease and org.venomcoding alone).
CLAW_CODES = "urn:readiness:icar-claw-health-atlas"

# Registered scheme → whether a tag is surely one of it.
_SCHEMES: dict[str, Callable[[str], object]] = {
    "uk.cts.eartag": re.compile(r"UK\d{12}", re.ASCII).fullmatch,
    "eu.bovine": re.compile(r"XI\d{12}", re.ASCII).fullmatch,
    "std.iso.11785": fits_iso_11784,
}


def animal(tag: str) -> Json:
    """The animal's identifier, in a registered scheme where the tag is surely one of it.

    Schemes: well-known/icarAnimalIdentifierType.md (2005806): ``uk.cts.eartag`` for a UK ear tag,
    ``eu.bovine`` for one of Northern Ireland with XI, ``std.iso.11785`` for a bull booked under his
    electronic number (15 digits, ISO 3166 numeric country first: 826 for the UK). That number is
    never made from the visual tag: its twelve digits do not fit the 38 bits of ISO 11784. A tag
    whose check digit is wrong would name another animal there, so it stays in a scheme of ours.
    """
    key = tag_key(plain(tag))
    if tag_problem(key) is None:
        for scheme, fits in _SCHEMES.items():
            if fits(key):
                return {"id": key, "scheme": scheme}
    return {"id": plain(tag), "scheme": OWN_TAG}


def moment(day: int) -> str:
    """A day (an ordinal) as the standard's date and time; the time is not known."""
    return first_moment(date.fromordinal(day).isoformat())


def first_moment(day: str) -> str:
    """The first moment, UTC, of an ISO day: it stands for the day."""
    return f"{day}T00:00:00.000Z"


def last_moment(day: str) -> str:
    """The last moment, UTC, of an ISO day: for what lasts to its end."""
    return f"{day}T23:59:59.999Z"


def meta(source_id: str, created: str, modified: str, creator: str | None) -> Json:
    """Where the message is from. ``created``, ``modified``: as ``Entry.recorded``, of which three
    decimals are told."""
    said = {
        "source": SOURCE,
        "sourceId": source_id,
        "created": f"{created[:23]}Z",
        "modified": f"{modified[:23]}Z",
    }
    return said | ({"creator": plain(creator)} if creator else {})


def location(farm: str | None) -> Json:
    """The farm, by the name that the book gives it."""
    name = plain(farm or "")
    return {"location": {"id": name, "scheme": OWN_FARM}} if name else {}


def event(
    reading: Reading, entry: Entry, kind: str, told: Json, part: str = "", remark: str = ""
) -> Json:
    """An event about the entry's bull, with what is ``told`` by that kind alone. ``part`` tells
    several of one entry apart."""
    body = entry.body
    words = " ".join(said for said in (remark, body.get("note", "")) if said)
    return {
        "resourceType": kind,
        "meta": meta(entry.id, entry.recorded, entry.recorded, body.get("by")),
        **location(reading.farm_on(entry.bull, entry.day)),
        "id": f"{entry.id}{part}",
        "eventDateTime": moment(entry.day),
        **({"responsible": plain(body["by"])} if body.get("by") else {}),
        **({"remark": plain(words)} if words else {}),
        "animal": animal(reading.tags[entry.bull]),
        **told,
    }
