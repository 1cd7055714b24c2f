"""The plain count of cover against cases worked out by hand and against published figures.

Sources stand beside the figures. Days were counted on a calendar by hand.
"""

from __future__ import annotations

import random
from datetime import date
from fractions import Fraction
from typing import Any

import pytest
from scipy.stats import binom

from tests.volume import sampled

from .cover import (
    COVER,
    Odds,
    brute_cover,
    by_every_set,
    by_one_after_another,
    chance,
    failing,
    females_for,
    gestation,
    spares,
    whole_months,
)
from .hand import ON
from .state import Entry, day_of
from .team import flat, group, ready_bull, slow_bull

TENTH, OLD = Fraction(1, 10), Fraction(35, 100)
MATURE: Odds = (35, TENTH)


def at_months(months: int | None) -> int:
    return females_for(months, COVER)


def cover(*told: list[Entry] | Entry, on: date = ON, **what_if: Any) -> dict[str, Any]:
    """The only group."""
    (row,) = brute_cover(flat(*told), on, **what_if)
    return row


def day(text: str) -> date:
    return date.fromisoformat(text)


# ---- a bull's females, by his age ----------------------------------------------------------------


@pytest.mark.parametrize(
    ("months", "least", "most"),
    [
        (14, 10, 12),  # under 15 months; this and the next three: Ohio State
        (15, 12, 18),
        (17, 12, 18),
        (18, 18, 25),
        (23, 18, 25),
        (24, 25, 35),
        (35, 25, 35),
        (36, 30, 35),  # mature: SAC
        (18, 20, 20),  # a yearling, and one of two years: NDSU
        (24, 30, 30),
        (23, 0, 20),  # at most, in his first season: Teagasc
    ],
)
def test_females_of_an_age_outside_what_is_published(months: int, least: int, most: int) -> None:
    assert least <= at_months(months) <= most


@pytest.mark.parametrize(
    ("born", "turnout", "females"),
    [
        ("2025-02-02", "2026-05-01", 10),  # a day short of 15 months
        ("2025-02-01", "2026-05-01", 15),
        ("2024-11-02", "2026-05-01", 15),
        ("2024-11-01", "2026-05-01", 20),
        ("2024-05-02", "2026-05-01", 20),
        ("2024-05-01", "2026-05-01", 30),
        ("2023-05-02", "2026-05-01", 30),
        ("2023-05-01", "2026-05-01", 35),
        ("2020-05-01", "2026-05-01", 35),  # 72 months to the day
        ("2020-04-02", "2026-05-01", 35),  # 72 whole months, a day short of 73
        ("2020-04-01", "2026-05-01", 30),
        ("2024-02-29", "2026-02-27", 20),  # two years after a leap day: the last of February
        ("2024-02-29", "2026-02-28", 30),
        ("2024-02-29", "2028-02-28", 35),  # a leap year again: 47 months, then 48; both mature
        ("2025-01-31", "2026-04-29", 10),  # no 31st of April
        ("2025-01-31", "2026-04-30", 15),
        ("2023-12-31", "2025-12-30", 20),  # over New Year
        ("2024-01-01", "2025-12-31", 20),
        ("2024-01-01", "2026-01-01", 30),
        ("2026-06-01", "2026-05-01", 10),  # not born yet
    ],
)
def test_age_is_counted_wrong_by_a_day(born: str, turnout: str, females: int) -> None:
    assert at_months(whole_months(day_of(born), day_of(turnout))) == females


def test_age_is_taken_today_and_not_at_turnout() -> None:
    # 23 months on 3 April 2026, 24 on 9 April, when he goes out
    told = [group("2026-04-09", females=30), *ready_bull("T 1", born="2024-04-09")]
    assert cover(told)["capacity_go"] == 30
    assert cover(told, turnout=date(2026, 4, 8))["capacity_go"] == 20
    # and out since then, he is still counted by his age on that day
    later = cover(told, on=date(2026, 4, 10))
    assert (later["females"], later["capacity_forecast"]) == (30, 30)


def test_unknown_age_is_taken_for_an_old_bulls() -> None:
    row = cover(group("2026-04-09", females=20), ready_bull("T 1", born=None))
    assert (row["capacity_go"], row["chance"]) == (20, Fraction(9, 10))


def test_of_the_ages_that_he_may_have_the_one_that_carries_fewest_counts() -> None:
    # 18 to 23 months: 20 females; from 24 on 30; over 72 months 30 again, up to 72 35
    told = group("2026-04-09", females=20)
    for first, last, females in (
        ("2024-01-01", "2024-12-31", 15),  # 15 to 27 months
        ("2024-01-01", "2024-04-09", 30),
        ("2020-01-01", "2020-12-31", 30),  # 63 to 75 months
        ("2023-01-01", "2023-04-09", 35),
    ):  # fmt: skip
        row = cover(told, ready_bull("T 1", born=last, born_from=first))
        assert row["capacity_go"] == females, (first, last)


def test_who_may_be_five_years_old_fails_as_one_who_is() -> None:
    for first, fails in (("2021-04-09", Fraction(35, 100)), ("2021-04-10", Fraction(1, 10))):
        bull = ready_bull("T 1", born="2021-12-31", born_from=first)
        assert cover(group("2026-04-09", females=35), bull)["chance"] == 1 - fails


# ---- the chance ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("born", "fails"),
    [
        ("2021-04-10", Fraction(1, 10)),  # about one in ten in the first weeks: Beef Breeder Manual
        ("2021-04-09", Fraction(35, 100)),  # five years old at turnout: 35 % a year, the same
    ],
)
def test_older_bull_fails_as_seldom_as_a_young_one(born: str, fails: Fraction) -> None:
    assert failing(whole_months(day_of(born), day_of("2026-04-09")), COVER) == fails
    row = cover(group("2026-04-09", females=35), ready_bull("T 1", born=born))
    assert row["chance"] == 1 - fails


@pytest.mark.parametrize(
    ("fails", "bulls", "published"),
    [  # four must last: the binomial distribution's own figures
        (0.1, 4, 0.6561),
        (0.1, 5, 0.9185),
        (0.1, 6, 0.9842),
        (0.2, 4, 0.4096),
        (0.2, 5, 0.7373),
        (0.2, 6, 0.9011),
        (0.2, 7, 0.9667),
    ],
)
def test_chance_of_equal_bulls_is_not_the_binomial(
    fails: float, bulls: int, published: float
) -> None:
    odds = [(30, Fraction(str(fails)))] * bulls
    assert float(chance(odds, 120)) == pytest.approx(published, abs=5e-5)
    assert float(chance(odds, 120)) == pytest.approx(binom.sf(3, bulls, 1 - fails), rel=1e-12)


@sampled("bulls", range(21), first=11, most=13)
def test_chance_of_many_equal_bulls_is_not_the_binomial(bulls: int) -> None:
    for need in range(0, bulls + 2):
        expected = binom.sf(need - 1, bulls, 0.9)
        assert float(chance([MATURE] * bulls, 35 * need)) == pytest.approx(expected, abs=1e-12)


def test_three_bulls_of_35_by_hand() -> None:
    # for 100 all three must last, for 70 two of them
    assert chance([MATURE] * 3, 100) == Fraction(729, 1000)
    assert chance([MATURE] * 3, 70) == Fraction(972, 1000)


@pytest.mark.parametrize(
    ("females", "expected"),
    [
        (0, "1"),
        (1, "0.965"),  # not both fail: 1 - 0.1 * 0.35
        (30, "0.965"),
        (31, "0.9"),  # the one of 35 alone is enough, the old one of 30 is not
        (35, "0.9"),
        (36, "0.585"),  # both must last: 0.9 * 0.65
        (65, "0.585"),
        (66, "0"),
    ],
)
def test_two_unlike_bulls_by_hand(females: int, expected: str) -> None:
    assert chance([MATURE, (30, OLD)], females) == Fraction(expected)


def test_sum_over_sets_differs_from_the_sum_bull_by_bull() -> None:
    rng = random.Random(1)
    for _ in range(60):
        odds = [
            (rng.choice((10, 15, 20, 30, 35)), rng.choice((TENTH, OLD)))
            for _ in range(rng.randint(0, 8))
        ]
        females = rng.randint(0, 120)
        assert by_every_set(odds, females) == by_one_after_another(odds, females)


# ---- spare bulls ---------------------------------------------------------------------------------


def spare(odds: list[Odds], females: int) -> tuple[int | None, int | None]:
    """Spares for 90 and for 95 in 100."""
    ninety, more = Fraction(90, 100), Fraction(95, 100)
    return spares(odds, females, ninety, COVER), spares(odds, females, more, COVER)


def test_spare_bulls_of_three_equal_ones_by_hand() -> None:
    # three must last: of three 0.729, of four 0.9477, of five 0.99144
    assert spare([MATURE] * 3, 100) == (1, 2)
    # for 70, two of three: 0.972
    assert spare([MATURE] * 3, 70) == (0, 0)


def test_chance_that_is_reached_exactly_asks_for_a_spare_bull() -> None:
    # one bull at one in ten: 0.9 as it is, 0.99 with another
    assert spare([(30, TENTH)], 30) == (0, 1)


def test_no_bull_there_and_the_spare_is_not_of_thirty() -> None:
    assert spare([], 30) == (1, 2)  # 0.9, then 0.99
    assert spare([], 31) == (3, 3)  # two must last: of two 0.81, of three 0.972
    assert spare([], 0) == (0, 0)


def test_spare_bull_is_not_of_the_lower_median() -> None:
    # for 30 of an old one of 10 and one of 20: 0.585. With one spare of 10: the 20 lasts and one of
    # the tens, 0.9 * 0.965 = 0.8685; with two: 0.9 * 0.9965 and, the 20 gone, all three tens, 0.1 *
    # 0.65 * 0.81, 0.9495; with three: 0.9884. One spare of 20 would make 0.927.
    assert spare([(10, OLD), (20, TENTH)], 30) == (2, 3)
    assert spare([(20, TENTH), (10, OLD)], 30) == (2, 3)


def test_spare_bull_fails_as_often_as_an_old_one() -> None:
    # one old bull for his own 30: 0.65; with one more at one in ten 1 - 0.35 * 0.1 = 0.965
    assert spare([(30, OLD)], 30) == (1, 1)


@pytest.mark.long
def test_more_than_twenty_spare_bulls_are_asked_for() -> None:
    # of twenty spares of thirty, sixteen last with 0.957, seventeen with 0.867
    assert (binom.sf(15, 20, 0.9) > 0.95, binom.sf(16, 20, 0.9) < 0.9) == (True, True)
    assert binom.sf(15, 19, 0.9) < 0.9
    assert spare([], 16 * 30) == (20, 20)
    assert spare([], 17 * 30) == (None, None)


# ---- calves --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("breed", "days"),
    [
        (None, 283),  # the usual figure
        ("Highland", 283),
        ("Angus x Limousin", 283),
        ("Angus", 283),  # ICBF 2020: this, Holstein-Friesian and Blonde
        ("aa", 283),
        ("Aberdeen  Angus", 283),
        ("Holstein-Friesian", 279),
        ("holstein friesian", 279),
        ("Blonde", 294),
        ("HE", 285),  # Nevada extension: this and the rest
        ("Hereford", 285),
        ("Shorthorn", 282),
        ("LIM", 289),
        ("Charolais", 289),
        ("ch", 289),
        ("Sim", 289),
    ],
)
def test_breed_is_not_known_by_its_name_or_letters(breed: str | None, days: int) -> None:
    assert gestation(breed, COVER) == days


@pytest.mark.parametrize(
    ("turnout", "days", "first"),
    [
        ("2024-05-01", 280, "2025-02-05"),  # Teagasc's calving calendar
        ("2026-06-01", 284, "2027-03-12"),  # an extension column's table, and the next
        ("2026-07-01", 284, "2027-04-11"),
        ("2027-01-01", 283, "2027-10-11"),  # a common year
        ("2028-01-01", 283, "2028-10-10"),  # a leap year
        ("2027-01-01", 279, "2027-10-07"),
        ("2027-01-01", 289, "2027-10-17"),
    ],
)
def test_first_calf_comes_on_another_day_than_in_a_printed_calendar(
    turnout: str, days: int, first: str
) -> None:
    row = cover(group(turnout, females=1), on=day(turnout), rules={"cover.gestation": days})
    assert row["first_calf"] == day(first)


def test_calves_of_a_breed_by_hand() -> None:
    season = group("2026-05-01", weeks=9, females=30)
    angus = cover(season, ready_bull("T 1", breed="Angus"))
    assert angus["capacity_forecast"] == 35
    assert (angus["first_calf"], angus["last_calf"]) == (day("2027-02-08"), day("2027-04-12"))
    limousin = cover(season, ready_bull("T 1", breed="LIM"))
    assert limousin["first_calf"] == day("2027-02-14")


def test_calves_are_not_of_the_forecast_bulls_alone() -> None:
    told = [
        *ready_bull("T 1", breed="Shorthorn"),
        *ready_bull("T 2", breed="Charolais"),
        *ready_bull("T 3", breed="Blonde", role="reserve"),
        *slow_bull("T 4", breed="Holstein-Friesian"),
    ]
    # 12 weeks where nobody says: the last day is 2026-07-02
    row = cover(group("2026-04-09", females=30), told)
    assert row["first_calf"] == day("2027-01-16")  # 282 days
    assert row["last_calf"] == day("2027-04-17")  # 289 days
