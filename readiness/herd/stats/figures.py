"""The figures: of so many feet or claws lifted, how many bore what.

- ``code``: feet lifted with a finding of that code, of all feet lifted.
- ``foot``, ``year``: feet lifted with any finding, of the lifts of that foot, in that year.
- ``claw``: outer and inner claws with any finding of the claw, of all such claws lifted (as many as
  feet); and feet with any finding of the ``skin``, of all feet lifted.
- ``zone``: claws with a finding in that zone ("4"), of all claws lifted (two to a foot); and feet
  with a finding of the skin there ("skin 10"), of all feet lifted.
- ``breed``, ``age``: claws with any finding of the claw, of the claws lifted of that breed or age.

So n is always a part of ``of``, and foot, year, breed and age part all that was lifted between
their rows. Who is of no known breed or age stands in a row "unknown". Codes, claws and zones that
were never found have their row, with n 0; a row of which nothing was lifted is left out.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date

from readiness.herd.stats.ages import AGES, UNKNOWN
from readiness.herd.stats.lifts import FootLift, Listing
from readiness.herd.stats.results import (
    CLAWS_LIFTED,
    FEET_LIFTED,
    NOT_SAID,
    SKIN,
    Figures,
    Part,
    Place,
    StatsRow,
    part,
)
from readiness.trade.codes import CODES
from readiness.trade.feet import BLOCK_CLAWS, FEET, ZONES

SKIN_ZONES = (0, 9, 10)
"""The zones that are of skin and not of horn."""

Lifts = Sequence[FootLift]
Hits = Mapping[str, Sequence[str]]
"""Value → the bull's key for each foot or claw that counts."""


def figures(
    lifts: Lifts,
    *,
    on: int,
    few: int,
    since: int | None = None,
    farm: str | None = None,
) -> Figures:
    """The figures of these lifts: those on ``since`` (an ordinal) or later, of bulls that were on
    ``farm`` ("" for the one without a name) that day."""
    kept = [
        lift
        for lift in lifts
        if (since is None or lift.day >= since) and (farm is None or lift.farm == farm)
    ]
    return Figures(
        on=on,
        since=since,
        farm=farm,
        few=few,
        feet=len(kept),
        bulls=len({lift.bull for lift in kept}),
        first=min((lift.day for lift in kept), default=0),
        last=max((lift.day for lift in kept), default=0),
        found=_found(kept, few),
        rows=_rows(kept, few) if kept else (),
        cells=_cells(kept, few),
        farms=tuple(sorted({lift.farm for lift in lifts})),
    )


def _found(lifts: Lifts, few: int) -> Part | None:
    hits = [lift.bull for lift in _with_findings(lifts)]
    return part(hits, len(lifts), 1, few) if lifts else None


def _rows(lifts: Lifts, few: int) -> tuple[StatsRow, ...]:
    breeds = _breed_names(lifts)
    breed_order = sorted(set(breeds.values()), key=str.casefold)
    years = sorted({_year(lift) for lift in lifts})
    codes = _feet_by(lifts, lambda each: each.code, CODES)
    return (
        *_of_all("code", FEET_LIFTED, codes, len(lifts), 1, few),
        *_parted("foot", FEET_LIFTED, lifts, lambda lift: lift.foot, FEET, few),
        *_claws(lifts, few),
        *_zones(lifts, few),
        *_parted("breed", CLAWS_LIFTED, lifts, lambda lift: breeds[lift.breed.casefold()],
                 breed_order, few),
        *_parted("age", CLAWS_LIFTED, lifts, lambda lift: lift.age, AGES, few),
        *_parted("year", FEET_LIFTED, lifts, _year, years, few),
    )  # fmt: skip


def _cells(lifts: Lifts, few: int) -> tuple[Place, ...]:
    lifted = Counter(lift.foot for lift in lifts)
    hits: dict[tuple[str, str, int | None], list[str]] = defaultdict(list)
    for lift in _with_findings(lifts):
        for claw, zone in {(each.claw, each.zone) for each in lift.found}:
            hits[lift.foot, claw, zone].append(lift.bull)
    order = sorted(hits, key=lambda place: (FEET.index(place[0]), place[1], _last(place[2])))
    return tuple(Place(*place, part(hits[place], lifted[place[0]], 1, few)) for place in order)


def _with_findings(lifts: Lifts) -> list[FootLift]:
    """Most feet are sound: what looks at findings need not look at those."""
    return [lift for lift in lifts if lift.found]


def _feet_by(
    lifts: Lifts, what: Callable[[Listing], str], values: Iterable[str]
) -> dict[str, list[str]]:
    """Value → the bull's key for each lift that lists a finding of it."""
    hits: dict[str, list[str]] = {value: [] for value in values}
    for lift in _with_findings(lifts):
        for value in {what(each) for each in lift.found}:
            hits[value].append(lift.bull)
    return hits


def _claws(lifts: Lifts, few: int) -> list[StatsRow]:
    claws = _feet_by(lifts, lambda each: each.claw, (*BLOCK_CLAWS, SKIN))
    skin = {SKIN: claws.pop(SKIN)}
    return [
        *_of_all("claw", CLAWS_LIFTED, claws, len(lifts), 1, few),
        *_of_all("claw", FEET_LIFTED, skin, len(lifts), 1, few),
    ]


def _zones(lifts: Lifts, few: int) -> list[StatsRow]:
    horn: dict[int | None, list[str]] = {zone: [] for zone in ZONES if zone not in SKIN_ZONES}
    skin: dict[int | None, list[str]] = {zone: [] for zone in SKIN_ZONES}
    for lift in _with_findings(lifts):
        for claw, zone in {(each.claw, each.zone) for each in lift.found}:
            (skin if claw == SKIN else horn).setdefault(zone, []).append(lift.bull)
    on_claws = {_zone(zone): horn[zone] for zone in sorted(horn, key=_last)}
    on_skin = {f"{SKIN} {_zone(zone)}": skin[zone] for zone in sorted(skin, key=_last)}
    return [
        *_of_all("zone", CLAWS_LIFTED, on_claws, len(lifts), 2, few),
        *_of_all("zone", FEET_LIFTED, on_skin, len(lifts), 1, few),
    ]


def _of_all(by: str, unit: str, hits: Hits, lifts: int, per: int, few: int) -> list[StatsRow]:
    """A row for each value, out of all that was lifted."""
    return [
        StatsRow(by, value, part(found, lifts, per, few), unit) for value, found in hits.items()
    ]


def _parted(
    by: str,
    unit: str,
    lifts: Lifts,
    value_of: Callable[[FootLift], str],
    order: Iterable[str],
    few: int,
) -> list[StatsRow]:
    """A row for each value, out of the lifts that are of it; ``UNKNOWN`` goes last."""
    lifted: Counter[str] = Counter()
    hits: dict[str, list[str]] = defaultdict(list)
    for lift in lifts:
        value = value_of(lift)
        lifted[value] += 1
        if lift.found:
            hits[value] += [lift.bull] * (_claws_found(lift) if unit == CLAWS_LIFTED else 1)
    per = len(BLOCK_CLAWS) if unit == CLAWS_LIFTED else 1
    values = [*(value for value in order if value != UNKNOWN), UNKNOWN]
    return [
        StatsRow(by, value, part(hits[value], lifted[value], per, few), unit)
        for value in values
        if lifted[value]
    ]


def _claws_found(lift: FootLift) -> int:
    """How many claws of this foot bore a finding of the claw."""
    return len({each.claw for each in lift.found} - {SKIN})


def _breed_names(lifts: Lifts) -> dict[str, str]:
    """Breed without regard to case → its name: as most bulls' entries spell it."""
    bulls = Counter(breed for _, breed in {(lift.bull, lift.breed) for lift in lifts})
    names: dict[str, str] = {}
    for breed, _ in sorted(bulls.items(), key=lambda each: (-each[1], each[0])):
        names.setdefault(breed.casefold(), breed)
    return {key: UNKNOWN if key in ("", UNKNOWN) else name for key, name in names.items()}


def _year(lift: FootLift) -> str:
    return str(date.fromordinal(lift.day).year)


def _zone(zone: int | None) -> str:
    return NOT_SAID if zone is None else str(zone)


def _last(zone: int | None) -> int:
    """Zones in their order, and after them what was not said."""
    return len(ZONES) if zone is None else zone
