"""What new entries mean to the book that takes them in: who and what they name must be there.

A line's validity depends on the book for bulls and groups alone, so that merging two copies or
striking an entry can never make a line wrong. Pure: what the book holds in, problems out.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import NamedTuple

from readiness.entries.entry import Entry
from readiness.entries.new import NewEntry
from readiness.trade.tags import tag_key


class Missing(NamedTuple):
    """What stands in the way of one new entry: its line (0 where typed), the field, the words."""

    line: int
    field: str
    text: str


@dataclass(slots=True)
class Shelf:
    """What the book will hold, in short: who is booked and who is spoken of.

    ``bulls``: key → (day, farm) of each ``bull`` entry; ``others``: key → how many other entries;
    ``groups``: (farm, name).
    """

    bulls: dict[str, list[tuple[int, str | None]]] = field(default_factory=dict)
    others: dict[str, int] = field(default_factory=dict)
    groups: set[tuple[str | None, str]] = field(default_factory=set)

    def take(self, entry: Entry) -> None:
        """Count one entry that holds."""
        if entry.kind == "bull":
            self.bulls.setdefault(entry.bull, []).append((entry.day, entry.body.get("farm")))
        elif entry.kind == "group":
            self.groups.add((entry.body.get("farm"), entry.body["group"]))
        elif entry.bull:
            self.others[entry.bull] = self.others.get(entry.bull, 0) + 1

    def farms(self, bull: str, day: int) -> set[str | None]:
        """The farms that his group may be of: where he is on that day, and where he is last."""
        said = [(on, farm) for on, farm in sorted(self.bulls[bull], key=_day) if farm]
        then = [farm for on, farm in said if on <= day]
        return {then[-1] if then else None, said[-1][1] if said else None}


def _day(said: tuple[int, str | None]) -> int:
    return said[0]


def struck_ids(entries: Iterable[Entry]) -> set[str]:
    """The ids that strikes take away; a strike itself cannot be struck."""
    entries = list(entries)
    strikes = {entry.id for entry in entries if entry.kind == "strike"}
    aimed = {entry.body["entry"] for entry in entries if entry.kind == "strike"}
    return aimed - strikes


def effective(entries: Iterable[Entry]) -> list[Entry]:
    """The entries that count: without strikes and what they strike."""
    entries = list(entries)
    struck = struck_ids(entries)
    return [entry for entry in entries if entry.kind != "strike" and entry.id not in struck]


def last_farm(entries: Iterable[Entry]) -> str | None:
    """The farm that a bull's entries, in their order, say last."""
    farm = None
    for entry in entries:
        if entry.kind == "bull":
            farm = entry.body.get("farm", farm)
    return farm


def as_entry(new: NewEntry, recorded: str, position: int) -> Entry:
    """A new entry as the core will see it once it is written."""
    content = new.content
    return Entry(
        day=date.fromisoformat(content["on"]).toordinal(),
        recorded=new.recorded or recorded,
        position=position if new.position is None else new.position,
        id=new.id,
        kind=content["kind"],
        bull=tag_key(content.get("bull", "")),
        body=content,
    )


def clashes(held: Mapping[str, Entry], new: Sequence[NewEntry]) -> list[Missing]:
    """The new entries whose id stands for other content in the book, which never changes."""
    text = "{} is the id of another entry in the book; give this one another id, or leave it out"
    return [
        Missing(entry.line, "id", text.format(entry.id))
        for entry in new
        if entry.id in held and held[entry.id].body != entry.content
    ]


def missing(
    held: Sequence[Entry], new: Sequence[Entry], fresh: Sequence[NewEntry]
) -> list[Missing]:
    """Everything that bars ``new`` from a book that holds ``held`` (strikes and struck included).

    ``fresh`` are the same entries as ``new``, with their lines.
    """
    before, after, ever = Shelf(), Shelf(), Shelf()
    for entry in effective(held):
        before.take(entry)
    for entry in effective([*held, *new]):
        after.take(entry)
    for entry in (*held, *new):
        ever.take(entry)
    by_id = {entry.id: entry for entry in (*held, *new)}
    found: list[Missing] = []
    for entry, said in zip(new, fresh, strict=True):
        if said.recorded is not None:
            found += _taken_in_before(entry, said.line, ever)
        elif entry.kind == "strike":
            found += _strike_of_strike(entry, said.line, by_id)
            found += _strike(entry, said.line, by_id, after)
        elif entry.bull:
            found += _of_bull(entry, said.line, after, struck_here=entry.bull in before.bulls)
    return found


def _taken_in_before(entry: Entry, line: int, ever: Shelf) -> list[Missing]:
    """One that comes out of another copy of the book was taken in there, and is not asked again:
    the bull and the group that it names need only ever have been there, be they struck since."""
    if entry.bull and entry.bull not in ever.bulls:
        return [Missing(line, "bull", _no_bull(entry))]
    group = entry.body.get("group") if entry.kind == "join" else None
    if group is None or any(group == name for _, name in ever.groups):
        return []
    text = f"no group {group} was ever named; write the group first"
    return [Missing(line, "group", text)]


def _no_bull(entry: Entry) -> str:
    return f"no bull {entry.body['bull']} is booked; book him with a bull entry first"


def _strike_of_strike(entry: Entry, line: int, by_id: dict[str, Entry]) -> list[Missing]:
    target = by_id.get(entry.body["entry"])
    if target is None or target.kind != "strike":
        return []
    text = f"{target.id} is a strike, and a strike cannot be struck; say again what it withdrew"
    return [Missing(line, "entry", text)]


def _strike(entry: Entry, line: int, by_id: dict[str, Entry], after: Shelf) -> list[Missing]:
    target = by_id.get(entry.body["entry"])
    if target is None or target.kind != "bull":
        return []
    if target.bull in after.bulls or target.bull not in after.others:
        return []
    text = (
        f"this is the only entry that books {target.body['bull']}, who has other entries; "
        "book him again first, or strike those too"
    )
    return [Missing(line, "entry", text)]


def _of_bull(entry: Entry, line: int, after: Shelf, *, struck_here: bool) -> list[Missing]:
    tag = entry.body["bull"]
    if entry.bull not in after.bulls:
        if struck_here or entry.kind == "bull":
            return []  # the strike that takes him off the book is what is wrong
        return [Missing(line, "bull", _no_bull(entry))]
    group = entry.body.get("group") if entry.kind == "join" else None
    if group is None:
        return []
    farms = after.farms(entry.bull, entry.day)
    if any((farm, group) in after.groups for farm in farms):
        return []
    return [Missing(line, "group", _no_group(group, tag, farms, after))]


def _no_group(group: str, tag: str, farms: set[str | None], after: Shelf) -> str:
    where = " or ".join(sorted(farm for farm in farms if farm)) or "no named farm"
    there = sorted(name for farm, name in after.groups if farm in farms)
    known = f"its groups are {', '.join(there)}" if there else "it has no groups yet"
    return f"no group {group} on {tag}'s farm ({where}); {known}; write the group first"
