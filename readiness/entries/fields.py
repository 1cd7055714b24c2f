"""The types of single fields: what JSON value each takes, in which range, of which words.

Plain typing with ``annotated_types``, so that forms, tables and the book's views read them without
pydantic; pydantic validates by them (``validate``) and makes a JSON Schema of them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Annotated, Any

from annotated_types import Interval, MaxLen, MinLen, MultipleOf

from readiness.entries.entry import recorded_text
from readiness.trade import codes, feet, scales
from readiness.trade.checks import CHECKS
from readiness.trade.words import YEAR_FIRST, YEAR_LAST

NAME_MOST, NOTE_MOST, ID_LENGTH = 120, 2000, 36

# The names of the checks of the house, and of the two ends of the chain: a farm's own check may
# not carry one of them.
TAKEN_CHECK_NAMES = frozenset((*CHECKS, "today", "turnout"))


@dataclass(frozen=True, slots=True)
class About:
    """What a field says to people: ``text`` explains it, ``label`` is its name on a form (by
    default its key). ``late``: entries of older books may lack it though it is needed now."""

    text: str
    unit: str = ""
    label: str = ""
    late: bool = False

    def __get_pydantic_json_schema__(self, schema: Any, make: Callable[[Any], Any]) -> Any:
        return {**make(schema), "description": f"{self.text} ({self.unit})".removesuffix(" ()")}


@dataclass(frozen=True, slots=True)
class OneOf:
    """One of some fixed words. ``what`` they are, as a refusal says it: "a foot"."""

    words: tuple[str, ...]
    what: str = "known"

    def __get_pydantic_core_schema__(self, _: Any, __: Any) -> Any:
        from pydantic_core.core_schema import literal_schema

        return literal_schema(list(self.words))


@dataclass(frozen=True, slots=True)
class Called:
    """What people call a field's values, beside the words that an entry has for them: (value,
    words). Case, spaces and punctuation do not count. Forms, commands and rosters take them; files
    of entries do not. ``shown``: value → what a form shows for it, where that differs."""

    words: tuple[tuple[str | bool, tuple[str, ...]], ...]
    shown: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Format:
    """Text of a fixed form. ``name``: what JSON Schema calls it, if it does; ``refusal``: what is
    said where it is not kept; ``holds`` gives the canonical spelling, or raises ``ValueError`` with
    what else is wrong."""

    name: str
    pattern: str
    refusal: str
    holds: Callable[[str], str] = str

    def __get_pydantic_core_schema__(self, source: Any, make: Callable[[Any], Any]) -> Any:
        from pydantic_core.core_schema import no_info_after_validator_function as after

        return after(self.holds, {**make(source), "pattern": self.pattern})

    def __get_pydantic_json_schema__(self, schema: Any, make: Callable[[Any], Any]) -> Any:
        return {**make(schema), "format": self.name} if self.name else make(schema)


def _day(text: str) -> str:
    try:
        year = date.fromisoformat(text).year
    except ValueError:
        raise ValueError("there is no day {} in the calendar; write year-month-day") from None
    if not YEAR_FIRST <= year <= YEAR_LAST:
        raise ValueError(f"the year of {{}} is not from {YEAR_FIRST} to {YEAR_LAST}")
    return text


def _moment(text: str) -> str:
    """As UTC of one fixed width."""
    try:
        given = datetime.fromisoformat(text)
        if given.tzinfo is None or not YEAR_FIRST <= given.year <= YEAR_LAST:
            raise ValueError
        return recorded_text(given)
    except (ValueError, OverflowError):
        raise ValueError(_NO_MOMENT) from None


def _check_name(text: str) -> str:
    """None of the house's names."""
    if text.lower() in TAKEN_CHECK_NAMES:
        raise ValueError(
            "{} is a name of the program's own; "
            "write the entry of that kind, or give the farm's check another name"
        )
    return text


def _on(known: Mapping[str, scales.Scale]) -> Interval:
    """The scores of all these scales; what is on the one that is named is for ``checks``."""
    return Interval(
        ge=min(scale.low for scale in known.values()),
        le=max(scale.high for scale in known.values()),
    )


_NO_MOMENT = (
    f"{{}} is not a moment of the years {YEAR_FIRST} to {YEAR_LAST} "
    "with its time zone; write it as in 2027-04-03T10:44:00.000000Z"
)
_HEX = "[0-9a-fA-F]"

Day = Annotated[
    str,
    Format(
        "date",
        r"^[0-9]{4}-[0-9]{2}-[0-9]{2}$",
        "{} is not a date; write year-month-day as in 2027-04-03 (03/04 could be March or April)",
        _day,
    ),
]
EntryId = Annotated[
    str,
    Format(
        "uuid",
        f"^{_HEX}{{8}}(-{_HEX}{{4}}){{3}}-{_HEX}{{12}}$",
        "{} is not an entry's id; write a UUID "
        "(32 hex digits as 8-4-4-4-12), as log, import and export print it",
        str.lower,
    ),
]
Moment = Annotated[str, Format("date-time", r"^[0-9]{4}.*[0-9Zz]$", _NO_MOMENT, _moment)]
CheckName = Annotated[
    str,
    MaxLen(NAME_MOST),
    Format(
        "",
        r"^[A-Za-z0-9-]+$",
        "{} is not a check's name; write letters, digits and hyphens, as in bvd-test",
        _check_name,
    ),
]
Name = Annotated[str, MinLen(1), MaxLen(NAME_MOST)]
Note = Annotated[str, MinLen(1), MaxLen(NOTE_MOST)]
Position = Annotated[int, Interval(ge=0, le=2**31 - 1)]
Foot = Annotated[str, OneOf(feet.FEET, "a foot")]
Claw = Annotated[str, OneOf(feet.CLAWS, "a claw")]
HornClaw = Annotated[str, OneOf(feet.HORN_CLAWS, "a claw")]
BlockClaw = Annotated[str, OneOf(feet.BLOCK_CLAWS, "one claw")]
FindingCode = Annotated[str, OneOf(tuple(codes.CODES), "a finding's code")]
Stage = Annotated[str, OneOf(codes.STAGES, "a stage")]
Act = Annotated[str, OneOf(feet.ACTS, "work on a foot")]
Zone = Annotated[int, Interval(ge=min(feet.ZONES), le=max(feet.ZONES))]
Severity = Annotated[int, Interval(ge=min(codes.SEVERITIES), le=max(codes.SEVERITIES))]
MobilityScale = Annotated[str, OneOf(tuple(scales.MOBILITY), "a walk scale")]
MobilityScore = Annotated[int, _on(scales.MOBILITY)]
ConditionScale = Annotated[str, OneOf(tuple(scales.CONDITION), "a condition scale")]
ConditionScore = Annotated[
    float, _on(scales.CONDITION), MultipleOf(min(s.step for s in scales.CONDITION.values()))
]
