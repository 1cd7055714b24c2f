"""The table of the groups: each as it stands on the day."""

from __future__ import annotations

from collections.abc import Iterable

from readiness.desk.reading import Reading
from readiness.entries.columns import Column
from readiness.entries.models import Group
from readiness.export.columns import as_in, cells, day
from readiness.export.shape import Row, Table
from readiness.history.groups import groups_of

_COLUMNS = (
    day("on", "The day on which it stands so", required=True),
    as_in(Group, "group", required=True),
    as_in(Group, "farm"),
    as_in(Group, "turnout", required=True),
    as_in(Group, "weeks", "How long they stay; empty: as the rules say"),
    as_in(Group, "females"),
    as_in(Group, "class", required=True),
    day("last_day", "The last day of its season", required=True),
    Column("changed", "datetime", "When it was last written of", "UTC", required=True),
)


def _groups(reading: Reading) -> Iterable[Row]:
    for (farm, _), group in sorted(groups_of(reading.shelf.standing, reading.on).items()):
        season = reading.rules.for_farm(farm or None).limits.group_weeks
        named = {"group": group.name, "class": group.category}
        yield cells(group, _COLUMNS, on=reading.on, last_day=group.last_day(season), **named)


GROUPS = Table(
    "groups",
    "Every group of females, as it stands on the day",
    "A row a group, as last said up to the day; a group whose season is over stands here, too.",
    _COLUMNS,
    ("farm", "group"),
    _groups,
)
