"""From what somebody wrote to canonical content, or to every problem with it.

pydantic judges by the types of ``models``; ``refusal`` tells what it finds. Of the same types the
JSON Schema is made, for other programs.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache, reduce
from operator import or_
from typing import Annotated, Any

from pydantic import Discriminator, TypeAdapter, ValidationError

from readiness.entries.checks import problems_between_fields
from readiness.entries.columns import Column, columns_of
from readiness.entries.models import KINDS
from readiness.entries.problem import Problem
from readiness.entries.refusal import kind_refusal, problem_of
from readiness.system.plain import plain

# Keys that belong to the entry as a whole and to its way here, not to what it says.
RECEIPT_KEYS = ("id", "recorded", "position", "batch", "device")


def validate(raw: Mapping[str, object]) -> tuple[dict[str, Any] | None, list[Problem]]:
    """The canonical content of an entry, or None and its problems (their ``line`` is None).

    Canonical: JSON values; the keys that were given and no others, without null, empty text and
    empty lists where the key may be left out; whole numbers as ints; text without controls, in
    Unicode form NFC, without outer spaces; lists in their order. ``id``, ``recorded``,
    ``position``, ``batch`` and ``device`` are checked and left out.
    """
    checked, problems = validate_whole(raw)
    if checked is None:
        return None, problems
    return {key: value for key, value in checked.items() if key not in RECEIPT_KEYS}, []


def validate_whole(raw: Mapping[str, object]) -> tuple[dict[str, Any] | None, list[Problem]]:
    """As ``validate``, with the keys of an export still in place."""
    kind = raw.get("kind")
    if not isinstance(kind, str) or kind not in KINDS:
        return None, [Problem(None, "kind", kind_refusal(raw))]
    cleaned = _clean(raw, KINDS[kind])
    try:
        checked = adapter(KINDS[kind]).validate_python(cleaned)
    except ValidationError as error:
        return None, [problem_of(cleaned, detail) for detail in error.errors(include_url=False)]
    # A text has its canonical spelling now; of a number pydantic makes a float, whole or not.
    whole = {k: value if isinstance(value, str) else cleaned[k] for k, value in checked.items()}
    problems = [Problem(None, field, text) for field, text in problems_between_fields(whole)]
    return (None, problems) if problems else (whole, [])


@cache
def adapter(shape: Any) -> TypeAdapter[dict[str, Any]]:
    """The validator of one kind's shape, built when that kind is first met."""
    return TypeAdapter(shape)


def _clean(raw: Mapping[str, object], shape: Any) -> dict[str, Any]:
    """Texts made plain, whole numbers ints, and known keys that say nothing left out.

    What is empty is kept where it means something: no foot lifted, out of every group, and what
    was said of a group taken away.
    """
    columns = columns_of(shape)
    cleaned: dict[str, Any] = {}
    for key, value in raw.items():
        column = columns.get(key)
        said = _clean_value(column, value)
        if column is None or not _says_nothing(column, said):
            cleaned[key] = said
    return cleaned


def _says_nothing(column: Column, said: object) -> bool:
    if said is None:
        return not column.null
    return said == "" or (said == [] and not column.required)


def _clean_value(column: Column | None, value: object) -> object:
    if isinstance(value, str):
        return plain(value).strip()
    if isinstance(value, float) and value.is_integer():
        return int(value)
    if isinstance(value, list) and column and column.item and not isinstance(column.item, Column):
        return [_clean(item, column.item) if isinstance(item, dict) else item for item in value]
    return value


def json_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of one entry of any kind, in its canonical form.

    It does not say what fields must fit each other (``checks``), which years a day may be of, and
    which names a farm's check may not have.
    """
    any_kind: Any = Annotated[reduce(or_, KINDS.values()), Discriminator("kind")]
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "One line of entries.jsonl",
        **TypeAdapter(any_kind).json_schema(),
    }
