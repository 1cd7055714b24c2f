"""The ICAR messages, held to the published rules of the schemas (tests/standards/icar)."""

from __future__ import annotations

import copy
import json
from pathlib import Path
from typing import Any

import pytest

from readiness.entries import models
from readiness.entries.columns import columns_of
from readiness.export.icar.common import animal
from readiness.export.icar.covered import GAPS, NESTED, TOLD
from tests.export.conftest import Made, Run
from tests.export.farm import DAY, standing
from tests.export.icar_schemas import problems, rules, unknown_members

Message = dict[str, Any]

RESOURCES = (
    "icarAnimalCoreResource", "icarAnimalSetResource", "icarReproDoNotBreedEventResource",
    "icarConformationScoreEventResource", "icarWeightEventResource", "icarDiagnosisEventResource",
    "icarTreatmentEventResource", "icarMovementArrivalEventResource",
    "icarMovementDepartureEventResource", "icarMovementDeathEventResource",
)  # fmt: skip


def messages(folder: Path, resource: str) -> list[Message]:
    found: list[Message] = json.loads((folder / "icar" / f"{resource}.json").read_bytes())
    return found


@pytest.mark.parametrize("resource", RESOURCES)
def test_every_message_keeps_the_published_rules(made: Made, resource: str) -> None:
    """Types, required members and words by the schema; no member that the schema does not name."""
    found = messages(made.folder, resource)
    assert found
    for message in found:
        assert problems(resource, message) == []
        assert unknown_members(resource, message) == []
        assert message["resourceType"] == resource


def test_the_folder_has_these_files_and_no_others(made: Made) -> None:
    names = {path.name for path in (made.folder / "icar").iterdir()}
    assert names == {f"{resource}.json" for resource in RESOURCES} | {"not-covered.json"}


SPOILT: list[tuple[str, tuple[Any, ...], Any]] = [
    ("icarDiagnosisEventResource", ("animal",), None),
    ("icarDiagnosisEventResource", ("animal", "scheme"), None),
    ("icarDiagnosisEventResource", ("resourceType",), None),
    ("icarDiagnosisEventResource", ("meta", "modified"), None),
    ("icarDiagnosisEventResource", ("diagnoses", 0, "positions", 0, "position"), "OuterToe"),
    ("icarDiagnosisEventResource", ("diagnoses", 0, "severity"), "Slight"),
    ("icarDiagnosisEventResource", ("diagnoses", 0, "diagnosisCode"), "SU"),
    ("icarConformationScoreEventResource", ("traitScored",), "Lameness"),
    ("icarConformationScoreEventResource", ("score",), "2"),
    ("icarWeightEventResource", ("weight", "units"), "kg"),
    ("icarWeightEventResource", ("weight", "measurement"), -1),
    ("icarAnimalCoreResource", ("gender",), "Bull"),
    ("icarAnimalSetResource", ("member",), None),
    ("icarReproDoNotBreedEventResource", ("doNotBreed",), "yes"),
    ("icarMovementDepartureEventResource", ("departureReason",), "Culled"),
]


@pytest.mark.parametrize(("resource", "place", "value"), SPOILT)
def test_a_wrong_message_is_refused(
    made: Made, resource: str, place: tuple[Any, ...], value: Any
) -> None:
    """So the judgement above can fail: a member left out (None) or said wrongly."""
    chosen = messages(made.folder, resource)
    if resource == "icarDiagnosisEventResource":
        chosen = [event for event in chosen if "severity" in event["diagnoses"][0]]
    spoilt: Any = copy.deepcopy(chosen[0])
    inner = spoilt
    for step in place[:-1]:
        inner = inner[step]
    if value is None:
        del inner[place[-1]]
    else:
        inner[place[-1]] = value
    assert problems(resource, spoilt)


def test_a_member_of_our_own_is_noticed(made: Made) -> None:
    message = messages(made.folder, "icarDiagnosisEventResource")[0]
    message["diagnoses"][0]["positions"][0]["zone"] = 4
    message["blocks"] = []
    assert problems("icarDiagnosisEventResource", message) == []
    assert unknown_members("icarDiagnosisEventResource", message) == ["zone", "blocks"]


@pytest.mark.parametrize(
    ("tag", "scheme", "id_"),
    [
        # The schemes: the standard's own list (well-known/icarAnimalIdentifierType.md)
        ("UK 700922 200123", "uk.cts.eartag", "UK700922200123"),
        ("UK 700915 700016", "uk.cts.eartag", "UK700915700016"),
        ("UK 700915 500015", "urn:readiness:tag", "UK 700915 500015"),  # its check digit is wrong
        ("826 000000000123", "std.iso.11785", "826000000000123"),
        # Twelve digits of a visual tag do not fit an electronic number's 38 bits (ISO 11784).
        ("826700915700016", "urn:readiness:tag", "826700915700016"),
        ("00417", "urn:readiness:tag", "00417"),
        ("=1+2", "urn:readiness:tag", "=1+2"),
    ],
)
def test_an_animal_is_named_in_a_scheme_that_its_tag_is_of(tag: str, scheme: str, id_: str) -> None:
    assert animal(tag) == {"id": id_, "scheme": scheme}


def test_scores_stand_as_scored_with_their_scale(made: Made) -> None:
    """One message a score; the number is the one that was said, on the scale that is named."""
    said = [entry for entry in standing(made.folder) if entry["kind"] in ("mobility", "condition")]
    trait = {"mobility": "Locomotion", "condition": "BodyConditionScore"}
    told = messages(made.folder, "icarConformationScoreEventResource")
    assert [
        (event["id"], event["traitScored"], event["score"], event["traitLabel"]["id"])
        for event in told
    ] == [(e["id"], trait[e["kind"]], e["score"], e["scale"]) for e in said]
    assert all("not converted" in event["remark"] for event in told)
    assert any("GB dairy mobility 0-3" in event["remark"] for event in told)


def test_findings_stand_on_their_claw(made: Made) -> None:
    """Foot and claw as the standard's toes, skin as the leg; both claws are two positions."""
    places = {
        (found["diagnosisCode"]["id"], found["site"].split(",")[0]): [
            place["position"] for place in found["positions"]
        ]
        for event in messages(made.folder, "icarDiagnosisEventResource")
        for found in event["diagnoses"]
    }
    assert places == {
        ("SU", "LH inner"): ["InnerToeRearLeft"],
        ("SU", "LH both claws"): ["OuterToeRearLeft", "InnerToeRearLeft"],
        ("SU", "LF outer"): ["OuterToeFrontLeft"],
        ("DD", "RH skin"): ["LegsRearRight"],
        ("DD", "RF skin"): ["LegsFrontRight"],
    }


def test_severity_and_stage_are_what_was_said(made: Made) -> None:
    """1, 2, 3 are slight, moderate, severe; where nothing was said nothing is; a stage in words."""
    events = messages(made.folder, "icarDiagnosisEventResource")
    told = [found for event in events for found in event["diagnoses"]]
    said = [f for entry in standing(made.folder) for f in entry.get("findings", [])]
    words = {1: "Light", 2: "Moderate", 3: "Severe", None: None}
    assert [(f.get("severity"), f.get("severityScore")) for f in told] == [
        (words[f.get("severity")], f.get("severity")) for f in said
    ]
    assert any("M4.1" in f["description"] for f in told)
    assert not any("stage" in f for f in told)


def test_treatments_are_in_words_and_without_a_dose(made: Made) -> None:
    events = messages(made.folder, "icarTreatmentEventResource")
    (given,) = [event for event in events if "procedure" not in event]
    assert given["responsible"] == "A. Vet"
    assert given["comment"] == "as on the label; for sore foot"
    # The last day of withdrawal, to its end.
    assert given["withdrawals"] == [{"endDate": "2026-04-20T23:59:59.999Z"}]
    assert not any("dose" in event or "medicine" in event for event in events)


def test_procedures_are_words_of_the_standard_where_it_has_them(made: Made) -> None:
    """Trimming and paring are FootTrimming; what it has no word for is said in ours."""
    known = rules()["https://icar.invalid/enums/icarTreatmentCommonProcedureType.json"]["enum"]
    events = messages(made.folder, "icarTreatmentEventResource")
    told = {(e["procedure"], e["comment"].split()[0]) for e in events if "procedure" in e}
    assert told == {
        ("FootTrimming", "Trimmed"), ("FootTrimming", "Pared"), ("dressed", "Dressed"),
        ("unwrapped", "Unwrapped"),
    }  # fmt: skip
    assert "FootTrimming" in known
    (both,) = [e for e in events if e.get("comment") == "Trimmed LH both claws."]
    toes = [place["position"] for place in both["positions"]]
    assert toes == ["OuterToeRearLeft", "InnerToeRearLeft"]


def test_hold_is_do_not_breed_and_nobody_is_cleared(made: Made, run: Run) -> None:
    board = run("board", "--json", "--on", DAY, "--book", made.book).json()["bulls"]
    events = messages(made.folder, "icarReproDoNotBreedEventResource")
    assert all(event["doNotBreed"] is True for event in events)
    assert all(event["eventDateTime"] == f"{DAY}T00:00:00.000Z" for event in events)
    held = [animal(bull["bull"]) for bull in board if bull["status"] == "HOLD"]
    assert [event["animal"] for event in events] == held
    rules_of = {
        bull["bull"]: {r["rule"] for r in bull["reasons"]}
        for bull in board
        if bull["hold"] == "reason"
    }
    corran = next(e for e in events if e["animal"] == animal("UK 123450 600417"))
    told = {reason["id"] for reason in corran["extendedReasons"]}
    assert told == rules_of["UK 123450 600417"]
    assert "the vet decides" in corran["remark"]


def test_who_left_and_who_came(made: Made) -> None:
    animals = {a["managementTag"]: a for a in messages(made.folder, "icarAnimalCoreResource")}
    assert animals["00601"]["status"] == "OffFarm"
    assert animals["00602"]["status"] == "Dead"
    assert animals["00288"]["status"] == "Alive"
    assert animals["00288"]["location"]["id"] == "Sallow Fell"
    went = messages(made.folder, "icarMovementDepartureEventResource")
    assert [
        (left["animal"]["id"], left.get("departureKind"), left["departureReason"], left["remark"])
        for left in went
    ] == [
        ("00601", "Sale", "Sale", "Left: sold."),
        ("00604", None, "Other", "Left: hired."),
        ("00603", "StudService", "Other", "Out on hire."),
    ]
    (dead,) = messages(made.folder, "icarMovementDeathEventResource")
    assert dead["animal"]["id"] == "00602"
    came = messages(made.folder, "icarMovementArrivalEventResource")
    assert [
        (each["animal"]["id"], each["eventDateTime"][:10], each["arrivalReason"]) for each in came
    ] == [
        ("00604", "2026-03-04", "StudService"),
        ("00777", "2026-02-01", "Purchase"),
        ("00603", "2026-03-30", "StudServiceReturn"),
    ]


def test_a_wrap_taken_off_is_a_procedure_on_its_leg(made: Made) -> None:
    (off,) = [
        event
        for event in messages(made.folder, "icarTreatmentEventResource")
        if event.get("procedure") == "unwrapped"
    ]
    assert off["positions"] == [{"position": "LegsFrontLeft"}]
    assert off["comment"] == "Unwrapped LF."


def test_nobodys_body_or_look_is_made_a_diagnosis(made: Made) -> None:
    kinds = {entry["id"]: entry["kind"] for entry in standing(made.folder)}
    told = messages(made.folder, "icarDiagnosisEventResource")
    assert {kinds[event["meta"]["sourceId"]] for event in told} == {"feet"}


def test_a_set_has_the_bulls_that_are_in_the_group(made: Made) -> None:
    sets = {group["name"]: group for group in messages(made.folder, "icarAnimalSetResource")}
    assert [member["id"] for member in sets["Hill cows"]["member"]] == ["00093"]
    assert sets["Hill cows"]["reference"] == "turnout 2026-05-15"
    assert sets["Hill cows"]["location"]["id"] == "Sallow Fell"


@pytest.mark.parametrize("resource", RESOURCES)
def test_messages_can_be_told_apart_and_traced(made: Made, resource: str) -> None:
    """Ids are unique in a file; what was said carries its entry's id and moment."""
    found = messages(made.folder, resource)
    ids = [message.get("id") or message["identifier"]["id"] for message in found]
    assert len(set(ids)) == len(ids)
    entries = {entry["id"]: entry for entry in standing(made.folder)}
    if resource not in RESOURCES[:3]:
        for message in found:
            entry = entries[message["meta"]["sourceId"]]
            assert message["id"].startswith(entry["id"])
            assert message["meta"]["modified"][:23] == entry["recorded"][:23]


def named(kind: str) -> set[str]:
    """Every field of a kind, as covered and not covered name them."""
    known = set(columns_of(models.KINDS[kind]))
    known -= {"kind", "on", "bull", "id", "recorded", "position", "batch", "device", "who"}
    for key in NESTED if kind == "feet" else ():
        known.remove(key)
        known |= {f"{key}.{name}" for name in columns_of(columns_of(models.Feet)[key].item)}
    return known


@pytest.mark.parametrize("kind", sorted(models.KINDS))
def test_every_field_is_told_or_listed_as_not_covered(kind: str) -> None:
    gaps = [gap for gap in GAPS if gap.kind == kind]
    if any(not gap.fields for gap in gaps):
        assert kind not in TOLD and len(gaps) == 1
        return
    listed = [field for gap in gaps if not gap.values for field in gap.fields]
    partly = {field for gap in gaps if gap.values for field in gap.fields}
    assert len(set(listed)) == len(listed)
    assert not set(TOLD[kind]) & set(listed)
    assert set(TOLD[kind]) | set(listed) | partly == named(kind)


def test_what_is_not_covered_is_counted(made: Made) -> None:
    told = json.loads((made.folder / "icar" / "not-covered.json").read_bytes())
    counts = {(row["kind"], row["field"]): row["count"] for row in told["fields"]}
    said = standing(made.folder)
    refused = sum("refused" in entry for entry in said)
    stages = sum("stage" in f for entry in said for f in entry.get("findings", []))
    assert counts["feet", "refused"] == refused > 0
    assert counts["feet", "findings.stage"] == stages > 0
    assert counts["block-on", None] == sum(entry["kind"] == "block-on" for entry in said) > 0
    assert counts["strike", None] == 1
    assert counts["moved", "act"] == 2  # out, and in lame; not out and in on hire
    assert counts["body", None] == sum(entry["kind"] == "body" for entry in said) == 2
    assert counts["vet-look", None] == 2
    assert all(row["why"] for row in told["fields"])
