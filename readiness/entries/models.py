"""The shape of each of the seventeen kinds of entry: which keys, which of them required.

Fields that need each other (a claw that fits its code, a score on its scale) are checked in
``checks``, after the shape stands.
"""

from __future__ import annotations

from functools import cache
from typing import Annotated, Any, Required, get_args, get_origin

from pydantic import ConfigDict, Field, PlainValidator, TypeAdapter
from typing_extensions import (  # typing's own is not enough before Python 3.12
    TypedDict,
    get_type_hints,
)

from readiness.entries import fields as f
from readiness.trade import body

_STRICT = ConfigDict(extra="forbid", strict=True, defer_build=True)
LIST_MOST = 200


def _word(*words: str) -> Any:
    return PlainValidator(f.OneOf(*words))


class Common(TypedDict, total=False):
    """What every entry may say. ``recorded`` to ``device`` are an export's."""

    __pydantic_config__ = _STRICT  # type: ignore[misc]
    kind: Required[str]
    on: Required[f.Day]
    id: f.EntryId
    by: f.Name
    note: f.Note
    recorded: f.Moment
    position: f.Position
    batch: f.Name
    device: f.Name


class OfBull(Common, total=False):
    bull: Required[f.Name]


class Bull(OfBull, total=False):
    name: f.Name
    breed: f.Name
    born: f.Day
    origin: Annotated[str, _word("homebred", "bought", "hired")]
    arrived: f.Day
    temper: Annotated[str, _word("quiet", "watch", "dangerous")]
    heifer_safe: f.Flag
    pen: f.Name
    farm: f.Name


class Weight(OfBull, total=False):
    kg: Required[f.Kilograms]


# "class" is a word of Python's own: it can only be named in a call.
_GroupClass = TypedDict("_GroupClass", {"class": f.GroupClassOrNull}, total=False)


class Group(Common, _GroupClass, total=False):
    group: Required[f.Name]
    turnout: Required[f.Day]
    weeks: f.WeeksOrNull
    females: f.FemalesOrNull
    farm: f.Name


class Join(OfBull, total=False):
    group: Required[f.NameOrNull]
    role: Annotated[str, _word("worker", "reserve")]


class Finding(TypedDict, total=False):
    __pydantic_config__ = _STRICT  # type: ignore[misc]
    foot: Required[f.Foot]
    claw: Required[f.Claw]
    code: Required[f.FindingCode]
    zone: f.Zone
    severity: f.Severity
    stage: f.Stage
    size_mm: f.LesionMm
    was: f.FindingCode


class Healed(TypedDict, total=False):
    __pydantic_config__ = _STRICT  # type: ignore[misc]
    foot: Required[f.Foot]
    claw: Required[f.Claw]
    code: Required[f.FindingCode]
    stable: f.Flag


class Work(TypedDict, total=False):
    __pydantic_config__ = _STRICT  # type: ignore[misc]
    foot: Required[f.Foot]
    claw: f.Claw
    act: Required[f.Act]


class Measure(TypedDict, total=False):
    __pydantic_config__ = _STRICT  # type: ignore[misc]
    foot: Required[f.Foot]
    claw: Required[f.HornClaw]
    wall_mm: f.WallMm
    sole_mm: f.SoleMm
    groove_mm: f.GrooveMm


class Feet(OfBull, total=False):
    lifted: Required[list[f.Foot]]
    refused: list[f.Foot]
    findings: Annotated[list[Finding], Field(max_length=LIST_MOST)]
    healed: Annotated[list[Healed], Field(max_length=LIST_MOST)]
    work: Annotated[list[Work], Field(max_length=LIST_MOST)]
    measures: Annotated[list[Measure], Field(max_length=LIST_MOST)]


class BlockOn(OfBull, total=False):
    foot: Required[f.Foot]
    claw: Required[f.BlockClaw]


class BlockOff(BlockOn, total=False):
    lost: f.Flag


class Mobility(OfBull, total=False):
    scale: Required[f.MobilityScale]
    score: Required[f.Score]
    limb: f.Foot


class Condition(OfBull, total=False):
    scale: Required[f.ConditionScale]
    score: Required[f.Score]


class VetExam(OfBull, total=False):
    outcome: Required[Annotated[str, _word("satisfactory", "deferred", "unsatisfactory")]]
    again_on: f.Day
    scrotum_cm: f.Scrotum
    motility_pct: f.Percent
    normal_pct: f.Percent
    feet_seen: f.Flag
    stands: f.Flag


class VetLook(OfBull, total=False):
    about: Required[Annotated[str, _word("foot", "lame", "body", "illness", "other")]]
    outcome: Required[Annotated[str, _word("fit", "unfit", "again")]]
    again_on: f.Day
    foot: f.Foot
    part: Annotated[str, _word(*body.PARTS)]
    limb: f.Foot


class Body(OfBull, total=False):
    part: Required[Annotated[str, _word(*body.PARTS)]]
    limb: f.Foot
    state: Required[Annotated[str, _word(*body.STATES)]]


class Incident(OfBull, total=False):
    cause: Required[Annotated[str, _word("fight", "fall", "transport", "illness", "other")]]
    lame: f.Flag
    fever: f.Flag
    limb: f.Foot
    suspect: Annotated[str, _word("foot", "shoulder", "stifle", "back", "other")]


class Treatment(OfBull, total=False):
    given_by: Required[f.Name]
    product: Required[f.Name]
    reason: f.Note
    pain_relief: f.Flag
    withdrawal_until: f.Day


class OwnCheck(OfBull, total=False):
    check: Required[f.CheckName]
    result: Required[Annotated[str, _word("pass", "fail")]]


class Moved(OfBull, total=False):
    act: Required[Annotated[str, _word("out", "in", "left")]]
    reason: Annotated[str, _word("sold", "culled", "died", "rested", "lame", "hired", "other")]


class Strike(Common, total=False):
    entry: Required[f.EntryId]
    why: f.Note


KINDS: dict[str, Any] = {
    "bull": Bull,
    "weight": Weight,
    "group": Group,
    "join": Join,
    "feet": Feet,
    "block-on": BlockOn,
    "block-off": BlockOff,
    "mobility": Mobility,
    "condition": Condition,
    "vet-exam": VetExam,
    "vet-look": VetLook,
    "body": Body,
    "incident": Incident,
    "treatment": Treatment,
    "check": OwnCheck,
    "moved": Moved,
    "strike": Strike,
}

MAY_BE_NULL = frozenset(((Join, "group"), *((Group, key) for key in ("weeks", "females", "class"))))
"""(shape, key): where null says that something no longer holds."""

# The lists of a feet entry, and the shape of what stands in them.
NESTED: dict[str, Any] = {
    "findings": Finding,
    "healed": Healed,
    "work": Work,
    "measures": Measure,
}


@cache
def adapter(kind: str) -> TypeAdapter[Any]:
    """The validator of one kind, built when that kind is first met."""
    return TypeAdapter(KINDS[kind])


@cache
def words_of(shape: Any, key: str) -> tuple[str, ...]:
    """The words of which a key takes one; none where it takes something else."""
    hint: Any = get_type_hints(shape, include_extras=True)[key]
    if get_origin(hint) is Required:
        (hint,) = get_args(hint)
    checks = [each.func for each in getattr(hint, "__metadata__", ()) if hasattr(each, "func")]
    return next((check.words for check in checks if isinstance(check, f.OneOf)), ())


@cache
def keys_of(shape: Any) -> frozenset[str]:
    """The keys that a shape knows."""
    return frozenset(shape.__required_keys__ | shape.__optional_keys__)
