"""The days of outstanding checks, found by trying one day after another.

No networks and no longest paths: a check's day is raised, or lowered, a day at a time until every
rule about it holds.
"""

from __future__ import annotations

from . import checks as work
from .feet_checks import Check
from .state import Story
from .vet_checks import person_decides

FARTHEST = 800  # days from today to look for a first possible turnout


def first_turnout(story: Story, today: int) -> int | None:
    """The first day that would do as turnout."""
    # the first day that leaves every check a day of its own; none where only a person can say
    if person_decides(story):
        return None
    for day in range(today, today + FARTHEST + 1):
        listed = work.outstanding(story, today, day, None)
        # whatever cannot come before this day on its own account spares the search
        if any(max(check.floors, default=0) > day - check.before for check in listed):
            continue
        days = earliest(listed, today)
        if all(days[check.id] <= day - check.before for check in listed):
            return day
    return None


def earliest(listed: list[Check], today: int) -> dict[str, int]:
    """The first day of every check: each is put off by a day until nothing forbids it."""
    days = {check.id: today for check in listed}
    moved = True
    while moved:
        moved = False
        for check in listed:
            while not allowed(check, days):
                days[check.id] += 1
                moved = True
    return days


def allowed(check: Check, days: dict[str, int]) -> bool:
    """Whether a check may be done on its day, the checks it waits for on theirs."""
    day = days[check.id]
    return all(day >= floor for floor in check.floors) and all(
        day >= days[other] + between for other, between in check.waits if other in days
    )


def latest(listed: list[Check], turnout: int) -> dict[str, int]:
    """The last day of every check: each is brought forward by a day until turnout allows it."""
    # what comes after it must still fit in before turnout
    days = {check.id: turnout for check in listed}
    moved = True
    while moved:
        moved = False
        for check in listed:
            while not leaves_room(check, listed, days, turnout):
                days[check.id] -= 1
                moved = True
    return days


def leaves_room(check: Check, listed: list[Check], days: dict[str, int], turnout: int) -> bool:
    day = days[check.id]
    return day <= turnout - check.before and all(
        day + between <= days[later.id]
        for later in listed
        for other, between in later.waits
        if other == check.id
    )
