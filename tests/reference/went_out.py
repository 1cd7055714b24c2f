"""What was still outstanding when a bull went out: going out clears nothing.

Quotations are from the specification of the assessment.
"""

from __future__ import annotations

from collections.abc import Callable

from . import checks as work
from .feet_checks import Check
from .state import Story
from .vet_checks import person_decides

Past = Callable[[int], Story]


def went_without(story: Story, past: Past, today: int) -> list[Check]:
    """What was outstanding when he went out and has not been done since."""
    # "*Going out clears nothing*: of `feet`, `mobility`, `condition`, `vet-exam` and own checks,
    # those that were outstanding with the day he went out, O, as D and T stay outstanding (first
    # day D, due O), until a day d from O on at which, with D = T = d, the check is not"
    went_out = story.went_out
    if went_out is None:
        raise AssertionError("out, but on no day")
    names: set[str] | None = None
    now: dict[str, Check] = {}
    for day in range(went_out, today + 1):
        # "An entry on day O counts whether it stands before or after `out`."
        then = past(day)
        # "(age by what is known of his birth now)"
        then.bull["born"] = story.bull.get("born")
        now = {check.check: check for check in work.outstanding(then, day, day, None)}
        missing = set(now)
        if names is None:
            names = missing & work.before_going_out(then)
            story.meets("went out with all done", not names)
        elif person_decides(then):
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
