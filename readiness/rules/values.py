"""What a rules file says of one value, read strictly: what is wrong raises ``RulesError``."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

from readiness.rules.model import STANDINGS, Value
from readiness.rules.shapes import Shape, shown
from readiness.rules.where import Where, nearest
from readiness.trade.codes import CODES

OWN_STANDING = "project choice"
MUST_CITE = ("published", "from memory")
FULL = ("value", "unit", "standing", "source", "text")
CHECKED = "checked"


def flat(
    table: Mapping[str, Any], shapes: Mapping[str, Shape], where: Where, above: str = ""
) -> Iterator[tuple[str, Any]]:
    """Rule id and what is said of it: ``feet.oldest`` is the same in quotes, dotted or nested."""
    for key, said in table.items():
        rule = f"{above}{key}"
        if rule in shapes:
            yield rule, said
        elif isinstance(said, dict) and any(known.startswith(f"{rule}.") for known in shapes):
            yield from flat(said, shapes, where, f"{rule}.")
        else:
            hint = nearest(rule, shapes)
            hint = hint if hint.startswith("Did") else "`readiness rules` lists them all."
            raise where.wrong(rule, "there is no such rule", hint)


def default_value(rule: str, said: Any, shape: Shape, where: Where) -> Value:
    """A value of ``default.toml``: nothing may be left out but the day it was compared on."""
    if not isinstance(said, dict) or tuple(key for key in said if key != CHECKED) != FULL:
        raise where.wrong(rule, f"it must say {', '.join(FULL)}, in this order", "Say all.")
    if not said["source"] or not said["text"]:
        raise where.wrong(rule, "source or text is empty", "Say both.")
    blank = Value(rule, None, shape.unit, "", "", "", text=said["text"])
    said = {key: what for key, what in said.items() if key != "text"}
    return own_value(blank, said, shape, where)._replace(overridden=False)


def new_value(rule: str, shape: Shape, values: Mapping[str, Value]) -> Value:
    """A rule of which the default does not speak, in the words of its like of another code."""
    like = [part for part in rule.split(".") if part not in CODES]
    text = next(
        value.text
        for known, value in values.items()
        if known != rule and [part for part in known.split(".") if part not in CODES] == like
    )
    return Value(rule, None, shape.unit, "", "", "", text=text)


def own_value(before: Value, said: Any, shape: Shape, where: Where) -> Value:
    """A farm's own value in place of ``before``: bare, or a table with its standing and source."""
    rule = before.id
    table = said if isinstance(said, dict) else {"value": said}
    where.inside(rule).known(table, ("value", "unit", "standing", "source", CHECKED))
    if "value" not in table:
        raise where.wrong(rule, "its value is missing", f"Write {rule} = {{ value = … }}.")
    if (unit := table.get("unit", shape.unit)) != shape.unit:
        raise where.wrong(
            rule, f"its unit is {shape.unit}, not {shown(unit)}", f"Give the value in {shape.unit}."
        )
    standing, source = _own_source(rule, table, where)
    try:
        value = shape.read(table["value"])
    except ValueError as problem:
        raise where.wrong(rule, str(problem), f"Give it in {shape.unit}.") from problem
    return before._replace(
        value=value,
        standing=standing,
        source=source,
        checked=_compared(rule, table, where),
        overridden=True,
        default=before.default if before.overridden else before.value,
    )


def _own_source(rule: str, table: Mapping[str, Any], where: Where) -> tuple[str, str]:
    standing = table.get("standing", OWN_STANDING)
    if standing not in STANDINGS:
        raise where.wrong(
            rule, f"{shown(standing)} is no standing", f"Write one of: {'; '.join(STANDINGS)}."
        )
    if "source" in table:
        return standing, where.inside(rule).text(table["source"], "source")
    if standing in MUST_CITE:
        raise where.wrong(rule, f"{standing}, but no source is named", "Name the source.")
    return standing, f"farm's own rule, {where.file}"


def _compared(rule: str, table: Mapping[str, Any], where: Where) -> str:
    """The day on which the value was compared with its source, empty where nobody did."""
    if CHECKED not in table:
        return ""
    raw = table[CHECKED]
    if type(raw) is not date:
        raise where.wrong(
            rule, f"checked must be a day, not {shown(raw)}", "Write it bare, as 2026-01-31."
        )
    return raw.isoformat()
