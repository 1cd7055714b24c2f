"""From values by id to the typed rules that the engine reads, and whether they fit together."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from typing import Any, NamedTuple

from readiness.rules.model import (
    ConditionScale,
    CoverRules,
    FindingRule,
    Limits,
    MobilityScale,
    OwnCheck,
    Rules,
    StatsRules,
    Value,
    VisitRules,
)
from readiness.rules.shapes import FINDING, finding_rule
from readiness.rules.where import Where
from readiness.trade.codes import CODES
from readiness.trade.scales import CONDITION, MOBILITY

ABSENT: Mapping[str, Any] = {"holds_from": 0, "vet_from": 0, "vet_open": 0, "advise_look": 0}
"""What a field of a finding is where no rule speaks of it; the lists are empty."""

AT_MOST = (
    ("lame.lift_worst", "lame.lift"),
    ("block.least", "block.most"),
    ("feet.due", "feet.oldest"),
    ("returns.first", "returns.last"),
    ("incident.settle", "incident.settle_back"),
)
"""(a, b): a must not be more than b, or no day could ever satisfy both."""


class RuleParts(NamedTuple):
    """Everything that the files say for one farm, read but not yet put together."""

    name: str
    values: Mapping[str, Value]
    checks: Mapping[str, OwnCheck]
    scales: Mapping[str, str]
    where: Where


def build(parts: RuleParts) -> Rules:
    """The typed rules, put together from their parts.

    Raises ``RulesError`` where a value is missing or two of them contradict each other.
    """
    values = {rule: value.value for rule, value in parts.values.items()}
    try:
        rules = Rules(
            name=parts.name,
            digest=_digest(parts, values),
            limits=Limits(**_by_name(Limits, values)),
            findings={code: _finding(code, values) for code in CODES},
            mobility={scale: _mobility(scale, values) for scale in MOBILITY},
            condition={scale: _condition(scale, values) for scale in CONDITION},
            scrotum=values["scrotum.least"],
            checks=tuple(parts.checks.values()),
            visits=VisitRules(**_by_name(VisitRules, values)),
            stats=StatsRules(**_by_name(StatsRules, values)),
            cover=CoverRules(**_by_name(CoverRules, values)),
            default_mobility=parts.scales["mobility"],
            default_condition=parts.scales["condition"],
            values=parts.values,
        )
    except KeyError as missing:
        raise parts.where.wrong(
            str(missing.args[0]), "this value is missing", "Put it back."
        ) from missing
    _fit(parts.where, values, rules)
    return rules


def _digest(parts: RuleParts, values: Mapping[str, Any]) -> str:
    """sha256 over what decides, not over words and sources: same digest, same answers."""
    content = {
        "values": values,
        "checks": [
            [check.name, check.who, check.first, check.due, check.lag, check.applies]
            for _, check in sorted(parts.checks.items())
        ],
        "scales": parts.scales,
    }
    text = json.dumps(content, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(text.encode()).hexdigest()


def _by_name(
    view: type[Limits | VisitRules | StatsRules | CoverRules], values: Mapping[str, Any]
) -> dict[str, Any]:
    """The fields of a view: the id of each rule is the name with its first ``_`` read as ``.``."""
    return {name: values[name.replace("_", ".", 1)] for name in view._fields}


def _finding(code: str, values: Mapping[str, Any]) -> FindingRule:
    said = {name: values.get(finding_rule(code, name), ABSENT.get(name, ())) for name in FINDING}
    return FindingRule(code=code, name=CODES[code].name, claw=CODES[code].claw, **said)


def _mobility(scale: str, values: Mapping[str, Any]) -> MobilityScale:
    fixed = MOBILITY[scale]
    return MobilityScale(
        id=scale,
        name=fixed.name,
        low=fixed.low,
        worst=fixed.high,
        lame=values[f"mobility.lame.{scale}"],
        advise=values[f"mobility.advise.{scale}"],
    )


def _condition(scale: str, values: Mapping[str, Any]) -> ConditionScale:
    fixed = CONDITION[scale]
    return ConditionScale(
        id=scale,
        name=fixed.name,
        low=fixed.low,
        high=fixed.high,
        step=fixed.step,
        hold=values[f"condition.hold.{scale}"],
        target=values[f"condition.target.{scale}"],
    )


def _fit(where: Where, values: Mapping[str, Any], rules: Rules) -> None:
    for low, high in AT_MOST:
        if values[low] > values[high]:
            raise where.wrong(
                low,
                f"{values[low]} is more than {high}, which is {values[high]}",
                "Change one of the two.",
            )
    for finding in rules.findings.values():
        _finding_fits(where, finding)
    for walk in rules.mobility.values():
        _walk_fits(where, walk)
    for scale in rules.condition.values():
        _condition_fits(where, scale)


def _finding_fits(where: Where, finding: FindingRule) -> None:
    for name in ("looks", "clear"):
        if not finding.never_holds and not getattr(finding, name):
            raise where.wrong(
                finding_rule(finding.code, name),
                "this value is missing, and the finding holds the bull",
                f"Give it, or let finding.{finding.code}.holds_from be 0.",
            )


def _walk_fits(where: Where, scale: MobilityScale) -> None:
    if scale.lame == scale.low:
        raise where.wrong(
            f"mobility.lame.{scale.id}",
            f"{scale.lame} is the best score of the scale: every bull would be lame",
            "Give a higher one.",
        )
    if scale.advise > scale.lame:
        raise where.wrong(
            f"mobility.advise.{scale.id}",
            f"{scale.advise} is more than mobility.lame.{scale.id}, which is {scale.lame}",
            "Advice comes before lame.",
        )


def _condition_fits(where: Where, scale: ConditionScale) -> None:
    if not (scale.hold[0] <= scale.target[0] and scale.target[1] <= scale.hold[1]):
        raise where.wrong(
            f"condition.target.{scale.id}",
            f"it reaches outside condition.hold.{scale.id}",
            "A bull on target must not be held: change one of the two.",
        )
