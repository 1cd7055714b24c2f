"""Reads the rules: ``default.toml``, and a farm's own file over it.

Strict: what is not known, of the wrong type or out of range is refused with file, table and key.
Plain ``tomllib`` and dataclasses: this is on the way to the board, which must be quick.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any, NamedTuple

from readiness.errors import NotFound, RulesError
from readiness.rules.build import Draft, Names, build
from readiness.rules.model import RuleBook, Rules, Value
from readiness.rules.own_checks import check_value, read_checks
from readiness.rules.shapes import Shape, all_shapes, shown
from readiness.rules.values import default_value, flat, own_value
from readiness.rules.where import Where

DEFAULT = Path(__file__).with_name("default.toml")
SECTIONS = ("rules", "check", "scales")


class _Base(NamedTuple):
    """The default rules as read, for a farm's file to lie upon."""

    values: dict[str, Value]
    names: Names
    scales: dict[str, str]
    shapes: dict[str, Shape]


def default_rules() -> RuleBook:
    """The rules that come with the program."""
    base = _default()
    where = Where(DEFAULT.name, "rules")
    draft = Draft("default", base.values, base.names, {}, base.scales, where)
    return RuleBook(common=build(draft), farms={})


def load_rules(path: Path | None) -> RuleBook:
    """The default rules, overridden by the file at ``path``; None for the default alone.

    Raises ``NotFound`` (66) where the file is not there, ``RulesError`` (78) where it is wrong.
    """
    if path is None:
        return default_rules()
    base = _default()
    raw = _toml(path)
    top = Where(path.name, "")
    top.known(raw, (*SECTIONS, "farm"))
    start = Draft(path.stem, base.values, base.names, {}, base.scales, top)
    common = _over(start, raw, base.shapes)
    farms: dict[str, Rules] = {}
    for farm, section in top.as_table(raw.get("farm", {}), "farm").items():
        name = top.text(farm, "farm")
        here = top.inside(f'farm."{name}"')
        sections = here.as_table(section, f'farm."{name}"')
        here.known(sections, SECTIONS)
        named = common._replace(name=f"{path.stem}, {name}", where=here)
        farms[name] = build(_over(named, sections, base.shapes))
    return RuleBook(common=build(common), farms=farms)


def values_table(rules: Rules) -> list[Value]:
    """Every value in a stable order: as ``default.toml`` has them, then what the farm added."""
    return list(rules.values.values())


def _default() -> _Base:
    raw = _toml(DEFAULT)
    where = Where(DEFAULT.name, "rules")
    names = Names(**raw["names"])
    shapes = all_shapes(names.finding, names.mobility, names.condition)
    values: dict[str, Value] = {}
    for rule, said in flat(raw["rules"], shapes, where):
        values[rule] = default_value(rule, said, shapes[rule], where)
    return _Base(values, names, raw["scales"], shapes)


def _over(under: Draft, raw: Mapping[str, Any], shapes: Mapping[str, Shape]) -> Draft:
    """The draft ``under`` with what one file, or one farm's section of it, says over it."""
    top = under.where
    where = top.inside("rules")
    values = dict(under.values)
    said_already: set[str] = set()
    for rule, said in flat(top.as_table(raw.get("rules", {}), "rules"), shapes, where):
        if rule in said_already:
            raise where.wrong(rule, "this value is given twice", "Take one of them out.")
        said_already.add(rule)
        values[rule] = own_value(rule, said, shapes[rule], under.values.get(rule), where)
    checks = read_checks(raw.get("check", []), top, under.checks)
    for name, check in checks.items():
        if name not in under.checks:
            own = check_value(check, top.file)
            values[own.id] = own
    scales = {**under.scales, **_scales(raw.get("scales", {}), under.names, top)}
    return under._replace(values=values, checks=checks, scales=scales, where=where)


def _scales(raw: Any, names: Names, top: Where) -> dict[str, str]:
    where = top.inside("scales")
    allowed = {"mobility": names.mobility, "condition": names.condition}
    table = top.as_table(raw, "scales")
    where.known(table, allowed)
    for kind, scale in table.items():
        if not isinstance(scale, str) or scale not in allowed[kind]:
            raise where.wrong(
                kind, f"{shown(scale)} is no scale", f"Write one of {', '.join(allowed[kind])}."
            )
    return dict(table)


def _toml(path: Path) -> dict[str, Any]:
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except FileNotFoundError as problem:
        raise NotFound(f"{path}: there is no such rules file. Give the right path.") from problem
    except UnicodeDecodeError as problem:
        raise RulesError(f"{path}: this is not UTF-8 text. Save it as UTF-8.") from problem
    except OSError as problem:
        why = problem.strerror or str(problem)
        raise RulesError(f"{path}: the rules file cannot be read: {why}.") from problem
    try:
        return tomllib.loads(text.replace("\r\n", "\n"))
    except tomllib.TOMLDecodeError as problem:
        what = f"{path}: this is not valid TOML: {problem}. Correct that line."
        raise RulesError(what) from problem
