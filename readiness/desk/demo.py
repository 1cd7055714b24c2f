"""The demo: an invented estate, moved to the day on which it is shown."""

from __future__ import annotations

import json
import os
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

from readiness.book import Book
from readiness.entries.columns import columns_of
from readiness.entries.jsonl import read_jsonl
from readiness.entries.models import KINDS
from readiness.system.clock import FixedClock
from readiness.system.errors import CannotWrite, DataError, ReadinessError, UsageError
from readiness.system.files import write_new
from readiness.system.locations import DEMO_DEVICE, rules_places

ESTATE = "estate.jsonl"
RULES = "estate.toml"
WRITTEN_ON = date(2026, 4, 3)
"""The day that the stored entries lead up to."""

YEARS = (2010, 2098)
"""The first and last year to whose days it can be moved."""

_DAYS = {
    name
    for shape in KINDS.values()
    for name, column in columns_of(shape).items()
    if column.type == "date"
}
_HERE = Path(__file__).parents[1]


def demo_data() -> Path:
    """Where the demo's entries are: beside the package in the repository, inside it installed."""
    inside = _HERE / "demo_data"
    return inside if inside.is_dir() else _HERE.parent / "demo_data"


def demo_lines(on: date) -> bytes:
    """The demo's entries as JSON Lines, every date moved so that they lead up to ``on``."""
    moved = on - WRITTEN_ON
    stored = (demo_data() / ESTATE).read_text(encoding="utf-8").splitlines()
    lines = [json.dumps(_moved(json.loads(line), moved), ensure_ascii=False) for line in stored]
    return "\n".join(lines).encode()


def _moved(content: dict[str, Any], by: timedelta) -> dict[str, Any]:
    moved = dict(content)
    for field in _DAYS:
        if field in content:
            moved[field] = (date.fromisoformat(content[field]) + by).isoformat()
    if "recorded" in content:
        moment = datetime.fromisoformat(content["recorded"]) + by
        moved["recorded"] = moment.isoformat()
    return moved


def build_demo(path: Path, on: date) -> Book:
    """Write the demo book at ``path``, with its rules beside it. The same day, the same book.

    Raises ``CannotWrite`` where it cannot be written, and where anything stands already, be it a
    link to nowhere: it is never written over, nor are its rules taken for the demo's;
    ``UsageError`` for a day so far off that the dates of entries would leave the years they may
    have.
    """
    if not YEARS[0] <= on.year <= YEARS[1]:
        raise UsageError(
            f"The demo cannot lead up to {on}: give --on a day of the years {YEARS[0]} to "
            f"{YEARS[1]}."
        )
    reading = read_jsonl(demo_lines(on), ESTATE)
    if reading.problems:
        raise DataError(f"the demo's own data is damaged: {reading.problems[0]}")
    now = datetime.fromisoformat(f"{on}T18:00:00+00:00")
    book = Book(path, FixedClock(now), device=DEMO_DEVICE)
    for there in rules_places(path):
        if os.path.lexists(there):
            raise CannotWrite(f"{there} is there already; name a new place for the demo book.")
    rules = rules_places(path)[-1]
    if not write_new(rules, (demo_data() / RULES).read_bytes()):
        raise CannotWrite(f"{rules} is there already; name a new place for the demo book.")
    try:
        book.create()
    except ReadinessError:
        rules.unlink(missing_ok=True)  # we made it just now
        raise
    book.append(reading.entries, "demo")
    return book
