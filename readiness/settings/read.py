"""Reads a person's own settings, ``readiness.toml`` in his folder of settings.

Strict as the rules: what is not known, of the wrong type or out of range is refused with file,
table and key (``RulesError``, exit code 78). Which keys there are only the screens know: these are
compared when the screens open (``readiness.tui.shared.keymap``).
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from readiness.entries.entry import NO_PERSON, is_person
from readiness.rules.build import all_shapes
from readiness.rules.load import read_scales, read_toml
from readiness.rules.shapes import shown
from readiness.rules.where import Where
from readiness.settings.settings import DARK, EVERY, FREE, FUNCTION_KEYS, THEMES, Settings

TEMPLATE = Path(__file__).with_name("readiness.toml")
SCREENS = ("board", "bull", "crush", "diary", "cover", "turnout", "figures")
VISITS = ("workdays", "except", "holidays")
"""The rules of a visit that are rather a person's than a farm's."""
WHO_MOST = 120


def read_settings(path: Path) -> Settings:
    """The settings in a file. Raises ``NotFound`` where it is not there, ``RulesError``."""
    raw = read_toml(path, "settings")
    top = Where(str(path), "")
    top.known(raw, ("who", "farm", "theme", "scales", "visits", "keys"))
    return Settings(
        path,
        who=_who(raw, top),
        farm=_words(raw, "farm", top),
        theme=_theme(raw.get("theme", DARK), top),
        scales=read_scales(raw.get("scales", {}), top),
        visits=_visits(top.as_table(raw.get("visits", {}), "visits"), top.inside("visits")),
        keys=_keys(top.as_table(raw.get("keys", {}), "keys"), top.inside("keys")),
    )


def _words(raw: Mapping[str, Any], key: str, where: Where) -> str:
    if key not in raw:
        return ""
    words = where.text(raw[key], key)
    if len(words) > WHO_MOST:
        text = f"{len(words)} letters are too many: at most {WHO_MOST}"
        raise where.wrong(key, text, "Write it shorter.")
    return words


def _who(raw: Mapping[str, Any], where: Where) -> str:
    who = _words(raw, "who", where)
    if not is_person(who):
        raise where.wrong("who", NO_PERSON, "Write your own name, or take the line out.")
    return who


def _theme(raw: Any, where: Where) -> str:
    if raw not in THEMES:
        text, remedy = f"{shown(raw)} is no theme", f"Write one of {', '.join(THEMES)}."
        raise where.wrong("theme", text, remedy)
    return str(raw)


def _visits(raw: Mapping[str, Any], where: Where) -> dict[str, Any]:
    """As the rules take them."""
    where.known(raw, VISITS)
    shapes = all_shapes()
    read = {}
    for name, said in raw.items():
        shape = shapes[f"visits.{name}"]
        try:
            read[name] = shape.read(said)
        except ValueError as problem:
            raise where.wrong(name, str(problem), f"Give it in {shape.unit}.") from problem
    return read


def _keys(raw: Mapping[str, Any], where: Where) -> dict[str, dict[str, str]]:
    where.known(raw, (EVERY, *SCREENS))
    return {
        screen: _table(where.as_table(said, screen), where.inside(screen))
        for screen, said in raw.items()
    }


def _table(raw: Mapping[str, Any], where: Where) -> dict[str, str]:
    """Key → another, no two the same."""
    for key, other in raw.items():
        if not isinstance(other, str) or not _is_key(other):
            remedy = f"Write one letter or sign in quotes, or {FREE}."
            raise where.wrong(key, f"{shown(other)} is no key", remedy)
        twin = next(each for each, its in raw.items() if its == other)
        if twin != key:
            raise where.wrong(key, f"{other} is what {twin} moves to", "Give it another key.")
    return dict(raw)


def _is_key(name: str) -> bool:
    return name.casefold() in FUNCTION_KEYS or (
        len(name) == 1 and name.isprintable() and not name.isspace() and not name.isdigit()
    )
