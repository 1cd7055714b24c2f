"""What is odd in an entry by itself, and by the limits of the bull's farm."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from readiness.engine import say
from readiness.entries.entry import SEEN
from readiness.history.fold import relieves_pain
from readiness.rules.model import Rules
from readiness.trade.ages import BORN, FROM
from readiness.trade.codes import UNNAMED
from readiness.trade.feet import spot_words
from readiness.trade.tags import tag_problem

Body = Mapping[str, Any]


def by_itself(body: Body, kind: str, day: int, today: int, ahead: int = 0) -> Iterator[str]:
    """Warnings about one entry of ``day``, seen on ``today`` (ordinals). ``ahead``: how many days
    before its own a look may be written that counts."""
    for odd in _BY_KIND.get(kind, ()):
        yield from odd(body)
    if day > today:
        counts = "it counts from that day"
        if kind in SEEN and day > today + ahead:
            counts = "nobody has seen him then, so it clears nothing; write it on that day"
        yield f"dated {say.day(day, today)}, a day still to come: {counts}"


def by_limits(body: Body, rules: Rules) -> Iterator[str]:
    """Warnings about the horn measured, the spots sized and what was given, by the rules of the
    bull's farm."""
    guard, thin = rules.limits.wall_guard, rules.limits.sole_thin
    for measure in body.get("measures", ()):
        place = spot_words(measure["foot"], measure["claw"])
        wall, sole = measure.get("wall_mm"), measure.get("sole_mm")
        if wall is not None and wall < guard:
            short = f"{place} wall of {say.number(wall)} mm is under {guard} mm"
            yield f"{short}: do not shorten it further"
        if sole is not None and sole < thin:
            yield f"{place} sole of {say.number(sole)} mm is under {thin} mm: a thin sole"
    silent = {name: said for name, said in body.items() if name != "pain_relief"}
    if body.get("pain_relief") is False and relieves_pain(silent, rules):
        yield f"{body['product']} is said to relieve no pain: a sound walk after it counts at once"
    if "product" in body and "pain_relief" not in body and not relieves_pain(body, rules):
        yield (
            f"whether {body['product']} relieves pain is not said, and its name does not tell: say "
            "pain or no pain; until then this stands beside his walk"
        )
    split = rules.limits.stage_m2_from
    for finding in body.get("findings", ()):
        stage, size = finding.get("stage"), finding.get("size_mm")
        if size is None or stage not in ("M1", "M2"):
            continue
        by_size = "M1" if size < split else "M2"
        if by_size != stage:
            yield (
                f"{finding['foot']} DD of {say.number(size)} mm is {by_size} by its size "
                f"(M1 under {split} mm, M2 from {split}); {stage} is written"
            )


def _tag(body: Body) -> Iterator[str]:
    if problem := tag_problem(body["bull"]):
        yield problem


def _bull_days(body: Body) -> Iterator[str]:
    """A bull born after he arrived, and one born or arrived after the day that speaks of him."""
    born, arrived = body.get(BORN), body.get("arrived")
    first = body.get(FROM, born)
    if first and arrived and arrived < first:
        yield f"arrived {arrived} is before he was born ({first}): one of them is wrong"
    if born and born > body["on"]:
        yield f"born {born} is after the day of the entry ({body['on']}): one of them is wrong"
    if arrived and arrived > body["on"]:
        late = f"arrived {arrived} is after the day of the entry ({body['on']})"
        yield f"{late}: one of them is wrong, or he is not there yet"


def _other_in_words(body: Body) -> Iterator[str]:
    if "note" not in body:
        for finding in body.get("findings", ()):
            if finding["code"] == UNNAMED:
                place = spot_words(finding["foot"], finding["claw"])
                yield f"{place} XX says only that something was found: say what in the note"


def _before(key: str, words: str, what: str) -> Callable[[Body], Iterator[str]]:
    """A day in ``key`` that lies before the entry's own: ``words`` of it, and ``what`` that was."""

    def odd(body: Body) -> Iterator[str]:
        day = body.get(key)
        if day and day < body["on"]:
            yield f"{words.format(day)} before {what} ({body['on']})"

    return odd


_BY_KIND: Mapping[str, tuple[Callable[[Body], Iterator[str]], ...]] = {
    "bull": (_tag, _bull_days),
    "group": (_before("turnout", "turnout {} is", "the day of the entry"),),
    "feet": (_other_in_words,),
    "vet-exam": (_before("again_on", "again on {} is", "the examination"),),
    "vet-look": (_before("again_on", "again on {} is", "the look"),),
    "check": (_before("valid_until", "valid until {} ends", "the check"),),
    "treatment": (_before("withdrawal_until", "withdrawal until {} ends", "the treatment"),),
}
