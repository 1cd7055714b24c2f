"""An invented farm, small enough to check by hand, as lines of a file; the day is 3 Apr 2026."""

from __future__ import annotations

import json
from collections.abc import Iterable
from pathlib import Path
from typing import Any

DAY = "2026-04-03"
FARM = "Sallow Fell"
FEET = ["LF", "RF", "LH", "RH"]
LAME = "0195f2a0-0000-7000-8000-000000000417"
"""The id of the entry that says Corran is lame."""

Line = dict[str, Any]


def bull(
    tag: str, name: str, group: str | None = None, farm: str | None = FARM, **more: Any
) -> list[Line]:
    booked: Line = {"kind": "bull", "on": "2026-01-10", "bull": tag, "name": name, **more}
    lines = [booked if farm is None else {**booked, "farm": farm}]
    if group is not None:
        lines.append({"kind": "join", "on": "2026-01-11", "bull": tag, "group": group})
    return lines


def sound(tag: str) -> list[Line]:
    """All done that a turnout in April asks for, but for the walk."""
    return [
        {"kind": "feet", "on": "2026-02-10", "bull": tag, "lifted": FEET},
        {"kind": "condition", "on": "2026-03-20", "bull": tag, "scale": "five", "score": 3.25},
        {"kind": "vet-exam", "on": "2026-03-10", "bull": tag, "outcome": "satisfactory"},
    ]


def went_out(tag: str, on: str = "2026-03-01") -> list[Line]:
    """All done that a turnout on 1 March asks for, and out ``on`` that day."""
    done = {"on": "2026-02-25", "bull": tag}
    return [
        {"kind": "feet", "lifted": FEET, **done},
        {"kind": "mobility", "scale": "gb0-3", "score": 0, **done},
        {"kind": "condition", "scale": "five", "score": 3.25, **done},
        {"kind": "vet-exam", "outcome": "satisfactory", **done},
        {"kind": "moved", "on": on, "bull": tag, "act": "out"},
    ]


def lines() -> list[Line]:
    """Corran lame, Tarn deferred, Brock on a block, Fenwick to come, Rowan GO, Stray in no group,
    Gyle out and working."""
    groups: list[Line] = [
        {"kind": "group", "on": "2026-01-10", "group": "Heifers", "turnout": "2026-04-09",
         "females": 40, "class": "heifers", "farm": FARM},
        {"kind": "group", "on": "2026-01-10", "group": "Hill cows", "turnout": "2026-05-08",
         "farm": FARM},
    ]  # fmt: skip
    walked: Line = {"kind": "mobility", "scale": "gb0-3", "score": 0}
    return [
        *groups,
        *bull("UK 123450 600417", "Corran", "Heifers"),
        *sound("UK 123450 600417"),
        {"kind": "mobility", "on": "2026-04-01", "bull": "UK 123450 600417", "scale": "gb0-3",
         "score": 2, "limb": "LF", "id": LAME},
        *bull("00122", "Tarn", "Heifers"),
        *sound("00122")[:2],
        {"kind": "vet-exam", "on": "2026-03-10", "bull": "00122", "outcome": "deferred",
         "again_on": "2026-04-20"},
        {**walked, "on": "2026-04-02", "bull": "00122"},
        *bull("00093", "Brock", "Hill cows"),
        {"kind": "feet", "on": "2026-03-04", "bull": "00093", "lifted": FEET, "findings": [
            {"foot": "LH", "claw": "inner", "code": "SU", "severity": 2, "zone": 4}]},
        {"kind": "block-on", "on": "2026-03-04", "bull": "00093", "foot": "LH", "claw": "outer"},
        *bull("00310", "Fenwick", "Heifers"),
        *sound("00310"),
        *bull("00288", "Rowan", "Heifers", born="2024-03-01", heifer_safe=True),
        *sound("00288"),
        {**walked, "on": "2026-04-02", "bull": "00288"},
        *bull("00501", "Stray"),
        *bull("00502", "Gyle", born="2024-03-01"),
        *went_out("00502"),
    ]  # fmt: skip


def write(path: Path, entries: Iterable[Line] | None = None) -> Path:
    """The lines (by default the whole farm's) as a file of entries."""
    chosen = lines() if entries is None else list(entries)
    path.write_text("".join(json.dumps(line) + "\n" for line in chosen), encoding="utf-8")
    return path
