"""What is odd about an entry but may be true: warned of, never refused.

Only what the entry itself shows. What needs the bull's history (healed sooner than plausible, a
block on a claw with a finding) or his farm's rules (a wall too short, a sole too thin) is said
where they are at hand.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import date
from typing import Any

from readiness.trade.feet import spot_words
from readiness.trade.tags import tag_problem
from readiness.trade.words import day_words

Content = Mapping[str, Any]


def oddities_of(content: Content, today: date | None = None) -> list[str]:
    """Warnings about one canonical content; with ``today`` also of days still to come."""
    found = [text for oddity in _BY_KIND.get(content["kind"], ()) for text in oddity(content)]
    if today is not None and content["on"] > today.isoformat():
        day = day_words(date.fromisoformat(content["on"]), today)
        found.append(f"is dated {day}, a day still to come: it counts from that day")
    return found


def _tag(content: Content) -> Iterator[str]:
    if problem := tag_problem(content["bull"]):
        yield problem


def _bull_days(content: Content) -> Iterator[str]:
    """A bull born after he arrived, or after the day that speaks of him."""
    born, arrived = content.get("born"), content.get("arrived")
    if born and arrived and arrived < born:
        yield f"arrived {arrived} is before he was born ({born}): one of them is wrong"
    if born and born > content["on"]:
        yield f"born {born} is after the day of the entry ({content['on']}): one of them is wrong"


def _group_days(content: Content) -> Iterator[str]:
    if content["turnout"] < content["on"]:
        yield f"turnout {content['turnout']} is before the day of the entry ({content['on']})"


def _stages(content: Content) -> Iterator[str]:
    for finding in content.get("findings", ()):
        if finding["code"] == "DD" and "stage" not in finding:
            yield f"{finding['foot']} DD has no stage: unless it had one before, it holds him"


def _other_in_words(content: Content) -> Iterator[str]:
    if "note" not in content:
        for finding in content.get("findings", ()):
            if finding["code"] == "XX":
                place = spot_words(finding["foot"], finding["claw"])
                yield f"{place} XX says only that something was found: say what in the note"


def _again_day(content: Content) -> Iterator[str]:
    again = content.get("again_on")
    if again and again < content["on"]:
        what = "look" if content["kind"] == "vet-look" else "examination"
        yield f"again on {again} is before the {what} ({content['on']})"


def _withdrawal_day(content: Content) -> Iterator[str]:
    until = content.get("withdrawal_until")
    if until and until < content["on"]:
        yield f"withdrawal until {until} ends before the treatment ({content['on']})"


Oddity = Callable[[Content], Iterator[str]]
_BY_KIND: dict[str, tuple[Oddity, ...]] = {
    "bull": (_tag, _bull_days),
    "group": (_group_days,),
    "feet": (_stages, _other_in_words),
    "vet-exam": (_again_day,),
    "vet-look": (_again_day,),
    "treatment": (_withdrawal_day,),
}
