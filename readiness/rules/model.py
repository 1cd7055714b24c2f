"""The rules as plain frozen values: what the engine reads.

Every value carries its unit, standing and source (``Value``); the typed views below (``Limits``,
``FindingRule``, …) hold the same numbers where the engine wants them fast. ``load.py`` builds both
from the same TOML, so a fact lives in one place.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from readiness.trade.ages import months_after
from readiness.trade.breeds import breed_of
from readiness.trade.checks import LIFTING

STANDINGS = ("published", "common practice (no source)", "from memory", "project choice")


class Value(NamedTuple):
    """One rule value as ``readiness rules`` shows it.

    ``checked`` is the ISO date on which somebody last compared the value with the source itself,
    empty where nobody did. ``default`` is what an overridden value replaces, None where it replaces
    nothing.
    """

    id: str
    value: Any
    unit: str
    standing: str
    source: str
    checked: str
    overridden: bool = False
    text: str = ""
    default: Any = None


class FindingRule(NamedTuple):
    """How a finding of one code behaves.

    ``claw``: "claw", "skin" or "any". ``holds_from``: the least severity that holds, 0 where none
    does. ``holds_stages``: the stages that hold (DD only, else empty; an unknown stage holds).
    ``looks``: days after the clock on which to look. ``clear``: first day on which healed is
    plausible, for severity 1, 2, 3 (empty where it never holds). ``vet_from``: least severity that
    asks for a vet, 0 for none. ``vet_open``: found open this many days after first found or later
    asks for a vet, 0 for never. ``advise_look``: days to an advised look where it does not hold,
    0 for none.
    """

    code: str
    name: str
    claw: str
    holds_from: int
    holds_stages: tuple[str, ...]
    looks: tuple[int, ...]
    clear: tuple[int, ...]
    vet_from: int
    vet_open: int
    advise_look: int

    @property
    def never_holds(self) -> bool:
        """Whether no severity and no stage of it keeps a bull back."""
        return not self.holds_from and not self.holds_stages

    def holds(self, severity: int | None, stage: str | None) -> bool:
        """Whether a finding of this severity (1-3, None where nobody said) and stage keeps the
        bull back: what was not said is not slight."""
        if self.holds_stages:
            return stage is None or stage in self.holds_stages
        return self.holds_from > 0 and (severity is None or severity >= self.holds_from)


class MobilityScale(NamedTuple):
    """A walk scale: lame from ``lame``; ``worst`` is its last score; ``advise`` is watched."""

    id: str
    name: str
    low: int
    worst: int
    lame: int
    advise: int


class ConditionScale(NamedTuple):
    """A body condition scale, its step, and the two bands of the rules, both ends inside."""

    id: str
    name: str
    low: float
    high: float
    step: float
    hold: tuple[float, float]
    target: tuple[float, float]


class OwnCheck(NamedTuple):
    """A check of the farm's own: passed at most ``first`` days before turnout (None: once and for
    all) and at least ``lag`` days before it; it should be done by ``due`` days before.

    ``applies``: "all", or the origin of the bulls that it is for.
    """

    name: str
    who: str
    first: int | None
    due: int
    lag: int
    applies: str
    text: str


class Limits(NamedTuple):
    """Every single-number rule, in the unit of its ``Value``; the rule id is the name with its
    first ``_`` read as ``.``."""

    feet_oldest: int
    feet_due: int
    feet_advised: int
    trim_settle: int
    lame_lift: int
    lame_lift_worst: int
    lame_long: int
    clear_after_open: int
    severity_unsaid: int
    rename_anew: tuple[str, ...]
    block_least: int
    block_most: int
    block_settle: int
    block_look: int
    block_wrong: int
    wrap_most: int
    pain_settle: int
    mobility_oldest: int
    mobility_again: int
    mobility_late: int
    incident_settle: int
    incident_settle_back: int
    illness_settle: int
    age_least: int
    condition_oldest: int
    condition_again: int
    condition_late: int
    vet_oldest: int
    vet_advised: int
    vet_again: int
    vet_after_illness: int
    vet_lame_days: int
    vet_look: int
    vet_look_again: int
    vet_memory: int
    vet_required: bool
    lame_transport: bool
    vet_worst_walk: bool
    vet_nothing_found: bool
    vet_refused: bool
    vet_explains: int
    heifers_safe: bool
    withdrawal_shown: bool
    quarantine_days: int
    tight_days: int
    heavy_kg: int
    sole_thin: int
    wall_guard: int
    stage_m2_from: int
    weight_drop: int
    weight_drop_days: int
    group_weeks: int
    look_slack: float
    motility_least: int
    normal_least: int
    pain_words: tuple[str, ...]


class VisitRules(NamedTuple):
    """The rules of return visits; the rule id is the name with its first ``_`` read as ``.``.

    ``visits_workdays``: a recurrence rule; ``visits_except``: days and "FROM/TO" that it leaves
    out; ``visits_holidays``: the place whose public holidays it leaves out. ``minutes_*``:
    minutes for each kind of check and for a day; ``bring_*``: counts.
    """

    visits_workdays: str
    visits_except: tuple[str, ...]
    visits_holidays: str
    visits_ahead: int
    visits_late: int
    visits_share_day: bool
    minutes_feet: int
    minutes_lift: int
    minutes_look: int
    minutes_clear: int
    minutes_block_off: int
    minutes_block_look: int
    minutes_own: int
    minutes_day: int
    bring_block: int
    bring_wrap: int
    bring_dressing: int

    def minutes_for(self, check: str) -> int:
        """The minutes that a check takes that the trimmer does."""
        if check not in LIFTING:
            return self.minutes_own
        minutes: int = getattr(self, f"minutes_{check.replace('-', '_')}")
        return minutes


class StatsRules(NamedTuple):
    """The rules of the figures; the rule id is the name with its first ``_`` read as ``.``.

    ``stats_few``: with fewer feet lifted than this a figure is said to rest on few.
    """

    stats_few: int


class CoverRules(NamedTuple):
    """What the females ask of the bulls; the rule id is the name with its first ``_`` read as
    ``.``.

    ``cover_females``: (age up to and including, in whole months; females), the last age None.
    ``cover_fails``, ``cover_fails_old``: of a hundred bulls, how many fail within a season.
    """

    cover_females: tuple[tuple[int | None, int], ...]
    cover_unknown: int
    cover_fails: int
    cover_fails_old: int
    cover_old: int
    cover_spare: int
    cover_spare_most: int
    gestation_other: int
    gestation_holstein: int
    gestation_angus: int
    gestation_blonde: int
    gestation_hereford: int
    gestation_shorthorn: int
    gestation_limousin: int
    gestation_charolais: int
    gestation_simmental: int
    working_look: int
    working_look_first: int
    working_first: int
    returns_first: int
    returns_last: int
    returns_cycle: int

    def females_for(self, months: int | None) -> int:
        """How many females a bull of so many whole months carries; None: nobody knows his age."""
        if months is None:
            return self.cover_unknown
        return next(n for upto, n in self.cover_females if upto is None or months <= upto)

    def fails(self, months: int | None) -> int:
        """Of a hundred bulls of this age, how many fail within a season."""
        old = months is not None and months >= self.cover_old
        return self.cover_fails_old if old else self.cover_fails

    def gestation(self, breed: str) -> int:
        """The days from service to calving; ``breed``: as it was said, or ""."""
        days: int = getattr(self, f"gestation_{breed_of(breed)}")
        return days


class Rules(NamedTuple):
    """The rules in force for one farm.

    ``scrotum``: (age up to and including, in months; least cm) in rising order, the last age None.
    ``values`` holds every value by id, for sources and for ``readiness rules``.
    """

    name: str
    digest: str
    limits: Limits
    findings: Mapping[str, FindingRule]
    mobility: Mapping[str, MobilityScale]
    condition: Mapping[str, ConditionScale]
    scrotum: tuple[tuple[int | None, float], ...]
    checks: tuple[OwnCheck, ...]
    visits: VisitRules
    stats: StatsRules
    cover: CoverRules
    default_mobility: str
    default_condition: str
    values: Mapping[str, Value]

    def least_scrotum(self, born: int, day: int) -> float:
        """The least scrotal circumference in cm of a bull born on ``born`` (an ordinal; 0 where
        nobody knows: that of the oldest) on ``day``, to the day."""
        return next(
            cm
            for upto, cm in self.scrotum
            if upto is None or (born and day <= months_after(born, upto))
        )


class RuleBook(NamedTuple):
    """The rules of a book: the ones for every farm, and the farms that have their own."""

    common: Rules
    farms: Mapping[str, Rules]

    def for_farm(self, farm: str | None) -> Rules:
        """The farm's own rules; those of every farm where it has none, or is None."""
        return self.farms.get(farm or "", self.common)
