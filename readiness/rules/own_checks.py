"""The checks that a farm adds of its own: ``[[check]]`` in its rules file."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from readiness.rules.model import OwnCheck, Value
from readiness.rules.shapes import MOST_DAYS, shown, whole
from readiness.rules.where import Where
from readiness.trade.checks import CHECKS

WHO = ("trimmer", "farmer", "vet")
APPLIES = ("all", "bought", "hired", "homebred")
EVER = "ever"
WANTED = ("name", "who", "from")
"""``from`` may be left out where ``valid`` is given."""
KEYS = (*WANTED, "to", "lag", "applies", "text", "valid")
NAME_MOST = 120
_NAME = re.compile(rf"[A-Za-z0-9-]{{1,{NAME_MOST}}}", re.ASCII)


def read_checks(raw: Any, where: Where, taken: Mapping[str, OwnCheck]) -> dict[str, OwnCheck]:
    """The checks of one ``[[check]]`` list by name, after those in ``taken``.

    Raises ``RulesError`` where one is wrong or its name is taken.
    """
    if not isinstance(raw, list):
        raise where.wrong("check", "a list of checks is wanted", "Write each under [[check]].")
    checks = dict(taken)
    for count, item in enumerate(raw, start=1):
        here = where.inside(f"check {count}")
        check = _read(here.as_table(item, "check"), here)
        same = {name.casefold(): name for name in checks}.get(check.name.casefold())
        if same:
            raise here.wrong("name", f"there is a check {same} already", "Give it another name.")
        checks[check.name] = check
    return checks


def check_value(check: OwnCheck, file: str) -> Value:
    """An own check as a rule value, ``check.NAME``, so that it too has a source."""
    days: tuple[object, ...] = (EVER if check.first is None else check.first, check.due, check.lag)
    unit = "days before turnout: from, to, lag"
    if check.valid is not None:
        days, unit = (*days, check.valid), "days: from, to, lag, valid"
    return Value(
        id=f"check.{check.name}",
        value=days,
        unit=unit,
        standing="project choice",
        source=f"farm's own check, {file}",
        checked="",
        overridden=True,
        text=f"{check.text} ({check.who}; {check.applies} bulls)",
    )


def _read(raw: Mapping[str, Any], where: Where) -> OwnCheck:
    where.known(raw, KEYS)
    raw = {"from": EVER, **raw} if "valid" in raw else raw
    for key in WANTED:
        if key not in raw:
            needs = f"A check needs {', '.join(WANTED)}; valid may stand in the place of from."
            raise where.wrong(key, "this key is missing", needs)
    name = _name(raw["name"], where)
    first = None if raw["from"] == EVER else _days(raw, "from", where)
    valid = _days(raw, "valid", where) if "valid" in raw else None
    due, lag = (_days(raw, key, where) if key in raw else 0 for key in ("to", "lag"))
    for key, last in (("to", due), ("lag", lag)):
        for larger, days in (("from", first), ("valid", valid)):
            if days is not None and days < last:
                raise where.wrong(
                    larger,
                    f"the window runs backwards, {days} to {last} days before turnout ({key})",
                    f"Put the larger number in {larger}.",
                )
    return OwnCheck(
        name=name,
        who=_choice(raw["who"], "who", WHO, where),
        first=first,
        due=due,
        lag=lag,
        applies=_choice(raw.get("applies", "all"), "applies", APPLIES, where),
        text=where.text(raw.get("text", name), "text"),
        valid=valid,
    )


def _name(raw: Any, where: Where) -> str:
    name = where.text(raw, "name")
    if not _NAME.fullmatch(name):  # as an entry that says it was done must write it
        raise where.wrong(
            "name",
            f"{shown(raw)} will not do",
            f"Use letters A-Z, digits and hyphens, {NAME_MOST} at most.",
        )
    if name.casefold() in (*CHECKS, "today", "turnout"):
        raise where.wrong("name", f"{name} is a word of the program", "Give it another name.")
    return name


def _days(raw: Mapping[str, Any], key: str, where: Where) -> int:
    try:
        return int(whole(0, MOST_DAYS)(raw[key]))
    except ValueError as problem:
        remedy = f"Give whole days before turnout, or {EVER} in from; in valid, days it holds."
        raise where.wrong(key, str(problem), remedy) from problem


def _choice(raw: Any, key: str, words: tuple[str, ...], where: Where) -> str:
    if raw not in words:
        raise where.wrong(key, f"{shown(raw)} is not known", f"Write one of {', '.join(words)}.")
    return str(raw)
