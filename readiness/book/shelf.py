"""The entries that stand, put in order once: by bull, the groups, the tags as written."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

from readiness.entries.entry import Entry


class Shelf:
    """``standing``: in ``entry_order``. Nobody may change the lists that are given."""

    def __init__(self, standing: list[Entry]) -> None:
        self.standing = standing

    @cached_property
    def by_bull(self) -> dict[str, list[Entry]]:
        """Each bull's own entries, by his look-up key."""
        found: dict[str, list[Entry]] = {}
        for entry in self.standing:
            if entry.bull:
                found.setdefault(entry.bull, []).append(entry)
        return found

    @cached_property
    def groups(self) -> list[Entry]:
        return [entry for entry in self.standing if entry.kind == "group"]

    @cached_property
    def tags(self) -> dict[str, str]:
        """Look-up key → tag as it was last written, of the bulls that are booked."""
        return {entry.bull: entry.body["bull"] for entry in self.standing if entry.kind == "bull"}

    @cached_property
    def names(self) -> dict[str, str]:
        """Look-up key → name as it was last written, of the bulls that have one."""
        booked = (entry for entry in self.standing if entry.kind == "bull")
        return {entry.bull: entry.body["name"] for entry in booked if entry.body.get("name")}

    def of(self, key: str) -> list[Entry]:
        """The entries of one bull."""
        return self.by_bull.get(key, [])

    def more(self, new: Sequence[Entry]) -> Shelf:
        """With these entries too, none of them a strike: what is in order already stays so."""
        shelf = Shelf(sorted([*self.standing, *new]))
        if "by_bull" in self.__dict__:
            by_bull = dict(self.by_bull)
            for key in {entry.bull for entry in new if entry.bull}:
                by_bull[key] = sorted([*self.of(key), *(e for e in new if e.bull == key)])
            shelf.__dict__["by_bull"] = by_bull
        if not any(entry.kind in ("bull", "group") for entry in new):
            for name in {"groups", "tags", "names"} & self.__dict__.keys():
                shelf.__dict__[name] = self.__dict__[name]
        return shelf
