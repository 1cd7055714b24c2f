"""The rules as plain frozen values: what the engine reads.

Every value carries its unit, standing and source (``Value``); the typed views below (``Limits``,
``FindingRule``, …) hold the same numbers where the engine wants them fast, and say what each has to
look like. ``load.py`` builds both from the same TOML, so a fact lives in one place.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any, NamedTuple

from readiness.rules import shapes
from readiness.rules.shapes import DAYS, MOST_DAYS, Shape, whole
from readiness.rules.workdays import days_off, workdays
from readiness.trade.ages import Birth, months_after
from readiness.trade.breeds import breed_of
from readiness.trade.checks import LIFTING
from readiness.trade.codes import SEVERITIES
from readiness.trade.scales import Scale

_DAY_MINUTES = 1440
_Days = Annotated[int, Shape(DAYS, whole(0, MOST_DAYS))]
_YesNo = Annotated[bool, Shape("yes or no", shapes.yes_no)]
_Minutes = Annotated[int, Shape("minutes", whole(0, _DAY_MINUTES))]
_Severity = Annotated[int, Shape("severity", whole(0, max(SEVERITIES)))]
_Percent = Annotated[int, Shape("%", whole(0, 100))]
_Females = Annotated[int, Shape("females", whole(0, 200))]
_Gestation = Annotated[int, Shape(DAYS, whole(240, 320))]
_FewDays = Annotated[int, Shape(DAYS, whole(1, 60))]
_FewOrNone = Annotated[int, Shape(DAYS, whole(0, 60))]
_Count = Annotated[int, Shape("count", whole(0, 20))]

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

    @property
    def rests_on(self) -> str:
        """Its standing and its source in words; once where the source begins with the standing."""
        if self.source.startswith(self.standing):
            return self.source
        return f"{self.standing}: {self.source}" if self.source else self.standing


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
    holds_from: _Severity
    holds_stages: Annotated[tuple[str, ...], Shape("stage", shapes.stages)]
    looks: Annotated[tuple[int, ...], Shape(DAYS, shapes.looks)]
    clear: Annotated[tuple[int, ...], Shape(DAYS, shapes.by_severity)]
    vet_from: _Severity
    vet_open: _Days
    advise_look: _Days

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


@dataclass(frozen=True, slots=True)
class MobilityScale(Scale):
    """A walk scale: lame from ``lame``; its last score is the worst; ``advise`` is watched."""

    lame: int
    advise: int

    @property
    def worst(self) -> int:
        return self.high


@dataclass(frozen=True, slots=True)
class ConditionScale(Scale):
    """A body condition scale with the two bands of the rules, both ends inside."""

    hold: tuple[float, float]
    target: tuple[float, float]


class OwnCheck(NamedTuple):
    """A check of the farm's own: passed at most ``first`` days before turnout (None: once and for
    all) and at least ``lag`` days before it; it should be done by ``due`` days before.

    ``applies``: "all", or the origin of the bulls that it is for. ``valid``: for so many days a
    pass holds (None: nobody says); turnout must not come after them.
    """

    name: str
    who: str
    first: int | None
    due: int
    lag: int
    applies: str
    text: str
    valid: int | None = None

    @property
    def oldest(self) -> int | None:
        """So many days before turnout a pass may lie at most, None where it may lie anywhere."""
        return min((days for days in (self.first, self.valid) if days is not None), default=None)


class Limits(NamedTuple):
    """Every single-number rule, in the unit of its ``Value``; the rule id is the name with its
    first ``_`` read as ``.``."""

    feet_oldest: _Days
    feet_due: _Days
    feet_advised: _Days
    trim_settle: _Days
    lame_lift: _Days
    lame_lift_worst: _Days
    lame_long: _Days
    clear_after_open: _Days
    severity_unsaid: Annotated[int, Shape("severity", whole(1, max(SEVERITIES)))]
    rename_anew: Annotated[tuple[str, ...], Shape("codes", shapes.codes)]
    block_least: _Days
    block_most: _Days
    block_settle: _Days
    block_look: _Days
    block_wrong: _Days
    wrap_most: _Days
    pain_settle: _Days
    mobility_oldest: _Days
    mobility_again: _Days
    mobility_late: _Days
    incident_settle: _Days
    incident_settle_back: _Days
    illness_settle: _Days
    age_least: Annotated[int, Shape("months", whole(0, 60))]
    condition_oldest: _Days
    condition_again: _Days
    condition_late: _Days
    vet_oldest: _Days
    vet_advised: _Days
    vet_again: _Days
    vet_after_illness: _Days
    vet_lame_days: _Days
    vet_look: _Days
    vet_look_again: _Days
    vet_memory: _Days
    vet_required: _YesNo
    lame_transport: _YesNo
    vet_worst_walk: _YesNo
    vet_nothing_found: _YesNo
    vet_refused: _YesNo
    vet_explains: _Severity
    vet_doubts: _YesNo
    test_doubts: _YesNo
    heifers_safe: _YesNo
    booking_stands: _YesNo
    seen_ahead: _Days
    out_told: _YesNo
    withdrawal_shown: _YesNo
    quarantine_days: _Days
    tight_days: _Days
    heavy_kg: Annotated[int, Shape("kg", whole(1, 3000))]
    sole_thin: Annotated[int, Shape("mm", whole(0, 50))]
    wall_guard: Annotated[int, Shape("mm", whole(0, 300))]
    stage_m2_from: Annotated[int, Shape("mm", whole(1, 300))]
    weight_drop: Annotated[int, Shape("%", whole(1, 100))]
    weight_drop_days: _Days
    group_weeks: Annotated[int, Shape("weeks", whole(1, 52))]
    look_slack: Annotated[float, Shape("part of the interval", shapes.part)]
    look_farmer: _Days
    motility_least: _Percent
    normal_least: _Percent
    pain_words: Annotated[tuple[str, ...], Shape("words", shapes.words)]


class VisitRules(NamedTuple):
    """The rules of return visits; the rule id is the name with its first ``_`` read as ``.``.

    ``visits_workdays``: a recurrence rule; ``visits_except``: days and "FROM/TO" that it leaves
    out; ``visits_holidays``: the place whose public holidays it leaves out. ``minutes_*``:
    minutes for each kind of check and for a day; ``bring_*``: counts.
    """

    visits_workdays: Annotated[str, Shape("RRULE (RFC 5545)", workdays)]
    visits_except: Annotated[tuple[str, ...], Shape(DAYS, days_off)]
    visits_holidays: Annotated[str, Shape("ISO 3166 code", shapes.place)]
    visits_ahead: Annotated[int, Shape(DAYS, whole(1, 366))]
    visits_late: _Days
    visits_share_day: _YesNo
    minutes_feet: _Minutes
    minutes_lift: _Minutes
    minutes_look: _Minutes
    minutes_clear: _Minutes
    minutes_block_off: _Minutes
    minutes_block_look: _Minutes
    minutes_own: _Minutes
    minutes_day: Annotated[int, Shape("minutes", whole(1, _DAY_MINUTES))]
    bring_block: _Count
    bring_wrap: _Count
    bring_dressing: _Count

    def minutes_for(self, check: str) -> int:
        """The minutes that a check takes that the trimmer does."""
        if check not in LIFTING:
            return self.minutes_own
        return int(getattr(self, f"minutes_{check.replace('-', '_')}"))


class StatsRules(NamedTuple):
    """The rules of the figures; the rule id is the name with its first ``_`` read as ``.``.

    ``stats_few``: with fewer feet lifted than this a figure is said to rest on few.
    ``publish_least``: over many farms no figure is about fewer bulls than that; of two bulls each
    owner would know the other.
    """

    stats_few: Annotated[int, Shape("feet lifted", whole(0, 10_000))]
    publish_least: Annotated[int, Shape("bulls", whole(3, 10_000))]


class CoverRules(NamedTuple):
    """What the females ask of the bulls, and the season; the rule id is the name with its first
    ``_`` read as ``.``.

    ``cover_females``: (age up to and including, in whole months; females), the last age None.
    ``cover_fails``, ``cover_fails_old``: of a hundred bulls, how many fail within a season.
    """

    cover_females: Annotated[
        tuple[tuple[int | None, int], ...],
        Shape("months, females", shapes.by_age("females", whole(0, 200))),
    ]
    cover_unknown: _Females
    cover_fails: _Percent
    cover_fails_old: _Percent
    cover_old: Annotated[int, Shape("months", whole(0, 600))]
    cover_spare: _Females
    cover_spare_most: Annotated[int, Shape("bulls", whole(0, 100))]
    cover_put_off: _FewOrNone
    gestation_other: _Gestation
    gestation_holstein: _Gestation
    gestation_angus: _Gestation
    gestation_blonde: _Gestation
    gestation_hereford: _Gestation
    gestation_shorthorn: _Gestation
    gestation_limousin: _Gestation
    gestation_charolais: _Gestation
    gestation_simmental: _Gestation
    working_look: _FewDays
    working_look_first: _FewDays
    working_first: _FewDays
    working_rest: _FewOrNone
    returns_first: _FewDays
    returns_last: _FewDays
    returns_cycle: _FewDays

    def females_for(self, months: range | None) -> int:
        """How many females a bull carries who may be of each of these ages in whole months: those
        of the one that carries fewest; None: nobody knows his age."""
        if months is None:
            return self.cover_unknown
        ages = self.cover_females
        carried = (next(n for upto, n in ages if upto is None or m <= upto) for m in months)
        return min(carried)

    def fails(self, months: range | None) -> int:
        """Of a hundred bulls who may be of these ages, how many fail within a season: by the
        oldest."""
        old = months is not None and months[-1] >= self.cover_old
        return self.cover_fails_old if old else self.cover_fails

    def gestation(self, breed: str) -> int:
        """The days from service to calving; ``breed``: as it was said, or ""."""
        return int(getattr(self, f"gestation_{breed_of(breed)}"))


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

    def least_scrotum(self, birth: Birth | None, day: int) -> float:
        """The least scrotal circumference in cm on ``day``, to the day, of a bull of this birth: by
        the first day on which he may have been born, and where nobody knows that of the oldest."""
        return next(
            cm
            for upto, cm in self.scrotum
            if upto is None or (birth and day <= months_after(birth.first, upto))
        )


class RuleBook(NamedTuple):
    """The rules of a book: the ones for every farm, and the farms that have their own."""

    common: Rules
    farms: Mapping[str, Rules]

    def for_farm(self, farm: str | None) -> Rules:
        """The farm's own rules; those of every farm where it has none, or is None."""
        return self.farms.get(farm or "", self.common)
