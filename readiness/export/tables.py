"""All the tables of an export, each defined once. Here those of what was said, one or more for each
kind of entry, a row for each thing said; and those of the bulls and of the groups.

What was said is of the entries that stand, whatever their day; what was struck is in
``entries.jsonl``, and the table of strikes says what it was. The book's views show the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from readiness.desk.reading import Reading
from readiness.entries.columns import Column
from readiness.entries.entry import Entry
from readiness.entries.models import Bull, Group, Join, Weight, own_columns
from readiness.entries.tables import BULL, STRIKE_COLUMNS, EntryTable
from readiness.entries.tables import TABLES as OF_ENTRIES
from readiness.export.derived import DERIVED
from readiness.export.shape import OF_BULL, Said, Table, as_in, day, word
from readiness.history.groups import groups_of
from readiness.report.as_json import day as iso


def _table(made: EntryTable) -> Table:
    def said(reading: Reading) -> Said:
        for entry in reading.of(made.kinds):
            bull = reading.tags.get(entry.bull)
            for line, part in enumerate(_parts(made, entry), start=1):
                yield _row(entry, {**part, "bull": bull, "line": line})

    refers = (OF_BULL,) if made.of_bull else ()
    key = tuple(column.name for column in made.key)
    return Table(made.name, made.title, made.text, made.columns, key, said, refers)


def _parts(made: EntryTable, entry: Entry) -> Iterable[Mapping[str, Any]]:
    """What an entry says in each row, by column."""
    body, told = entry.body, made.told.name if made.told else ""
    for name in made.lists:
        for item in body.get(name, ()):
            yield {made.item: item, told: name} if told else item
    if not made.lists:
        gone = [name for name in made.may_be_taken_away if body.get(name, "") is None]
        yield {**body, told: entry.kind.rpartition("-")[2], "taken_away": gone}


def _row(entry: Entry, said: Mapping[str, Any]) -> dict[str, Any]:
    """What is said in a row, with what every row tells of its entry."""
    body = entry.body
    of_all = {"entry": entry.id, "on": body["on"], "recorded": entry.recorded}
    return {"by": body.get("by"), "note": body.get("note"), **said, **of_all}


def _strikes(reading: Reading) -> Said:
    by_id = {entry.id: entry for entry in reading.shelf.everything}
    for entry in reading.shelf.everything:
        if entry.kind == "strike":
            target = by_id.get(entry.body["entry"])
            struck = target.kind if target else None
            aim = {"struck": entry.body["entry"], "struck_kind": struck}
            yield _row(entry, {**entry.body, **aim})


SAID: tuple[Table, ...] = tuple(map(_table, OF_ENTRIES))

STRIKES = Table(
    "strikes",
    "Entries taken back",
    "What was taken back stands in no other table; entries.jsonl has it whole.",
    STRIKE_COLUMNS,
    ("entry",),
    _strikes,
)


def _bulls(reading: Reading) -> Said:
    for key, state in reading.states.items():
        own = reading.shelf.of(key)
        weighed, kg = state.weight or (None, None)
        yield {
            **state.profile,
            "bull": reading.tags[key],
            "booked": iso(min((entry.day for entry in own if entry.kind == "bull"), default=None)),
            "place": "left" if state.gone else "out" if state.out else "here",
            "group": state.group,
            "role": state.role,
            "kg": kg,
            "weighed": iso(weighed),
            "changed": max(entry.recorded for entry in own),
        }


BULLS = Table(
    "bulls",
    "Every bull the book speaks of, as he stands on the day",
    "His farm and the rest as last said up to the day; a bull who left stands here, too.",
    (
        BULL,
        day("booked", "The day he was first booked; empty where no booking stands"),
        *own_columns(Bull).values(),
        word("place", "Here, out with females, or gone", ("here", "out", "left"), required=True),
        as_in(Join, "group", "The group he was last put in"),
        as_in(Join, "role", "What he is in it"),
        as_in(Weight, "kg", "Last live weight"),
        day("weighed", "The day of that weight"),
        Column("changed", "datetime", "When he was last written of", "UTC", required=True),
    ),
    ("bull",),
    _bulls,
)


def _groups(reading: Reading) -> Said:
    for (farm, _), group in sorted(groups_of(reading.shelf.standing, reading.on).items()):
        season = reading.rules.for_farm(farm or None).limits.group_weeks
        yield {
            **group._asdict(),
            "on": iso(reading.on),
            "group": group.name,
            "turnout": iso(group.turnout),
            "class": group.category,
            "last_day": iso(group.last_day(season)),
        }


GROUPS = Table(
    "groups",
    "Every group of females, as it stands on the day",
    "A row a group, as last said up to the day; a group whose season is over stands here, too.",
    (
        day("on", "The day on which it stands so", required=True),
        as_in(Group, "group", required=True),
        as_in(Group, "farm"),
        as_in(Group, "turnout", required=True),
        as_in(Group, "weeks", "How long they stay; empty: as the rules say"),
        as_in(Group, "females"),
        as_in(Group, "class", required=True),
        day("last_day", "The last day of its season", required=True),
        Column("changed", "datetime", "When it was last written of", "UTC", required=True),
    ),
    ("farm", "group"),
    _groups,
)

# The bulls first: the others refer to them.
TABLES: tuple[Table, ...] = (BULLS, GROUPS, *SAID, STRIKES, *DERIVED)
