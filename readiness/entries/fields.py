"""The types of single fields: each takes a JSON value, gives the one canonical form, or refuses
with what is wrong and what to write."""

from __future__ import annotations

import difflib
import math
import re
import uuid
from collections.abc import Callable, Iterable
from datetime import date, datetime
from typing import Annotated, Any

from pydantic import PlainValidator
from pydantic_core import PydanticCustomError

from readiness.entries.new import recorded_text
from readiness.entries.problem import shown
from readiness.trade import codes, feet, scales
from readiness.trade.checks import CHECKS
from readiness.trade.feet import FEET
from readiness.trade.females import FEMALES

YEAR_FIRST, YEAR_LAST = 1990, 2100
NAME_MOST, NOTE_MOST = 120, 2000
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)
_UUID = re.compile(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}", re.ASCII)
_CHECK_NAME = re.compile(r"[A-Za-z0-9-]+", re.ASCII)

# The names of the checks of the house, and of the two ends of the chain: a farm's own check may
# not carry one of them.
TAKEN_CHECK_NAMES = frozenset((*CHECKS, "today", "turnout"))


def refusal(text: str) -> PydanticCustomError:
    """What a field's validator raises; ``text`` is shown as it is."""
    return PydanticCustomError("refused", "{text}", {"text": text})


def nearest(word: str, known: Iterable[str]) -> str:
    """ "; did you mean …?" where one known word is near, else ""."""
    by_fold = {name.casefold(): name for name in known}
    near = difflib.get_close_matches(word.casefold(), by_fold, n=1, cutoff=0.6)
    return f"; did you mean {by_fold[near[0]]}?" if near else ""


class OneOf:
    """One of some fixed words, as they are written."""

    def __init__(self, *words: str, what: str = "") -> None:
        self.words = words
        self._what = what or "known"

    def __call__(self, value: Any) -> str:
        if isinstance(value, str) and value in self.words:
            return value
        hint = nearest(value, self.words) if isinstance(value, str) else ""
        known = ", ".join(self.words)
        raise refusal(f"{shown(value)} is not {self._what}; write one of {known}{hint}")


def text(most: int) -> Callable[[Any], str]:
    """Text of at most so many characters (controls are stripped before)."""

    def check(value: Any) -> str:
        if not isinstance(value, str):
            raise refusal(f"{shown(value)} is not text; write it in double quotes")
        if len(value) > most:
            raise refusal(f"is {len(value)} characters long; write at most {most}")
        return value

    return check


def _as_number(value: Any) -> int | float:
    """The number in its one form: a whole one is an int, whatever way it was written."""
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise refusal(f"{shown(value)} is not a number; write a number without quotes")
    if isinstance(value, float):
        if not math.isfinite(value):
            raise refusal("is not a finite number; write a number")
        if value.is_integer():
            return int(value)
    return value


def number(low: float, high: float, unit: str = "") -> Callable[[Any], int | float]:
    """A number from ``low`` to ``high``, both inside."""
    span = f"{low} to {high}" + (f" {unit}" if unit else "")

    def check(value: Any) -> int | float:
        given = _as_number(value)
        if not low <= given <= high:
            raise refusal(f"{shown(value)} is out of range; write {span}")
        return given

    return check


def whole(low: int, high: int, unit: str = "") -> Callable[[Any], int]:
    """A whole number from ``low`` to ``high``, both inside."""
    in_range = number(low, high, unit)

    def check(value: Any) -> int:
        given = in_range(value)
        if not isinstance(given, int):
            raise refusal(
                f"{shown(value)} is not a whole number; write {low} to {high} {unit}".rstrip()
            )
        return given

    return check


def flag(value: Any) -> bool:
    """true or false."""
    if not isinstance(value, bool):
        raise refusal(f"{shown(value)} is not true or false; write true or false without quotes")
    return value


def day(value: Any) -> str:
    """A date, ISO 8601, of the years 1990 to 2100; what reads two ways is refused."""
    if not isinstance(value, str) or not _DAY.fullmatch(value):
        raise refusal(
            f"{shown(value)} is not a date; write year-month-day as in 2027-04-03 "
            "(03/04 could be March or April)"
        )
    try:
        given = date.fromisoformat(value)
    except ValueError:
        raise refusal(
            f"there is no day {shown(value)} in the calendar; write year-month-day"
        ) from None
    if not YEAR_FIRST <= given.year <= YEAR_LAST:
        raise refusal(f"the year of {shown(value)} is not from {YEAR_FIRST} to {YEAR_LAST}")
    return value


def entry_id(value: Any) -> str:
    """A UUID in its usual spelling, made lower case."""
    if not isinstance(value, str) or not _UUID.fullmatch(value.lower()):
        raise refusal(
            f"{shown(value)} is not an entry's id; write a UUID "
            "(32 hex digits as 8-4-4-4-12), as log, import and export print it"
        )
    return str(uuid.UUID(value))


def moment(value: Any) -> str:
    """A moment with its time zone, ISO 8601, as UTC of one fixed width."""
    try:
        given = datetime.fromisoformat(value) if isinstance(value, str) else None
        if given is None or given.tzinfo is None or not YEAR_FIRST <= given.year <= YEAR_LAST:
            raise ValueError
        return recorded_text(given)
    except (ValueError, OverflowError):
        raise refusal(
            f"{shown(value)} is not a moment of the years {YEAR_FIRST} to {YEAR_LAST} "
            "with its time zone; write it as in 2027-04-03T10:44:00.000000Z"
        ) from None


def check_name(value: Any) -> str:
    """The name of a farm's own check: letters, digits, hyphens; none of the house's names."""
    if not isinstance(value, str) or not _CHECK_NAME.fullmatch(value):
        raise refusal(
            f"{shown(value)} is not a check's name; "
            "write letters, digits and hyphens, as in bvd-test"
        )
    if len(value) > NAME_MOST:
        raise refusal(f"is {len(value)} characters long; write at most {NAME_MOST}")
    if value.lower() in TAKEN_CHECK_NAMES:
        raise refusal(
            f"{shown(value)} is a name of the program's own; "
            "write the entry of that kind, or give the farm's check another name"
        )
    return value


def or_null(check: Callable[[Any], Any]) -> Callable[[Any], Any]:
    """As ``check``, or null: what was said before is taken away."""
    return lambda value: None if value is None else check(value)


SCORE_MOST = 1000  # what is on the scale is checked against the scale, so that it can be named

Day = Annotated[str, PlainValidator(day)]
Flag = Annotated[bool, PlainValidator(flag)]
EntryId = Annotated[str, PlainValidator(entry_id)]
Moment = Annotated[str, PlainValidator(moment)]
Position = Annotated[int, PlainValidator(whole(0, 2**31 - 1))]
Name = Annotated[str, PlainValidator(text(NAME_MOST))]
NameOrNull = Annotated[str | None, PlainValidator(or_null(text(NAME_MOST)))]
Note = Annotated[str, PlainValidator(text(NOTE_MOST))]
CheckName = Annotated[str, PlainValidator(check_name)]
Foot = Annotated[str, PlainValidator(OneOf(*FEET, what="a foot"))]
Claw = Annotated[str, PlainValidator(OneOf(*feet.CLAWS, what="a claw"))]
HornClaw = Annotated[str, PlainValidator(OneOf(*feet.HORN_CLAWS, what="a claw"))]
BlockClaw = Annotated[str, PlainValidator(OneOf(*feet.BLOCK_CLAWS, what="one claw"))]
FindingCode = Annotated[str, PlainValidator(OneOf(*codes.CODES, what="a finding's code"))]
Stage = Annotated[str, PlainValidator(OneOf(*codes.STAGES, what="a stage"))]
Act = Annotated[str, PlainValidator(OneOf(*feet.ACTS, what="work on a foot"))]
Zone = Annotated[int, PlainValidator(whole(min(feet.ZONES), max(feet.ZONES)))]
Severity = Annotated[int, PlainValidator(whole(1, 3))]
MobilityScale = Annotated[str, PlainValidator(OneOf(*scales.MOBILITY, what="a walk scale"))]
ConditionScale = Annotated[str, PlainValidator(OneOf(*scales.CONDITION, what="a condition scale"))]
Score = Annotated[float, PlainValidator(number(-SCORE_MOST, SCORE_MOST))]
Percent = Annotated[float, PlainValidator(number(0, 100, "per cent"))]
# Wide enough for a new-born calf and the heaviest bull; what lies outside is a slip of the pen.
Kilograms = Annotated[float, PlainValidator(number(20, 2500, "kg"))]
Scrotum = Annotated[float, PlainValidator(number(10, 70, "cm"))]
LesionMm = Annotated[float, PlainValidator(number(1, 300, "mm"))]
WallMm = Annotated[float, PlainValidator(number(20, 300, "mm"))]
SoleMm = Annotated[float, PlainValidator(number(1, 60, "mm"))]
GrooveMm = Annotated[float, PlainValidator(number(0, 200, "mm"))]
WeeksOrNull = Annotated[int | None, PlainValidator(or_null(whole(1, 52)))]
FemalesOrNull = Annotated[int | None, PlainValidator(or_null(whole(0, 10000)))]
GroupClassOrNull = Annotated[str | None, PlainValidator(or_null(OneOf(*FEMALES)))]
