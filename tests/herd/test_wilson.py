"""Wilson's interval against a reference library, and against published counts."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binomtest

from readiness.herd.stats.results import wilson

SAME = 1e-12


def reference(n: int, of: int, confidence: float = 0.95) -> tuple[float, float]:
    """scipy.stats.binomtest(...).proportion_ci(method="wilson")."""
    found = binomtest(n, of).proportion_ci(confidence, method="wilson")
    return float(found.low), float(found.high)


@pytest.mark.parametrize("of", [1, 2, 3, 7, 12, 30, 45, 120, 1000])
def test_every_share_of_so_many_as_in_the_reference_library(of: int) -> None:
    """Against scipy 1.14 and later, every n where of is small, else a spread."""
    for n in range(0, of + 1, max(1, of // 30)):
        assert wilson(n, of) == pytest.approx(reference(n, of), abs=SAME)


@given(st.integers(1, 10**6).flatmap(lambda of: st.tuples(st.integers(0, of), st.just(of))))
def test_the_interval_holds_the_share_and_stays_a_share(counts: tuple[int, int]) -> None:
    n, of = counts
    low, high = wilson(n, of)
    assert 0 <= low <= n / of <= high <= 1
    assert low < high
    # Of what was not seen as of what was: the mirror image.
    assert wilson(of - n, of) == pytest.approx((1 - high, 1 - low), abs=1e-9)


def test_none_and_all_reach_the_ends_exactly() -> None:
    for of in (1, 5, 30, 365, 10_000):
        assert wilson(0, of)[0] == 0.0 and 0 < wilson(0, of)[1] < 1
        assert wilson(of, of)[1] == 1.0 and 0 < wilson(of, of)[0] < 1


@pytest.mark.parametrize(("n", "of"), [(0, 0), (-1, 4), (5, 4), (1, 0)])
def test_what_is_no_share_is_refused(n: int, of: int) -> None:
    with pytest.raises(ValueError, match="is no share"):
        wilson(n, of)


@pytest.mark.parametrize(
    ("n", "of", "per_cent"),
    [(11, 45, 24.4), (14, 39, 35.9), (12, 42, 28.6), (23, 41, 56.1)],
    ids=["trim", "block", "NSAID", "both"],
)
def test_the_cure_rates_of_thomas_2015_and_their_intervals(
    n: int, of: int, per_cent: float
) -> None:
    """Thomas et al. 2015, Journal of Dairy Science: cure of claw-horn lesions at 35 days, as
    counts and per cent; the intervals by scipy."""
    assert round(100 * n / of, 1) == per_cent
    assert wilson(n, of) == pytest.approx(reference(n, of), abs=SAME)
    low, high = wilson(n, of)
    assert low < per_cent / 100 < high


def test_another_confidence_by_its_deviate() -> None:
    """90 %: z = 1.6448536269514722, the 95th percentile of the normal distribution."""
    assert wilson(7, 31, z=1.6448536269514722) == pytest.approx(reference(7, 31, 0.9), abs=SAME)
