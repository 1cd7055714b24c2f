"""A GO that says nothing where something is to be asked first: each test names what would then be
kept from who lets him out. Every bull here is sound and complete but for what the test says."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from readiness.engine.care import cares
from readiness.engine.results import Assessment
from readiness.rules.load import load_rules
from tests.build import assessed, booked, group, lift, said
from tests.engine.doing import standing
from tests.engine.test_wrong_go import TODAY, ago, found, story, today, walked

Told = dict[str, Any]

EXAM = said("vet-exam", ago(20), outcome="satisfactory")
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


def test_a_bull_goes_to_heifers_as_if_somebody_had_said_that_he_is_safe_with_them() -> None:
    def among(of: str, **safe: Any) -> list[str]:
        told = group(ago(-1), "G", **{"class": of}), booked(born="2022-03-01", **safe)
        return asked(assessed(ago(0), *told, *story(walked(1)), turnout=ago(-1)))

    assert among("heifers") == ["heifers.safe"]
    assert among("heifers", heifer_safe=True) == among("cows") == []


def test_a_bull_of_whom_nobody_said_when_he_was_born_goes_as_one_who_is_old_enough() -> None:
    def born(**said: str) -> Assessment:
        told = [line for line in story(walked(1)) if line["kind"] != "bull"]
        return assessed(ago(0), booked(**said), *told, turnout=ago(-1))

    # advice, and no mark: it would stand beside every GO of a team booked by tags alone
    assert [each.rule for each in born().advice] == ["age.least"] and asked(born()) == []
    assert born(born="2024-01-01").advice == ()
    assert born(born="2025-12-31", born_from="2025-01-01").status == "HOLD"


@pytest.mark.parametrize(
    ("note", "asks"),
    [
        ("bought from Wathmoor", True),
        ("kicks; hired from Wathmoor", True),
        ("bred by Wathmoor", False),
        ("not the one bought from Wathmoor", False),
    ],
)
def test_a_bull_who_was_bought_on_a_day_that_nobody_said_goes_as_one_of_our_own(
    note: str, asks: bool
) -> None:
    noted = said("bull", ago(1), note=note)
    assert asked(today(walked(0), noted)) == ["quarantine.days"] * asks
    for told in ({"arrived": ago(90)}, {"origin": "homebred"}):
        assert asked(today(walked(0), noted, said("bull", ago(0), **told))) == []


@pytest.mark.parametrize(
    ("code", "claw", "severity"), [("SU", "outer", 2), ("CC", "outer", 3), ("SC", "outer", 3)]
)
def test_a_claw_that_is_fit_though_not_gone_goes_unsaid_unless_it_lames(
    code: str, claw: str, severity: int
) -> None:
    bad = lift(ago(60), "LH", findings=[found(code, claw, severity=severity)])
    stable = lift(ago(1), "LH", healed=[{**found(code, claw), "stable": True}])
    assert asked(today(bad, stable, walked(0))) == ["clear.after_open"]
    assert asked(today(bad, stable, lift(ago(0), "LH"), walked(0))) == []


@pytest.mark.parametrize(
    ("vet", "asks"),
    [
        ([], ["lame.long"]),
        ([said("vet-look", ago(30), about="lame", outcome="fit")], []),
        ([said("vet-look", ago(30), about="illness", outcome="fit")], ["lame.long"]),
        ([said("vet-look", ago(60), about="lame", outcome="fit")], ["lame.long"]),
        ([said("vet-exam", ago(10), outcome="satisfactory")], []),
    ],
)
def test_a_vet_who_was_asked_for_and_never_came_is_forgotten_where_no_examination_is_asked_for(
    tmp_path: Path, vet: list[Told], asks: list[str]
) -> None:
    # Lame for three weeks: a vet is asked for after two, until he walks sound.
    rules = tmp_path / "own.toml"
    rules.write_text("[rules]\nvet.required = false\n", encoding="utf-8")
    lame = walked(40, 2, limb="LF"), lift(ago(39), "LF"), walked(20), walked(0)
    told = [line for line in story(*lame, *vet) if line != EXAM]
    bull = standing(told, load_rules(rules).common, TODAY, TODAY)
    assert bull is not None
    assert asked(bull) == asks
