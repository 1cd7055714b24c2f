"""From values by id to the typed rules that the engine reads, and whether they fit together."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping
from dataclasses import asdict
from typing import Any, NamedTuple

from readiness.rules.limits import Limits
from readiness.rules.model import (
    ConditionScale,
    CoverRules,
    FindingRule,
    MobilityScale,
    OwnCheck,
    Rules,
    StatsRules,
    Value,
    VisitRules,
)
from readiness.rules.shapes import (
    Shape,
    band,
    band_said,
    least_by_age,
    number,
    of_ages,
    score_said,
    whole,
)
from readiness.rules.where import Where
from readiness.trade.codes import CODES, STAGED
from readiness.trade.scales import CONDITION, MOBILITY, Scale


def _shapes(view: type[Any]) -> dict[str, Shape]:
    """Field → the shape of its rule, where it has one."""
    hints: dict[str, Any] = view.__annotations__
    return {
        name: hint.__metadata__[0] for name, hint in hints.items() if hasattr(hint, "__metadata__")
    }


FINDING = _shapes(FindingRule)
"""What the rules say of a finding, by field."""

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


def all_shapes() -> dict[str, Shape]:
    """The shape of every rule id that there can be."""
    shapes = {
        "lame.from_foot": Shape("%", number(0, 100)),
        "scrotum.least": of_ages("cm", least_by_age),
    }
    for view in (Limits, VisitRules, StatsRules, CoverRules):
        shapes |= {_rule(name): shape for name, shape in _shapes(view).items()}
    for walk in MOBILITY.values():
        score = Shape("score", whole(walk.low, walk.high), score_said)
        shapes |= {f"mobility.lame.{walk.id}": score, f"mobility.advise.{walk.id}": score}
    for scale in CONDITION.values():
        score = Shape("score", band(scale.low, scale.high), band_said)
        shapes |= {f"condition.hold.{scale.id}": score, f"condition.target.{scale.id}": score}
    for code in CODES:
        other = "holds_from" if code == STAGED else "holds_stages"
        shapes |= {finding_rule(code, each): FINDING[each] for each in FINDING if each != other}
    return shapes


def _rule(name: str) -> str:
    """The id of the rule of a field of a view: its first ``_`` read as ``.``."""
    return name.replace("_", ".", 1)


def finding_rule(code: str, name: str) -> str:
    """The id of one value of a finding: ``look.days.SU``, ``finding.SU.vet_from``."""
    series = {"looks": "look.days", "clear": "clear.days"}.get(name)
    return f"{series}.{code}" if series else f"finding.{code}.{name}"


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
            mobility={
                scale: MobilityScale(**_scale("mobility", each, values, "lame", "advise"))
                for scale, each in MOBILITY.items()
            },
            condition={
                scale: ConditionScale(**_scale("condition", each, values, "hold", "target"))
                for scale, each in CONDITION.items()
            },
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
    for rule, problem, remedy in _misfits(values, rules):
        raise parts.where.wrong(rule, problem, remedy)
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


def _by_name(view: type[Any], values: Mapping[str, Any]) -> dict[str, Any]:
    return {name: values[_rule(name)] for name in _shapes(view)}


def _finding(code: str, values: Mapping[str, Any]) -> FindingRule:
    said = {name: values.get(finding_rule(code, name), ABSENT.get(name, ())) for name in FINDING}
    return FindingRule(code=code, name=CODES[code].name, claw=CODES[code].claw, **said)


def _scale(kind: str, scale: Scale, values: Mapping[str, Any], *names: str) -> dict[str, Any]:
    """A scale of the trade with what the rules say of it."""
    return asdict(scale) | {name: values[f"{kind}.{name}.{scale.id}"] for name in names}


def _misfits(values: Mapping[str, Any], rules: Rules) -> Iterator[tuple[str, str, str]]:
    """What contradicts each other: a rule, what is wrong with it, what to do."""
    for low, high in AT_MOST:
        if values[low] > values[high]:
            text = f"{values[low]} is more than {high}, which is {values[high]}"
            yield low, text, "Change one of the two."
    for code, finding in rules.findings.items():
        for name in ("looks", "clear"):
            if not finding.never_holds and not getattr(finding, name):
                text = "this value is missing, and the finding holds the bull"
                remedy = f"Give it, or let finding.{code}.holds_from be 0."
                yield finding_rule(code, name), text, remedy
    for walk in rules.mobility.values():
        lame, advise = f"mobility.lame.{walk.id}", f"mobility.advise.{walk.id}"
        if walk.lame == walk.low:
            text = f"{walk.lame} is the best score of the scale: every bull would be lame"
            yield lame, text, "Give a higher one."
        if walk.advise > walk.lame:
            text = f"{walk.advise} is more than {lame}, which is {walk.lame}"
            yield advise, text, "Advice comes before lame."
    for scale in rules.condition.values():
        if not scale.hold[0] <= scale.target[0] <= scale.target[1] <= scale.hold[1]:
            text = f"it reaches outside condition.hold.{scale.id}"
            remedy = "A bull on target must not be held: change one of the two."
            yield f"condition.target.{scale.id}", text, remedy
