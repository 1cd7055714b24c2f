"""Groups as they stand: what was said of each, put together.

A group is one farm's: two farms may each have their Heifers. Said again, later fields replace
earlier ones, what is not said stays, and null takes one away. Pure.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from datetime import date
from typing import Any, NamedTuple

from readiness.entries.entry import Entry
from readiness.system.plain import name_key
from readiness.trade.females import COWS, HEIFERS, named_heifers

FIELDS = ("turnout", "weeks", "females", "class")
"""What may be said of a group; which one is meant, its name and its farm say."""

WEEK = 7

Key = tuple[str, str]
"""(farm, name); the farm is "" where it has no name."""


class Group(NamedTuple):
    """``turnout``: an ordinal. ``weeks``, ``females``: None where nothing is said of them.
    ``category``: cows or heifers, cows where nobody said. ``changed``: when it was last written of,
    as ``Entry.recorded``. ``heifers``: whether its bulls are held as among heifers: said to be of
    them, or by its name where nobody said."""

    farm: str | None
    name: str
    turnout: int
    weeks: int | None
    females: int | None
    category: str
    changed: str
    heifers: bool

    def last_day(self, weeks: int) -> int:
        """The last day of its season; ``weeks``: how long that is where nothing is said."""
        return self.turnout + WEEK * (self.weeks or weeks)


def key_of(body: Mapping[str, Any]) -> Key:
    """Which group an entry speaks of."""
    return body.get("farm") or "", body["group"]


def spelt(name: str, known: Collection[str]) -> str:
    """A name as it is spelt there, where only case and spaces differ and it is not there as
    written."""
    alike = sorted(one for one in known if name_key(one) == name_key(name))
    return alike[0] if alike and name not in known else name


def farms_with(name: str, groups: Iterable[Key]) -> list[str]:
    """The farms that have a group of that name, sorted; "" is the one without a name."""
    return sorted({farm for farm, other in groups if name_key(other) == name_key(name)})


def farms_named(entries: Iterable[Entry]) -> set[str]:
    """The farms that these entries name."""
    bodies = (entry.body for entry in entries if entry.kind in ("bull", "group"))
    return {body["farm"] for body in bodies if "farm" in body}


def groups_of(entries: Iterable[Entry], on: int | None = None) -> dict[Key, Group]:
    """Every group as it stands on day ``on`` (an ordinal; None: by all that is said of it), in the
    order in which they were first said. ``entries``: those that count, in ``entry_order``."""
    return {key: told[-1] for key, told in as_said(entries, on).items()}


def as_said(entries: Iterable[Entry], on: int | None = None) -> dict[Key, list[Group]]:
    """The same, each group as it stood after every entry of it."""
    fields: dict[Key, dict[str, Any]] = {}
    told: dict[Key, list[Group]] = {}
    first: dict[Key, Key] = {}
    for entry in entries:
        if entry.kind == "group" and (on is None or entry.day <= on):
            key = _first_said(key_of(entry.body), first)
            own = fields.setdefault(key, {})
            own.update((name, entry.body[name]) for name in FIELDS if name in entry.body)
            before = told.setdefault(key, [])
            changed = max(entry.recorded, before[-1].changed if before else "")
            before.append(_group(key, own, changed))
    return told


def _first_said(key: Key, first: dict[Key, Key]) -> Key:
    """The group as it was first spelt: copies of a book may each have written it in their way."""
    farm, name = key
    return first.setdefault((farm, name_key(name)), key)


def names_of(entries: Iterable[Entry]) -> dict[Key, str]:
    """(farm, ``name_key``) → the name of that group in ``groups_of``; ``entries``: as that takes
    them."""
    first: dict[Key, Key] = {}
    for entry in entries:
        if entry.kind == "group":
            _first_said(key_of(entry.body), first)
    return {key: name for key, (_, name) in first.items()}


def season_worked(told: Iterable[Group], until: int) -> Group | None:
    """The season in which a bull was out with a group up to a day: as that was said last of those
    whose turnout had come by then; None where none had. ``told``: as ``as_said`` gives it."""
    come = [group for group in told if group.turnout <= until]
    return come[-1] if come else None


def _group(key: Key, fields: Mapping[str, Any], changed: str) -> Group:
    farm, name = key
    of = fields.get("class")
    return Group(
        farm or None,
        name,
        date.fromisoformat(fields["turnout"]).toordinal(),
        fields.get("weeks"),
        fields.get("females"),
        of or COWS,
        changed,
        of == HEIFERS if of else named_heifers(name),
    )
