"""Desks over one small book; farm, tags and days are invented."""

from __future__ import annotations

import uuid
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

from readiness.book import Book
from readiness.book.shelf import effective
from readiness.desk.desk import Desk
from readiness.system.clock import FixedClock

NOW = datetime(2026, 4, 3, 9, tzinfo=UTC)
DAY = date(2026, 4, 3)
CORRAN, TARN = "00417", "00122"


def desk_at(path: Path, device: str = "shed", *, readonly: bool = False) -> Desk:
    clock = FixedClock(NOW)
    return Desk(Book(path, clock, device), None, clock, who="M. Oakes", readonly=readonly)


def said(kind: str, tag: str = CORRAN, on: str = "2026-04-03", **fields: Any) -> dict[str, Any]:
    return {"kind": kind, "on": on, "bull": tag, **fields}


def booked(tag: str = CORRAN, **fields: Any) -> dict[str, Any]:
    return said("bull", tag, "2026-01-10", **fields)


def walk(score: int = 0, tag: str = CORRAN, on: str = "2026-04-03") -> dict[str, Any]:
    return said("mobility", tag, on, scale="gb0-3", score=score)


def new_id() -> str:
    return str(uuid.uuid4())


def standing(path: Path) -> list[dict[str, Any]]:
    """What stands in the book, read anew."""
    return [dict(entry.body) for entry in effective(desk_at(path).book.snapshot().entries)]
