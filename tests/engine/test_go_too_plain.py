"""A GO that says nothing where something is to be asked first: each test names what would then be
kept from who lets him out. Every bull here is sound and complete but for what the test says."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from readiness.engine.care import cares
from readiness.engine.results import Assessment
from readiness.rules.load import load_rules
from tests.build import lift, said
from tests.engine.test_wrong_go import ago, found, today, walked

Told = dict[str, Any]

FIGHT = said("incident", ago(6), cause="fight")
PARED = {"foot": "LF", "act": "pare"}
PAIN = said("treatment", ago(6), given_by="vet", product="meloxicam")


def asked(bull: Assessment) -> list[str]:
    """What is asked beside his GO, by rule."""
    assert bull.status == "GO"
    return [care.rule for care in cares(bull)]


@pytest.mark.parametrize(
    ("hurt", "rule"), [(FIGHT, "incident.settle"), (PAIN, "pain.settle")], ids=["fight", "pain"]
)
def test_a_trim_at_work_hides_that_he_was_hurt_and_nobody_saw_him_walk(
    hurt: Told, rule: str
) -> None:
    out, trimmed = said("moved", ago(9), act="out"), lift(ago(0), "LF", work=[PARED])
    assert asked(today(walked(10), out, trimmed)) == []
    assert asked(today(walked(10), out, hurt, trimmed)) == [rule]


def test_a_fight_that_he_walked_sound_after_is_asked_about_once_he_is_trimmed() -> None:
    out, trimmed = said("moved", ago(9), act="out"), lift(ago(0), "LF", work=[PARED])
    assert asked(today(walked(10), out, FIGHT, walked(3), trimmed)) == []


@pytest.mark.parametrize(("score", "asks"), [(0, False), (1, True), (2, True)])
def test_a_farm_that_calls_him_lame_later_hears_nothing_of_a_worse_walk(
    tmp_path: Path, score: int, asks: bool
) -> None:
    rules = tmp_path / "own.toml"
    rules.write_text("[rules]\nmobility.lame.gb0-3 = 3\n", encoding="utf-8")
    bull = today(walked(1, score), rules=load_rules(rules))
    assert asked(bull) == ["mobility.advise.gb0-3"] * asks
