"""What an undo takes back, told so that one sees whose it is. Runs in a thread."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from readiness.desk.desk import Desk
    from readiness.entries.entry import Entry

SAID_MOST = 5
"""Of more entries than these, what is taken back is only counted."""


class Told(NamedTuple):
    """``keys``: the bulls concerned, "" for a group; ``said``: each entry in words, with its bull.
    ``strikes``: one of them withdrew something, which will stand again."""

    keys: frozenset[str]
    said: tuple[str, ...]
    strikes: bool

    @property
    def words(self) -> str:
        more = len(self.said) - SAID_MOST
        rest = f" And {more} more." if more > 0 else ""
        return " ".join(self.said[:SAID_MOST]) + rest


def told(desk: Desk, entries: Sequence[Entry]) -> Told:
    """Entries that are or will be taken back."""
    from readiness.shorthand import words

    aimed = [entry.body["entry"] for entry in entries if entry.kind == "strike"]
    targets = {entry.id: entry for entry in desk.entries(aimed)} if aimed else {}
    keys: set[str] = set()
    said: list[str] = []
    for entry in entries:
        target = targets.get(entry.body["entry"]) if entry.kind == "strike" else entry
        if target is None:
            continue
        keys.add(target.bull)
        whose = f"{target.body.get('bull', '')} {words(target.body)}".strip()
        said.append(whose if target is entry else f"{whose} (it stands again)")
    return Told(frozenset(keys), tuple(said), bool(targets))
