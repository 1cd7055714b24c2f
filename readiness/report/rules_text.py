"""The rules as text: each with value, unit, standing and source; and in a line those of the farm's
own: the board says which values differ from the program's."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from readiness.report.look import Look, wrapped
from readiness.rules.load import values_table
from readiness.rules.model import RuleBook, Rules, Value
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
    own = f"  (your own; the program's is {said(value.default)})" if value.overridden else ""
    lines = wrapped(plain(f"{value.id} = {_with_unit(value)}{own}"), width, "  ")
    checked = f" (compared with it on {value.checked})" if value.checked else ""
    for text in (value.text, f"{value.rests_on}{checked}"):
        lines += [f"    {line}" for line in wrapped(plain(text), width - 4)]
    return [look.paint("head", lines[0]), *lines[1:]]


def _with_unit(value: Value) -> str:
    words = value_words(value)
    if isinstance(value.value, bool):
        return words
    unit, _, parts = value.unit.partition(": ")
    return f"{words} ({unit})" if parts else f"{words} {unit}".rstrip()


def value_words(value: Value) -> str:
    """The value in words; where its unit names the parts of it, each part after its name."""
    parts = value.unit.partition(": ")[2]
    if not parts:
        return said(value.value)
    named = zip(parts.split(", "), value.value, strict=True)
    return ", ".join(f"{name} {said(part)}" for name, part in named)


def said(value: object) -> str:
    """A value of a rule in words."""
    if value is None:
        return "none"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str) or not isinstance(value, Iterable):
        return str(value)
    return ", ".join(said(part) for part in value)


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
    was = "" if value.default is None else f" instead of {said(value.default)}"
    return f"{value.id} {value_words(value)}{was}"
