"""What is odd in a measure goes by the limits of the bull's farm, at every way into the book."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from readiness.book.drafts import Draft, Drafts
from readiness.crush.meaning import odd
from readiness.crush.slip import Slip
from readiness.engine.warnings import by_limits
from readiness.rules.load import load_rules
from readiness.tui.crush.desk import card_of, save
from tests.cli.conftest import Run, run
from tests.desk.desks import CORRAN, DAY, booked, desk_at, new_id
from tests.entries.samples import Sample, feet

__all__ = ["run"]

DEFAULT = load_rules(None).common
OWN = """
[rules]
sole.thin = 8
wall.guard = 75
stage.m2_from = 30
[farm."Moss".rules]
sole.thin = 6
"""
THIN = {"foot": "LF", "claw": "outer", "sole_mm": 7}


def dd(stage: str, size: float) -> Sample:
    spot = {"foot": "LF", "claw": "skin", "code": "DD", "stage": stage, "size_mm": size}
    return feet(findings=[spot])


def horn(**mm: float) -> Sample:
    return feet(measures=[{"foot": "LF", "claw": "outer", **mm}])


@pytest.mark.parametrize(
    ("entry", "said"),
    [
        (horn(sole_mm=4), "LF outer sole of 4 mm is under 5 mm: a thin sole"),
        (horn(sole_mm=5), None),
        (horn(wall_mm=89.5), "LF outer wall of 89.5 mm is under 90 mm: do not shorten it further"),
        (horn(wall_mm=90), None),
        (dd("M2", 15), "LF DD of 15 mm is M1 by its size (M1 under 20 mm, M2 from 20)"),
        (dd("M1", 20), "LF DD of 20 mm is M2 by its size"),
        (dd("M2", 20), None),
        (dd("M1", 19.5), None),
        (dd("M4.1", 5), None),
    ],
)
def test_a_measure_over_the_program_s_limit_is_not_warned_of(
    entry: Sample, said: str | None
) -> None:
    found = [*by_limits(entry, DEFAULT)]
    assert found == [] if said is None else len(found) == 1 and said in found[0]


@pytest.mark.parametrize(
    ("entry", "said"),
    [
        (horn(sole_mm=7), "sole of 7 mm is under 8 mm"),
        (horn(wall_mm=80), None),
        (horn(wall_mm=74), "wall of 74 mm is under 75 mm"),
        (dd("M1", 25), None),
        (dd("M2", 25), "is M1 by its size (M1 under 30 mm, M2 from 30)"),
    ],
)
def test_a_farm_s_own_limit_takes_the_place_of_the_program_s(
    tmp_path: Path, entry: Sample, said: str | None
) -> None:
    (tmp_path / "own.toml").write_text(OWN, encoding="utf-8")
    found = [*by_limits(entry, load_rules(tmp_path / "own.toml").common)]
    assert found == [] if said is None else len(found) == 1 and said in found[0]


def book_of(tmp_path: Path) -> Path:
    """A bull of no farm's own rules and one of Moss, whose soles may be thinner."""
    path = tmp_path / "bulls.duckdb"
    desk_at(path).add([booked(), booked("M 7", farm="Moss")])
    path.with_name("bulls.toml").write_text(OWN, encoding="utf-8")
    return path


def test_log_warns_by_the_rules_of_the_bull_s_own_farm(run: Run, tmp_path: Path) -> None:
    book_of(tmp_path)
    thin = run("log", CORRAN, "lf o sole 7", "--json", "--on", DAY.isoformat()).json()
    assert [each["text"] for each in thin["warnings"]] == [
        "LF outer sole of 7 mm is under 8 mm: a thin sole"
    ]
    thick = run("log", "M 7", "lf o sole 7", "--json", "--on", DAY.isoformat()).json()
    assert thick["written"] and thick["warnings"] == []


def test_import_warns_by_the_rules_of_the_farm_named_in_the_same_file(
    run: Run, tmp_path: Path
) -> None:
    book_of(tmp_path)
    lines: list[dict[str, Any]] = [
        {"kind": "bull", "on": "2026-04-01", "bull": "M 8", "farm": "Moss"},
        {"kind": "feet", "on": "2026-04-01", "bull": "M 8", "lifted": ["LF"], "measures": [THIN]},
        {"kind": "feet", "on": "2026-04-01", "bull": CORRAN, "lifted": ["LF"], "measures": [THIN]},
    ]
    file = tmp_path / "lines.jsonl"
    file.write_text("\n".join(map(json.dumps, lines)), encoding="utf-8")
    done = run("import", file, "--json", "--on", DAY.isoformat()).json()
    assert len(done["written"]) == 3
    assert [(each["entry"], each["text"]) for each in done["warnings"]] == [
        (done["written"][2], "LF outer sole of 7 mm is under 8 mm: a thin sole")
    ]


def test_the_crush_warns_by_the_farm_s_rules_before_and_when_it_saves(tmp_path: Path) -> None:
    desk = desk_at(book_of(tmp_path))
    desk.rules_path = tmp_path / "bulls.toml"
    drafts = Drafts(tmp_path / "bulls.duckdb")
    card = card_of(desk, CORRAN)
    assert card is not None
    slip = Slip(CORRAN, DAY).put("feet", lifted=["LF"], measures=[THIN])
    assert odd(slip, card) == ["LF outer sole of 7 mm is under 8 mm: a thin sole"]
    draft = Draft(card.assessment.key, "", DAY.isoformat(), (new_id(),))
    saved, _ = save(desk, drafts, card, draft, slip, CORRAN)
    assert saved.odd == ("LF outer sole of 7 mm is under 8 mm: a thin sole",)


def test_a_known_painkiller_that_is_said_to_relieve_no_pain_is_asked_about() -> None:
    given = {"product": "Meloxicam", "given_by": "vet", "pain_relief": False}
    (text,) = by_limits(given, load_rules(None).common)
    assert text == "Meloxicam is said to relieve no pain: a sound walk after it counts at once"
    assert [*by_limits({**given, "product": "copper salts"}, load_rules(None).common)] == []
    assert [*by_limits({**given, "pain_relief": True}, load_rules(None).common)] == []


def test_what_is_given_without_a_word_of_pain_is_asked_about() -> None:
    given = {"product": "the red one", "given_by": "farmer"}
    (text,) = by_limits(given, load_rules(None).common)
    assert text.startswith("whether the red one relieves pain is not said")
    assert [*by_limits({**given, "product": "ketoprofen"}, load_rules(None).common)] == []
