"""Entries as JSON Lines: each promise, through ``import`` and what comes after."""

from __future__ import annotations

import json
import uuid
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from readiness.entries.models import KINDS
from tests import build as say
from tests.promises import stated
from tests.promises.conftest import Run, Tell

Board = Callable[..., dict[str, Any]]
ON = "2026-04-28"
WRONG_INPUT = 65


def write(path: Path, *lines: say.Line) -> Path:
    path.write_text("".join(json.dumps(line) + "\n" for line in lines), encoding="utf-8")
    return path


def history(run: Run, tag: str = say.TAG, on: str = ON) -> list[say.Line]:
    ran = run("bull", tag, "--json", "--on", on)
    assert ran.code == 0, ran.err
    made: list[say.Line] = ran.json()["history"]
    return made


EVERY_KIND: list[say.Line] = [
    say.booked(name="Alder", breed="Angus", born="2023-02-01", origin="bought",
               arrived="2025-11-01", temper="watch", heifer_safe=True, pen="2"),
    say.said("weight", ON, kg=850.5),
    say.group("2026-05-04", weeks=9, females=30, **{"class": "heifers"}),
    say.join(role="reserve"),
    say.lift(ON, "LF", "RF", refused=["RH"],
             findings=[say.found("LF", "outer", "SU", zone=4, severity=2, size_mm=12, was="SH"),
                       say.found("RF", "skin", "DD", stage="M4.1")],
             healed=[say.found("RF", "both", "WLF", stable=True)],
             work=[{"foot": "LF", "claw": "inner", "act": "trim"}, {"foot": "LF", "act": "wrap"}],
             measures=[{"foot": "LF", "claw": "both", "wall_mm": 92, "sole_mm": 7,
                        "groove_mm": 20}]),
    say.said("block-on", ON, foot="LF", claw="inner"),
    say.said("block-off", ON, foot="LF", claw="inner", lost=True),
    say.walk(ON, 1, limb="LF"),
    say.walk(ON, 2, scale="five1-5"),
    say.walk(ON, 0, scale="nz0-3"),
    say.condition(ON, 3.25),
    say.condition(ON, 5.5, scale="nine"),
    say.exam(ON, "deferred", again_on="2026-06-01", scrotum_cm=36.5, motility_pct=65,
             normal_pct=78, feet_seen=True),
    say.said("vet-look", ON, about="foot", outcome="fit", foot="LF"),
    say.said("body", ON, part="joint", limb="LH", state="watch"),
    say.said("incident", ON, cause="transport", lame=True, fever=True, limb="RH", suspect="stifle"),
    say.said("treatment", ON, given_by="vet", product="a spray", reason="foul", pain_relief=True,
             withdrawal_until="2026-05-08"),
    say.said("check", ON, check="ring", result="pass"),
    say.said("moved", ON, act="in", reason="rested", note="thin grass", by="Ann"),
]  # fmt: skip


def test_the_kinds_are_those_that_others_rely_on() -> None:
    assert stated.kinds() == list(KINDS)
    assert {line["kind"] for line in EVERY_KIND} == {*KINDS} - {"strike"}


def test_every_kind_and_field_is_taken_and_comes_back_as_said(tell: Tell, run: Run) -> None:
    told = tell(*EVERY_KIND)
    assert len(told.json()["written"]) == len(EVERY_KIND)
    own = {"id", "recorded", "position", "batch", "device", "who"}
    back = [{k: v for k, v in line.items() if k not in own} for line in history(run)]
    of_bull = [line for line in EVERY_KIND if line["kind"] != "group"]
    for line in of_bull:
        assert line in back, line
    assert len(back) == len(of_bull)


@pytest.mark.parametrize(
    ("change", "where"),
    [
        ({"kind": "weigh"}, "kind"),
        ({"colour": "red"}, "colour"),
        ({"on": "31/02/2026"}, "on"),
        ({"on": "2026-02-30"}, "on"),
        ({"score": 4}, "score"),
        ({"score": "2"}, "score"),
        ({"score": 1.5}, "score"),
        ({"scale": "0-3"}, "scale"),
        ({"limb": "FL"}, "limb"),
        ({"id": "seven"}, "id"),
        ({"bull": ""}, "bull"),
        ({"bull": "B 2"}, "bull"),
    ],
)
def test_what_is_wrong_is_refused_with_line_and_field(
    tell: Tell, run: Run, tmp_path: Path, change: say.Line, where: str
) -> None:
    tell(say.booked())
    path = write(tmp_path / "x.jsonl", say.walk(ON, 0), {**say.walk(ON, 1), **change})
    ran = run("import", path)
    assert ran.code == WRONG_INPUT
    assert "line 2" in ran.err and where in ran.err and "x.jsonl" in ran.err
    assert len(ran.err.strip().splitlines()) == 1 and "Traceback" not in ran.err
    assert len(history(run)) == 1


FINDING = say.found("LF", "outer", "SU")


@pytest.mark.parametrize(
    "feet",
    [
        {"lifted": []},
        {"lifted": ["LF"], "refused": ["LF"]},
        {"lifted": ["RF"], "findings": [FINDING]},
        {"lifted": ["RF"], "healed": [FINDING]},
        {"lifted": ["LF"], "findings": [{**FINDING, "claw": "skin"}]},
        {"lifted": ["LF"], "findings": [{**FINDING, "code": "DD"}]},
        {"lifted": ["LF"], "findings": [{**FINDING, "code": "QQ"}]},
        {"lifted": ["LF"], "findings": [{**FINDING, "zone": 13}]},
        {"lifted": ["LF"], "findings": [{**FINDING, "severity": 4}]},
        {"lifted": ["LF"], "findings": [{**FINDING, "severity": 0}]},
        {"lifted": ["LF"], "findings": [{**FINDING, "stage": "M1"}]},
        {"lifted": ["LF"], "findings": [FINDING], "healed": [FINDING]},
        {"lifted": ["LF"], "findings": [FINDING], "healed": [{**FINDING, "claw": "both"}]},
        {"lifted": ["LF"], "work": [{"foot": "LF", "act": "cut"}]},
        {"lifted": ["LF"], "measures": [{"foot": "LF", "claw": "skin", "sole_mm": 5}]},
    ],
)
def test_what_cannot_be_of_feet_is_refused(
    tell: Tell, run: Run, tmp_path: Path, feet: say.Line
) -> None:
    tell(say.booked())
    assert run("import", write(tmp_path / "x.jsonl", say.said("feet", ON, **feet))).code == 65


def test_bought_needs_arrived_and_again_on_needs_deferred(
    tell: Tell, run: Run, tmp_path: Path
) -> None:
    assert run("import", write(tmp_path / "x.jsonl", say.booked(origin="bought"))).code == 65
    tell(say.booked())
    exam = say.exam(ON, "satisfactory", again_on="2026-06-01")
    assert run("import", write(tmp_path / "y.jsonl", exam)).code == 65


def test_the_same_file_twice_doubles_nothing_and_two_equal_lines_are_two(
    run: Run, tmp_path: Path
) -> None:
    lines = [say.booked(), say.walk(ON, 0), say.walk(ON, 0)]
    first = run("import", write(tmp_path / "a.jsonl", *lines), "--json").json()
    assert len(set(first["written"])) == 3 and first["skipped"] == []
    again = run("import", write(tmp_path / "b.jsonl", *lines), "--json").json()
    assert again["written"] == [] and again["skipped"] == first["written"]
    assert len(history(run)) == 3
    third = run("import", write(tmp_path / "c.jsonl", *lines, say.walk(ON, 0)), "--json").json()
    assert len(third["written"]) == 1


def test_an_id_with_the_same_content_is_skipped_with_other_content_refused(
    tell: Tell, run: Run, tmp_path: Path
) -> None:
    line = {**say.walk(ON, 0), "id": str(uuid.uuid4())}
    tell(say.booked(), line)
    turned = dict(reversed(line.items()))
    assert tell(turned).json()["skipped"] == [line["id"]]
    ran = run("import", write(tmp_path / "x.jsonl", say.booked("B 9"), {**line, "score": 1}))
    assert ran.code == WRONG_INPUT and "line 2" in ran.err and line["id"] in ran.err
    assert run("bull", "B 9", "--on", ON).code == 66


def test_an_exports_keys_are_taken_over(tell: Tell, run: Run, board: Board) -> None:
    """Within a day entries count in the order (recorded, position, id): here against the file's."""
    export = {"batch": "b-1", "device": "crush"}
    tell(
        say.booked(), *say.ready(),
        {**say.walk(ON, 0), "id": str(uuid.uuid4()), "recorded": "2026-04-28T10:00:00Z",
         "position": 7, **export},
        {**say.walk(ON, 2), "id": str(uuid.uuid4()), "recorded": "2026-04-28T09:00:00Z",
         "position": 3, **export},
    )  # fmt: skip
    walks = [line for line in history(run) if line["device"] == "crush"]
    assert [(w["position"], w["batch"], w["score"]) for w in walks] == [
        (7, "b-1", 0),
        (3, "b-1", 2),
    ]
    assert [w["recorded"][:19] for w in walks] == ["2026-04-28T10:00:00", "2026-04-28T09:00:00"]
    known = board(ON, "--known", "2026-04-28T09:30:00+00:00")
    assert known["bulls"] == []


def test_later_fields_of_a_bull_replace_earlier_ones(tell: Tell, board: Board) -> None:
    tell(say.booked(name="Alder", farm="Moss"), say.booked(on="2026-02-01", name="Elder"))
    (early,), (late,) = board("2026-01-31")["bulls"], board("2026-02-01")["bulls"]
    assert (early["name"], early["farm"]) == ("Alder", "Moss")
    assert (late["name"], late["farm"]) == ("Elder", "Moss")


def test_a_group_said_again_keeps_what_is_not_said_and_names_are_per_farm(
    tell: Tell, board: Board
) -> None:
    tell(
        say.group("2026-05-04", females=30), say.group("2026-06-01", farm="Moss"),
        say.group("2026-05-11", on="2026-02-01"),
        say.group("2026-05-11", on="2026-02-02", females=None),
    )  # fmt: skip

    def told(on: str) -> set[tuple[Any, ...]]:
        return {(g["farm"], g["turnout"], g["females"]) for g in board(on)["groups"]}

    assert told("2026-02-01") == {(None, "2026-05-11", 30), ("Moss", "2026-06-01", None)}
    assert told("2026-02-02") == {(None, "2026-05-11", None), ("Moss", "2026-06-01", None)}


def test_role_is_worker_first_and_kept_unless_said(tell: Tell, board: Board) -> None:
    def role(on: str) -> Any:
        (bull,) = board(on)["bulls"]
        return bull["group"], bull["role"]

    tell(
        say.group("2026-05-04"), say.group("2026-05-04", name="Low"), say.booked(), say.join(),
        say.join(role="reserve", on="2026-02-02"), say.join(name="Low", on="2026-02-03"),
        say.join(name=None, on="2026-02-04"),
    )  # fmt: skip
    assert [role(f"2026-02-0{day}") for day in range(1, 5)] == [
        ("Hill", "worker"), ("Hill", "reserve"), ("Low", "reserve"), (None, None),
    ]  # fmt: skip


def test_spaces_and_case_of_a_tag_are_ignored(tell: Tell, run: Run) -> None:
    tell(say.booked("UK 700915 600015"), say.walk(ON, 0, tag="uk700915600015"))
    for asked in ("UK 700915 600015", "uk 700915600015", "600015", "15"):
        told = run("bull", asked, "--json", "--on", ON).json()
        assert told["bull"] == "UK 700915 600015" and len(told["history"]) == 2


def test_never_guess_between_two_bulls(tell: Tell, run: Run) -> None:
    tell(say.booked("UK 700915 600015"), say.booked("UK 700922 200015"))
    ran = run("bull", "0015", "--on", ON)
    assert ran.code == 66
    assert "UK 700915 600015" in ran.err and "UK 700922 200015" in ran.err
    assert run("bull", "600015", "--on", ON).code == 0


ODD: list[tuple[str, list[say.Line], say.Line]] = [
    ("healed", [], say.lift(ON, "LF", healed=[FINDING])),
    ("renamed", [], say.lift(ON, "LF", findings=[{**FINDING, "was": "SH"}])),
    ("no block", [], say.said("block-off", ON, foot="LF", claw="outer")),
    ("he has left", [say.said("moved", ON, act="left")], say.walk(ON, 0)),
    ("counts as a group of cows", [], say.said("group", ON, group="Heifers of ours", turnout=ON)),
    ("are held there all the same", [], say.said("group", ON, group="Bullers", turnout=ON)),
    ("the tag of UK 700914 400347 ends so too", [say.booked("UK 700914 400347")],
      say.booked("400347")),
    ("the tag of 400347 ends so too", [say.booked("400347")], say.booked("UK 700914 400347")),
    ("check digit", [], say.booked("UK 700915 500015")),
    ("open finding", [say.lift(ON, "LF", findings=[FINDING])],
     say.said("block-on", ON, foot="LF", claw="outer")),
    ("cannot be believed gone", [say.lift(ON, "LF", findings=[FINDING])],
     say.lift(ON, "LF", healed=[FINDING])),
    ("still to come", [], say.walk("2099-01-01", 0)),
    ("no stage", [], say.lift(ON, "LF", findings=[say.found("LF", "skin", "DD")])),
    ("know no check", [], say.said("check", ON, check="unheard-of", result="pass")),
]  # fmt: skip


@pytest.mark.parametrize(("words", "before", "line"), ODD, ids=[odd[0] for odd in ODD])
def test_what_is_odd_is_kept_and_warned_of(
    tell: Tell, words: str, before: list[say.Line], line: say.Line
) -> None:
    tell(say.booked(), *before)
    told = tell(line).json()
    (written,) = told["written"]
    assert [w["entry"] for w in told["warnings"]] == [written], told["warnings"]
    assert words in told["warnings"][0]["text"]


def test_one_animal_booked_twice_in_one_file_by_his_tag_and_its_end_is_told(tell: Tell) -> None:
    # What holds him stands under the one, and the other is GO.
    told = tell(say.booked("UK 700914 400347"), say.booked("400347")).json()
    (warning,) = told["warnings"]
    assert warning["entry"] == told["written"][1]
    assert "400347 is booked as a new bull; the tag of UK 700914 400347" in warning["text"]


def test_tags_that_share_two_digits_by_chance_are_not_told_of(tell: Tell) -> None:
    assert tell(say.booked("47"), say.booked("347")).json()["warnings"] == []


def test_a_rename_of_what_is_not_open_is_a_new_finding(tell: Tell, run: Run) -> None:
    tell(say.booked(), say.lift(ON, "LF", findings=[{**FINDING, "was": "SH"}]))
    (found,) = run("bull", say.TAG, "--json", "--on", ON).json()["open_findings"]
    assert (found["code"], found["first"], found["holds"]) == ("SU", ON, True)


def test_check_only_checks(run: Run, tmp_path: Path) -> None:
    ran = run("import", write(tmp_path / "x.jsonl", say.booked()), "--check", "--json")
    assert (ran.code, ran.json()["written"], len(ran.json()["would_write"])) == (0, [], 1)
    assert not (tmp_path / "bulls.duckdb").exists()


def test_the_words_of_people_come_back_without_controls(tell: Tell, run: Run) -> None:
    tell(say.booked(name="A\x1b[31ml\x07der\u202e"))
    assert run("bull", say.TAG, "--json", "--on", ON).json()["name"].isprintable()
    assert "\x1b" not in run("board", "--on", ON).out
