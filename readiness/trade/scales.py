"""The scales of walk and condition: which scores exist. A score is stored with its scale and is
never converted.

Ranges: GB dairy mobility 0-3 (AHDB mobility scoring guide), five-point locomotion 1-5 (Sprecher,
Hostetler & Kaneene 1997, Theriogenology 47:1178), NZ lameness 0-3 (DairyNZ guidance); condition
1-5 in quarters and 1-9 in halves. Where lameness begins is a rule, not a property of the word.
"""

from __future__ import annotations

from dataclasses import dataclass

from readiness.trade.words import number_words


@dataclass(frozen=True, slots=True)
class Scale:
    """Scores from ``low`` to ``high`` in steps of ``step``."""

    id: str
    name: str
    low: int
    high: int
    step: float
    short: str
    """As it stands behind a score: "GB scale 0-3"."""

    def has(self, score: float) -> bool:
        """Whether the score stands on the scale."""
        return self.low <= score <= self.high and (score - self.low) % self.step == 0

    @property
    def range_words(self) -> str:
        """What a refusal says: "0 to 3, whole numbers"."""
        steps = {1: "whole numbers", 0.5: "halves", 0.25: "quarters"}[self.step]
        return f"{self.low} to {self.high}, {steps}"


MOBILITY = {
    scale.id: scale
    for scale in (
        Scale("gb0-3", "GB dairy mobility 0-3", 0, 3, 1, "GB scale 0-3"),
        Scale("five1-5", "five-point locomotion 1-5", 1, 5, 1, "five-point scale 1-5"),
        Scale("nz0-3", "NZ lameness 0-3", 0, 3, 1, "NZ scale 0-3"),
    )
}

CONDITION = {
    scale.id: scale
    for scale in (
        Scale("five", "condition 1-5", 1, 5, 0.25, "scale 1-5"),
        Scale("nine", "condition 1-9", 1, 9, 0.5, "scale 1-9"),
    )
}

SCALES = MOBILITY | CONDITION


def score_words(score: float, scale: str) -> str:
    """A score with its scale as people call it: "2 (GB scale 0-3)"."""
    return f"{number_words(score)} ({SCALES[scale].short})"
