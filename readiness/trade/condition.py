"""Body condition on the other scale, for reading only.

five = (nine + 1) / 2 (Ferguson, published). A stored score is never converted: what comes out of
here is derived, says so, and decides nothing.
"""

from __future__ import annotations

from readiness.trade.scales import CONDITION


def nine_to_five(score: float) -> float:
    """A nine-point condition score as it would read on the five-point scale."""
    return (score + 1) / 2


def five_to_nine(score: float) -> float:
    """A five-point condition score as it would read on the nine-point scale."""
    return score * 2 - 1


def on_other_scale(scale: str, score: float) -> str:
    """The score in words of the other scale: "3.25 on condition 1-5 (derived)"."""
    other, convert = {"nine": ("five", nine_to_five), "five": ("nine", five_to_nine)}[scale]
    return f"{convert(score):g} on {CONDITION[other].name} (derived)"
