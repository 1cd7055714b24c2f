"""Text that another copy let into the book: harmless in every file, and unchanged in the lines."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import duckdb

from readiness.entries.entry import NewEntry
from readiness.system.plain import plain
from tests.book.builders import book_at
from tests.export.conftest import Run
from tests.export.farm import csv_rows

# Escape and bell of a terminal, C1, direction overrides, unseen fillers, breaks, half a pair.
BAD = '\x1b[2J\x07\x9b31m\u202egnp.exe\u2066\u200b\ufeff\u2028line\r\nbreak\tand "quotes" =1+1'
FORMULA = "\u200b=cmd|' /C calc'!A0"


def wild(n: int, kind: str, **more: Any) -> NewEntry:
    content = {"kind": kind, "on": "2026-04-01", "by": BAD, "note": BAD, **more}
    return NewEntry(f"0195f2a0-0000-7000-8000-0000000000{n:02}", content)


def entries() -> list[NewEntry]:
    tag, foot = f"7{BAD}", {"foot": "LF", "claw": "outer"}
    return [
        wild(1, "group", group=FORMULA, farm=BAD, turnout="2026-05-01"),
        wild(2, "bull", bull=tag, name=FORMULA, farm=BAD, breed=BAD, pen=BAD),
        wild(3, "join", bull=tag, group=FORMULA),
        wild(4, "treatment", bull=tag, given_by=FORMULA, product=BAD, reason=FORMULA),
        wild(5, "feet", bull=tag, lifted=["LF"], findings=[{**foot, "code": "SU"}]),
        wild(6, "moved", bull=tag, act="left", reason="sold"),
    ]


def test_text_that_came_past_our_door_does_no_harm(run: Run, tmp_path: Path) -> None:
    said = entries()
    book_at(tmp_path / "bulls.duckdb").append(said, "")
    folder = tmp_path / "out"
    assert run("export", folder, "--on", "2026-03-31").code == 0
    for path in (*folder.glob("*.json*"), *folder.glob("*/*.csv"), *folder.glob("*/*.json")):
        for line in path.read_bytes().decode("utf-8").split("\n"):
            assert plain(line.rstrip("\r")) == line.rstrip("\r"), path.name
    lines = [json.loads(line) for line in (folder / "entries.jsonl").read_text().splitlines()]
    assert {line["id"]: {key: line[key] for key in line if key in said[0].content}
            for line in lines}[said[0].id] == said[0].content  # fmt: skip


def test_it_is_plain_in_every_format(run: Run, tmp_path: Path) -> None:
    """The formula that hid behind an unseen filler is one no more; Parquet and ICAR say the same
    words as the CSV."""
    book_at(tmp_path / "bulls.duckdb").append(entries(), "")
    folder = tmp_path / "out"
    assert run("export", folder, "--on", "2026-04-02").code == 0
    (row,) = csv_rows(folder, "treatments")
    assert row["given_by"] == "'" + plain(FORMULA)
    with duckdb.connect() as con:
        path = str(folder / "parquet" / "treatments.parquet")
        found = con.execute("SELECT given_by, product FROM read_parquet(?)", [path]).fetchall()
    assert found == [(plain(FORMULA), plain(BAD))]
    (given,) = json.loads((folder / "icar" / "icarTreatmentEventResource.json").read_bytes())
    assert given["responsible"] == plain(FORMULA)
    assert given["comment"] == f"{plain(BAD)}; for {plain(FORMULA)}"
    (bull,) = csv_rows(folder, "bulls")
    assert (bull["place"], bull["farm"]) == ("left", plain(BAD))


def test_bulls_whose_tags_look_alike_stay_two(run: Run, tmp_path: Path) -> None:
    book = book_at(tmp_path / "bulls.duckdb")
    book.append([wild(1, "bull", bull="7"), wild(2, "bull", bull="7\u200b")], "")
    assert run("export", tmp_path / "out", "--on", "2026-04-02").code == 0
    assert [row["bull"] for row in csv_rows(tmp_path / "out", "bulls")] == ["7", "7 (2)"]
