"""Makes the entries of one bull for random books; every choice is the seeded generator's."""

from __future__ import annotations

import random
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from .values import BEST, FEET, LAME_FROM, WORST

Entry = dict[str, Any]


def iso(day: int) -> str:
    return date.fromordinal(day).isoformat()


@dataclass
class Maker:
    """Makes entries of one bull; every choice comes from ``rng``."""

    rng: random.Random
    tag: str
    today: int
    used: set[tuple[str, str, str]] = field(default_factory=set)

    def entry(self, kind: str, day: int, **fields: Any) -> Entry:
        return {"kind": kind, "on": iso(day), "bull": self.tag, **fields}

    def ago(self, *days: int) -> int:
        """A day so long ago that one of ``days`` falls on today or next to it; or any day."""
        kind = self.rng.random()
        if days and kind < 0.6:
            return self.today - self.rng.choice(days) + self.wobble()
        return self.today - self.rng.randint(0, 60 if kind < 0.85 else 200)

    def wobble(self) -> int:
        return self.rng.choice((0, 0, 0, 1, -1))

    def after(self, day: int, *days: int) -> int:
        """One of ``days`` after a day, or a day more or less, never before it."""
        return max(day, day + self.rng.choice(days) + self.wobble())

    def before(self, day: int, *days: int) -> int:
        return min(day, day - self.rng.choice(days) + self.wobble())

    def maybe(self, chance: float) -> bool:
        return self.rng.random() < chance

    def feet(self, day: int, feet: list[str], **fields: Any) -> Entry:
        """A lift; sometimes another foot goes up too, or would not."""
        lifted, other = list(feet), self.rng.choice(FEET)
        fields = {name: value for name, value in fields.items() if value}
        if other not in lifted:
            if self.maybe(0.15):
                lifted.append(other)
            elif self.maybe(0.1):
                fields["refused"] = [other]
        return self.entry("feet", day, lifted=lifted, **fields)

    def work(self, foot: str) -> list[Entry]:
        if self.maybe(0.5):
            return []
        act = self.rng.choice(("trim", "pare", "dress", "dress", "wrap", "unwrap"))
        return [{"foot": foot, "act": act}]

    def score(self, day: int, kind: str) -> Entry:
        """A walk on one of the scales: best, mild, sound (either), lame or worst."""
        scale = self.rng.choice(("gb0-3", "gb0-3", "five1-5", "nz0-3"))
        best, lame, worst = BEST[scale], LAME_FROM[scale], WORST[scale]
        scores = {
            "best": (best,),
            "mild": (best + 1,),
            "sound": (best, best + 1),
            "lame": tuple(range(lame, worst)),
            "worst": (worst,),
        }
        entry = self.entry("mobility", day, scale=scale, score=self.rng.choice(scores[kind]))
        if kind in ("lame", "worst") and self.maybe(0.6):
            entry["limb"] = self.rng.choice(FEET)
        return entry

    def condition(self, day: int, inside: bool) -> Entry:
        five = (2.5, 3.0, 3.25, 3.5, 4.0) if inside else (1.0, 2.25, 4.25, 5.0)
        nine = (4.0, 5.0, 6.5, 7.0) if inside else (2.0, 3.5, 7.5, 9.0)
        scale = self.rng.choice(("five", "nine"))
        score = self.rng.choice(five if scale == "five" else nine)
        return self.entry("condition", day, scale=scale, score=score)
