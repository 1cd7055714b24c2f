"""Ages in whole months, and what a vet's figures must reach."""

from __future__ import annotations

from calendar import monthrange
from datetime import date

from .state import Entry, Story, day_of


def months_on(day: int, months: int) -> int:
    """The same day of the month so many months on, or that month's last day."""
    start = date.fromordinal(day)
    year, month = divmod(start.year * 12 + start.month - 1 + months, 12)
    last = monthrange(year, month + 1)[1]
    return date(year, month + 1, min(start.day, last)).toordinal()


def grown(story: Story) -> int | None:
    """The day on which he is old enough."""
    born = story.bull.get("born")
    # grown enough on this day
    return months_on(day_of(born), story.rules["age.least"]) if born else None


def least_scrotum(story: Story, day: int) -> float:
    born = story.bull.get("born")
    table = story.rules["scrotum.least"]
    for months, least in table:
        # each row holds up to the very day that many months after birth (Society for
        # Theriogenology); born unknown, the last
        if born and months is not None and day <= months_on(day_of(born), months):
            return float(least)
    return float(table[-1][1])


def too_low(story: Story) -> bool:
    """The last examination is satisfactory, yet a figure is under its minimum."""
    if not story.exams:
        return False
    exam: Entry = story.exams[-1]
    # only a figure beside a good result, not stood by, is against him
    if exam["outcome"] != "satisfactory" or exam.get("stands", False):
        return False
    # by his birth as known now
    day = day_of(exam["on"])
    least = {
        "scrotum_cm": least_scrotum(story, day),
        "motility_pct": story.rules["motility.least"],
        "normal_pct": story.rules["normal.least"],
    }
    low = [figure for figure in least if figure in exam and exam[figure] < least[figure]]
    for figure in low:
        story.meets(f"{figure} under its minimum")
    return bool(low)
