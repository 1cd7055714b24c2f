"""Quarantine, withdrawal and body condition: published figures, as the assessment gives them. The
source stands beside each."""

from __future__ import annotations

from typing import Any

import pytest

from tests.build import assessed, condition, said
from tests.standards.told import advised, first_day, held_for

# ---- quarantine ------------------------------------------------------------------------------


def came(origin: str) -> list[dict[str, Any]]:
    return [said("bull", "2026-04-10", origin=origin, arrived="2026-04-10")]


def hired_out_and_back(**back: str) -> list[dict[str, Any]]:
    return [
        said("moved", "2026-02-01", act="out", reason="hired"),
        said("moved", "2026-04-10", act="in", **back),
    ]


ARRIVED = [
    came("bought"),
    came("hired"),
    hired_out_and_back(),
    [said("moved", "2026-04-10", act="in", reason="hired")],
]


@pytest.mark.parametrize(
    "entries", ARRIVED, ids=["bought", "hired", "ours, out hired", "ours, in from hire"]
)
def test_a_bull_from_elsewhere_is_kept_apart_for_four_weeks(
    entries: list[dict[str, Any]],
) -> None:
    """SRUC: bought-in and hired bulls at least 21-28 days (published). Arrived 10 April 2026: free
    from 8 May."""
    apart = assessed("2026-05-07", *entries)
    assert "quarantine.days" in held_for(apart)
    assert first_day(apart, "quarantine") == "2026-05-08"
    assert "quarantine.days" not in held_for(assessed("2026-05-08", *entries))


def test_a_bull_of_our_own_is_not_kept_apart() -> None:
    """As above: the guidance is on bulls from elsewhere."""
    homebred = said("bull", "2026-04-10", origin="homebred")
    assert "quarantine.days" not in held_for(assessed("2026-04-11", homebred))


# ---- withdrawal ------------------------------------------------------------------------------


@pytest.mark.parametrize(("on", "told"), [("2026-04-29", True), ("2026-05-01", False)])
def test_a_withdrawal_is_told_until_it_has_ended(on: str, told: bool) -> None:
    """Trading Standards: slaughter only after the withdrawal (published)."""
    given = said(
        "treatment", "2026-04-01", given_by="vet", product="an antibiotic",
        withdrawal_until="2026-04-30",
    )  # fmt: skip
    bull = assessed(on, given)
    assert ("withdrawal.shown" in advised(bull)) is told
    assert "withdrawal.shown" not in held_for(bull)


# ---- body condition --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("scale", "score", "on_target"),
    [
        ("five", 2.75, False),  # under the 3.0 of SRUC and Teagasc
        ("five", 3.0, True),  # SRUC, Teagasc: 3.0 at turnout
        ("five", 3.5, True),  # from memory: to 3.5
        ("five", 3.75, False),
        ("nine", 5.5, True),  # UNL: 5.5-6.5
        ("nine", 6.5, True),
        ("nine", 7.0, False),
    ],
)
def test_condition_off_the_target_is_advice_and_does_not_hold(
    scale: str, score: float, on_target: bool
) -> None:
    """Published, but for the upper end of the five-point target, which is from memory."""
    bull = assessed("2026-04-01", condition("2026-04-01", score, scale=scale))
    assert (f"condition.target.{scale}" not in advised(bull)) is on_target
    assert f"condition.hold.{scale}" not in held_for(bull)


@pytest.mark.parametrize(
    ("scale", "score", "holds"),
    [
        ("five", 2.25, True),
        ("five", 2.5, False),
        ("five", 4.0, False),
        ("five", 4.25, True),
        ("nine", 3.5, True),
        ("nine", 4.0, False),
        ("nine", 7.0, False),
        ("nine", 7.5, True),
    ],
)
def test_condition_outside_the_band_holds(scale: str, score: float, holds: bool) -> None:
    """Project choice: five 2.5-4.0, nine 4-7. No source."""
    bull = assessed("2026-04-01", condition("2026-04-01", score, scale=scale))
    assert (f"condition.hold.{scale}" in held_for(bull)) is holds
