"""The JSON Schema of each ``--json`` result, by the name of its command."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from readiness.entries.validate import json_schema
from readiness.report.as_json import FORMAT
from readiness.report.schemas.of_bulls import board, bull, diary, sheet, visits
from readiness.report.schemas.of_groups import cover, fleet_stats, rules, stats, turnout
from readiness.report.schemas.of_writing import (
    exported,
    fleet,
    guide,
    merged,
    salvaged,
    settings,
    taken_in,
    undo,
    verified,
    written,
    written_group,
)
from readiness.report.schemas.shapes import (
    ENTRY,
    TEXT,
    Schema,
    many,
    may,
    of,
    record,
)

DRAFT = "https://json-schema.org/draft/2020-12/schema"

SCHEMAS: Mapping[str, Callable[[], Schema]] = {
    "demo": lambda: record({"book": TEXT, "rules": may(TEXT)}),
    "guide": guide,
    "board": board,
    "bull": bull,
    "log": written,
    "book-in": written,
    "group": written_group,
    "undo": undo,
    "import": taken_in,
    "merge": merged,
    "strike": written,
    "retag": written,
    "diary": diary,
    "sheet": sheet,
    "visits": visits,
    "cover": cover,
    "turnout": turnout,
    "stats": stats,
    "rules": rules,
    "settings": settings,
    "export": exported,
    "backup": lambda: record({"file": TEXT}),
    "restore": lambda: record({"book": TEXT, "backup": TEXT}),
    "salvage": salvaged,
    "verify": verified,
    "fleet": fleet,
    "schema": lambda: record({"schemas": many(TEXT)}),
    "completion": lambda: record({"shell": TEXT, "script": TEXT}),
    "man": lambda: record({"page": of(TEXT, "for man (roff)")}),
}
"""Command → its result's shape. Turning out (``turnout --let-out``) and taking moves (``cover
--take``) answer as ``log`` does; a schema itself is no result of this kind."""

MORE: Mapping[str, Callable[[], Schema]] = {"fleet-stats": fleet_stats}
"""What a command answers besides, where it is asked for something else."""

NAMES = (ENTRY, *SCHEMAS, *MORE)


def schema_of(name: str) -> Schema:
    """The JSON Schema of a command's result, or of an entry, as ``import`` takes it."""
    if name == ENTRY:
        return {"$id": f"urn:readiness:{ENTRY}", **json_schema()}
    made = {**SCHEMAS, **MORE}[name]()
    if made["type"] == "object":
        first = {"format": {"const": FORMAT}}
        made["properties"] = first | made["properties"]
        made["required"] = ["format", *made["required"]]
    top: Schema = {"$schema": DRAFT, "$id": f"urn:readiness:{name}:{FORMAT}"}
    top |= {"title": f"readiness {name.replace('-stats', ' stats')} --json", **made}
    if name in ("bull", "sheet"):
        top["$defs"] = {ENTRY: schema_of(ENTRY)}
    return top
