"""Vet examination, condition, illness and quarantine: the days that published guidance gives."""

from __future__ import annotations

from tests.engine.cases import assessed, check, iso, said


def _advice(on: str, *entries: dict[str, object]) -> list[str]:
    return [each.rule for each in assessed(on, *entries).advice]


def test_the_vets_examination_is_advised_eight_to_four_weeks_before_turnout() -> None:
    """QMS 2014: 4 to 8 weeks before. Turnout 1 May 2026: from 6 March to 3 April; it counts from
    60 days before (2 March)."""
    exam = check(assessed("2026-01-10", turnout="2026-05-01"), "vet-exam")
    assert (iso(exam.not_before), iso(exam.advised_by)) == ("2026-03-02", "2026-04-03")
    late = assessed("2026-04-04", turnout="2026-05-01")
    assert "vet.advised" in [each.rule for each in late.advice]


def test_a_deferred_bull_is_examined_again_after_60_days() -> None:
    """About 60 days: from memory of veterinary pages. Deferred 10 March 2026: again from 9 May."""
    bull = assessed("2026-03-11", said("vet-exam", "2026-03-10", outcome="deferred"))
    assert iso(check(bull, "vet-exam").not_before) == "2026-05-09"


def test_the_vets_own_day_goes_before_the_60_days() -> None:
    """The vet decides: the day given on the form counts."""
    exam = said("vet-exam", "2026-03-10", outcome="deferred", again_on="2026-04-20")
    assert iso(check(assessed("2026-03-11", exam), "vet-exam").not_before) == "2026-04-20"


def test_after_illness_one_sperm_cycle_is_advised() -> None:
    """University of Nebraska-Lincoln: one cycle is 61 days. Ill 10 March 2026: advised from 10
    May."""
    ill = said("incident", "2026-03-10", cause="illness")
    assert "vet.after_illness" in _advice("2026-05-09", ill)
    assert "vet.after_illness" not in _advice("2026-05-10", ill)


def test_a_bought_bull_is_free_of_quarantine_after_28_days() -> None:
    """SRUC: 21 to 28 days. Arrived 10 April 2026: free from 8 May."""
    bought = said("bull", "2026-04-10", origin="bought", arrived="2026-04-10")
    apart = assessed("2026-05-07", bought)
    assert iso(check(apart, "quarantine").not_before) == "2026-05-08"
    assert [reason.rule for reason in apart.reasons] == ["quarantine.days"]
    assert "quarantine.days" not in [r.rule for r in assessed("2026-05-08", bought).reasons]


def test_condition_is_aimed_at_3_and_held_outside_the_band() -> None:
    """Target 3.0: SRUC, Teagasc (to 3.5 from memory). The hold band 2.5 to 4.0 is a project
    choice."""
    told = {
        score: assessed("2026-04-01", said("condition", "2026-04-01", scale="five", score=score))
        for score in (2.25, 2.5, 3.0, 4.0, 4.25)
    }
    assert {s: bool(bull.reasons) for s, bull in told.items()} == {
        2.25: True, 2.5: False, 3.0: False, 4.0: False, 4.25: True,
    }  # fmt: skip
    advised = {s: "condition.target.five" in [a.rule for a in b.advice] for s, b in told.items()}
    assert advised == {2.25: True, 2.5: True, 3.0: False, 4.0: True, 4.25: True}


def test_figures_under_the_forms_least_ask_to_check_it_and_hold_nobody() -> None:
    """Society for Theriogenology values (veterinary pages): over 18 to 21 months 32 cm; motility
    30 %, normal 70 % (SFT 2018, in AABP Proceedings 2022). 31.9 cm at 19 months is below."""
    born = said("bull", "2025-01-01", born="2024-08-20")
    exam = {"outcome": "satisfactory", "scrotum_cm": 31.9, "motility_pct": 29, "normal_pct": 70}
    bull = assessed("2026-04-01", born, said("vet-exam", "2026-04-01", **exam))
    rules = [each.rule for each in bull.advice]
    assert [r for r in rules if "least" in r] == ["scrotum.least", "motility.least"]
    assert bull.reasons == ()


def test_a_result_older_than_60_days_at_turnout_is_asked_for_again() -> None:
    """Passed within 60 days: published, one source. The 60th day still counts."""
    passed = {"outcome": "satisfactory"}
    old = said("vet-exam", "2026-03-01", **passed)
    just = said("vet-exam", "2026-03-02", **passed)
    assert check(assessed("2026-04-01", old, turnout="2026-05-01"), "vet-exam").who == "vet"
    in_time = assessed("2026-04-01", just, turnout="2026-05-01")
    assert "vet-exam" not in [each.check for each in in_time.outstanding]
