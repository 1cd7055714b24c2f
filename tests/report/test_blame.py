"""A joint is blamed, the foot comes first. The share of lameness that sits in the foot: about 90 %,
published by NADIS, of dairy cattle (rule lame.from_foot)."""

from __future__ import annotations

from typing import Any

import pytest

from readiness.report.blame import asked_first, blamed_but_foot
from tests.build import RULES, day, lift, said, ulcer
from tests.crush.cards import card

ON = "2026-04-03"
R = RULES.for_farm(None)
SHARE = "about 90 % of lameness sits in the foot (NADIS, of dairy cattle)."
FIGHT = said("incident", "2026-03-01", cause="fight", lame=True, limb="LH", suspect="shoulder")
FOUND = lift("2026-03-03", findings=ulcer(2))


def told(*entries: dict[str, Any], on: str = ON) -> list[str]:
    return blamed_but_foot(card(on, *entries), day(on))


def incident(**more: Any) -> list[dict[str, Any]]:
    return [said("incident", ON, cause="fight", **more)]


def finding(code: str, foot: str = "LH", severity: int = 1) -> dict[str, Any]:
    return {"foot": foot, "claw": "outer", "code": code, "severity": severity}


# ---- before it is believed ---------------------------------------------------------------------


def test_the_share_is_what_its_source_says() -> None:
    value = R.values["lame.from_foot"]
    assert (value.value, value.unit, value.standing) == (90, "%", "published")
    assert value.source == "NADIS, of dairy cattle"


@pytest.mark.parametrize(
    ("suspect", "what"),
    [("shoulder", "the shoulder"), ("stifle", "the stifle"), ("back", "the back"),
     ("other", "a joint"), ("foot", "a joint"), (None, "a joint")],
)  # fmt: skip
def test_the_limb_named_is_lifted_before_what_is_blamed_is_believed(
    suspect: str | None, what: str
) -> None:
    blamed = {"suspect": suspect} if suspect else {}
    words = asked_first(incident(lame=True, limb="LH", **blamed), R, ())
    assert words == f"Lift LH before {what} is believed: {SHARE}"


def test_lame_with_no_limb_named_asks_for_all_four_then_for_the_missing() -> None:
    said_of = incident(lame=True, suspect="shoulder")
    assert asked_first(said_of, R, ()) == (
        f"Lift all four feet before the shoulder is believed: {SHARE}"
    )
    words = asked_first(said_of, R, ("LF", "RH"))
    assert words is not None and words.startswith("Lift RF and LH before ")


def test_once_the_feet_are_lifted_nothing_is_asked() -> None:
    assert asked_first(incident(lame=True, limb="LH"), R, ("LH",)) is None
    assert asked_first(incident(lame=True), R, ("LF", "RF", "LH", "RH")) is None
    assert asked_first(incident(lame=True, limb="LH"), R, ("LF", "RF", "RH")) is not None


def test_a_limb_hurt_is_lifted_though_he_is_not_lame() -> None:
    words = asked_first(incident(lame=False, limb="RF"), R, ())
    assert words is not None and words.startswith("Lift RF ")


def test_a_sound_bull_after_a_fight_is_asked_for_no_foot() -> None:
    assert asked_first(incident(lame=False), R, ()) is None
    assert asked_first(incident(), R, ()) is None
    assert asked_first([said("mobility", ON, scale="gb0-3", score=3)], R, ()) is None


# ---- afterwards --------------------------------------------------------------------------------


def test_a_foot_at_fault_is_said_where_the_shoulder_was_blamed() -> None:
    assert told(FIGHT, FOUND) == [
        "the shoulder LH was suspected on 1 Mar; on 3 Mar the foot showed sole ulcer LH outer"
    ]


def test_where_no_limb_was_named_any_foot_counts() -> None:
    nowhere = {key: value for key, value in FIGHT.items() if key != "limb"}
    assert told(nowhere, FOUND) == [
        "the shoulder was suspected on 1 Mar; on 3 Mar the foot showed sole ulcer LH outer"
    ]


def test_another_cause_that_was_suspected_is_named_as_such() -> None:
    [words] = told({**FIGHT, "suspect": "other"}, FOUND)
    assert words.startswith("another cause LH was suspected on 1 Mar; ")


@pytest.mark.parametrize(
    "found",
    [
        lift("2026-03-03", findings=[finding("HHE")]),
        lift("2026-03-03", findings=ulcer(2, "RF")),
        lift("2026-02-28", findings=ulcer(2)),
        lift("2026-03-03"),
        lift("2026-03-03", healed=[{"foot": "LH", "claw": "outer", "code": "SU"}]),
        lift("2026-04-04", findings=ulcer(2)),
    ],
    ids=["never holds", "another limb", "before it", "nothing found", "healed", "after the day"],
)
def test_nothing_is_said_where_the_foot_is_not_at_fault(found: dict[str, Any]) -> None:
    assert told(FIGHT, found) == []


def test_nothing_is_said_after_another_incident() -> None:
    fall = said("incident", "2026-03-02", cause="fall", lame=True, limb="LH")
    assert told(FIGHT, fall, FOUND) == []


@pytest.mark.parametrize("suspect", ["foot", None])
def test_nothing_is_said_where_nothing_else_was_suspected(suspect: str | None) -> None:
    asked = {key: value for key, value in FIGHT.items() if key != "suspect"}
    assert told({**asked, "suspect": suspect} if suspect else asked, FOUND) == []


def test_the_first_lift_that_found_it_is_named_with_all_it_found_that_holds() -> None:
    quiet = lift("2026-03-02", findings=[finding("HHE")])
    both = lift("2026-03-04", findings=[finding("HHE"), finding("WLA"), finding("SU")])
    assert told(FIGHT, quiet, both, lift("2026-03-09", findings=[finding("BU")])) == [
        "the shoulder LH was suspected on 1 Mar; on 4 Mar the foot showed white line abscess "
        "LH outer, sole ulcer LH outer"
    ]


def test_two_incidents_are_told_newest_first() -> None:
    again = {**FIGHT, "on": "2026-03-10", "suspect": "stifle"}
    words = told(FIGHT, FOUND, again, lift("2026-03-11", findings=ulcer(3)))
    assert [text.split(" was ")[0] for text in words] == ["the stifle LH", "the shoulder LH"]
