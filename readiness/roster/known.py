"""What the book says of its bulls on the day of an import, as far as a roster can say it."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from readiness.entries.entry import Entry
from readiness.roster.tags import bare_key
from readiness.system.plain import name_key
from readiness.trade.ages import said_of_bull

Groups = Collection[tuple[str | None, str]]
"""(farm, name)"""


@dataclass(slots=True)
class KnownBull:
    """``profile``: the fields of his ``bull`` entries, as last said, empty where he is not booked;
    ``weights``: (ISO day, kg), rising, of later days too; ``group``, ``role``: where he is;
    ``gone``: he has left."""

    profile: dict[str, Any] = field(default_factory=dict)
    weights: list[tuple[str, float]] = field(default_factory=list)
    group: str | None = None
    role: str | None = None
    gone: bool = False

    @property
    def name(self) -> str:
        return str(self.profile.get("name", ""))

    def take(self, entry: Entry) -> None:
        """His next entry, in ``entry_order``."""
        body = entry.body
        if entry.kind == "bull":
            self.profile = said_of_bull(self.profile, body)
        elif entry.kind == "weight":
            self.weights.append((body["on"], body["kg"]))
        elif entry.kind == "join":
            self.group = body.get("group")
            self.role = body.get("role") or self.role or "worker"
        elif entry.kind == "moved":
            self.gone = body["act"] == "left" or (self.gone and body["act"] != "in")


class Known:
    """The bulls of a book on a day (an ordinal), and how its farms and groups are spelt.

    ``tags``: look-up key → tag, of every bull who is booked on any day. ``later``: key → field →
    the ISO day after this one on which the book says it again, so that this day's is not the last.
    ``farms``, ``groups`` ((farm or None, name) → its turnout, as last said): all that the book
    names on any day.
    """

    def __init__(self, entries: Iterable[Entry], day: int) -> None:
        self.bulls: dict[str, KnownBull] = {}
        self.tags: dict[str, str] = {}
        self.later: dict[str, dict[str, str]] = {}
        self.farms: set[str] = set()
        self.groups: dict[tuple[str | None, str], str] = {}
        self._spelt: dict[tuple[str, str], str] = {}
        self._names: set[tuple[str, str]] = set()
        for entry in entries:
            if entry.kind == "bull":
                self.tags[entry.bull] = entry.body["bull"]
            if entry.kind in ("bull", "group"):
                for name in {"farm", "group"} & entry.body.keys():
                    self._names.add((name, self.spelt(name, entry.body[name])))
                    self._names.add((name, entry.body[name]))
                self.farms |= {entry.body["farm"]} if "farm" in entry.body else set()
            if entry.kind == "group":
                self.groups[entry.body.get("farm"), entry.body["group"]] = entry.body["turnout"]
            if entry.bull and (entry.day <= day or entry.kind == "weight"):
                self.bulls.setdefault(entry.bull, KnownBull()).take(entry)
            elif entry.kind in ("bull", "join"):
                for name in entry.body:
                    self.later.setdefault(entry.bull, {}).setdefault(name, entry.body["on"])

    @cached_property
    def by_bare_key(self) -> dict[str, str]:
        """``bare_key`` → tag; of two spelt differently, the one booked last."""
        return {bare_key(tag): tag for tag in self.tags.values()}

    @cached_property
    def by_name(self) -> dict[str, list[str]]:
        """``name_key`` of a name → the keys of the bulls who bear it and have not left."""
        found: dict[str, list[str]] = {}
        for key, bull in self.bulls.items():
            if bull.name and not bull.gone:
                found.setdefault(name_key(bull.name), []).append(key)
        return found

    @cached_property
    def short_numbers(self) -> list[str]:
        """The keys that are digits alone: they may be the end of a whole tag."""
        return [key for key in self.tags if key.isdecimal()]

    def spelt(self, what: str, name: str) -> str:
        """A farm's or group's name as it was first spelt: case and runs of spaces make no new one,
        unless the book has both. Punctuation does: Hill 1-2 is not Hill 12."""
        if (what, name) in self._names:
            return name
        return self._spelt.setdefault((what, name_key(name)), name)
