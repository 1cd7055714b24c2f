"""Of what JSON Schemas are put together: small pieces, and what the results themselves declare.

The result classes are the statement of their own shape: ``told`` reads off one what ``as_json``
tells of it, field by field.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import NoneType, UnionType
from typing import Any, NamedTuple, Union, get_args, get_origin, get_type_hints

from readiness.herd.diary import WHO
from readiness.report.as_json import is_result, told_of
from readiness.rules.model import STANDINGS
from readiness.trade.bulls import ROLES
from readiness.trade.codes import CODES
from readiness.trade.feet import CLAWS, FEET
from readiness.trade.temper import TEMPERS

Schema = dict[str, Any]

TEXT: Schema = {"type": "string"}
WHOLE: Schema = {"type": "integer"}
NUMBER: Schema = {"type": "number"}
FLAG: Schema = {"type": "boolean"}
DAY: Schema = {"type": "string", "format": "date"}
ID: Schema = {"type": "string", "description": "an entry's id"}
TAG: Schema = {"type": "string", "description": "a bull's tag"}
FOOT: Schema = {"enum": list(FEET)}
CLAW: Schema = {"enum": list(CLAWS)}
NAMED: dict[str, Schema] = {"bull": TAG, "name": {"type": ["string", "null"]}}
ENTRY = "entry"
LINE: Schema = {"$ref": f"urn:readiness:{ENTRY}"}


class Sometimes(NamedTuple):
    """A key that is there only where it says something."""

    schema: Schema


def words(*known: str) -> Schema:
    """One of these words."""
    return {"enum": list(known)}


def may(schema: Schema) -> Schema:
    """The same, or null where it is not known."""
    if "enum" in schema:
        return {**schema, "enum": [*schema["enum"], None]}
    if isinstance(schema.get("type"), str):
        return {**schema, "type": [schema["type"], "null"]}
    return {"anyOf": [schema, {"type": "null"}]}


def many(schema: Schema) -> Schema:
    """A list of them."""
    return {"type": "array", "items": schema}


def of(schema: Schema, text: str) -> Schema:
    """The same, explained."""
    return {**schema, "description": text}


def record(keys: Mapping[str, Schema | Sometimes]) -> Schema:
    """An object with these keys. More may come in later versions."""
    return {
        "type": "object",
        "properties": {
            key: each.schema if isinstance(each, Sometimes) else each for key, each in keys.items()
        },
        "required": [key for key, each in keys.items() if not isinstance(each, Sometimes)],
    }


def with_keys(schema: Schema, more: Mapping[str, Schema | Sometimes]) -> Schema:
    """An object that has these keys, too."""
    added = record(more)
    return {
        **schema,
        "properties": {**schema["properties"], **added["properties"]},
        "required": [*schema["required"], *added["required"]],
    }


# ---- what result classes declare -----------------------------------------------------------------

HOLDS = ("reason", "checks")
OUTLOOKS = (
    "ready", "on-track", "tight", "too-late", "vet-decides", "not-booked", "at-odds", "wrong-group",
    "no-turnout", "working",
)  # fmt: skip
KNOWN_WORDS: Mapping[str, tuple[str, ...]] = {
    "status": ("GO", "HOLD"),
    "hold": HOLDS,
    "outlook": OUTLOOKS,
    "role": ROLES,
    "temper": TEMPERS,
    "foot": FEET,
    "claw": CLAWS,
    "code": tuple(CODES),
    "who": WHO,
    "standing": STANDINGS,
    "what": (
        "too-old", "recent-enough", "asked", "not-asked", "day-gained", "day-lost",
        "reason-comes", "reason-goes",
    ),
}  # fmt: skip
"""Key of a result → the only words that stand there."""

MEANS: Mapping[str, str] = {
    "advised_by": "the day before which it is better done",
    "after": "ids of the checks that it waits for",
    "chain": "the steps that decide the first day on which he can be ready, to turnout: from "
    "today, or from what was said, of `age` from his birth",
    "due": "the last day by its own clock",
    "earliest_ready": "the first day on which he could go, if all is done and every check passes",
    "forecast_ready": "bulls who will be ready by turnout if every check passes",
    "from": "today, an entry's id or a check's",
    "hold": "reason: something is true of him today; checks: only checks are to come",
    "low": "of the 95 % interval (Wilson)",
    "high": "of the 95 % interval (Wilson)",
    "not_after": "the last day that still counts at turnout",
    "not_before": "the first day on which it counts",
    "open_end": "the day he can be ready is no more than a day before which he is not",
    "overdue": "of a check: its last day is past; of a bull or group: how many are",
    "rule": "the id of the rule, as `rules --json` has it",
    "share": "0 to 1",
    "slack_days": "days to spare from earliest_ready to turnout; negative: too late",
    "source": "where the rule's value comes from",
    "standing": "how well its value is known",
    "to": "a check's id, or turnout",
    "turnout": "the day his group goes out",
}
"""Key of a result → what it says, where the key alone does not."""


def told(kind: type, *names: str) -> Schema:
    """What ``as_json`` tells of a result of this class, or of those of its fields."""
    hints = get_type_hints(kind)
    keys: dict[str, Schema | Sometimes] = {}
    for field in told_of(kind):
        if names and field.name not in names:
            continue
        where = getattr(kind, field.read)
        hint = (
            get_type_hints(where.fget)["return"]
            if isinstance(where, property)
            else hints[field.name]
        )
        keys[field.key] = _explained(field.key, DAY if field.day else _of(hint, field.key), hint)
    return record(keys)


def plain(kind: type, *, days: tuple[str, ...] = ()) -> Schema:
    """What a named tuple tells as a dictionary. ``days``: its fields that are days."""
    return record(
        {
            name: DAY if name in days else _of(hint, name)
            for name, hint in get_type_hints(kind).items()
        }
    )


def _explained(key: str, schema: Schema, hint: Any) -> Schema:
    if NoneType in get_args(hint) and schema is DAY:
        schema = may(schema)
    return of(schema, MEANS[key]) if key in MEANS and "$ref" not in schema else schema


def _of(hint: Any, key: str) -> Schema:
    """The schema of a value of this type under this key."""
    inside = [each for each in get_args(hint) if each is not NoneType]
    if get_origin(hint) in (Union, UnionType):
        (one,) = inside
        return may(_of(one, key))
    if get_origin(hint) in (tuple, list):
        return many(_of(inside[0], key))
    if get_origin(hint) is dict:
        return {"type": "object", "additionalProperties": _of(inside[1], "")}
    if isinstance(hint, type) and is_result(hint):
        return told(hint)
    if hint is str and key in KNOWN_WORDS:
        return words(*KNOWN_WORDS[key])
    return {str: TEXT, int: WHOLE, float: NUMBER, bool: FLAG, Any: {}}[hint]
