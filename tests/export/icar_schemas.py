"""The rules of the ICAR ADE schemas in ``tests/standards/icar`` (see the README there)."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any
from urllib.parse import urljoin

from jsonschema import Draft202012Validator
from referencing import Registry
from referencing.jsonschema import DRAFT202012

HOME = Path(__file__).parents[1] / "standards" / "icar"
BASE = "https://icar.invalid/"


@cache
def rules() -> dict[str, Any]:
    """Address → schema, of every file."""
    return {
        BASE + path.relative_to(HOME).as_posix(): json.loads(path.read_bytes())
        for path in sorted(HOME.glob("*/*.json"))
    }


def address(resource: str) -> str:
    return f"{BASE}resources/{resource}.json"


@cache
def validator(resource: str) -> Draft202012Validator:
    """The judge of one type of resource; every reference is followed among the files."""
    registry: Registry[Any] = Registry().with_resources(
        (at, DRAFT202012.create_resource({"$id": at, **schema})) for at, schema in rules().items()
    )
    return Draft202012Validator({"$ref": address(resource)}, registry=registry)


def problems(resource: str, message: object) -> list[str]:
    """What the schema finds wrong with a message."""
    return [error.message for error in validator(resource).iter_errors(message)]


def unknown_members(resource: str, message: Mapping[str, Any]) -> list[str]:
    """The members, at any depth, that no schema names: the schemas themselves let them pass."""
    return list(_unknown(address(resource), rules()[address(resource)], message))


def _unknown(at: str, schema: Any, value: Any) -> Iterator[str]:
    members, items = _known(at, schema)
    if isinstance(value, Mapping):
        for name, inner in value.items():
            if name not in members:
                yield name
            elif members[name][1]:
                yield from _unknown(*members[name], inner)
    elif isinstance(value, list) and items is not None:
        for inner in value:
            yield from _unknown(*items, inner)


def _known(at: str, schema: Any) -> tuple[dict[str, tuple[str, Any]], tuple[str, Any] | None]:
    """The members and the items that a schema and all it is made of know."""
    members = {name: (at, inner) for name, inner in schema.get("properties", {}).items()}
    items = (at, schema["items"]) if "items" in schema else None
    parts = [(at, part) for part in schema.get("allOf", ())]
    if "$ref" in schema:
        there = urljoin(at, schema["$ref"])
        parts.append((there, rules()[there]))
    for part in parts:
        more, inner_items = _known(*part)
        members, items = {**more, **members}, items or inner_items
    return members, items
