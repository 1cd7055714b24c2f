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
class Draft:
    """One entry so far. ``part`` is the part that began it; ``places`` the part of each item, by
    its path ("findings[0]"), so that a refusal can point at it."""

    kind: str
    part: int
    said: dict[str, Any] = field(default_factory=dict)
    places: dict[str, int] = field(default_factory=dict)

    def add(self, key: str, item: dict[str, Any], part: int) -> None:
        """Put an item at the end of one of the entry's lists."""
        items = self.said.setdefault(key, [])
        self.places[f"{key}[{len(items)}]"] = part
        items.append(item)

    def note(self, text: str) -> None:
        """A second note goes behind the first."""
        before = self.said.get("note")
        self.said["note"] = f"{before}; {text}" if before else text


@dataclass
class Line:
    """The line so far: its entries in order, and what holds from part to part.

    ``feet`` is the entry that feet parts go into, ``held`` the feet named last, ``claw`` the claw
    named last on them.
    """

    on: str
    scales: Scales
    drafts: list[Draft] = field(default_factory=list)
    feet: Draft | None = None
    held: tuple[str, ...] = ()
    claw: str | None = None
    early_note: str | None = None

    def begin(self, kind: str, cursor: Cursor, **said: Any) -> Draft:
        """A new entry; what is None is not said."""
        draft = Draft(kind, cursor.number, {k: v for k, v in said.items() if v is not None})
        self.drafts.append(draft)
        if self.early_note is not None:
            draft.note(self.early_note)
            self.early_note = None
        return draft

    def take_note(self, text: str, draft: Draft | None = None) -> None:
        """A note goes with its part's entry, else with the one before, else with the next."""
        target = draft or (self.drafts[-1] if self.drafts else None)
        if target is not None:
            target.note(text)
        else:
            self.early_note = f"{self.early_note}; {text}" if self.early_note else text
