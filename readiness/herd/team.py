"""A farm, or one group of it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Team:
    """A farm, or one group of it, to look at alone. ``farm`` "" is the farm without a name; None
    is every farm. ``group`` None is every group; "" the bulls that are in none."""

    farm: str | None = None
    group: str | None = None


EVERY_FARM = Team()


def in_team(farm: str | None, group: str | None, team: Team) -> bool:
    """Whether a bull of this farm and group belongs to what is looked at."""
    return team.farm in (None, farm or "") and team.group in (None, group or "")
