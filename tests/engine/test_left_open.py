"""What an examination left open stays beside his GO, though a later one says no more of it, until
one does or it would not count any more."""

from __future__ import annotations

from typing import Any

import pytest

from readiness.engine.care import cares
from tests.build import said
from tests.engine.test_wrong_go import ago, today, walked

Told = dict[str, Any]
LOW: Told = {"scrotum_cm": 28, "motility_pct": 65, "normal_pct": 78}


def vet(days: int, outcome: str = "satisfactory", **more: Any) -> Told:
    return said("vet-exam", ago(days), outcome=outcome, **more)


def beside_go(*told: Told) -> list[str]:
    bull = today(*told, walked(1))
    assert bull.status == "GO"
    return [remark.rule for remark in cares(bull)]


OPEN: list[tuple[str, Told, Told]] = [
    ("scrotum.least", vet(19, **LOW, stands=True), {"scrotum_cm": 38}),
    ("vet.doubts", vet(19, collection="no-sample"), {"motility_pct": 70}),
    ("vet.doubts", vet(19, "deferred", collection="no-sample"), {"collection": "massage"}),
    ("vet.doubts", vet(19, morphology=False), {"normal_pct": 80}),
    ("vet.doubts", vet(19, morphology=False), {"morphology": True}),
    ("vet.doubts", vet(19, "deferred", libido="unwilling"), {"libido": "keen"}),
]


@pytest.mark.parametrize(("rule", "told", "settles"), OPEN)
def test_what_was_left_open_vanishes_behind_a_later_examination_that_does_not_speak_of_it(
    rule: str, told: Told, settles: Told
) -> None:
    again = vet(9, "deferred", again_on=ago(5))
    assert beside_go(told, vet(5)) == [rule]
    assert beside_go(told, again, vet(5)) == [rule]
    assert beside_go(told, again, vet(5), vet(4)) == [rule]
    assert beside_go(told, again, vet(5, **settles)) == []
    assert beside_go(told, vet(9, **settles), vet(5)) == []


@pytest.mark.parametrize(("rule", "told", "settles"), OPEN)
def test_what_was_left_open_is_said_for_ever(rule: str, told: Told, settles: Told) -> None:
    long_ago = {**told, "on": ago(66)}  # vet.oldest: 60 days before the one that counts
    assert beside_go(long_ago, vet(6)) == [rule]
    assert beside_go(long_ago, vet(5)) == []


def test_a_libido_that_nobody_saw_is_no_word_on_it() -> None:
    assert beside_go(vet(9, libido="unwilling"), vet(5, libido="not-seen")) == ["vet.doubts"]


def test_keen_and_unwilling_on_one_day_is_keen() -> None:
    told = [vet(9, libido="keen"), vet(9, libido="unwilling")]
    assert beside_go(*told) == beside_go(*told[::-1]) == ["vet.doubts"]


def test_the_day_of_what_was_left_open_before_is_not_told() -> None:
    bull = today(vet(19, libido="slow"), vet(5, morphology=False), walked(1))
    (remark,) = cares(bull)
    assert remark.text == (
        "libido: slow (15 Mar), the shape of his sperm was not looked at, though satisfactory on "
        "29 Mar: ask the vet"
    )
