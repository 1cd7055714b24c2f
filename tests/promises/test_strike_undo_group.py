"""What ``strike``, ``undo``, ``group`` and ``log`` promise, and what was known when."""

from __future__ import annotations

import time
import uuid
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from tests import build as say
from tests.promises.conftest import Run, Tell

Board = Callable[..., dict[str, Any]]
ON = "2026-04-28"


def walks(run: Run, tag: str = say.TAG) -> list[int]:
    told = run("bull", tag, "--json", "--on", ON).json()["scores"]["mobility"]
    return [walk["score"] for walk in told]


def test_a_strike_takes_its_entry_away_for_every_day(tell: Tell, run: Run, board: Board) -> None:
    line = {**say.walk("2026-03-01", 3), "id": str(uuid.uuid4())}
    tell(say.booked(), line)
    assert board("2026-03-02")["bulls"][0]["reasons"]
    assert run("strike", line["id"], "--why", "wrong bull", "--on", ON).code == 0
    assert board("2026-03-02")["bulls"][0]["reasons"] == []
    assert walks(run) == []


def test_what_cannot_be_struck(tell: Tell, run: Run) -> None:
    told = tell(say.booked(), say.walk(ON, 0)).json()["written"]
    strike = run("strike", told[1], "--json", "--on", ON).json()["written"][0]
    assert run("strike", strike, "--on", ON).code == 65
    assert run("strike", told[0], "--on", ON).code == 0, "nothing else stands of him"
    told = tell(say.booked("C"), say.walk(ON, 0, tag="C")).json()["written"]
    assert run("strike", told[0], "--on", ON).code == 65
    assert run("strike", str(uuid.uuid4()), "--on", ON).code == 66
    assert walks(run, "C") == [0]


def test_a_struck_entry_said_again_counts(tell: Tell, run: Run) -> None:
    told = tell(say.booked(), say.walk(ON, 1)).json()["written"]
    run("strike", told[1], "--on", ON)
    assert run("log", say.TAG, "walk 1", "--on", ON).code == 0
    assert walks(run) == [1]


def test_undo_goes_back_batch_by_batch(tell: Tell, run: Run) -> None:
    tell(say.booked())
    for score in (0, 1):
        run("log", say.TAG, f"walk {score}; cond 3", "--on", ON)
    assert walks(run) == [0, 1]
    assert run("undo").code == 0
    assert walks(run) == [0]
    run("log", say.TAG, "walk 1", "--on", ON)
    run("undo")
    run("undo")
    assert walks(run) == []
    told = run("bull", say.TAG, "--json", "--on", ON).json()
    assert [line["kind"] for line in told["history"]] == ["bull"]


def test_group_writes_every_field(run: Run, board: Board) -> None:
    ran = run("group", "Top", "--turnout", "2026-05-04", "--females", "40", "--weeks", "9",
              "--class", "heifers", "--farm", "Moss", "--on", "2026-04-01")  # fmt: skip
    assert ran.code == 0, ran.err
    (line,) = board("2026-04-01")["groups"]
    assert (line["farm"], line["group"], line["turnout"], line["females"]) == (
        "Moss", "Top", "2026-05-04", 40,
    )  # fmt: skip
    assert board("2026-03-31")["groups"] == []
    assert board("2026-07-06")["groups"] != [] and board("2026-07-07")["groups"] == []


SHORTHAND = [
    ("all ok", "feet", {"lifted": say.FEET}),
    ("lh rf ok", "feet", {"lifted": ["LH", "RF"]}),
    ("rh refused", "feet", {"lifted": [], "refused": ["RH"]}),
    ("block lh i", "block-on", {"foot": "LH", "claw": "inner"}),
    ("block lh i off", "block-off", {"foot": "LH", "claw": "inner"}),
    ("block lh i lost", "block-off", {"foot": "LH", "claw": "inner", "lost": True}),
    ("walk 1 lf", "mobility", {"scale": "gb0-3", "score": 1, "limb": "LF"}),
    ("cond 3.25", "condition", {"scale": "five", "score": 3.25}),
    ("kg 980", "weight", {"kg": 980}),
    ("fight lame lf shoulder", "incident",
     {"cause": "fight", "lame": True, "limb": "LF", "suspect": "shoulder"}),
    ("fall", "incident", {"cause": "fall"}),
    ("ill fever", "incident", {"cause": "illness", "fever": True}),
    ("vet ok cm 36 mot 65 norm 78 feet", "vet-exam",
     {"outcome": "satisfactory", "scrotum_cm": 36, "motility_pct": 65, "normal_pct": 78,
      "feet_seen": True}),
    ("vet again 2026-06-01", "vet-exam", {"outcome": "deferred", "again_on": "2026-06-01"}),
    ("vet no", "vet-exam", {"outcome": "unsatisfactory"}),
    ("vet ok cm 30 stands", "vet-exam",
     {"outcome": "satisfactory", "scrotum_cm": 30, "stands": True}),
    ("vetlook lame fit", "vet-look", {"about": "lame", "outcome": "fit"}),
    ("vetlook foot unfit lf", "vet-look", {"about": "foot", "outcome": "unfit", "foot": "LF"}),
    ("vetlook illness again 2026-05-03", "vet-look",
     {"about": "illness", "outcome": "again", "again_on": "2026-05-03"}),
    ("vetlook body fit joint lh", "vet-look",
     {"about": "body", "outcome": "fit", "part": "joint", "limb": "LH"}),
    ("body penis wrong", "body", {"part": "penis", "state": "wrong"}),
    ("body joint lf right", "body", {"part": "joint", "limb": "LF", "state": "right"}),
    ("given Ann: blue spray no pain", "treatment",
     {"given_by": "Ann", "product": "blue spray", "pain_relief": False}),
    ("out hired", "moved", {"act": "out", "reason": "hired"}),
    ("lh unwrap", "feet", {"lifted": ["LH"], "work": [{"foot": "LH", "act": "unwrap"}]}),
    ("given Ann: blue spray pain until 2026-05-20", "treatment",
     {"given_by": "Ann", "product": "blue spray", "pain_relief": True,
      "withdrawal_until": "2026-05-20"}),
    ("out", "moved", {"act": "out"}),
    ("in lame", "moved", {"act": "in", "reason": "lame"}),
    ("in rested", "moved", {"act": "in", "reason": "rested"}),
    ("left sold", "moved", {"act": "left", "reason": "sold"}),
    ("done ring", "check", {"check": "ring", "result": "pass"}),
    ("failed ring", "check", {"check": "ring", "result": "fail"}),
    ("join Hill reserve", "join", {"group": "Hill", "role": "reserve"}),
    ("LF  O SU@4/2 pare WRAP", "feet", {
        "lifted": ["LF"],
        "findings": [{"foot": "LF", "claw": "outer", "code": "SU", "zone": 4, "severity": 2}],
        "work": [{"foot": "LF", "claw": "outer", "act": "pare"},
                 {"foot": "LF", "claw": "outer", "act": "wrap"}]}),
    ("rh s dd:m2/2 dress", "feet", {
        "lifted": ["RH"],
        "findings": [{"foot": "RH", "claw": "skin", "code": "DD", "stage": "M2", "severity": 2}],
        "work": [{"foot": "RH", "claw": "skin", "act": "dress"}]}),
    ("lf o su/3 was sh", "feet", {
        "lifted": ["LF"],
        "findings": [{"foot": "LF", "claw": "outer", "code": "SU", "severity": 3, "was": "SH"}]}),
    ("lf o su healed stable", "feet", {
        "lifted": ["LF"],
        "healed": [{"foot": "LF", "claw": "outer", "code": "SU", "stable": True}]}),
    ("lf o wall 92 sole 7 groove 20", "feet", {
        "lifted": ["LF"],
        "measures": [{"foot": "LF", "claw": "outer", "wall_mm": 92, "sole_mm": 7,
                      "groove_mm": 20}]}),
]  # fmt: skip


@pytest.mark.parametrize(("text", "kind", "fields"), SHORTHAND, ids=[case[0] for case in SHORTHAND])
def test_each_part_of_a_line_becomes_the_entry_that_it_means(
    tell: Tell, run: Run, text: str, kind: str, fields: dict[str, Any]
) -> None:
    tell(say.booked(), say.group("2026-05-04"))
    ran = run("log", say.TAG, text, "--json", "--on", ON, "--by", "Sam")
    assert ran.code == 0, ran.err
    line = run("bull", say.TAG, "--json", "--on", ON).json()["history"][0]
    assert line.pop("id") == ran.json()["written"][0]
    for key in ("recorded", "position", "batch", "device", "who"):
        del line[key]
    assert line == {"kind": kind, "on": ON, "bull": say.TAG, "by": "Sam", **fields}


def test_free_text_is_the_note_and_scales_are_echoed(tell: Tell, run: Run) -> None:
    tell(say.booked())
    ran = run("log", say.TAG, 'walk 1; cond 3; "stiff after the lorry"', "--on", ON)
    for words in ("Walk 1 (GB scale 0-3).", "Condition 3 (scale 1-5).", "stiff after the lorry"):
        assert words in ran.out
    notes = {
        line.get("note") for line in run("bull", say.TAG, "--json", "--on", ON).json()["history"]
    }
    assert "stiff after the lorry" in notes


@pytest.fixture
def auckland(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """The clock of a farm twelve hours ahead of UTC."""
    with monkeypatch.context() as here:
        here.setenv("TZ", "Pacific/Auckland")
        time.tzset()
        yield
    time.tzset()


def test_known_on_a_day_means_its_local_end(tell: Tell, board: Board, auckland: None) -> None:
    """Recorded on 27 April 13:00 UTC, which is 28 April 01:00 in Auckland (UTC+12)."""
    receipt = {"position": 0, "batch": "b", "device": "d"}
    tell(
        {**say.booked(), "id": str(uuid.uuid4()), "recorded": "2026-01-01T00:00:00Z", **receipt},
        {**say.walk("2026-04-20", 2), "id": str(uuid.uuid4()), "recorded": "2026-04-27T13:00:00Z",
         **receipt},
    )  # fmt: skip

    def lame(known: str) -> bool:
        return bool(board(ON, "--known", known)["bulls"][0]["reasons"])

    assert not lame("2026-04-27")
    assert lame("2026-04-28")
    assert not lame("2026-04-28T00:59")
    assert lame("2026-04-28T01:00")
    assert not lame("2026-04-27T12:59:59Z")


def test_what_was_known_before_the_strike(tell: Tell, run: Run, board: Board) -> None:
    receipt = {"position": 0, "batch": "b", "device": "d"}
    line = {**say.walk("2026-04-20", 2), "id": str(uuid.uuid4()),
            "recorded": "2026-04-20T08:00:00Z", **receipt}  # fmt: skip
    tell({**say.booked(), "id": str(uuid.uuid4()), "recorded": "2026-01-01T00:00:00Z", **receipt},
         line)  # fmt: skip
    run("strike", line["id"], "--on", ON)
    assert board(ON)["bulls"][0]["reasons"] == []
    assert board(ON, "--known", "2026-04-21")["bulls"][0]["reasons"]


def test_backup_restore_verify(tell: Tell, run: Run, board: Board, tmp_path: Path) -> None:
    tell(say.booked(), *say.ready())
    copy, new = tmp_path / "copy.duckdb", tmp_path / "new.duckdb"
    assert run("backup", copy).code == 0
    assert run("log", say.TAG, "walk 2", "--on", ON).code == 0
    assert run("restore", copy).code == 73, "never over a book"
    assert run("restore", copy, "--book", new).code == 0
    assert run("verify", "--book", new).code == 0
    assert board(ON, "--book", new)["bulls"][0]["reasons"] == []
    assert board(ON)["bulls"][0]["reasons"]
    assert run("backup", copy).code == 73
    assert run("verify", "--book", tmp_path / "none.duckdb").code == 66
