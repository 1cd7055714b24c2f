"""Published numbers that an entry is held to when it comes in: ear tags, electronic numbers, zones,
and what a share of feet is said to be. The source stands beside each."""

from __future__ import annotations

import pytest
from scipy.stats import binomtest

from readiness.entries.validate import validate
from tests.build import booked, found, lift
from tests.herd.lifted import feet, figures_of, row
from tests.standards.told import warned

# ---- ear tags --------------------------------------------------------------------------------


def booked_as(tag: str) -> list[str]:
    """What is said when a bull is booked under this tag."""
    return warned({"kind": "bull", "on": "2026-04-01", "bull": tag})


@pytest.mark.parametrize(
    "tag",
    [
        "UK 284205 600015", "UK 284205 700016", "UK 284205 100017",
        "UK 123450 600001", "UK 123450 700002", "UK 123450 100003", "UK 230011 200123",
    ],
)  # fmt: skip
def test_a_published_tag_is_booked_without_a_word(tag: str) -> None:
    """BCMS guidance: the format, and the check digit's cycle from 1 to 7; runs of real tags
    (published). The formula is derived from them."""
    assert booked_as(tag) == []


@pytest.mark.parametrize(
    ("tag", "right"), [("UK 284205 500015", 6), ("UK 284205 600016", 7), ("UK 284205 700017", 1)]
)
def test_a_wrong_check_digit_is_told_with_the_right_one(tag: str, right: int) -> None:
    """The same published run, each with the digit of the tag before it."""
    (text,) = booked_as(tag)
    assert f"these numbers give {right} " in text


def test_a_herd_misread_by_seven_cannot_be_told() -> None:
    """The cycle has seven digits: 123456 read as 193456 gives the same one (derived)."""
    digit = 123456_00001 % 7 + 1
    assert booked_as(f"UK 123456 {digit}00001") == booked_as(f"UK 193456 {digit}00001") == []


@pytest.mark.parametrize(
    ("number", "fits"),
    [
        ("826274877906943", True),
        ("826274877906944", False),
        ("826284205700016", False),  # made of the number on an ear tag
    ],
)
def test_an_electronic_number_over_38_bits_is_told(number: str, fits: bool) -> None:
    """ISO 11784: country of three digits (826 is the UK), then 38 bits: 274 877 906 943 at most
    (published)."""
    assert [("electronic number" in text) for text in booked_as(number)] == [True] * (not fits)


# ---- zones -----------------------------------------------------------------------------------


@pytest.mark.parametrize(("zone", "known"), [*((n, True) for n in range(13)), (13, False)])
def test_a_foot_has_zones_0_to_12(zone: int, known: bool) -> None:
    """International Lameness Committee, Kuopio 2008 (partly from memory)."""
    listed = {"foot": "LH", "claw": "outer", "code": "SU", "zone": zone}
    content, problems = validate(lift("2026-04-01", "LH", findings=[listed]))
    assert (content is not None) is known and (problems == []) is known


# ---- shares ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("n", "of", "per_cent"),
    [(11, 45, 24.4), (14, 39, 35.9), (12, 42, 28.6), (23, 41, 56.1)],
    ids=["trim", "block", "NSAID", "both"],
)
def test_so_many_of_so_many_feet_are_figured_as_published(n: int, of: int, per_cent: float) -> None:
    """Thomas et al. 2015, J Dairy Sci: cured at 35 days (published); here as many feet with an
    ulcer among as many lifted, each of another bull. The interval by scipy: Wilson, 95 %."""
    told = []
    for number in range(of):
        listed = [found("LH", "outer", "SU")] if number < n else []
        tag = f"T {number}"
        told += [booked(tag), feet("2026-03-01", *listed, lifted=("LH",), bull=tag)]
    part = row(figures_of(*told), "code", "SU")
    reference = binomtest(n, of).proportion_ci(0.95, method="wilson")
    assert (part.n, part.of, round(100 * part.share, 1)) == (n, of, per_cent)
    assert (part.low, part.high) == pytest.approx((reference.low, reference.high), abs=1e-12)
