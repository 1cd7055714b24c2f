"""What is odd about an entry but may be true: warned of, never refused.

Only what the entry itself shows; what needs the book (healed sooner than plausible, a block on a
claw with a finding) is said where the book is at hand.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import date
from typing import Any

from readiness.trade.codes import STAGE_SPLIT_MM
from readiness.trade.feet import spot_words
from readiness.trade.tags import tag_problem
from readiness.trade.words import day_words, number_words

# Do not shorten the front wall below this in heavy cattle (Archer et al. 2015, Vet Rec 177:222).
WALL_GUARD_MM = 90
# A sole thinner than this at the toe is thin (NACFT: 5-7 mm at least).
SOLE_THIN_MM = 5

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
        if finding["code"] != "DD":
            continue
        stage, size = finding.get("stage"), finding.get("size_mm")
        if stage is None:
            yield f"{finding['foot']} DD has no stage: unless it had one before, it holds him"
        elif size is not None and stage in ("M1", "M2"):
            by_size = "M1" if size < STAGE_SPLIT_MM else "M2"
            if by_size != stage:
                yield (
                    f"{finding['foot']} DD of {number_words(size)} mm is {by_size} by its size "
                    f"(M1 under {STAGE_SPLIT_MM} mm, M2 from {STAGE_SPLIT_MM}); "
                    f"{stage} is written"
                )


def _other_in_words(content: Content) -> Iterator[str]:
    if "note" not in content:
        for finding in content.get("findings", ()):
            if finding["code"] == "XX":
                place = spot_words(finding["foot"], finding["claw"])
                yield f"{place} XX says only that something was found: say what in the note"


def _horn(content: Content) -> Iterator[str]:
    for measure in content.get("measures", ()):
        place = spot_words(measure["foot"], measure["claw"])
        wall, sole = measure.get("wall_mm"), measure.get("sole_mm")
        if wall is not None and wall < WALL_GUARD_MM:
            yield (
                f"{place} wall of {number_words(wall)} mm is under {WALL_GUARD_MM} mm: "
                "do not shorten it further"
            )
        if sole is not None and sole < SOLE_THIN_MM:
            yield f"{place} sole of {number_words(sole)} mm is under {SOLE_THIN_MM} mm: a thin sole"


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
    "feet": (_stages, _other_in_words, _horn),
    "vet-exam": (_again_day,),
    "vet-look": (_again_day,),
    "treatment": (_withdrawal_day,),
}
