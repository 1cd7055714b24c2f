"""What a society may publish of many farms: the figures of ``stats``, and the share of bulls GO,
with no name or tag in them and nothing of a small group.

A group is the bulls that a row is about. Of a table that parts all bulls or all that was lifted
(foot, breed, age, year; farm, week) the groups of fewer than ``publish.least`` bulls are put
together into one row without a value; where they are still fewer, the next larger one goes with
them: so no row can be had by taking the others from the whole. Of the findings, a count on fewer
bulls than that (but on some) is withheld; where the withheld counts of a table are one alone, or
come together to fewer than that, the next larger ones are withheld, too. Farms are numbered by what
their own rows say, so that the number tells no more.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import chain
from pathlib import Path
from typing import NamedTuple

from readiness.book.parquet import asked
from readiness.fleet.boards import AGAIN
from readiness.fleet.place import Receipt, receipts
from readiness.fleet.tables import ASSESSMENTS, FINDINGS
from readiness.herd.stats.figures import OF_CLAWS, SKIN_ZONES
from readiness.herd.stats.lifts import AGES, UNKNOWN
from readiness.herd.stats.results import (
    BY,
    CLAWS_LIFTED,
    FEET_LIFTED,
    NOT_SAID,
    SKIN,
    Part,
    wilson,
)
from readiness.report.as_json import Json, as_json
from readiness.rules.model import StatsRules
from readiness.trade.codes import CODES
from readiness.trade.feet import BLOCK_CLAWS, FEET, ZONES

QUERY = Path(__file__).with_name("figures.sql")
FARM, WEEK = "farm", "week"
GO_BY = (FARM, "breed", "age", WEEK)
BULLS = "bulls"


@dataclass(frozen=True, slots=True)
class Row:
    """``value``: None for the groups that were put together. ``part``: None where it is withheld;
    then ``of`` alone is told. ``unit``: what is counted."""

    by: str
    value: str | None
    of: int
    part: Part | None
    unit: str


@dataclass(frozen=True, slots=True)
class Published:
    """``on``: the last day that counts of any farm, as ISO date. ``feet``, ``lifted``: how many
    feet of how many bulls; ``go``, ``bulls``: how many are GO of how many; all None where those are
    fewer bulls than ``least``. ``few``: the rule of ``stats``."""

    on: str
    farms: int
    least: int
    few: int
    feet: int | None
    lifted: int | None
    go: int | None
    bulls: int | None
    rows: tuple[Row, ...]
    shares: tuple[Row, ...]


class Count(NamedTuple):
    """``n`` of ``of``, on ``hit`` of ``bulls`` bulls."""

    n: int
    of: int
    hit: int
    bulls: int


Counts = Mapping[tuple[str, str], Mapping[str | None, Count]]


def published(out: Path, rules: StatsRules, upto: date | None = None) -> Published:
    """The figures over all farms done in a folder, each on its last day up to ``upto``. Raises
    NotFound, DataError."""
    done = list(receipts(out, upto))
    last = {each.farm: each for each in done}
    least, few = rules.publish_least, rules.stats_few
    counts = _counts(out, last.values(), done, least)
    feet, bulls = counts["all", "feet"][None], counts["all", BULLS][None]
    lifted = feet if feet.bulls >= least else None
    here = bulls if bulls.bulls >= least else None
    return Published(
        on=max(each.on or "" for each in last.values()),
        farms=len(last),
        least=least,
        few=few,
        feet=lifted and lifted.of,
        lifted=lifted and lifted.bulls,
        go=here and here.n,
        bulls=here and here.bulls,
        rows=tuple(_found(counts, lifted.of, least, few)) if lifted else (),
        shares=tuple(chain.from_iterable(_shares(by, counts) for by in GO_BY)),
    )


def _counts(out: Path, last: Iterable[Receipt], done: Iterable[Receipt], least: int) -> Counts:
    weeks = {(r.farm, date.fromisoformat(r.on or "").isocalendar()[:2]): r for r in done}

    def files(of: Iterable[Receipt], table: str) -> list[str]:
        return [str(out / p) for each in of for p in each.files if p.startswith(f"{table}/")]

    given = {
        "findings": files(last, FINDINGS.name),
        "bulls": files(last, ASSESSMENTS.name),
        "days": files(weeks.values(), ASSESSMENTS.name),
        "least": least,
    }
    counts: dict[tuple[str, str], dict[str | None, Count]] = {}
    for part, by, value, *found in asked(QUERY.read_text("utf-8"), given, str(out), AGAIN):
        counts.setdefault((part, by), {})[value] = Count(*(int(each or 0) for each in found))
    for key, groups in counts.items():
        if key[0] in ("lifts", "go"):  # all of a table put together may still be too few
            counts[key] = {v: count for v, count in groups.items() if count.bulls >= least}
    return counts


# ---- what was found ------------------------------------------------------------------------------


def _found(counts: Counts, feet: int, least: int, few: int) -> Iterator[Row]:
    for by in BY:
        yield from _withheld(list(_table(by, counts, feet, few)), least)


def _table(by: str, counts: Counts, feet: int, few: int) -> Iterator[Row]:
    claws = len(BLOCK_CLAWS)
    if by in ("code", "claw", "zone"):
        found = counts.get(("found", by), {})
        for value, unit, per in _listed(by, found):
            count = found.get(value, Count(0, 0, 0, 0))
            yield _row(by, value, count._replace(of=feet * per), unit, few=feet < few)
        return
    unit = CLAWS_LIFTED if by in OF_CLAWS else FEET_LIFTED
    groups = counts.get(("lifts", by), {})
    for group in _order(by, groups):
        count = groups[group]
        lifts = count.of // (claws if by in OF_CLAWS else 1)
        yield _row(by, _shown(by, group), count, unit, few=lifts < few)


def _listed(by: str, found: Iterable[str | None]) -> Iterator[tuple[str, str, int]]:
    """The rows that a table has whatever was found, each with its unit and how many of that a foot
    has."""
    if by == "code":
        yield from ((code, FEET_LIFTED, 1) for code in CODES)
    elif by == "claw":
        yield from ((claw, CLAWS_LIFTED, 1) for claw in BLOCK_CLAWS)
        yield SKIN, FEET_LIFTED, 1
    else:
        horn = {str(zone) for zone in ZONES if zone not in SKIN_ZONES}
        skin = {f"{SKIN} {zone}" for zone in SKIN_ZONES}
        told = {value for value in found if value}
        for zones, unit, per in ((horn, CLAWS_LIFTED, len(BLOCK_CLAWS)), (skin, FEET_LIFTED, 1)):
            mine = zones | {v for v in told if v.startswith(f"{SKIN} ") is (zones is skin)}
            yield from ((zone, unit, per) for zone in sorted(mine, key=_place))


def _place(zone: str) -> int:
    name = zone.removeprefix(f"{SKIN} ")
    return len(ZONES) if name == NOT_SAID else int(name)


def _row(by: str, value: str | None, count: Count, unit: str, *, few: bool) -> Row:
    share = count.n / count.of
    part = Part(count.n, count.of, share, *wilson(count.n, count.of), count.hit, few)
    return Row(by, value, count.of, part, unit)


def _withheld(rows: Sequence[Row], least: int) -> Iterator[Row]:
    """The rows of a table, those withheld that are about too few bulls, and as many more as keep
    them from being worked out."""
    counted = sorted(
        (row.part.bulls, row.part.n, at) for at, row in enumerate(rows) if row.part and row.part.n
    )
    hidden: list[int] = []
    together = 0
    for bulls, _, at in counted:
        if bulls >= least and (not hidden or (len(hidden) > 1 and together >= least)):
            break
        hidden.append(at)
        together += bulls
    for at, row in enumerate(rows):
        yield replace(row, part=None) if at in hidden else row


# ---- who is GO -----------------------------------------------------------------------------------


def _shares(by: str, counts: Counts) -> Iterator[Row]:
    groups = counts.get(("go", by), {})
    for number, value in enumerate(_order(by, groups), start=1):
        shown = str(number) if by == FARM and value is not None else _shown(by, value)
        yield _row(by, shown, groups[value], BULLS, few=False)


def _order(by: str, groups: Mapping[str | None, Count]) -> list[str | None]:
    """The groups of a table in their order, what was put together last. Farms by size, then by how
    many are GO."""
    named = [value for value in groups if value is not None]
    if by == FARM:
        named.sort(key=lambda value: (-groups[value].of, -groups[value].n))
    elif by in ("foot", "age"):
        named.sort(key=(*FEET, *AGES).index)
    else:
        named.sort(key=lambda value: (value in ("", UNKNOWN), value.casefold()))
    return [*named, *([None] if None in groups else [])]


def _shown(by: str, value: str | None) -> str | None:
    return UNKNOWN if by == "breed" and value == "" else value


# ---- for programs --------------------------------------------------------------------------------


def figures_json(figures: Published) -> Json:
    """``fleet stats --json``: shares from 0 to 1; null is withheld, and a row without a value is of
    the groups put together."""
    return {
        **as_json(figures, "on", "farms", "least", "few"),
        "lifted": {"feet": figures.feet, "bulls": figures.lifted},
        "go": {"n": figures.go, "of": figures.bulls},
        "rows": [_row_json(row) for row in figures.rows],
        "shares": [_row_json(row) for row in figures.shares],
    }


PART = ("n", "share", "low", "high", "bulls", "few")


def _row_json(row: Row) -> Json:
    told = dict.fromkeys(PART) if row.part is None else as_json(row.part, *PART)
    return {"by": row.by, "value": row.value, "of": row.of, **told, "unit": row.unit}
