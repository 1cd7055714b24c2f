"""What was found and done on the feet: diagnoses with their claw, and procedures.

Follows, in adewg/ICAR: resources/icarDiagnosisEventResource.json (492c4cb),
types/icarDiagnosisType.json (19b09ce, with severity, severityScore and positions as in release
1.4), types/icarPositionType.json (e5c9063), enums/icarPositionOnAnimalType.json (97aa0c3: with the
single toes), enums/icarDiagnosisSeverityType.json (3d1b92c), resources/icarTreatmentEventResource
.json (3d1b92c), enums/icarTreatmentCommonProcedureType.json (9f76a4e).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from readiness.desk.reading import Reading
from readiness.entries.entry import Entry
from readiness.export.icar.common import CLAW_CODES, Json, event
from readiness.export.icar.events import TREATMENT
from readiness.trade.codes import CODES, finding_words
from readiness.trade.feet import ACT_DONE, ZONES, spot_words
from readiness.trade.words import list_words, number_words, sentence

DIAGNOSIS = "icarDiagnosisEventResource"

_ENDS = {"LF": "FrontLeft", "RF": "FrontRight", "LH": "RearLeft", "RH": "RearRight"}
_TOES = {"outer": ("OuterToe",), "inner": ("InnerToe",), "both": ("OuterToe", "InnerToe")}
_SEVERITY = {1: "Light", 2: "Moderate", 3: "Severe"}
_PROCEDURES = {"trim": "FootTrimming", "pare": "FootTrimming"}
_WHOSE = "What was found on the feet as they were lifted; a diagnosis is the vet's."


def positions(foot: str, claw: str | None) -> list[Json]:
    """Where on the animal: the toe, or the foot's leg for skin and where no claw is said."""
    return [{"position": f"{part}{_ENDS[foot]}"} for part in _TOES.get(claw or "", ("Legs",))]


def diagnoses(reading: Reading) -> Iterator[Json]:
    """An event for each lift on which something was found."""
    for entry in reading.of(("feet",)):
        if found := entry.body.get("findings"):
            told = [_finding(entry, line, said) for line, said in enumerate(found, start=1)]
            yield event(reading, entry, DIAGNOSIS, {"diagnoses": told}, remark=_WHOSE)


def _finding(entry: Entry, line: int, said: Mapping[str, Any]) -> Json:
    severity = said.get("severity")
    graded: Json = {}
    if severity is not None:
        graded = {"severity": _SEVERITY[severity], "severityScore": severity}
    return {
        "id": f"{entry.id}/{line}",
        "name": CODES[said["code"]].name,
        "description": _words(said),
        "diagnosisCode": {"id": said["code"], "scheme": CLAW_CODES},
        "site": _site(said),
        **graded,
        "positions": positions(said["foot"], said["claw"]),
    }


def _site(said: Mapping[str, Any]) -> str:
    zone = said.get("zone")
    where = "" if zone is None else f", zone {zone} ({ZONES[zone]})"
    return f"{spot_words(said['foot'], said['claw'])}{where}"


def _words(said: Mapping[str, Any]) -> str:
    """What has no member of its own, in words: stage, size, former name."""
    parts = [finding_words(said["code"], said.get("severity"), said.get("stage"))]
    if "size_mm" in said:
        parts.append(f"{number_words(said['size_mm'])} mm")
    if "was" in said:
        parts.append(f"called {CODES[said['was']].name} before")
    return sentence(", ".join(parts))


def procedures(reading: Reading) -> Iterator[Json]:
    """An event for each kind of work done at a lift, with all the places where it was done."""
    for entry in reading.of(("feet",)):
        places: dict[str, list[tuple[str, str | None]]] = {}
        for done in entry.body.get("work", ()):
            places.setdefault(done["act"], []).append((done["foot"], done.get("claw")))
        for act, spots in places.items():
            words = list_words(spot_words(*spot) for spot in spots)
            told = {
                "procedure": _PROCEDURES.get(act, ACT_DONE[act]),
                "positions": [position for spot in spots for position in positions(*spot)],
                "comment": sentence(f"{ACT_DONE[act]} {words}"),
            }
            yield event(reading, entry, TREATMENT, told, f"/{act}")
