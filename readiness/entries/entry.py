"""An entry as the pure core sees it: a dated, immutable statement by a person.

The edges (``readiness.entries``) validate; the core trusts. Nothing here imports pydantic, so
that the way from the book to the board stays quick.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any, NamedTuple


class Entry(NamedTuple):
    """One entry.

    ``day`` is a proleptic Gregorian ordinal (``date.toordinal``): the engine counts in whole days.
    ``bull`` is the look-up key of the tag (``tag_key``), empty for groups and strikes.
    ``body`` is the canonical content as JSON values: ``kind``, ``on``, ``bull`` as written, ``by``,
    ``note`` and the fields of the kind. ``recorded`` is UTC, ISO 8601, of one fixed width, so that
    text order is time order.
    """

    day: int
    recorded: str
    position: int
    id: str
    kind: str
    bull: str
    body: Mapping[str, Any]
    batch: str = ""
    device: str = ""


def entry_order(entry: Entry) -> tuple[int, str, int, str]:
    """The one sort key: by day, then (recorded, position in its batch, id)."""
    return entry[:4]


def last_farm(entries: Iterable[Entry]) -> str | None:
    """The farm that a bull's entries, in their order, say last."""
    farm = None
    for entry in entries:
        if entry.kind == "bull":
            farm = entry.body.get("farm", farm)
    return farm


ROSTER = "roster-"
"""Stands in the id of a batch that came out of a roster. The id goes with its entries into exports
and copies, so that everywhere they can be told from what was said at the crush."""


def from_roster(entry: Entry) -> bool:
    """Whether it was in a spreadsheet: nobody need have had the bull before him to say so."""
    return ROSTER in entry.batch
