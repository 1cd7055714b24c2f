"""The JSON Schema of an entry, read by the library ``jsonschema``: it takes what the program takes
and refuses, in the same place, what it refuses."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from readiness.desk.demo import demo_lines
from readiness.entries.validate import validate
from tests.entries.samples import FULL, Sample, feet
from tests.entries.test_entry_kinds import WRONG
from tests.export.conftest import Made
from tests.export.farm import entries

# What no schema of fields can say: names that are taken, and text of spaces alone.
BEYOND = [("check", {"check": name}) for name in ("vet-exam", "today", "turnout")]
BEYOND += [("bull", {"bull": "  "})]

NESTED: list[tuple[str, dict[str, Any], str]] = [
    ("feet", {"findings": [{"foot": "LF", "claw": "outer"}]}, "findings[0].code"),
    ("feet", {"findings": [{"foot": "LF", "claw": "outer", "code": "QQ"}]}, "findings[0].code"),
    ("feet", {"healed": [{"foot": "LF", "claw": "outer", "code": "SU", "stable": 1}]},
     "healed[0].stable"),
    ("feet", {"work": [{"foot": "LF", "act": "trim", "colour": "red"}]}, "work[0].colour"),
    ("feet", {"measures": [{"foot": "LF", "claw": "outer", "wall_mm": 19}]}, "measures[0].wall_mm"),
    ("feet", {"work": [{"foot": "LF", "act": "trim"}] * 201}, "work"),
    ("mobility", {"score": 1.5}, "score"),
    ("mobility", {"score": 6}, "score"),
    ("condition", {"score": 3.1}, "score"),
    ("weight", {"on": "2026-02-30"}, "on"),
    ("weight", {"on": "03/04/2026"}, "on"),
    ("weight", {"id": "seven"}, "id"),
    ("weight", {"colour": "red"}, "colour"),
    ("vet-look", {"outcome": None}, "outcome"),
]  # fmt: skip


@pytest.fixture(scope="session")
def schema(made: Made) -> dict[str, Any]:
    made_of: dict[str, Any] = json.loads((made.folder / "entries.schema.json").read_bytes())
    Draft202012Validator.check_schema(made_of)
    return made_of


def judge(schema: dict[str, Any], kind: str = "") -> Any:
    """Of any entry, or of those of one kind: then what is wrong has one place."""
    if kind:
        schema = {"$ref": schema["discriminator"]["mapping"][kind], "$defs": schema["$defs"]}
    return Draft202012Validator(schema, format_checker=Draft202012Validator.FORMAT_CHECKER)


def places(error: Any) -> Iterator[str]:
    """Where it is, as a refusal names it: "findings[0].zone"."""
    path = "".join(f"[{step}]" if isinstance(step, int) else f".{step}" for step in error.path)
    if error.validator == "required":
        path += "." + next(key for key in error.validator_value if f"'{key}'" in error.message)
    elif error.validator == "additionalProperties":
        known = error.schema["properties"]
        yield from (f"{path}.{key}"[1:] for key in error.instance if key not in known)
        return
    yield path[1:]


def test_every_entry_of_an_export_and_of_the_demo_is_as_the_schema_says(
    made: Made, schema: dict[str, Any]
) -> None:
    whole = judge(schema)
    demo = [json.loads(line) for line in demo_lines(date(2026, 4, 3)).splitlines()]
    said = [*entries(made.folder), *demo, *FULL.values()]
    assert {entry["kind"] for entry in said} == set(FULL)
    assert [error.message for entry in said for error in whole.iter_errors(entry)] == []


@pytest.mark.parametrize(
    ("kind", "wrong", "field"), [case for case in [*WRONG, *NESTED] if case[:2] not in BEYOND]
)
def test_what_the_program_refuses_the_schema_refuses_in_the_same_place(
    schema: dict[str, Any], kind: str, wrong: Sample, field: str
) -> None:
    entry = FULL[kind] | wrong
    assert field in {problem.field for problem in validate(entry)[1]}
    found = judge(schema, kind).iter_errors(entry)
    assert field in {place for error in found for place in places(error)}
    assert not judge(schema).is_valid(entry)


def test_an_entry_of_no_kind_is_refused(schema: dict[str, Any]) -> None:
    whole = judge(schema)
    assert whole.is_valid(feet())
    assert not whole.is_valid(feet() | {"kind": "hoof"})
    assert not whole.is_valid({key: value for key, value in feet().items() if key != "kind"})
