"""Two words of one day that disagree: the worse stands, in whatever order they were written, until
a later day. Every bull here is sound and complete but for what the test says of him."""

from __future__ import annotations

from itertools import permutations
from pathlib import Path
from typing import Any

import pytest

from readiness.engine.care import cares
from readiness.rules.load import load_rules
from readiness.rules.model import RuleBook
from tests.build import iso, said
from tests.engine.test_wrong_go import TODAY, ago, today, walked

Told = dict[str, Any]


@pytest.fixture
def ringed(tmp_path: Path) -> RuleBook:
    """Rules that ask for a ring in the nose."""
    path = tmp_path / "own.toml"
    path.write_text('[[check]]\nname = "ring"\nwho = "farmer"\nfrom = 30\n')
    return load_rules(path)


def vet(days: int, outcome: str = "satisfactory", **more: Any) -> Told:
    return said("vet-exam", ago(days), outcome=outcome, **more)


def ring(days: int, result: str) -> Told:
    return said("check", ago(days), check="ring", result=result)


# ---- examinations --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "told",
    [
        (vet(9, "unsatisfactory"), vet(9)),
        (vet(9, "deferred"), vet(9)),
        (vet(9, "deferred"), vet(9), vet(9, scrotum_cm=38)),
        (vet(9, scrotum_cm=28), vet(9, scrotum_cm=38)),
        (vet(9, normal_pct=60), vet(9, normal_pct=90), vet(9)),
    ],
)
def test_of_two_examinations_of_one_day_the_last_written_passes_him(told: tuple[Told, ...]) -> None:
    for order in permutations(told):
        assert today(*order, walked(1)).hold == "reason"
        assert today(*order, vet(8, scrotum_cm=38, normal_pct=90), walked(1)).status == "GO"


def test_deferred_takes_the_place_of_no_as_it_was_said_the_same_day() -> None:
    for order in permutations([vet(9, "unsatisfactory"), vet(9, "deferred")]):
        assert today(*order, walked(1)).outlook == "vet-decides"


def test_the_vet_wants_him_again_on_the_earlier_of_two_days() -> None:
    told = [vet(9, "deferred", again_on=iso(TODAY + days)) for days in (2, 20)]
    for order in permutations(told):
        (exam,) = (c for c in today(*order, walked(1)).outstanding if c.check == "vet-exam")
        assert exam.not_before == TODAY + 20


def test_an_examination_of_today_is_promised_where_today_said_deferred() -> None:
    bull = today(vet(0, "deferred", again_on=ago(0)), walked(1))
    (exam,) = (c for c in bull.outstanding if c.check == "vet-exam")
    assert exam.not_before == TODAY + 1


def test_a_figure_that_the_vet_did_not_stand_by_hides_behind_a_lower_one_that_he_did() -> None:
    for stood in permutations([vet(9, scrotum_cm=28, stands=True), vet(9, scrotum_cm=29)]):
        # stood by later the same day, it is a word on both
        held = stood[-1] == vet(9, scrotum_cm=29)
        bull = today(*stood, walked(1))
        assert (bull.status, bool(cares(bull))) == (("HOLD", False) if held else ("GO", True))


def test_a_low_figure_stood_by_vanishes_behind_a_good_one_of_the_same_day() -> None:
    for order in permutations([vet(9, scrotum_cm=28, stands=True), vet(9, scrotum_cm=38)]):
        assert [said.rule for said in cares(today(*order, walked(1)))] == ["scrotum.least"]


# ---- the farm's own checks -----------------------------------------------------------------------


def test_a_check_failed_and_passed_on_one_day_is_passed(ringed: RuleBook) -> None:
    for order in permutations([ring(9, "fail"), ring(9, "pass")]):
        bull = today(*order, walked(1), rules=ringed)
        assert [reason.rule for reason in bull.reasons] == ["check.ring"]
        assert [check.id for check in bull.outstanding] == ["ring"]
        assert today(*order, ring(8, "pass"), walked(1), rules=ringed).status == "GO"


def test_a_pass_is_promised_on_the_day_on_which_he_failed(ringed: RuleBook) -> None:
    bull = today(ring(0, "fail"), walked(1), rules=ringed)
    (check,) = (c for c in bull.outstanding if c.check == "ring")
    assert (check.not_before, bull.earliest_ready) == (TODAY + 1, TODAY + 1)


def test_a_test_that_nobody_asks_for_failed_and_passed_on_one_day_is_no_word_aside() -> None:
    for order in permutations([ring(9, "fail"), ring(9, "pass")]):
        assert [said.rule for said in cares(today(*order, walked(1)))] == ["test.doubts"]
