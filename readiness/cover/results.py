"""What is worked out of a group's bulls against its females: what screens and reports are given.

Pure. Days are ordinals.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple

from readiness.engine.results import Assessment
from readiness.trade.words import Day


class Carrier(NamedTuple):
    """A bull: the ``females`` he carries, and of a hundred such bulls how many ``fails``."""

    females: int
    fails: int


class Worker(NamedTuple):
    """A bull in the place of a worker of a group, with what he carries there. ``months``: the
    ages in whole months that he may have at turnout, None where nobody said when he was
    born. ``go``: he counts today; ``forecast``: by turnout. One who is out on hire counts for
    nobody here. ``out``: since when he is."""

    bull: Assessment
    months: range | None
    carrier: Carrier
    gestation: int
    go: bool
    forecast: bool
    out: Day | None


class Strength(NamedTuple):
    """Some of a group's bulls against its females; what hangs on those is None where nobody said
    how many there are.

    ``carried``: the females that they carry; ``short``: those that they do not; ``chance``: that
    those who last the season carry all. ``spare_for_90``: how many more bulls of the middle sort
    make that chance 90 %. ``short_if_one_fails``: the same as ``short`` once the one who carries
    most has failed.
    """

    bulls: tuple[Worker, ...]
    carried: int
    short: int | None
    chance: Fraction | None
    spare_for_90: int | None
    spare_for_95: int | None
    short_if_one_fails: int | None


@dataclass(frozen=True, slots=True)
class GroupCover:
    """One group. ``females``, and all that hangs on them, is None where nobody said how many.

    ``by_turnout``: those who are GO, and those who can be by turnout; ``at_work``: once the season
    is under way, those who are out and GO: nobody else serves. ``covered_from``: the first day on
    which the bulls that are ready carry all.
    """

    farm: str | None
    group: str
    turnout: Day
    category: str
    females: int | None
    workers: tuple[Worker, ...]
    reserves: tuple[Assessment, ...]
    capacity_go: int
    by_turnout: Strength
    at_work: Strength | None
    covered_from: Day | None
    first_calf: Day
    last_calf: Day
    last_day: Day

    @property
    def forecast(self) -> tuple[Worker, ...]:
        """Those who count by turnout."""
        return self.by_turnout.bulls

    @property
    def capacity_forecast(self) -> int:
        return self.by_turnout.carried

    @property
    def short(self) -> int | None:
        return self.by_turnout.short

    @property
    def chance(self) -> Fraction | None:
        return self.by_turnout.chance

    @property
    def counts(self) -> Strength:
        """Those who count today: by turnout before the season, at work in it."""
        return self.by_turnout if self.at_work is None else self.at_work

    @property
    def waiting(self) -> tuple[Worker, ...]:
        """Its workers that are in."""
        return tuple(worker for worker in self.workers if worker.out is None)

    @property
    def would_carry(self) -> int:
        """The females that those who wait and are GO would carry, let out."""
        return carried_by(worker for worker in self.waiting if worker.go)


def carried_by(workers: Iterable[Worker]) -> int:
    return sum(worker.carrier.females for worker in workers)
