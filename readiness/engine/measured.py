"""What is odd in what was measured and may yet be true: warned of, never refused.

How short, thin or wide is too much stands in the rules of the bull's farm.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from readiness.rules.model import Rules
from readiness.trade.feet import spot_words
from readiness.trade.words import number_words

Content = Mapping[str, Any]


def odd_measures(content: Content, rules: Rules) -> list[str]:
    """Warnings about the horn measured and the spots sized in one canonical content."""
    return [*_horn(content, rules), *_stages(content, rules)]


def _horn(content: Content, rules: Rules) -> Iterator[str]:
    guard, thin = rules.limits.wall_guard, rules.limits.sole_thin
    for measure in content.get("measures", ()):
        place = spot_words(measure["foot"], measure["claw"])
        wall, sole = measure.get("wall_mm"), measure.get("sole_mm")
        if wall is not None and wall < guard:
            yield (
                f"{place} wall of {number_words(wall)} mm is under {guard} mm: "
                "do not shorten it further"
            )
        if sole is not None and sole < thin:
            yield f"{place} sole of {number_words(sole)} mm is under {thin} mm: a thin sole"


def _stages(content: Content, rules: Rules) -> Iterator[str]:
    """Active digital dermatitis whose size belongs to the other stage."""
    split = rules.limits.stage_m2_from
    for finding in content.get("findings", ()):
        stage, size = finding.get("stage"), finding.get("size_mm")
        if size is None or stage not in ("M1", "M2"):
            continue
        by_size = "M1" if size < split else "M2"
        if by_size != stage:
            yield (
                f"{finding['foot']} DD of {number_words(size)} mm is {by_size} by its size "
                f"(M1 under {split} mm, M2 from {split}); {stage} is written"
            )
