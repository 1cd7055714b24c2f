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
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date
from itertools import chain

from readiness.herd.stats.lifts import AGES, UNKNOWN, FootLift
from readiness.herd.stats.results import (
    CLAWS_LIFTED,
    FEET_LIFTED,
    NOT_SAID,
    SKIN,
    Figures,
    Place,
    StatsRow,
    part,
)
from readiness.trade.codes import CODES
from readiness.trade.feet import BLOCK_CLAWS, FEET, ZONES

SKIN_ZONES = (0, 9, 10)
"""The zones that are of skin and not of horn."""

PARTED = ("foot", "breed", "age", "year")
"""What parts the lifts: a row of it is out of those that are of it, any other out of all."""

OF_CLAWS = ("breed", "age")
"""What of it is counted in claws."""

Lifts = Sequence[FootLift]
Row = tuple[str, str]
"""(by, value)."""


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
        found=part([lift.bull for lift in kept if lift.found], len(kept), 1, few) if kept else None,
        rows=_rows(kept, few) if kept else (),
        cells=_cells(kept, few),
        farms=tuple(sorted({lift.farm for lift in lifts})),
    )


def _rows(lifts: Lifts, few: int) -> tuple[StatsRow, ...]:
    breeds = _breed_names(lifts)
    lifted: Counter[Row] = Counter()
    hits: dict[Row, list[str]] = defaultdict(list)
    for lift in lifts:
        own = _own(lift, breeds)
        lifted.update(own)
        for row in _bore(lift, own):
            hits[row].append(lift.bull)

    def of(by: str, values: Iterable[str], unit: str, per: int = 1) -> Iterator[StatsRow]:
        for value in values:
            feet = lifted[by, value] if by in PARTED else len(lifts)
            if feet:
                yield StatsRow(by, value, part(hits[by, value], feet, per, few), unit)

    claws = len(BLOCK_CLAWS)
    horn, skin = _zones(lifts)
    return (
        *of("code", CODES, FEET_LIFTED),
        *of("foot", FEET, FEET_LIFTED),
        *of("claw", BLOCK_CLAWS, CLAWS_LIFTED),
        *of("claw", (SKIN,), FEET_LIFTED),
        *of("zone", horn, CLAWS_LIFTED, claws),
        *of("zone", skin, FEET_LIFTED),
        *of("breed", sorted({*breeds.values()} - {UNKNOWN}, key=str.casefold), CLAWS_LIFTED, claws),
        *of("breed", (UNKNOWN,), CLAWS_LIFTED, claws),
        *of("age", AGES, CLAWS_LIFTED, claws),
        *of("year", sorted({_year(lift) for lift in lifts}), FEET_LIFTED),
    )


def _own(lift: FootLift, breeds: Mapping[str, str]) -> tuple[Row, ...]:
    """The rows that this lift is of, whatever it bore: one of each in ``PARTED``."""
    values = lift.foot, breeds[lift.breed.casefold()], lift.age, _year(lift)
    return tuple(zip(PARTED, values, strict=True))


def _bore(lift: FootLift, own: Iterable[Row]) -> Iterator[Row]:
    """Each row in which this lift counts, once for every foot or claw of it that does."""
    if not lift.found:  # most feet are sound
        return
    yield from {("code", each.code) for each in lift.found}
    yield from {("claw", each.claw) for each in lift.found}
    for claw, zone in {(each.claw, each.zone) for each in lift.found}:
        yield "zone", _zone(zone, skin=claw == SKIN)
    claws = len({each.claw for each in lift.found} - {SKIN})
    for row in own:
        yield from [row] * (claws if row[0] in OF_CLAWS else 1)


def _zones(lifts: Lifts) -> tuple[list[str], list[str]]:
    """The zones of the horn and those of the skin, and where else anything was found."""
    horn: set[int | None] = {zone for zone in ZONES if zone not in SKIN_ZONES}
    skin: set[int | None] = {*SKIN_ZONES}
    for each in chain.from_iterable(lift.found for lift in lifts):
        (skin if each.claw == SKIN else horn).add(each.zone)
    return (
        [_zone(zone, skin=False) for zone in sorted(horn, key=_last)],
        [_zone(zone, skin=True) for zone in sorted(skin, key=_last)],
    )


def _cells(lifts: Lifts, few: int) -> tuple[Place, ...]:
    lifted = Counter(lift.foot for lift in lifts)
    hits: dict[tuple[str, str, int | None], list[str]] = defaultdict(list)
    for lift in lifts:
        for claw, zone in {(each.claw, each.zone) for each in lift.found}:
            hits[lift.foot, claw, zone].append(lift.bull)
    order = sorted(hits, key=lambda place: (FEET.index(place[0]), place[1], _last(place[2])))
    return tuple(Place(*place, part(hits[place], lifted[place[0]], 1, few)) for place in order)


def _breed_names(lifts: Lifts) -> dict[str, str]:
    """Breed without regard to case → its name: as most bulls' entries spell it."""
    bulls = Counter(breed for _, breed in {(lift.bull, lift.breed) for lift in lifts})
    names: dict[str, str] = {}
    for breed, _ in sorted(bulls.items(), key=lambda each: (-each[1], each[0])):
        names.setdefault(breed.casefold(), breed)
    return {key: UNKNOWN if key in ("", UNKNOWN) else name for key, name in names.items()}


def _year(lift: FootLift) -> str:
    return str(date.fromordinal(lift.day).year)


def _zone(zone: int | None, *, skin: bool) -> str:
    name = NOT_SAID if zone is None else str(zone)
    return f"{SKIN} {name}" if skin else name


def _last(zone: int | None) -> int:
    """Zones in their order, and after them what was not said."""
    return len(ZONES) if zone is None else zone
