"""The bulls, their groups, and who is not to be bred from on the day.

Follows, in adewg/ICAR: resources/icarAnimalCoreResource.json (7211ae6),
resources/icarAnimalSetResource.json (1d0d778), resources/icarReproDoNotBreedEventResource.json
(d15ecc7), types/icarReasonIdentifierType.json (d15ecc7).
"""

from __future__ import annotations

import uuid
from collections.abc import Iterator

from readiness.desk.reading import Reading
from readiness.engine.results import Assessment
from readiness.entries.entry import Entry
from readiness.export.icar.common import (
    OWN_RULE,
    SOURCE,
    Json,
    animal,
    first_moment,
    location,
    meta,
    moment,
)
from readiness.history import History
from readiness.history.groups import Key, key_of, names_of
from readiness.system.plain import name_key, plain
from readiness.trade.ages import BORN

ANIMAL = "icarAnimalCoreResource"
SET = "icarAnimalSetResource"
DO_NOT_BREED = "icarReproDoNotBreedEventResource"

# Fixed for ever: another name space would give the same group another id.
_NAMES = uuid.uuid5(uuid.NAMESPACE_URL, "urn:readiness:export")
_CAUTION = "It informs and is no diagnosis; the vet decides."


def animals(reading: Reading) -> Iterator[Json]:
    """Every bull that is booked, as last said up to the day."""
    for key, state in reading.states.items():
        own = reading.shelf.of(key)
        if any(entry.kind == "bull" for entry in own):
            yield _animal(reading, state, own)


def _animal(reading: Reading, state: History, own: list[Entry]) -> Json:
    tag, said = reading.tags[state.key], state.profile
    written = [entry.recorded for entry in own]
    identifier = animal(tag)
    more: Json = {}
    if state.birth and state.birth.known:
        more["birthDate"] = first_moment(str(said[BORN]))
    if said.get("name"):
        more["name"] = plain(str(said["name"]))
    by = said.get("by")
    return {
        "resourceType": ANIMAL,
        "meta": meta(identifier["id"], min(written), max(written), str(by) if by else None),
        **location(state.farm),
        "identifier": identifier,
        "specie": "Cattle",
        "gender": "Male",
        **more,
        "managementTag": plain(tag),
        "status": _status(state, own, reading.on),
    }


def _status(state: History, own: list[Entry], on: int) -> str:
    if not state.gone:
        return "Alive"
    left = next(
        e for e in reversed(own) if e.kind == "moved" and e.body["act"] == "left" and e.day <= on
    )
    return "Dead" if left.body.get("reason") == "died" else "OffFarm"


def sets(reading: Reading) -> Iterator[Json]:
    """Every group as last said up to the day, with the bulls that are in it on the day."""
    current = reading.herd.groups
    told = [entry for entry in reading.of(("group",)) if entry.day <= reading.on]
    names = names_of(told)
    said: dict[Key, list[Entry]] = {}
    for entry in told:
        farm, name = key_of(entry.body)
        said.setdefault((farm, names[farm, name_key(name)]), []).append(entry)
    for (farm, name), entries in sorted(said.items()):
        there = reading.herd.states if (farm, name) in current else ()
        here = [state for state in there if (state.farm or "", state.group) == (farm, name)]
        yield _set(farm, name, entries, [animal(reading.tags[state.key]) for state in here])


def _set(farm: str, name: str, entries: list[Entry], members: list[Json]) -> Json:
    last = entries[-1]
    id_ = str(uuid.uuid5(_NAMES, f"group {len(farm)} {farm} {name}"))
    return {
        "resourceType": SET,
        "meta": meta(id_, entries[0].recorded, last.recorded, last.body.get("by")),
        **location(farm),
        "id": id_,
        "name": plain(name),
        "reference": f"turnout {last.body['turnout']}",
        "purpose": "Reproduction",
        "member": members,
    }


def do_not_breed(reading: Reading) -> Iterator[Json]:
    """The bulls on HOLD. For a GO there is no message: nobody is cleared to another program."""
    return (_hold(reading, bull) for bull in reading.board.bulls if bull.status == "HOLD")


def _hold(reading: Reading, bull: Assessment) -> Json:
    written = max(entry.recorded for entry in reading.shelf.of(bull.key))
    id_ = str(uuid.uuid5(_NAMES, f"hold {reading.on} {bull.key}"))
    kind, whys = "checks to come", [(check.rule, check.text) for check in bull.outstanding]
    if bull.hold == "reason":
        kind, whys = "true today", [(reason.rule, reason.text) for reason in bull.reasons]
    words = f"HOLD, {kind}: {'; '.join(text for _, text in whys)}. {_CAUTION}"
    return {
        "resourceType": DO_NOT_BREED,
        "meta": meta(id_, written, written, SOURCE),
        **location(bull.farm),
        "id": id_,
        "eventDateTime": moment(reading.on),
        "remark": plain(words),
        "animal": animal(reading.tags[bull.key]),
        "doNotBreed": True,
        "extendedReasons": [{"id": rule, "scheme": OWN_RULE} for rule in dict(whys)],
    }
