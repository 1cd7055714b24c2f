"""Figures derived by a published formula, shown and never stored: they decide nothing, so no
assessment shows them. The source stands beside each."""

from __future__ import annotations

import pytest

from readiness.rules.load import default_rules
from readiness.trade.condition import on_other_scale
from readiness.trade.horn import months_of_growth

GROWTH = default_rules().common.values["horn.growth"].value


@pytest.mark.parametrize(("nine", "five"), [(5, "3"), (5.5, "3.25"), (6, "3.5"), (6.5, "3.75")])
def test_condition_of_nine_on_the_five_point_scale(nine: float, five: str) -> None:
    """Ferguson: five = (nine + 1) / 2 (published)."""
    assert on_other_scale("nine", nine) == f"{five} on condition 1-5 (derived)"


def test_condition_of_five_on_the_nine_point_scale() -> None:
    """Ferguson's formula the other way round."""
    assert on_other_scale("five", 3) == "5 on condition 1-9 (derived)"


@pytest.mark.parametrize(
    ("mm", "months"),
    [
        (20, 4.0),  # a groove 20 mm below the coronet
        (75, 15.0),  # the wall that leaves about 6 mm of sole: from memory of Archer et al. 2015
        (90, 18.0),  # the wall that suits 96 % of claws: Archer et al. 2015, Vet Rec 177:222
    ],
)
def test_age_of_horn(mm: float, months: float) -> None:
    """5 mm a month in adult cattle: MSD Veterinary Manual; Greenough (published)."""
    assert months_of_growth(mm, GROWTH) == months


def test_horn_that_does_not_grow_has_no_age() -> None:
    with pytest.raises(ValueError, match="more than 0"):
        months_of_growth(20, 0)
