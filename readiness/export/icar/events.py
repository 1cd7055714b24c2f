"""Scores, weights, treatments, arrivals and departures.

Follows, in adewg/ICAR: resources/icarConformationScoreEventResource.json (db5b7a7) and
types/icarConformationScoreType.json (ac9a2fb), resources/icarWeightEventResource.json (db5b7a7),
resources/icarTreatmentEventResource.json (3d1b92c), resources/icarMovementArrivalEventResource.json
(4592aa8), resources/icarMovementDepartureEventResource.json (d15ecc7),
resources/icarMovementDeathEventResource.json (8211348).
"""

from __future__ import annotations

from collections.abc import Iterator

from readiness.desk.reading import Reading
from readiness.entries.entry import Entry
from readiness.export.icar.common import OWN_SCALE, Json, event, first_moment, last_moment
from readiness.system.plain import plain
from readiness.trade import scales

SCORE = "icarConformationScoreEventResource"
WEIGHT = "icarWeightEventResource"
TREATMENT = "icarTreatmentEventResource"
ARRIVAL = "icarMovementArrivalEventResource"
DEPARTURE = "icarMovementDepartureEventResource"
DEATH = "icarMovementDeathEventResource"

_TRAITS = {"mobility": "Locomotion", "condition": "BodyConditionScore"}
_SCALES = {**scales.MOBILITY, **scales.CONDITION}

# Where he is from → why he came. The standard's nearest word for hire is StudService.
_CAME = {"bought": "Purchase", "hired": "StudService"}

# Why he left → kind and reason of the departure. What the standard asks and nobody said is Unknown:
# culled does not say why, nor lame whether that was all.
_LEFT = {
    "sold": {"departureKind": "Sale", "departureReason": "Sale"},
    "lame": {"departureReason": "LegOrClaw"},
    "rested": {"departureReason": "Other"},
    "hired": {"departureReason": "Other"},
    "other": {"departureReason": "Other"},
}
_UNKNOWN = {"departureReason": "Unknown"}


def scores(reading: Reading) -> Iterator[Json]:
    """Walk and condition, each on the scale it was scored on: the standard's own linear scores run
    from 1 to 9, so the scale is named, in ``traitLabel`` for programs and in ``remark``."""
    for entry in reading.of(tuple(_TRAITS)):
        scale = _SCALES[entry.body["scale"]]
        limb = f" Limb {entry.body['limb']}." if "limb" in entry.body else ""
        words = f"Score on {scale.name}, as scored, not converted.{limb}"
        yield {
            **event(reading, entry, SCORE, remark=words),
            "traitLabel": {"id": scale.id, "scheme": OWN_SCALE},
            "traitScored": _TRAITS[entry.kind],
            "score": entry.body["score"],
            "method": "Manual",
        }


def weights(reading: Reading) -> Iterator[Json]:
    """Live weights. How he was weighed is not known, though the standard takes silence for a
    load cell: ``remark`` says so."""
    words = "How he was weighed is not known."
    for entry in reading.of(("weight",)):
        measured = {"measurement": entry.body["kg"], "units": "KGM"}
        yield {**event(reading, entry, WEIGHT, remark=words), "weight": measured}


def treatments(reading: Reading) -> Iterator[Json]:
    """What a bull was given: the product in words, no dose. (A reference to a medicine would need
    a registered number, which nobody wrote down.)"""
    for entry in reading.of(("treatment",)):
        body = entry.body
        reason = f"; for {body['reason']}" if "reason" in body else ""
        until = body.get("withdrawal_until")
        ends = last_moment(until) if until else None
        yield {
            **event(reading, entry, TREATMENT),
            "responsible": plain(body["given_by"]),
            "comment": plain(f"{body['product']}{reason}"),
            **({"withdrawals": [{"endDate": ends}]} if ends else {}),
        }


def arrivals(reading: Reading) -> Iterator[Json]:
    """The day a bull came, once for each day that was said; and those that came back from hire."""
    yield from _came(reading)
    for entry in _on_hire(reading, "in"):
        yield {
            **event(reading, entry, ARRIVAL, remark="Back from hire."),
            "arrivalReason": "StudServiceReturn",
        }


def _came(reading: Reading) -> Iterator[Json]:
    told: set[tuple[str, str]] = set()
    for entry in reading.of(("bull",)):
        came = entry.body.get("arrived")
        if came and (entry.bull, came) not in told:
            told.add((entry.bull, came))
            why = _CAME.get(entry.body.get("origin", ""))
            yield {
                **event(reading, entry, ARRIVAL, "/arrived"),
                "eventDateTime": first_moment(came),
                **({"arrivalReason": why} if why else {}),
            }


def departures(reading: Reading) -> Iterator[Json]:
    """Bulls that left alive, why is in ``remark``, too; and those that went out on hire."""
    for entry, reason in _gone(reading):
        if reason != "died":
            words = f"Left: {reason}." if reason else ""
            yield {
                **event(reading, entry, DEPARTURE, remark=words),
                **_LEFT.get(reason, _UNKNOWN),
            }

    for entry in _on_hire(reading, "out"):
        yield {
            **event(reading, entry, DEPARTURE, remark="Out on hire."),
            "departureKind": "StudService",
            "departureReason": "Other",
        }


def deaths(reading: Reading) -> Iterator[Json]:
    """Bulls that died; of what is not asked."""
    for entry, reason in _gone(reading):
        if reason == "died":
            yield {**event(reading, entry, DEATH), "deathReason": "Unknown"}


def _gone(reading: Reading) -> Iterator[tuple[Entry, str]]:
    for entry in reading.of(("moved",)):
        if entry.body["act"] == "left":
            yield entry, entry.body.get("reason", "")


def _on_hire(reading: Reading, act: str) -> Iterator[Entry]:
    """Those that went to work on another farm, or came back from it."""
    for entry in reading.of(("moved",)):
        if entry.body["act"] == act and entry.body.get("reason") == "hired":
            yield entry
