"""The group of heifers or cows that a bull is in on a day."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from .state import Entry, Story, day_of


class Group(NamedTuple):
    """The group that a bull is in: its name, its turnout, and whether it is of heifers."""

    name: str
    turnout: int
    heifers: bool


def alike(name: str) -> str:
    # a group is the same whatever the spaces and capitals of its name
    return " ".join(name.split()).casefold()


def of_heifers(said: Entry) -> bool:
    # what a group is of is as somebody said; where nobody did its name decides who is held in it
    of = said.get("class")
    return "heifers" in said["group"].lower().split() if of is None else of == "heifers"


def group_said(story: Story, told: list[Entry], today: int, turnout: date | None) -> Group | None:
    """The group he is in today."""
    said: Entry = {}
    for entry in told:
        # a name is another group on another farm; each saying overlays the one before, null empties
        # a field
        if (
            entry["kind"] == "group"
            and day_of(entry["on"]) <= today
            and alike(entry["group"]) == alike(story.group or "")
            and entry.get("farm") == story.bull.get("farm")
        ):
            story.meets("group said again", bool(said))
            story.meets(
                "group said again, a field taken away", bool(said) and None in entry.values()
            )
            # copies of a book may each spell it in their way: it goes by what was said first
            said = said | entry | {"group": said.get("group", entry["group"])}
    if not said:
        return None
    # the day tried in place of every group's turnout
    day = turnout.toordinal() if turnout else day_of(said["turnout"])
    # he belongs to it up to the last day of its season, twelve weeks where nobody says
    weeks = said.get("weeks")
    over = day + 7 * (story.rules["group.weeks"] if weeks is None else weeks)
    story.meets("last day of the season", today == over)
    story.meets("season over", today > over)
    heifers = of_heifers(said)
    story.meets("heifers by the name of their group alone", heifers and not said.get("class"))
    return None if today > over else Group(said["group"], day, heifers)
