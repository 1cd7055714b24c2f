"""The rules as plain frozen values: what the engine reads.

Every value carries its unit, standing and source (``Value``); the typed views below (``Limits``,
``FindingRule``, …) hold the same numbers where the engine wants them fast, and say what each has to
look like. ``load.py`` builds both from the same TOML, so a fact lives in one place.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any, NamedTuple

from readiness.rules import shapes
from readiness.rules.limits import (
    DAY_MINUTES,
    Count,
    Days,
    Females,
    FewDays,
    FewOrNone,
    Gestation,
    Limits,
    Minutes,
    Percent,
    Severity,
    YesNo,
)
from readiness.rules.shapes import DAYS, Shape, whole
from readiness.rules.workdays import days_off, workdays
from readiness.system.plain import name_key
from readiness.trade.ages import Birth, months_after
from readiness.trade.breeds import breed_of
from readiness.trade.checks import LIFTING
from readiness.trade.scales import Scale

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
    asks for a vet, 0 for never. ``advise_look``: days to an advised look if it holds not, 0: none.
    """

    code: str
    name: str
    claw: str
    holds_from: Severity
    holds_stages: Annotated[tuple[str, ...], Shape("stage", shapes.stages, shapes.listed)]
    looks: Annotated[tuple[int, ...], Shape(DAYS, shapes.looks, shapes.looks_said)]
    clear: Annotated[tuple[int, ...], Shape(DAYS, shapes.by_severity, shapes.by_severity_said)]
    vet_from: Severity
    vet_open: Days
    advise_look: Days

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


class VisitRules(NamedTuple):
    """The rules of return visits; the rule id is the name with its first ``_`` read as ``.``.

    ``visits_workdays``: a recurrence rule; ``visits_except``: days and "FROM/TO" that it leaves
    out; ``visits_holidays``: the place whose public holidays it leaves out. ``minutes_*``:
    minutes for each kind of check and for a day; ``bring_*``: counts.
    """

    visits_workdays: Annotated[
        str, Shape("RRULE (RFC 5545)", workdays, "{} (RRULE, RFC 5545)".format)
    ]
    visits_except: Annotated[tuple[str, ...], Shape(DAYS, days_off, shapes.listed)]
    visits_holidays: Annotated[
        str, Shape("ISO 3166 code", shapes.place, "{} (ISO 3166 code)".format)
    ]
    visits_ahead: Annotated[int, Shape(DAYS, whole(1, 366))]
    visits_late: Days
    visits_share_day: YesNo
    minutes_feet: Minutes
    minutes_lift: Minutes
    minutes_look: Minutes
    minutes_clear: Minutes
    minutes_block_off: Minutes
    minutes_block_look: Minutes
    minutes_own: Minutes
    minutes_day: Annotated[int, Shape("minutes", whole(1, DAY_MINUTES))]
    bring_block: Count
    bring_wrap: Count
    bring_dressing: Count

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
        shapes.of_ages("females", shapes.by_age("females", whole(0, 200))),
    ]
    cover_unknown: Females
    cover_fails: Percent
    cover_fails_old: Percent
    cover_old: Annotated[int, Shape("months", whole(0, 600))]
    cover_spare: Females
    cover_spare_most: Annotated[int, Shape("bulls", whole(0, 100))]
    cover_put_off: FewOrNone
    gestation_other: Gestation
    gestation_holstein: Gestation
    gestation_angus: Gestation
    gestation_blonde: Gestation
    gestation_hereford: Gestation
    gestation_shorthorn: Gestation
    gestation_limousin: Gestation
    gestation_charolais: Gestation
    gestation_simmental: Gestation
    working_look: FewDays
    working_look_first: FewDays
    working_first: FewDays
    working_rest: FewOrNone
    returns_first: FewDays
    returns_last: FewDays
    returns_cycle: FewDays

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
    """The rules of a book: those of every farm; a farm's own by its name, and by its key."""

    common: Rules
    farms: Mapping[str, Rules]
    by_key: Mapping[str, Rules]

    def for_farm(self, farm: str | None) -> Rules:
        """The farm's own rules; those of every farm where it has none, or is None."""
        return self.by_key.get(name_key(farm), self.common) if farm and self.by_key else self.common
