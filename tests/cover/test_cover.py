"""Whether the bulls of a group are enough: by published figures, worked by hand, and by what can
never be so. The source stands beside each."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binom

from readiness.cover.chance import chance, spares
from readiness.cover.results import Carrier
from readiness.report.cover_words import facts
from tests.build import Line, day, said, walk
from tests.cover.farms import TURNOUT, bull, cover, cows, only, team

FAIL_10 = Carrier(35, 10)
CARRIERS = st.builds(Carrier, st.sampled_from([10, 20, 35]), st.sampled_from([10, 35]))


# ---- what one bull carries -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("born", "females"),
    [
        ("2025-02-02", 10), ("2025-02-01", 15),  # 15 months on 1 May: Ohio State 10-12, 12-18
        ("2024-11-02", 15), ("2024-11-01", 20),  # 18 months: 18-25; NDSU: a yearling 20
        ("2024-05-02", 20), ("2024-05-01", 30),  # 24 months: 25-35; NDSU 30
        ("2023-05-02", 30), ("2023-05-01", 35),  # 36 months: SAC 30-35
        ("2020-05-01", 35), ("2020-04-02", 35), ("2020-04-01", 30),  # 72 whole months still
        ("2024-02-29", 30),  # a leap day: 26 months
        (None, 20),  # nobody said: a project choice
    ],
)  # fmt: skip
def test_a_bull_carries_what_his_age_in_whole_months_at_turnout_says(
    born: str | None, females: int
) -> None:
    # The age classes are published by Ohio State; the figures of SAC, NDSU and Teagasc lie in them.
    group = only(cows(), *bull("B 1", born=born, go=False))
    (worker,) = group.workers
    assert worker.carrier.females == females


@pytest.mark.parametrize(("born", "fails"), [("2021-05-02", 10), ("2021-05-01", 35), (None, 10)])
def test_an_old_bull_fails_more_often(born: str | None, fails: int) -> None:
    # Beef Breeder Manual: about 10 %; over five years about 35 % a year.
    (worker,) = only(cows(), *bull("B 1", born=born)).workers
    assert worker.carrier.fails == fails


# ---- the chance that it lasts --------------------------------------------------------------------


@pytest.mark.parametrize(
    ("bulls", "needed", "fails", "expected"),
    [
        # The binomial distribution, four decimals: needs 4 that last, of 4, 5, 6 and so on.
        (4, 4, 10, "0.6561"), (5, 4, 10, "0.9185"), (6, 4, 10, "0.9842"),
        (4, 4, 20, "0.4096"), (5, 4, 20, "0.7373"), (6, 4, 20, "0.9011"), (7, 4, 20, "0.9667"),
    ],
)  # fmt: skip
def test_the_chance_is_that_of_the_binomial_table(
    bulls: int, needed: int, fails: int, expected: str
) -> None:
    found = chance([Carrier(35, fails)] * bulls, 35 * needed)
    assert abs(found - Fraction(expected)) <= Fraction(5, 100_000)
    assert float(found) == pytest.approx(float(binom.sf(needed - 1, bulls, 1 - fails / 100)))


def test_three_of_thirty_five_for_a_hundred_must_all_last() -> None:
    three = only(cows(100), *team(3))
    assert (three.capacity_go, three.short, three.chance) == (105, 0, Fraction(729, 1000))
    assert only(cows(70), *team(3)).chance == Fraction(972, 1000)


@given(st.lists(CARRIERS, max_size=8), st.integers(0, 250))
def test_the_chance_is_the_sum_over_all_ways_to_fail(carriers: list[Carrier], females: int) -> None:
    total = Fraction(0)
    for ways in range(1 << len(carriers)):
        part, carried = Fraction(1), 0
        for at, each in enumerate(carriers):
            lasts = bool(ways >> at & 1)
            part *= Fraction(100 - each.fails if lasts else each.fails, 100)
            carried += each.females * lasts
        total += part if carried >= females else 0
    assert chance(carriers, females) == total


@given(st.lists(CARRIERS, min_size=1, max_size=9), st.integers(0, 300))
def test_the_chance_never_rises_where_a_bull_is_taken_away_or_females_come(
    carriers: list[Carrier], females: int
) -> None:
    whole = chance(carriers, females)
    assert all(
        chance(carriers[:at] + carriers[at + 1 :], females) <= whole for at in range(len(carriers))
    )
    assert chance(carriers, females + 1) <= whole


def test_a_spare_bull_is_counted_for_just_the_chance_that_is_asked_for() -> None:
    # Of five, each 0.9, four last with 0.9185: one spare makes 90 %, two (0.9842) make 95.
    four = only(cows(140), *team(4))
    assert (four.by_turnout.spare_for_90, four.by_turnout.spare_for_95) == (1, 2)
    # Exactly 0.9 is 90 %, though no float is.
    assert spares([Carrier(35, 10)], 35, FAIL_10, 20, 90) == 0
    assert spares([], 10_000, FAIL_10, 20, 90) is None


def test_the_spare_bull_is_the_lower_one_in_the_middle_of_those_forecast() -> None:
    mixed = only(cows(45), *bull("B 1"), *bull("B 2", born="2025-02-01"))  # 35 and 15
    assert (mixed.capacity_forecast, mixed.by_turnout.spare_for_90) == (50, 2)


# ---- now, by turnout, from when ------------------------------------------------------------------


def test_a_bull_that_is_ready_by_turnout_counts_then_and_not_today() -> None:
    group = only(cows(60), *bull("B 1"), *bull("B 2", go=False))
    assert (group.capacity_go, group.capacity_forecast, group.short) == (35, 70, 0)
    assert group.covered_from == day("2026-04-28")  # all he lacks can be done today
    late = [said("incident", "2026-04-26", "B 2", cause="fight")]  # a walk from 29 Apr counts
    assert only(cows(60), *bull("B 1"), *bull("B 2"), *late).covered_from == day("2026-04-29")


def test_a_bull_that_is_late_for_turnout_is_not_forecast_but_covers_from_his_day() -> None:
    lame = walk("2026-04-27", 2, tag="B 2", limb="LF")
    group = only(cows(60), *bull("B 1"), *bull("B 2"), lame)
    assert (group.capacity_forecast, group.short) == (35, 25)
    assert group.covered_from == day("2026-05-04")  # a week after he was lame


def test_a_worker_that_is_out_counts_while_he_is_go_and_no_more_once_he_is_lame() -> None:
    out = said("moved", "2026-04-28", "B 1", act="out")
    lame = walk("2026-04-28", 2, tag="B 1", limb="LF")
    assert only(cows(30), *bull("B 1"), out).capacity_go == 35
    fallen = only(cows(30), *bull("B 1"), out, lame)
    assert (fallen.capacity_go, fallen.capacity_forecast, fallen.short) == (0, 0, 30)


def test_a_reserve_carries_nothing_until_he_works() -> None:
    group = only(cows(60), *bull("B 1"), *bull("B 2", role="reserve"))
    assert (group.capacity_go, len(group.workers), len(group.reserves)) == (35, 1, 1)


def test_who_has_left_or_works_elsewhere_carries_nothing() -> None:
    gone = said("moved", "2026-04-01", "B 1", act="left", reason="sold")
    assert only(cows(60), *bull("B 1"), gone).workers == ()
    assert only(cows(60), *bull("B 1", farm="Moss")).workers == ()


# ---- what nobody said, and seasons ---------------------------------------------------------------


def test_females_that_nobody_counted_make_no_shortage_and_no_chance() -> None:
    group = only(cows(None), *bull("B 1"))
    assert (group.capacity_go, group.short, group.chance) == (35, None, None)
    assert group.covered_from is None
    assert group.by_turnout[2:] == (None, None, None, None, None)


def test_no_females_need_no_bull_and_no_bulls_carry_nobody() -> None:
    assert (only(cows(0)).short, only(cows(0)).chance) == (0, Fraction(1))
    none = only(cows(40))
    assert (none.short, none.chance, none.covered_from) == (40, Fraction(0), None)
    assert none.by_turnout.spare_for_90 == 3  # each as one who carries 30: two, and one to fail


def test_a_group_whose_season_is_over_asks_for_no_bulls() -> None:
    nine = cows(weeks=9, turnout="2026-02-01")
    assert len(cover(nine, on="2026-04-05").groups) == 1  # its last day
    assert cover(nine, on="2026-04-06").groups == ()


def test_two_groups_of_one_name_are_each_their_own_farm_s() -> None:
    lines = [cows(30, farm="Low"), cows(30, farm="Top"), *bull("B 1", farm="Top")]
    assert [(g.farm, g.short) for g in cover(*lines).groups] == [("Low", 30), ("Top", 0)]


@given(st.integers(0, 200), st.integers(0, 60))
def test_more_females_are_never_better_covered(females: int, more: int) -> None:
    lines = [*team(3), *bull("B 9", go=False)]
    less, greater = only(cows(females), *lines), only(cows(females + more), *lines)
    assert less.short is not None and greater.short is not None
    assert less.short <= greater.short
    assert less.chance is not None and greater.chance is not None
    assert less.chance >= greater.chance


# ---- calves --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("turnout", "breed", "weeks", "first", "last"),
    [
        # ICBF 2020 (Angus 283, Holstein-Friesian 279, Blonde 294), else Nevada extension.
        ("2026-05-01", "Angus", 9, "2027-02-08", "2027-04-12"),
        ("2026-05-01", "Limousin", 9, "2027-02-14", "2027-04-18"),
        ("2027-01-01", "AA", 9, "2027-10-11", None),  # a printed table that says 10 Oct counts 282
        ("2028-01-01", "", 9, "2028-10-10", None),  # over 29 Feb
        ("2027-01-01", "Holstein-Friesian", 9, "2027-10-07", None),
        ("2027-01-01", "CH", 9, "2027-10-17", None),
        ("2027-01-01", "Limousin cross", 9, "2027-10-11", None),  # of a cross nobody knows
    ],
)  # fmt: skip
def test_calves_are_due_a_gestation_after_turnout_and_after_the_last_day(
    turnout: str, breed: str, weeks: int, first: str, last: str | None
) -> None:
    lines = [cows(30, turnout=turnout, weeks=weeks), *bull("B 1", breed=breed, go=False)]
    group = only(*lines)
    forecast = group.forecast
    assert len(forecast) == 1
    assert date.fromordinal(group.first_calf).isoformat() == first
    if last is not None:
        assert date.fromordinal(group.last_calf).isoformat() == last


def test_the_first_calf_is_of_the_shortest_and_the_last_of_the_longest_gestation() -> None:
    two = [*bull("B 1", breed="Angus"), *bull("B 2", breed="Limousin")]
    group = only(cows(weeks=9), *two)
    assert date.fromordinal(group.first_calf) == date(2027, 2, 8)
    assert date.fromordinal(group.last_calf) == date(2027, 4, 18)
    # a bull that is late for turnout sires none of them by then
    late: list[Line] = [walk("2026-04-27", 2, tag="B 2", limb="LF")]
    assert date.fromordinal(only(cows(weeks=9), *two, *late).last_calf) == date(2027, 4, 12)


def test_a_season_of_which_nobody_said_how_long_has_twelve_weeks() -> None:
    assert only(cows()).last_calf - day(TURNOUT) == 12 * 7 + 283


def test_one_who_is_out_on_hire_carries_nobody_s_females_here() -> None:
    hired = said("moved", "2026-04-28", "B 1", act="out", reason="hired")
    group = only(cows(30), *bull("B 1"), hired)
    assert (group.capacity_go, group.short) == (0, 30)


@pytest.mark.parametrize(
    ("bulls", "told"),
    [
        (
            [*bull("B 1"), walk("2026-04-27", 2, tag="B 1", limb="LF")],
            "none of its bulls can be ready: short by 30; enough from 4 May",
        ),
        ([], "no bull goes out with it: short by 30"),
        (bull("B 1", role="reserve"), "no bull goes out with it: short by 30"),
    ],
)
def test_where_no_bull_is_ready_that_is_said_in_words_and_not_in_noughts(
    bulls: list[Line], told: str
) -> None:
    found = cover(cows(30, turnout="2026-04-29"), *bulls)
    assert dict(facts(found, found.groups[0]))["by turnout"].startswith(told)
