"""The table of the groups: each as it stands on the day."""

from __future__ import annotations

from collections.abc import Iterable

from readiness.desk.reading import Reading
from readiness.export.columns import GROUP, cell, day, iso, whole, word
from readiness.export.shape import Column, Row, Table
from readiness.history.groups import groups_of
from readiness.trade.females import FEMALES


def _groups(reading: Reading) -> Iterable[Row]:
    on = iso(reading.on)
    for (farm, _), group in sorted(groups_of(reading.shelf.standing, reading.on).items()):
        season = reading.rules.for_farm(farm or None).limits.group_weeks
        yield (
            on,
            cell(group.name),
            cell(group.farm),
            iso(group.turnout),
            group.weeks,
            group.females,
            group.category,
            iso(group.last_day(season)),
            group.changed,
        )


GROUPS = Table(
    "groups",
    "Every group of females, as it stands on the day",
    "A row a group, as last said up to the day; a group whose season is over stands here, too.",
    (
        day("on", "The day on which it stands so", required=True),
        *GROUP,
        day("turnout", "The day the bulls go out", required=True),
        whole("weeks", "How long they stay; empty: as the rules say", "weeks", 1, 52),
        whole("females", "How many females", "head", 0, 10000),
        word("class", "What they are", FEMALES, required=True),
        day("last_day", "The last day of its season", required=True),
        Column("changed", "datetime", "When it was last written of", "UTC", required=True),
    ),
    ("farm", "group"),
    _groups,
)
