"""The farm's own rules in a line each: the board says which values differ from the program's."""

from __future__ import annotations

from collections.abc import Mapping

from readiness.report.rules_text import said, value_words
from readiness.rules.model import RuleBook, Rules, Value


def own_rules(rulebook: RuleBook) -> list[str]:
    """The values that differ from the program's own, and whose they are."""
    own = _overridden("Your own rules", rulebook.common, {})
    for farm, rules in rulebook.farms.items():
        own += _overridden(f"{farm}'s own rules", rules, rulebook.common.values)
    return own


def _overridden(head: str, rules: Rules, under: Mapping[str, Value]) -> list[str]:
    own = [
        value
        for value in rules.values.values()
        if value.overridden and under.get(value.id) != value
    ]
    return [f"{head}: {'; '.join(map(_value, own))}."] if own else []


def _value(value: Value) -> str:
    was = "" if value.default is None else f" instead of {said(value.default)}"
    return f"{value.id} {value_words(value)}{was}"
