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
# To work on another farm, and back from it: the message, what it tells, and its remark.
_ON_HIRE: dict[str, tuple[str, Json, str]] = {
    "out": (
        DEPARTURE, {"departureKind": "StudService", "departureReason": "Other"}, "Out on hire.",
    ),
    "in": (ARRIVAL, {"arrivalReason": "StudServiceReturn"}, "Back from hire."),
}  # fmt: skip


def scores(reading: Reading) -> Iterator[Json]:
    """Walk and condition, each on the scale it was scored on: the standard's own linear scores run
    from 1 to 9, so the scale is named, in ``traitLabel`` for programs and in ``remark``."""
    for entry in reading.of(tuple(_TRAITS)):
        scale = _SCALES[entry.body["scale"]]
        limb = f" Limb {entry.body['limb']}." if "limb" in entry.body else ""
        words = f"Score on {scale.name}, as scored, not converted.{limb}"
        told = {
            "traitLabel": {"id": scale.id, "scheme": OWN_SCALE},
            "traitScored": _TRAITS[entry.kind],
            "score": entry.body["score"],
            "method": "Manual",
        }
        yield event(reading, entry, SCORE, told, remark=words)


def weights(reading: Reading) -> Iterator[Json]:
    """Live weights. How he was weighed is not known, though the standard takes silence for a
    load cell: ``remark`` says so."""
    words = "How he was weighed is not known."
    for entry in reading.of(("weight",)):
        told = {"weight": {"measurement": entry.body["kg"], "units": "KGM"}}
        yield event(reading, entry, WEIGHT, told, remark=words)


def treatments(reading: Reading) -> Iterator[Json]:
    """What a bull was given: the product in words, no dose. (A reference to a medicine would need
    a registered number, which nobody wrote down.)"""
    for entry in reading.of(("treatment",)):
        body = entry.body
        reason = f"; for {body['reason']}" if "reason" in body else ""
        told: Json = {
            "responsible": plain(body["given_by"]),
            "comment": plain(f"{body['product']}{reason}"),
        }
        if until := body.get("withdrawal_until"):
            told["withdrawals"] = [{"endDate": last_moment(until)}]
        yield event(reading, entry, TREATMENT, told)


def arrivals(reading: Reading) -> Iterator[Json]:
    """The day a bull came, once for each day that was said; and those that came back from hire."""
    said: set[tuple[str, str]] = set()
    for entry in reading.of(("bull",)):
        came = entry.body.get("arrived")
        if came and (entry.bull, came) not in said:
            said.add((entry.bull, came))
            told = {"eventDateTime": first_moment(came)}
            if why := _CAME.get(entry.body.get("origin", "")):
                told["arrivalReason"] = why
            yield event(reading, entry, ARRIVAL, told, "/arrived")
    yield from _moves(reading, ARRIVAL)


def departures(reading: Reading) -> Iterator[Json]:
    """Bulls that left alive, why is in ``remark``, too; and those that went out on hire."""
    return _moves(reading, DEPARTURE)


def deaths(reading: Reading) -> Iterator[Json]:
    """Bulls that died; of what is not asked."""
    return _moves(reading, DEATH)


def _moves(reading: Reading, kind: str) -> Iterator[Json]:
    """The moves that this kind of message tells, those that left for good before the others."""
    for entry in sorted(reading.of(("moved",)), key=lambda entry: entry.body["act"] != "left"):
        message, told, remark = _move(entry)
        if message == kind:
            yield event(reading, entry, kind, told, remark=remark)


def _move(entry: Entry) -> tuple[str, Json, str]:
    """The message that tells a move ("" for none), what it tells, and its remark."""
    act, reason = entry.body["act"], entry.body.get("reason", "")
    if act != "left":
        return _ON_HIRE[act] if reason == "hired" else ("", {}, "")
    if reason == "died":
        return DEATH, {"deathReason": "Unknown"}, ""
    return DEPARTURE, _LEFT.get(reason, _UNKNOWN), f"Left: {reason}." if reason else ""
