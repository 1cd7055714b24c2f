"""An invented estate for the screens, on one fixed day: a bull for each thing they must show."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

from readiness.book import Book
from readiness.desk.desk import Desk
from readiness.system.clock import FixedClock
from tests.build import made_once

DAY = date(2026, 4, 3)
CLOCK = FixedClock(datetime(2026, 4, 3, 9, 30, tzinfo=UTC))
FEET = ["LF", "RF", "LH", "RH"]


def ago(days: int) -> str:
    return (DAY - timedelta(days=days)).isoformat()


def ahead(days: int) -> str:
    return ago(-days)


def bull(tag: str, name: str, group: str | None, **more: Any) -> Iterator[dict[str, Any]]:
    yield {"kind": "bull", "on": ago(200), "bull": tag, "name": name, "farm": "Sallow Fell", **more}
    if group is not None:
        yield {"kind": "join", "on": ago(190), "bull": tag, "group": group}


def of(tag: str, kind: str, days_ago: int, **more: Any) -> dict[str, Any]:
    return {"kind": kind, "on": ago(days_ago), "bull": tag, **more}


def done(tag: str, *, walk: int | None = 3, exam: int | None = 30) -> Iterator[dict[str, Any]]:
    """Trimmed, in condition, examined and walked sound, so many days ago."""
    trim = [{"foot": foot, "act": "trim"} for foot in FEET]
    yield of(tag, "feet", 60, lifted=FEET, work=trim)
    yield of(tag, "condition", 20, scale="five", score=3.25)
    if exam is not None:
        yield of(tag, "vet-exam", exam, outcome="satisfactory")
    if walk is not None:
        yield of(tag, "mobility", walk, scale="gb0-3", score=0)


def estate() -> list[dict[str, Any]]:
    """Two groups, nine bulls: lame, deferred, on a block, ulcer, checks to come, GO, no group."""
    farm = "Sallow Fell"
    entries: list[dict[str, Any]] = [
        {"kind": "group", "on": ago(200), "group": "Heifers", "turnout": ahead(6), "farm": farm,
         "class": "heifers", "females": 40},
        {"kind": "group", "on": ago(200), "group": "Hill cows", "turnout": ahead(35), "farm": farm},
        *bull("00417", "Corran", "Heifers", breed="Limousin", born=ago(1500), temper="watch"),
        *done("00417"),
        of("00417", "weight", 40, kg=1020),
        of("00417", "mobility", 2, scale="gb0-3", score=2, limb="LF"),
        *bull("00122", "Tarn", "Heifers", breed="Angus", temper="dangerous"),
        *done("00122", exam=None),
        of("00122", "vet-exam", 12, outcome="deferred", again_on=ahead(17)),
        *bull("00093", "Brock", "Hill cows", breed="Charolais", born=ago(1100)),
        *done("00093", walk=None),
        of("00093", "mobility", 40, scale="gb0-3", score=2, limb="LH"),
        of("00093", "feet", 30, lifted=["LH"], by="A. Trimmer",
           findings=[{"foot": "LH", "claw": "inner", "code": "SU", "zone": 4, "severity": 2},
                     {"foot": "LH", "claw": "outer", "code": "HHE", "zone": 6, "severity": 1}],
           work=[{"foot": "LH", "claw": "inner", "act": "pare"}]),
        of("00093", "block-on", 30, foot="LH", claw="outer"),
        of("00093", "mobility", 15, scale="gb0-3", score=1, limb="LH"),
        *bull("00310", "Fenwick", "Heifers", breed="Hereford"), *done("00310", exam=None),
        *bull("00288", "Rowan", "Heifers", breed="Shorthorn", born=ago(1800), heifer_safe=True),
        *done("00288"),
        *bull("00291", "Alder", "Heifers", breed="Shorthorn"), *done("00291"),
        *bull("00501", "Moss", "Hill cows"), *done("00501", walk=None, exam=None),
        *bull("UK 123456 700002", "Sorrel", "Hill cows"),
        *done("UK 123456 700002", walk=None),
        of("UK 123456 700002", "feet", 5, lifted=["RF"],
           findings=[{"foot": "RF", "claw": "skin", "code": "IP", "zone": 0, "severity": 2},
                     {"foot": "RF", "claw": "skin", "code": "DD", "stage": "M2", "zone": 10},
                     {"foot": "RF", "claw": "outer", "code": "WLF", "zone": 2, "severity": 1}]),
        *bull("00777", "Wren", None),
    ]  # fmt: skip
    return entries


def desk_at(path: Path, contents: list[dict[str, Any]] | None = None, **more: Any) -> Desk:
    """A desk over a book at ``path``; with ``contents`` written to it, where given."""
    desk = Desk(Book(path, CLOCK, device="desk-one"), None, CLOCK, who="A. Trimmer", **more)
    if contents:
        what = (path.name, json.dumps(contents))
        made_once(path.parent, what, lambda: desk.add(contents))
    return desk
