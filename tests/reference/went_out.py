"""What was still outstanding when a bull went out: going out clears nothing."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from . import checks as work
from .feet_checks import Check
from .figures import last_exam
from .state import Story
from .vet_checks import exam_counts, person_decides

Past = Callable[[int], Story]


def went_without(story: Story, past: Past, today: int) -> list[Check]:
    """What was outstanding when he went out and has not been done since."""
    went_out = story.went_out
    if went_out is None:
        raise AssertionError("out, but on no day")
    born: dict[str, Any] = {
        name: story.bull[name] for name in ("born", "born_from") if name in story.bull
    }
    then, wanting = on_day(past, went_out, born)
    # an examination that failed is no examination wanting: a person decides
    if failed(then):
        wanting.pop("vet-exam", None)
    names = {name for name in wanting if name in work.before_going_out(then)}
    story.meets("went out with all done", not names)
    for day in range(went_out + 1, today + 1):
        if not names:
            break
        then, wanting = on_day(past, day, born)
        story.meets("done while out", not names <= set(wanting))
        story.meets("out, a person decides", person_decides(then))
        # done for one day since is done for good
        names &= set(wanting)
    kept = [check for name, check in wanting.items() if name in names]
    for check in kept:
        story.meets(f"went out without {check.check}")
    return [Check(check.check, [], feet=check.feet, due=went_out, who=check.who) for check in kept]


def on_day(past: Past, day: int, born: dict[str, Any]) -> tuple[Story, dict[str, Check]]:
    """The story up to the end of a day, and what was wanting for turnout on that very day."""
    # all of that day counts, whatever was written down first; his birth is as known today
    then = past(day)
    then.bull = {k: v for k, v in then.bull.items() if k not in ("born", "born_from")} | born
    wanting = {check.check: check for check in work.outstanding(then, day, day, None)}
    # where a person decides nobody asks for an examination; one that counts has not been passed
    # all the same, and a vet's no puts none in its place
    if person_decides(then) and not exam_counts(then, day):
        wanting.setdefault("vet-exam", Check("vet-exam", []))
    return then, wanting


def failed(story: Story) -> bool:
    last = last_exam(story)
    return last is not None and last["outcome"] == "unsatisfactory"
