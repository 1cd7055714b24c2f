"""Ages in whole months, and what a vet's figures must reach."""

from __future__ import annotations

from calendar import monthrange
from datetime import date

from .state import Entry, Story, day_of
from .values import FIGURES


def months_on(day: int, months: int) -> int:
    """The same day of the month so many months on, or that month's last day."""
    start = date.fromordinal(day)
    year, month = divmod(start.year * 12 + start.month - 1 + months, 12)
    last = monthrange(year, month + 1)[1]
    return date(year, month + 1, min(start.day, last)).toordinal()


def grown(story: Story) -> int | None:
    """The day on which he is old enough."""
    # born between two days, he is old enough once he is so if it was the later one
    born = story.bull.get("born")
    return months_on(day_of(born), story.rules["age.least"]) if born else None


def least_scrotum(story: Story, day: int) -> float:
    # the older a bull, the more is asked: born between two days, as on the earlier one
    born = story.bull.get("born_from", story.bull.get("born"))
    table = story.rules["scrotum.least"]
    for months, least in table:
        # each row holds up to the very day that many months after birth (Society for
        # Theriogenology); born unknown, the last
        if born and months is not None and day <= months_on(day_of(born), months):
            return float(least)
    return float(table[-1][1])


def last_exam(story: Story) -> Entry | None:
    """The examination that counts: of those of the last day the worst."""
    of_day = [exam for exam in story.exams if exam["on"] == story.exams[-1]["on"]]
    outcomes = {exam["outcome"] for exam in of_day}
    story.meets("examined twice on a day, with other words", len(outcomes) > 1)
    # the vet's no before put off before good; of two that put him off, the longer
    for outcome in ("unsatisfactory", "deferred", "satisfactory"):
        alike = [exam for exam in of_day if exam["outcome"] == outcome]
        if alike:
            return max(alike, key=lambda exam: wanted_again(story, exam))
    return None


def wanted_again(story: Story, exam: Entry) -> int:
    """The first day on which the vet examines anew whom he put off then."""
    # on that very day nothing is a later word
    day, again = day_of(exam["on"]), exam.get("again_on")
    return max(day_of(again) if again else day + int(story.rules["vet.again"]), day + 1)


def too_low(story: Story) -> bool:
    """The last examination is satisfactory, yet a figure is under its minimum."""
    # beside another result he is held for that
    last = last_exam(story)
    if last is None or last["outcome"] != "satisfactory":
        return False
    low = [figure for figure in FIGURES if stands_low(story, figure)]
    for figure in low:
        story.meets(f"{figure} under its minimum")
    return bool(low)


def stands_low(story: Story, figure: str) -> bool:
    """Whether the last word on a figure is that it is too low, whatever was made of it."""
    given_on = None
    for exam in reversed(story.exams):
        day = day_of(exam["on"])
        if given_on is not None and day < given_on:
            return False
        if exam["outcome"] == "satisfactory" and exam.get("stands", False):
            # the vet knows of all that was low until then
            return False
        if figure in exam:
            # an examination that does not give it hides it no longer than this one would count
            last = day_of(story.exams[-1]["on"])
            ago = last - day
            low = under(story, figure, exam, day) and ago <= int(story.rules["vet.oldest"])
            story.meets("a figure taken over", ago > 0)
            grew = under(story, figure, exam, last) and not under(story, figure, exam, day)
            story.meets("good enough on its own day only", grew)
            story.meets(f"low beside {exam['outcome']}, taken over", low and ago > 0)
            story.meets("low, and not so in a later word of that day", low and given_on == day)
            if low:
                return True
            # another of that day may say less
            given_on = day
    return False


def under(story: Story, figure: str, exam: Entry, day: int) -> bool:
    """Whether a figure of an examination is under the least for him on ``day``."""
    # by his birth as known now
    least = {
        "scrotum_cm": least_scrotum(story, day),
        "motility_pct": story.rules["motility.least"],
        "normal_pct": story.rules["normal.least"],
    }
    return bool(exam[figure] < least[figure])
