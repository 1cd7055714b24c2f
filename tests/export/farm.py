"""A book in which everything is said that can be said, by people who write what they like."""

from __future__ import annotations

import csv
import json
from pathlib import Path
from typing import Any

from tests.cli.small_book import FARM, Line, bull, lines, sound
from tests.entries.samples import FULL

DAY = "2026-04-03"
HOSTILE = {
    "=1+2": '=HYPERLINK("http://example.invalid","x")',
    "-9": "-1+1",
    "'7": "'quoted",
    '12 "x", y': 'Quote " and, comma; semicolon',
    "Ｓ１": "＝1+1",
    "31": "<script>alert(1)</script> [bold]",
    "32": "راعٍ ثور",
    "33": "牛" * 120,
    "34": "@SUM(A1)",
    "35": "true",
    "36": "null",
    "826000000000123": "1e3",
}


def rich_lines() -> list[Line]:
    """The small farm, every kind in full, and hostile names, tags, farms and notes."""
    full: list[Line] = [
        {**sample, "bull": "00777"} if "bull" in sample else {**sample, "group": "Heifers"}
        for kind, sample in FULL.items()
        if kind not in ("bull", "strike")
    ]
    hostile: list[Line] = []
    for tag, name in HOSTILE.items():
        hostile += [*bull(tag, name, "=Late", "-Low Sand"), *sound(tag)]
        hostile.append({"kind": "weight", "on": "2026-03-01", "bull": tag, "kg": 900.5,
                        "by": name, "note": f"{name}\r\nsecond line"})  # fmt: skip
    return [
        *lines(),
        {**FULL["bull"], "bull": "00777", "name": "Every"},
        *full,
        {"kind": "group", "on": "2026-01-10", "group": "=Late", "turnout": "2026-05-09",
         "farm": "-Low Sand"},
        *hill_cows_said_again(),
        *hostile,
        {"kind": "feet", "on": "2026-03-30", "bull": "00288", "lifted": ["LH", "RF"],
         "findings": [{"foot": "LH", "claw": "both", "code": "SU", "severity": 3, "zone": 4},
                      {"foot": "RF", "claw": "skin", "code": "DD", "stage": "M2", "zone": 10}],
         "work": [{"foot": "LH", "claw": "both", "act": "trim"},
                  {"foot": "RF", "act": "dress"}]},
        *bull("00601", "Sold", None, FARM), *bull("00602", "Dead", None, FARM),
        {"kind": "moved", "on": "2026-03-02", "bull": "00601", "act": "left", "reason": "sold"},
        {"kind": "moved", "on": "2026-03-02", "bull": "00602", "act": "left", "reason": "died"},
        *bull("00603", "Lent", None, FARM),
        {"kind": "moved", "on": "2026-03-03", "bull": "00603", "act": "out", "reason": "hired"},
        {"kind": "moved", "on": "2026-03-30", "bull": "00603", "act": "in", "reason": "hired"},
        {"kind": "bull", "on": "2026-03-05", "bull": "00604", "name": "Guest", "farm": FARM,
         "origin": "hired", "arrived": "2026-03-04"},
        {"kind": "moved", "on": "2026-03-31", "bull": "00604", "act": "left", "reason": "hired"},
        {"kind": "vet-exam", "on": "2026-03-10", "bull": "00602", "outcome": "satisfactory",
         "examined": [{"part": "eyes", "how": "seen"}, {"part": "testes", "how": "felt"}],
         "scrotum_cm": 30, "stands": True},
        {"kind": "vet-look", "on": "2026-03-11", "bull": "00602", "about": "foot",
         "outcome": "unfit", "foot": "LF"},
        {"kind": "body", "on": "2026-03-11", "bull": "00602", "part": "eyes", "state": "watch"},
        {"kind": "feet", "on": "2026-03-12", "bull": "00602", "lifted": ["LF"],
         "work": [{"foot": "LF", "act": "unwrap"}]},
        *bull("UK 700922 200123", "Tagged", None, FARM), *bull("UK 700922 100123", "Wrong digit"),
    ]  # fmt: skip


def hill_cows_said_again() -> list[Line]:
    """More said of them, some taken away, turnout moved, and what counts only after ``DAY``."""
    said: list[tuple[str, Line]] = [
        ("2026-02-01", {"turnout": "2026-05-08", "weeks": 9, "females": 60, "class": "heifers"}),
        ("2026-02-02", {"turnout": "2026-05-08", "females": None, "class": None}),
        ("2026-02-03", {"turnout": "2026-05-15"}),
        ("2026-04-20", {"turnout": "2026-06-01", "weeks": None}),
    ]
    group: Line = {"kind": "group", "group": "Hill cows", "farm": FARM}
    return [{**group, "on": on, **fields} for on, fields in said]


def unguarded(cell: str) -> str:
    """What was written, as the schema says to have it: without the first apostrophe."""
    return cell.removeprefix("'")


def csv_rows(folder: Path, table: str) -> list[dict[str, str]]:
    """A table as any program reads it: cells as they stand, by the head."""
    with (folder / "csv" / f"{table}.csv").open(encoding="utf-8", newline="") as handle:
        return list(csv.DictReader(handle, strict=True))


def entries(folder: Path) -> list[dict[str, Any]]:
    """The entries of an export, by their lines."""
    text = (folder / "entries.jsonl").read_text(encoding="utf-8")
    return [json.loads(line) for line in text.splitlines()]


def standing(folder: Path) -> list[dict[str, Any]]:
    """Those that no strike withdraws, by day and order of recording."""
    said = entries(folder)
    struck = {entry["entry"] for entry in said if entry["kind"] == "strike"}
    kept = [entry for entry in said if entry["kind"] != "strike" and entry["id"] not in struck]
    return sorted(kept, key=lambda e: (e["on"], e["recorded"], e["position"], e["id"]))
