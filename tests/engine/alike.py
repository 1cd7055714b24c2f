"""An assessment of ours and one of the reference's, in the same words, so that they can be held
against each other; and the reference's plain rules as a rule book of ours."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import date
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from readiness.engine.reasons import NOTED
from readiness.engine.results import Assessment
from readiness.rules.load import load_rules
from readiness.rules.model import RuleBook
from readiness.trade.body import PARTS
from readiness.trade.tags import tag_key


def rule_book(plain: Mapping[str, Any] | None) -> RuleBook:
    """The default rules, with what the reference was given in their place: rule ids with other
    values, and own checks as {name, who, from, to, lag, applies,
    valid} under ``checks``."""
    return _rule_book(json.dumps(plain)) if plain else load_rules(None)


@cache
def _rule_book(plain: str) -> RuleBook:
    said = json.loads(plain)
    lines = ["[rules]"]
    lines += [f'"{rule}" = {json.dumps(value)}' for rule, value in said.items() if rule != "checks"]
    for own in ({"who": "farmer", **each} for each in said.get("checks", ())):
        lines += ["[[check]]", *(f"{key} = {json.dumps(value)}" for key, value in own.items())]
    with TemporaryDirectory() as folder:
        file = Path(folder) / "own.toml"
        file.write_text("\n".join(lines), encoding="utf-8")
        return load_rules(file)


def _day(ordinal: int | None) -> date | None:
    return None if ordinal is None else date.fromordinal(ordinal)


def ours(bull: Assessment) -> dict[str, Any]:
    return {
        "bull": tag_key(bull.bull),
        "farm": bull.farm,
        "group": bull.group,
        "role": bull.role,
        "turnout": _day(bull.turnout),
        "status": bull.status,
        "hold": bull.hold,
        "outlook": bull.outlook,
        "earliest_ready": _day(bull.earliest_ready),
        "slack_days": bull.slack_days,
        "overdue": bull.overdue,
        "outstanding": {
            check.id: {
                "check": check.check,
                "foot": check.foot,
                "claw": check.claw,
                "code": check.code,
                "not_before": _day(check.not_before),
                "not_after": _day(check.not_after),
                "due": _day(check.due),
                "advised_by": _day(check.advised_by),
                "overdue": check.overdue,
                "feet": list(check.feet),
                "who": check.who,
            }
            for check in bull.outstanding
        },
        "reasons": {
            _kind(reason.rule, reason.text, reason)
            for reason in bull.reasons
            if reason.rule != NOTED  # the reference says what holds him, which a note does not
        },
    }


KINDS = (
    ("lame", "lame"),
    ("condition", "condition"),
    ("vet to look again", "vet-again"),
    ("vet to look", "vet-look"),
    ("vet looked", "unfit"),
    ("vet:", "vet"),
    ("lift", "lift"),
    ("in quarantine", "quarantine"),
    ("too young", "age"),
    ("not safe with heifers", "heifers"),
    ("went out without", "went-out"),
    ("ill on", "ill"),
    ("booking taken back", "unbooked"),
)
"""How a reason begins, and what the reference calls it."""


def _kind(rule: str, text: str, reason: Any) -> tuple[str, str | None, str | None, str | None]:
    """Our reason in the reference's words: the kind, and the place where it has one."""
    if text.startswith("went out without"):
        return "went-out", None, None, None
    if rule.startswith("check."):
        return f"check:{rule.removeprefix('check.')}", None, None, None
    if reason.code is not None:
        return "finding", reason.foot, reason.claw, reason.code
    if text.startswith("block on"):
        return "block", reason.foot, reason.claw, None
    if text.startswith("wrap on"):
        return "wrap", reason.foot, None, None
    if rule.endswith(".least") and "held until the vet stands by it" in text:
        return "vet-figures", None, None, None
    if "wrong since" in text and not text.startswith("vet to look"):
        part = next(part for part, name in PARTS.items() if text.startswith(name))
        return "body", reason.foot, None, part
    for start, kind in KINDS:
        if text.startswith(start):
            return kind, None, None, None
    raise AssertionError(f"a reason of no known kind: {text}")


def theirs(bull: dict[str, Any]) -> dict[str, Any]:
    outstanding = {
        check["id"]: {name: value for name, value in check.items() if name != "id"}
        for check in bull["outstanding"]
    }
    return {**bull, "bull": tag_key(bull["bull"]), "outstanding": outstanding}
