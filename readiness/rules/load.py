"""Reads the rules: ``default.toml``, and a farm's own file over it.

Strict: what is not known, of the wrong type or out of range is refused with file, table and key.
Plain ``tomllib`` and dataclasses: this is on the way to the board, which must be quick.
"""

from __future__ import annotations

import os
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any, NamedTuple

from readiness.rules.build import RuleParts, all_shapes, build
from readiness.rules.model import RuleBook, Rules, Value
from readiness.rules.own_checks import check_value, read_checks
from readiness.rules.shapes import Shape, shown
from readiness.rules.values import default_value, flat, new_value, own_value
from readiness.rules.where import Where
from readiness.system.errors import DataError, NotFound, RulesError
from readiness.system.files import bytes_of
from readiness.system.limits import RULES_LINE_MOST, RULES_MOST
from readiness.system.plain import name_key
from readiness.trade.scales import CONDITION, MOBILITY

DEFAULT = Path(__file__).with_name("default.toml")
SECTIONS = ("rules", "check", "scales")
SCALES = {"mobility": tuple(MOBILITY), "condition": tuple(CONDITION)}


class Mine(NamedTuple):
    """What a person's own settings say instead of the default, already checked: ``values`` by rule
    id, each as a rules file would say it; ``scales`` by kind. ``file``: its name."""

    file: str
    values: Mapping[str, Any]
    scales: Mapping[str, str]


def load_rules(path: Path | None, mine: Mine | None = None) -> RuleBook:
    """The default rules, overridden by ``mine``, and that by the file at ``path``, where there are
    such.

    Raises ``NotFound`` (66) where the file is not there, ``RulesError`` (78) where it is wrong.
    """
    shapes = all_shapes()
    base = _default(shapes)
    if mine is not None:
        said = {"rules": mine.values, "scales": mine.scales}
        base = _over(base._replace(where=Where(mine.file, "")), said, shapes)
    if path is None:
        return RuleBook(build(base), {}, {})
    raw = read_toml(path, "rules")
    top = Where(path.name, "")
    top.known(raw, (*SECTIONS, "farm"))
    common = _over(base._replace(name=path.stem, where=top), raw, shapes)
    farms = _farms(common, top, raw.get("farm", {}), shapes)
    return RuleBook(build(common), farms, {name_key(name): own for name, own in farms.items()})


def values_table(rules: Rules) -> list[Value]:
    """Every value in a stable order: as ``default.toml`` has them, then what the farm added."""
    return list(rules.values.values())


def _default(shapes: Mapping[str, Shape]) -> RuleParts:
    raw = read_toml(DEFAULT, "rules")
    where = Where(DEFAULT.name, "rules")
    values = {
        rule: default_value(rule, said, shapes[rule], where)
        for rule, said in flat(raw["rules"], shapes, where)
    }
    return RuleParts("default", values, {}, raw["scales"], where)


def _over(under: RuleParts, raw: Mapping[str, Any], shapes: Mapping[str, Shape]) -> RuleParts:
    """The parts of ``under``, with what one file, or one farm's section of it, says over it."""
    top = under.where
    where = top.inside("rules")
    values = dict(under.values)
    said_already: set[str] = set()
    for rule, said in flat(top.as_table(raw.get("rules", {}), "rules"), shapes, where):
        if rule in said_already:
            raise where.wrong(rule, "this value is given twice", "Take one of them out.")
        said_already.add(rule)
        before = under.values.get(rule) or new_value(rule, shapes[rule], under.values)
        values[rule] = own_value(before, said, shapes[rule], where)
    checks = read_checks(raw.get("check", []), top, under.checks)
    for name, check in checks.items():
        if name not in under.checks:
            own = check_value(check, top.file)
            values[own.id] = own
    scales = {**under.scales, **read_scales(raw.get("scales", {}), top)}
    return under._replace(values=values, checks=checks, scales=scales, where=where)


def _farms(
    common: RuleParts, top: Where, raw: Any, shapes: Mapping[str, Shape]
) -> dict[str, Rules]:
    """The rules of each farm that has a section of its own."""
    farms: dict[str, Rules] = {}
    for key, section in top.as_table(raw, "farm").items():
        name = top.text(key, "farm")
        table = f'farm."{name}"'
        if name_key(name) in map(name_key, farms):
            raise top.wrong(table, "this farm has two sections", "Make one of them.")
        here = top.inside(table)
        sections = top.as_table(section, table)
        here.known(sections, SECTIONS)
        named = common._replace(name=f"{common.name}, {name}", where=here)
        farms[name] = build(_over(named, sections, shapes))
    return farms


def read_scales(raw: Any, top: Where) -> dict[str, str]:
    """Kind of score → the scale it is given in. Raises ``RulesError``."""
    where = top.inside("scales")
    table = top.as_table(raw, "scales")
    where.known(table, SCALES)
    for kind, scale in table.items():
        if not isinstance(scale, str) or scale not in SCALES[kind]:
            raise where.wrong(
                kind, f"{shown(scale)} is no scale", f"Write one of {', '.join(SCALES[kind])}."
            )
    return dict(table)


def read_toml(path: Path, what: str) -> dict[str, Any]:
    """What a file of ``what`` ("rules") says. Raises ``NotFound``, ``RulesError``."""
    try:
        nothing = str(path) == os.devnull
        text = "" if nothing else bytes_of(path, RULES_MOST, what).decode("utf-8-sig")
    except NotFound as problem:
        if isinstance(problem.__cause__, FileNotFoundError):
            lacking = f"{path}: there is no such {what} file. Give the right path."
            raise NotFound(lacking) from problem
        raise RulesError(str(problem)) from problem
    except DataError as problem:
        raise RulesError(str(problem)) from problem
    except UnicodeDecodeError as problem:
        raise RulesError(f"{path}: this is not UTF-8 text. Save it as UTF-8.") from problem
    for number, line in enumerate(text.splitlines(), start=1):
        if len(line) > RULES_LINE_MOST:
            raise RulesError(
                f"{path}: line {number} has {len(line):,} letters, and one has at most "
                f"{RULES_LINE_MOST:,}. Write it in several lines."
            )
    try:
        # The last line is ended, so that what is wrong there is told with its number too.
        return tomllib.loads(text + "\n")
    except tomllib.TOMLDecodeError as problem:
        wrong = f"{path}: this is not valid TOML: {problem}. Correct that line."
        raise RulesError(wrong) from problem
    except ValueError as problem:
        wrong = f"{path}: a number in it has too many digits to be read. Write it shorter."
        raise RulesError(wrong) from problem
    except RecursionError as problem:
        raise RulesError(f"{path}: lists or tables lie too deep. Write it flat.") from problem
