"""The rules as text: each with value, unit, standing and source; and in a line those of the farm's
own: the board says which values differ from the program's."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Any

from readiness.report.look import Look, wrapped
from readiness.rules.build import all_shapes
from readiness.rules.load import values_table
from readiness.rules.model import RuleBook, Rules, Value
from readiness.rules.shapes import Shape
from readiness.system.plain import plain
from readiness.trade.scales import SCALES

EVERY_SCALE = "Plain scores are taken on the {mobility} (walk) and the {condition} (condition)."


def rules_text(rules: Rules, look: Look) -> str:
    """The rules of one farm, ``look.width`` columns wide at most."""
    width = look.width - 2
    lines = [f"Rules: {plain(rules.name)} ({rules.digest[:12]})"]
    lines += wrapped(
        EVERY_SCALE.format(
            mobility=SCALES[rules.default_mobility].short,
            condition=SCALES[rules.default_condition].short,
        ),
        width,
    )
    for value in values_table(rules):
        lines += ["", *_value(value, width, look)]
    return "\n".join(lines)


def _value(value: Value, width: int, look: Look) -> list[str]:
    own = f" (your own; the program's is {_was(value)})" if value.overridden else ""
    lines = wrapped(plain(f"{value.id} = {value_words(value)}{own}"), width, "  ")
    checked = f" (compared with it on {value.checked})" if value.checked else ""
    for text in (value.text, f"{value.rests_on}{checked}"):
        lines += [f"    {line}" for line in wrapped(plain(text), width - 4)]
    return [look.paint("head", lines[0]), *lines[1:]]


def value_words(value: Value) -> str:
    """The value with its unit, as a person writes it: "score 2.5 to 4"."""
    return _words(value, value.value)


def _was(value: Value) -> str:
    """What the farm's own value stands instead of, in words."""
    return "none" if value.default is None else _words(value, value.default)


@cache
def _shapes() -> Mapping[str, Shape]:
    return all_shapes()


def _words(rule: Value, value: Any) -> str:
    shape = _shapes().get(rule.id)
    if shape is not None:
        return shape.said(value)
    unit, _, parts = rule.unit.partition(": ")  # a check of the farm's own names its days there
    named = zip(parts.split(", "), value, strict=True)
    return f"{', '.join(f'{name} {part}' for name, part in named)} ({unit})"


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
    return [f"{head}: {'; '.join(map(_differs, own))}."] if own else []


def _differs(value: Value) -> str:
    was = "" if value.default is None else f" instead of {_was(value)}"
    return f"{value.id} {value_words(value)}{was}"
