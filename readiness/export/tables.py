"""All the tables of an export, each defined once; here those of the bulls and of the groups."""

from __future__ import annotations

from readiness.desk.reading import Reading
from readiness.entries.columns import Column
from readiness.entries.models import Bull, Group, Join, Weight, own_columns
from readiness.entries.tables import BULL
from readiness.export.derived import DERIVED
from readiness.export.said import SAID, STRIKES
from readiness.export.shape import Said, Table, as_in, day, word
from readiness.history.groups import groups_of
from readiness.report.as_json import day as iso


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
