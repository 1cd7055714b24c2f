"""What each rule value must look like: its unit, its type and its range.

A reader takes a value as TOML gives it and returns it as the engine wants it (numbers as they
are, lists as tuples), or raises ``ValueError`` with the words that follow "FILE: [table] key:".
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from itertools import pairwise
from typing import Any, NamedTuple

from readiness.rules.workdays import days_off, workdays
from readiness.trade.codes import CODES, SEVERITIES, STAGED, STAGES
from readiness.trade.scales import CONDITION, MOBILITY

Reader = Callable[[Any], Any]

DAYS = "days"
MOST_DAYS = 3650
OVER = "over"


class Shape(NamedTuple):
    """The unit in which a value is given, and what reads it."""

    unit: str
    read: Reader


def whole(low: int, high: int) -> Reader:
    """A whole number from ``low`` to ``high``."""

    def read(raw: Any) -> int:
        if isinstance(raw, bool) or not isinstance(raw, int):
            raise ValueError(f"a whole number is wanted, not {shown(raw)}")
        if not low <= raw <= high:
            raise ValueError(f"{raw} is out of range: {low} to {high}")
        return raw

    return read


def number(low: float, high: float) -> Reader:
    """Any number from ``low`` to ``high``, as a float."""

    def read(raw: Any) -> float:
        if isinstance(raw, bool) or not isinstance(raw, (int, float)):
            raise ValueError(f"a number is wanted, not {shown(raw)}")
        if not low <= raw <= high:  # also refuses nan
            raise ValueError(f"{raw} is out of range: {low:g} to {high:g}")
        return float(raw)

    return read


def part(raw: Any) -> float:
    """A part of a whole: from 0 up to, not including, 1."""
    value: float = number(0, 1)(raw)
    if value == 1:
        raise ValueError("1 is out of range: from 0 to less than 1")
    return value


def yes_no(raw: Any) -> bool:
    """True or false, and nothing that merely counts as one of them."""
    if not isinstance(raw, bool):
        raise ValueError(f"true or false is wanted, not {shown(raw)}")
    return raw


def stages(raw: Any) -> tuple[str, ...]:
    """Stages of digital dermatitis, each once."""
    read = tuple(_items(raw))
    if not read:
        raise ValueError("the list is empty: name at least one stage")
    for stage in read:
        if stage not in STAGES:
            raise ValueError(f"{shown(stage)} is none of {', '.join(STAGES)}")
    if len(set(read)) < len(read):
        raise ValueError("a stage is named twice")
    return read


def looks(raw: Any) -> tuple[int, ...]:
    """Days on which to look, rising; one number stands for a list of one."""
    days = tuple(map(whole(1, MOST_DAYS), _items(raw)))
    if not days:
        raise ValueError("the list is empty: give at least one day")
    if any(later <= earlier for earlier, later in pairwise(days)):
        raise ValueError(f"the days must rise: {shown(raw)}")
    return days


def place(raw: Any) -> str:
    """A country, or a part of it, by its code of ISO 3166: ``GB``, ``GB-SCT``; or "none"."""
    if not isinstance(raw, str) or not re.fullmatch(r"[A-Z]{2}(-[A-Z0-9]{1,3})?|none", raw):
        raise ValueError(f'a code as "GB" or "GB-SCT" is wanted, or "none", not {shown(raw)}')
    return raw


def codes(raw: Any) -> tuple[str, ...]:
    """Codes of findings, each once; the list may be empty."""
    read = tuple(_items(raw))
    for code in read:
        if not isinstance(code, str) or code not in CODES:
            raise ValueError(f"{shown(code)} is no finding's code")
    if len(set(read)) < len(read):
        raise ValueError("a code is named twice")
    return read


def words(raw: Any) -> tuple[str, ...]:
    """Words to look for, in small letters, each once."""
    read = tuple(item.casefold().strip() if isinstance(item, str) else "" for item in _items(raw))
    if not all(read):
        raise ValueError(f"words in double quotes are wanted, not {shown(raw)}")
    if len(set(read)) < len(read):
        raise ValueError("a word is named twice")
    return read


def by_severity(raw: Any) -> tuple[int, ...]:
    """Days for slight, moderate, severe, never falling; one number stands for all three."""
    items = _items(raw)
    if len(items) == 1:
        items = items * len(SEVERITIES)
    if len(items) != len(SEVERITIES):
        raise ValueError(f"three numbers are wanted (slight, moderate, severe), not {len(items)}")
    days = tuple(map(whole(0, MOST_DAYS), items))
    if list(days) != sorted(days):
        raise ValueError(f"the days must not fall from slight to severe: {shown(raw)}")
    return days


def band(low: float, high: float) -> Reader:
    """Two numbers, the lower first, both on the scale."""

    def read(raw: Any) -> tuple[float, float]:
        first, last = map(number(low, high), _pair(raw))
        if first > last:
            raise ValueError(f"the lower number goes first: {shown(raw)}")
        return first, last

    return read


def by_age(what: str, read: Reader) -> Reader:
    """Pairs (age in months up to and including, ``what``); the last age is "over" (None here)."""

    def pairs(raw: Any) -> tuple[tuple[int | None, Any], ...]:
        pairs = [_pair(item) for item in _items(raw)]
        if not pairs or pairs[-1][0] != OVER:
            raise ValueError(f'the last pair must be ["{OVER}", {what}]')
        ages = [whole(1, 600)(age) for age, _ in pairs[:-1]]
        if any(later <= earlier for earlier, later in pairwise(ages)):
            raise ValueError("the ages must rise")
        return tuple(zip([*ages, None], (read(said) for _, said in pairs), strict=True))

    return pairs


def least_by_age(raw: Any) -> tuple[tuple[int | None, float], ...]:
    """The least cm by age."""
    pairs: tuple[tuple[int | None, float], ...] = by_age("cm", number(0, 100))(raw)
    least = [cm for _, cm in pairs]
    if least != sorted(least):
        raise ValueError("the least cm must not fall with age")
    return pairs


def shown(raw: Any) -> str:
    """A value as a person would write it, cut short."""
    text = str(raw).lower() if isinstance(raw, bool) else repr(raw)
    return text if len(text) <= 40 else text[:37] + "..."


def _items(raw: Any) -> list[Any]:
    if isinstance(raw, dict):
        raise ValueError("a number or a list is wanted, not a table")
    return list(raw) if isinstance(raw, (list, tuple)) else [raw]


def _pair(raw: Any) -> tuple[Any, Any]:
    if not isinstance(raw, (list, tuple)) or len(raw) != 2:
        raise ValueError(f"a list of two is wanted, not {shown(raw)}")
    return raw[0], raw[1]


DAY_MINUTES = 1440
_days = whole(0, MOST_DAYS)
_severity = whole(0, max(SEVERITIES))

_SINGLE: tuple[tuple[str, Reader, str], ...] = (
    (
        DAYS,
        _days,
        "feet.oldest feet.due feet.advised trim.settle lame.lift lame.lift_worst lame.long",
    ),
    (DAYS, _days, "clear.after_open block.least block.most block.settle block.look block.wrong"),
    (DAYS, _days, "wrap.most pain.settle mobility.oldest mobility.again mobility.late"),
    (DAYS, _days, "incident.settle incident.settle_back illness.settle condition.oldest"),
    (DAYS, _days, "condition.again condition.late vet.oldest vet.advised vet.again"),
    (DAYS, _days, "vet.after_illness vet.lame_days vet.look vet.look_again vet.memory"),
    (DAYS, _days, "quarantine.days tight.days weight.drop_days visits.late"),
    (DAYS, days_off, "visits.except"),
    (DAYS, whole(1, 366), "visits.ahead"),
    ("yes or no", yes_no, "vet.required vet.worst_walk vet.nothing_found vet.refused heifers.safe"),
    ("yes or no", yes_no, "withdrawal.shown lame.transport visits.share_day"),
    ("minutes", whole(0, DAY_MINUTES), "minutes.feet minutes.lift minutes.look minutes.clear"),
    ("minutes", whole(0, DAY_MINUTES), "minutes.block_off minutes.block_look minutes.own"),
    ("minutes", whole(1, DAY_MINUTES), "minutes.day"),
    ("months", whole(0, 60), "age.least"),
    ("weeks", whole(1, 52), "group.weeks"),
    ("%", whole(1, 100), "weight.drop"),
    ("%", whole(0, 100), "motility.least normal.least"),
    ("%", number(0, 100), "lame.from_foot"),
    ("words", words, "pain.words"),
    ("severity", whole(1, max(SEVERITIES)), "severity.unsaid"),
    ("severity", _severity, "vet.explains"),
    ("codes", codes, "rename.anew"),
    ("part of the interval", part, "look.slack"),
    ("kg", whole(1, 3000), "heavy.kg"),
    ("mm", whole(0, 50), "sole.thin"),
    ("mm", whole(0, 300), "wall.guard"),
    ("mm", whole(1, 300), "stage.m2_from"),
    ("RRULE (RFC 5545)", workdays, "visits.workdays"),
    ("ISO 3166 code", place, "visits.holidays"),
    ("count", whole(0, 20), "bring.block bring.wrap bring.dressing"),
    ("feet lifted", whole(0, 10_000), "stats.few"),
    ("months, cm", least_by_age, "scrotum.least"),
    ("months, females", by_age("females", whole(0, 200)), "cover.females"),
    ("females", whole(0, 200), "cover.unknown cover.spare"),
    ("%", whole(0, 100), "cover.fails cover.fails_old"),
    ("months", whole(0, 600), "cover.old"),
    ("bulls", whole(0, 100), "cover.spare_most"),
    (DAYS, whole(240, 320), "gestation.other gestation.holstein gestation.angus gestation.blonde"),
    (DAYS, whole(240, 320), "gestation.hereford gestation.shorthorn gestation.limousin"),
    (DAYS, whole(1, 60), "working.look working.look_first working.first"),
    (DAYS, whole(1, 60), "returns.first returns.last returns.cycle"),
    (DAYS, whole(240, 320), "gestation.charolais gestation.simmental"),
)
"""(unit, what reads it, the rules given so)."""

FINDING: Mapping[str, Shape] = {
    "holds_from": Shape("severity", _severity),
    "holds_stages": Shape("stage", stages),
    "looks": Shape(DAYS, looks),
    "clear": Shape(DAYS, by_severity),
    "vet_from": Shape("severity", _severity),
    "vet_open": Shape(DAYS, _days),
    "advise_look": Shape(DAYS, _days),
}


def all_shapes() -> dict[str, Shape]:
    """The shape of every rule id that there can be."""
    shapes = {rule: Shape(unit, read) for unit, read, rules in _SINGLE for rule in rules.split()}
    for walk in MOBILITY.values():
        score = Shape("score", whole(walk.low, walk.high))
        shapes |= {f"mobility.lame.{walk.id}": score, f"mobility.advise.{walk.id}": score}
    for scale in CONDITION.values():
        score = Shape("score", band(scale.low, scale.high))
        shapes |= {f"condition.hold.{scale.id}": score, f"condition.target.{scale.id}": score}
    for code in CODES:
        other = "holds_from" if code == STAGED else "holds_stages"
        for name, shape in FINDING.items():
            if name != other:
                shapes[finding_rule(code, name)] = shape
    return shapes


def finding_rule(code: str, name: str) -> str:
    """The id of one value of a finding: ``look.days.SU``, ``finding.SU.vet_from``."""
    series = {"looks": "look.days", "clear": "clear.days"}.get(name)
    return f"{series}.{code}" if series else f"finding.{code}.{name}"
