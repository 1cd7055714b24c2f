"""The vet's breeding examination: published least figures and waits, as the assessment takes them.
The vet classifies; what is under a minimum only holds until he says that he stands by it. The
source stands beside each."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from readiness.engine.results import Assessment
from readiness.herd.board import assess_book
from readiness.rules.load import load_rules
from tests.build import assessed, day, entries_of, exam, said
from tests.standards.told import TURNOUT, advised, asked, first_day, held_for

ON = "2026-04-01"


def examined(**form: Any) -> Assessment:
    """A bull of no known age whom the vet found satisfactory on the day."""
    return assessed(ON, exam(ON, **form), turnout=TURNOUT)


# ---- scrotum by age --------------------------------------------------------------------------

BY_AGE = [
    ("2025-04-01", 30.0),  # 12 months
    ("2025-01-01", 30.0),  # 15 months to the day
    ("2024-12-31", 31.0),  # a day past 15
    ("2024-11-15", 31.0),  # 16 months
    ("2024-10-01", 31.0),  # 18 months to the day
    ("2024-09-30", 32.0),  # a day past 18
    ("2024-09-01", 32.0),  # 19 months
    ("2024-07-01", 32.0),  # 21 months to the day
    ("2024-06-30", 33.0),  # a day past 21
    ("2024-04-01", 33.0),  # 24 months to the day
    ("2024-03-31", 34.0),  # a day past 24
    ("2024-03-01", 34.0),  # 25 months
    ("2023-10-01", 34.0),  # 30 months
    (None, 34.0),  # not known: as the oldest
]


@pytest.mark.parametrize(("born", "least"), BY_AGE)
def test_a_scrotum_under_the_least_of_his_age_holds(born: str | None, least: float) -> None:
    """Society for Theriogenology values in veterinary pages (published): to 15 months 30 cm, over
    15 to 18 31, to 21 32, to 24 33, over 24 34; that the upper age is inclusive: from memory.
    Examined on 1 April 2026."""
    born_then = [said("bull", "2025-06-01", born=born)] if born else []
    under = assessed(ON, *born_then, exam(ON, scrotum_cm=least - 0.1), turnout=TURNOUT)
    meets = assessed(ON, *born_then, exam(ON, scrotum_cm=least), turnout=TURNOUT)
    assert "scrotum.least" in held_for(under)
    assert "scrotum.least" not in held_for(meets)


@pytest.mark.parametrize(
    ("born", "cm", "below"),
    [("2024-09-01", 31.9, True), ("2023-10-01", 34.1, False)],
    ids=["19 months", "30 months"],
)
def test_a_measured_scrotum_is_judged_at_his_age(born: str, cm: float, below: bool) -> None:
    """As above: 31.9 cm at 19 months is below 32, 34.1 at 30 months meets 34."""
    bull = assessed(ON, said("bull", "2025-06-01", born=born), exam(ON, scrotum_cm=cm))
    assert ("scrotum.least" in held_for(bull)) is below


# ---- semen -----------------------------------------------------------------------------------

SEMEN = [
    ("motility_pct", 59, "motility.least", True),
    ("motility_pct", 60, "motility.least", False),
    ("normal_pct", 69, "normal.least", True),
    ("normal_pct", 70, "normal.least", False),
]


@pytest.mark.parametrize(("figure", "per_cent", "rule", "holds"), SEMEN)
def test_semen_under_the_least_holds(figure: str, per_cent: int, rule: str, holds: bool) -> None:
    """BCVA, ACV and WCABP pass over 60 % motile (Bovine Reproduction, 2nd ed., Wiley); normal at
    least 70 %: SFT 2018, in AABP Proceedings 2022 (both published)."""
    assert (rule in held_for(examined(**{figure: per_cent}))) is holds


@pytest.mark.parametrize(
    ("figure", "value", "rule"),
    [
        ("motility_pct", 59, "motility.least"),
        ("normal_pct", 69, "normal.least"),
        ("scrotum_cm", 33.9, "scrotum.least"),
    ],
)
def test_a_figure_that_the_vet_stands_by_is_told_and_does_not_hold(
    figure: str, value: float, rule: str
) -> None:
    """The same published figures: the vet's word goes before them."""
    bull = examined(**{figure: value}, stands=True)
    assert rule not in held_for(bull) and "vet-exam" not in asked(bull)
    assert rule in advised(bull)


@pytest.mark.parametrize(("per_cent", "holds"), [(29, True), (30, False)])
def test_a_farm_of_the_american_standard_passes_from_30_per_cent(
    tmp_path: Path, per_cent: int, holds: bool
) -> None:
    """SFT 2018, in AABP Proceedings 2022: progressive motility at least 30 % (published)."""
    (tmp_path / "own.toml").write_text("[rules]\nmotility.least = 30\n", encoding="utf-8")
    book = entries_of([said("bull", "2025-01-01"), exam(ON, motility_pct=per_cent)])
    (bull,) = assess_book(book, load_rules(tmp_path / "own.toml"), day(ON)).bulls
    assert ("motility.least" in held_for(bull)) is holds


# ---- the outcome and what comes after --------------------------------------------------------


def test_a_deferred_bull_is_held_and_examined_again_at_about_60_days() -> None:
    """Deferred: examined again before use (published); at about 60 days: from memory. 10 March
    2026: from 9 May."""
    bull = assessed("2026-03-11", exam("2026-03-10", "deferred"))
    assert first_day(bull, "vet-exam") == "2026-05-09"
    assert bull.hold == "reason"


def test_an_unsatisfactory_bull_is_for_people_to_decide() -> None:
    """Three outcomes, the last of them no pass (published): no day is promised for him."""
    bull = assessed("2026-03-11", exam("2026-03-10", "unsatisfactory"), turnout=TURNOUT)
    assert (bull.outlook, bull.earliest_ready) == ("vet-decides", None)
    assert "vet-exam" not in asked(bull)


ILL = [
    ("2026-03-10", "2026-05-22", True),
    ("2026-03-10", "2026-05-23", False),
    ("2027-02-01", "2027-04-03", True),  # 61 days alone are not enough
    ("2027-02-01", "2027-04-15", True),
    ("2027-02-01", "2027-04-16", False),
]


@pytest.mark.parametrize(("ill", "on", "told"), ILL)
def test_an_examination_is_advised_a_sperm_cycle_after_illness(
    ill: str, on: str, told: bool
) -> None:
    """University of Nebraska-Lincoln: 61 days to form sperm; a veterinary practice's page: up to 13
    more in the epididymis, 74 in all (published)."""
    bull = assessed(on, said("incident", ill, cause="illness"))
    assert ("vet.after_illness" in advised(bull)) is told


# ---- ours, resting on something published ----------------------------------------------------


def test_an_examination_counts_from_two_weeks_after_illness() -> None:
    """Project choice: 14 days. Ill 10 March 2026: from 24 March."""
    ill = said("incident", "2026-03-10", cause="illness")
    bull = assessed("2026-03-11", ill, turnout=TURNOUT)
    assert first_day(bull, "vet-exam") == "2026-03-24"


@pytest.mark.parametrize(("born", "young"), [("2025-03-01", False), ("2025-03-02", True)])
def test_a_bull_under_14_months_at_turnout_is_held(born: str, young: bool) -> None:
    """Project choice, resting on Barth (a veterinary practice's article of 2019): satisfactory
    semen in 45 % at 12 months and 75 % at 14. Turnout 1 May 2026."""
    bull = assessed("2026-04-24", said("bull", "2025-06-01", born=born), turnout=TURNOUT)
    assert ("age.least" in held_for(bull)) is young
    assert first_day(bull, "age") == ("2026-05-02" if young else "2026-05-01")
