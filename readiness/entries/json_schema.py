"""The JSON Schema of an entry, for other programs: made of the same types that validate it."""

from __future__ import annotations

from functools import reduce
from operator import or_
from typing import Annotated, Any

from pydantic import Discriminator, TypeAdapter

from readiness.entries.models import KINDS


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
