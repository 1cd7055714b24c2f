"""What was still outstanding when a bull went out: going out clears nothing."""

from __future__ import annotations

from collections.abc import Callable

from . import checks as work
from .feet_checks import Check
from .state import Story
from .vet_checks import exam_counts, person_decides

Past = Callable[[int], Story]


def went_without(story: Story, past: Past, today: int) -> list[Check]:
    """What was outstanding when he went out and has not been done since."""
    # what was wanting on the day he went out stays wanting, due that day, until it has really been
    # done for some day since
    went_out = story.went_out
    if went_out is None:
        raise AssertionError("out, but on no day")
    names: set[str] | None = None
    now: dict[str, Check] = {}
    for day in range(went_out, today + 1):
        # the whole of the day he went out counts, whatever was written down first
        then = past(day)
        # his birth as it is known today
        then.bull["born"] = story.bull.get("born")
        now = {check.check: check for check in work.outstanding(then, day, day, None)}
        missing = set(now)
        # A look that says unfit asks for no examination, but puts none in the place of the one
        # that he lacks: else "unfit" and then "fit" would let him go without one.
        failed = bool(then.exams) and then.exams[-1]["outcome"] == "unsatisfactory"
        if then.unfit and not failed and not exam_counts(then, day):
            missing |= {"vet-exam"}
        if names is None:
            names = missing & work.before_going_out(then)
            story.meets("went out with all done", not names)
        elif person_decides(then) and not exam_counts(then, day):
            # no examination is asked for, but he has not passed one either
            missing |= {"vet-exam"}
        story.meets("done while out", bool(names - missing) and day > went_out)
        story.meets("out, a person decides", day > went_out and person_decides(then))
        names &= missing
        if not names:
            break
    kept = [check for name, check in now.items() if names and name in names]
    if names and "vet-exam" in names and "vet-exam" not in now:
        kept.append(Check("vet-exam", []))
    for check in kept:
        story.meets(f"went out without {check.check}")
    return [Check(check.check, [], feet=check.feet, due=went_out, who=check.who) for check in kept]
