"""The entries of a line while it is being read."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, NamedTuple

from readiness.shorthand.cursor import Cursor


class Scales(NamedTuple):
    """The farm's scales for walk and condition: "gb0-3", "five", …"""

    mobility: str
    condition: str


@dataclass
class EntrySoFar:
    """One entry so far. ``part`` is the part that began it; ``places`` the part of each item, by
    its path ("findings[0]"), so that a refusal can point at it."""

    kind: str
    part: int
    fields: dict[str, Any] = field(default_factory=dict)
    places: dict[str, int] = field(default_factory=dict)

    def add(self, key: str, item: dict[str, Any], part: int) -> None:
        """Put an item at the end of one of the entry's lists."""
        items = self.fields.setdefault(key, [])
        self.places[f"{key}[{len(items)}]"] = part
        items.append(item)

    def note(self, text: str) -> None:
        """A second note goes behind the first."""
        before = self.fields.get("note")
        self.fields["note"] = f"{before}; {text}" if before else text


@dataclass
class LineSoFar:
    """The line so far: its entries in order, and what holds from part to part.

    ``feet`` is the entry that feet parts go into, ``held`` the feet named last, ``claw`` the claw
    named last on them.
    """

    on: str
    scales: Scales
    entries: list[EntrySoFar] = field(default_factory=list)
    feet: EntrySoFar | None = None
    held: tuple[str, ...] = ()
    claw: str | None = None
    early_note: str | None = None

    def begin(self, kind: str, cursor: Cursor, **fields: Any) -> EntrySoFar:
        """A new entry; what is None is not said."""
        entry = EntrySoFar(kind, cursor.number, {k: v for k, v in fields.items() if v is not None})
        self.entries.append(entry)
        if self.early_note is not None:
            entry.note(self.early_note)
            self.early_note = None
        return entry

    def take_note(self, text: str, entry: EntrySoFar | None = None) -> None:
        """A note goes with its part's entry, else with the one before, else with the next."""
        target = entry or (self.entries[-1] if self.entries else None)
        if target is not None:
            target.note(text)
        else:
            self.early_note = f"{self.early_note}; {text}" if self.early_note else text
