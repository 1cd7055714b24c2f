"""Fields that must fit each other within one entry.

Nothing here looks at other entries: whether a line is valid never depends on what the book holds,
so that a merge or a strike cannot make it wrong. Each check takes an entry whose shape stands and
gives (field, text) pairs.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from readiness.entries.problem import shown
from readiness.trade import codes, scales
from readiness.trade.ages import BORN, FROM
from readiness.trade.body import JOINT
from readiness.trade.examination import NO_SAMPLE
from readiness.trade.feet import MEASURES, claws_overlap

Content = Mapping[str, Any]
Found = Iterator[tuple[str, str]]


def problems_between_fields(content: Content) -> list[tuple[str, str]]:
    """Every (field, text) where an entry's fields do not fit each other."""
    return [problem for check in CHECKS.get(content["kind"], ()) for problem in check(content)]


def _came_needs_arrived(content: Content) -> Found:
    """Without the day of arrival nobody can say when his quarantine ends."""
    origin = content.get("origin")
    if origin in ("bought", "hired") and "arrived" not in content:
        yield "arrived", f"is missing; a {origin} bull needs the day he arrived, for his quarantine"


def _born_between(content: Content) -> Found:
    """The first and the last day on which he can have been born."""
    if FROM not in content:
        return
    if BORN not in content:
        yield BORN, f"is missing; beside {FROM}, the last day on which he can have been born"
    elif content[FROM] > content[BORN]:
        yield FROM, f"{content[FROM]} is after {BORN}, {content[BORN]}: the first day stands here"


def _again_on_with(outcome: str) -> Callable[[Content], Found]:
    def check(content: Content) -> Found:
        if "again_on" in content and content["outcome"] != outcome:
            yield "again_on", f"goes with {outcome} only, not {content['outcome']}; leave it out"

    return check


def _valid_until_with_pass(content: Content) -> Found:
    if "valid_until" in content and content["result"] != "pass":
        yield "valid_until", "goes with pass only; leave it out"


def _semen_fits(content: Content) -> Found:
    """What was not got or not looked at has no figures."""
    told = [key for key in ("motility_pct", "motility_by", "normal_pct") if key in content]
    if content.get("morphology"):
        told.append("morphology")
    if content.get("collection") == NO_SAMPLE:
        for key in told:
            yield key, "is said, and no semen was got; correct one of the two"
    elif content.get("morphology") is False and "normal_pct" in content:
        yield "normal_pct", "is said, and morphology was not done; correct one of the two"


def _each_part_once(content: Content) -> Found:
    items = content.get("examined", [])
    for index, item in enumerate(items):
        if item in items[:index]:
            yield (
                f"examined[{index}]",
                f"{item['part']} {item['how']} stands there twice; say it once",
            )


def _place_fits_about(content: Content) -> Found:
    """A look at the feet may name a foot, one at the body a part."""
    about = content["about"]
    if "foot" in content and about not in ("foot", "lame"):
        yield "foot", f"goes with foot or lame only, not {about}; leave it out"
    if "part" in content and about != "body":
        yield "part", f"goes with body only, not {about}; leave it out"


def _limb_of_a_joint(content: Content) -> Found:
    if "limb" in content and content.get("part") != JOINT:
        yield "limb", f"goes with the part {JOINT} only; leave it out"


def off_scale(content: Content) -> Found:
    """A score that is not on its scale; nothing where no scale is named, or no number is given."""
    scale = scales.SCALES.get(str(content.get("scale")))
    score = content.get("score")
    if scale and isinstance(score, int | float) and not scale.has(score):
        yield "score", f"{shown(score)} is not on the scale {scale.id}; write {scale.range_words}"


def _each_foot_once(content: Content) -> Found:
    for key in ("lifted", "refused"):
        feet = content.get(key, [])
        for index, foot in enumerate(feet):
            if foot in feet[:index]:
                yield f"{key}[{index}]", f"{foot} stands there twice; name each foot once"


def _a_foot_was_tried(content: Content) -> Found:
    if not content["lifted"] and not content.get("refused"):
        yield "lifted", "names no foot, and refused neither; name the feet that were lifted"
    for index, foot in enumerate(content.get("refused", [])):
        if foot in content["lifted"]:
            yield f"refused[{index}]", f"{foot} is also lifted; a foot is one or the other"


def _items(content: Content, *lists: str) -> Iterator[tuple[str, Content]]:
    """Each item of these lists with its place: "findings[0]"."""
    for key in lists:
        for index, item in enumerate(content.get(key, ())):
            yield f"{key}[{index}]", item


def _only_lifted_feet(content: Content) -> Found:
    """What was seen or done on a foot was seen or done with that foot up."""
    for place, item in _items(content, "findings", "healed", "work", "measures"):
        if item["foot"] not in content["lifted"]:
            yield f"{place}.foot", f"{item['foot']} is not among the lifted feet; add it to lifted"


def _claw_fits_code(content: Content) -> Found:
    for place, item in _items(content, "findings", "healed"):
        fitting = codes.claw_words(item["code"])
        if item["claw"] not in fitting:
            yield (
                f"{place}.claw",
                f"{item['claw']} does not fit {item['code']} "
                f"({codes.CODES[item['code']].name}); write {' or '.join(fitting)}",
            )


def _stage_is_of_dd(content: Content) -> Found:
    for place, found in _items(content, "findings"):
        if "stage" in found and found["code"] != codes.STAGED:
            yield (
                f"{place}.stage",
                f"goes with {codes.STAGED} only, not {found['code']}; leave it out",
            )


def _was_is_another_code(content: Content) -> Found:
    for place, found in _items(content, "findings"):
        if found.get("was") == found["code"]:
            yield (
                f"{place}.was",
                f"{found['code']} is the same code; write what it was called before, "
                "or leave it out",
            )


def _measure_says_something(content: Content) -> Found:
    for place, measure in _items(content, "measures"):
        if not MEASURES.keys() & measure.keys():
            yield place, f"measures nothing; write one of {', '.join(MEASURES)}"


def _same(one: Content, foot: str, claw: str, code: str | None) -> bool:
    """Whether an item is of that place and code; both claws are outer and inner."""
    return (one["foot"], one["code"]) == (foot, code) and claws_overlap(one["claw"], claw)


def _found_or_healed(content: Content) -> Found:
    """The same finding cannot be there and be gone."""
    for place, gone in _items(content, "healed"):
        spot = gone["foot"], gone["claw"], gone["code"]
        if any(_same(found, *spot) for found in content.get("findings", ())):
            yield place, f"{' '.join(spot)} is listed as found too; it is one or the other"


def _was_is_not_listed(content: Content) -> Found:
    """A finding that is called otherwise now is no longer there under its old name."""
    for place, renamed in _items(content, "findings"):
        spot = renamed["foot"], renamed["claw"], renamed.get("was")
        for _, item in _items(content, "findings", "healed"):
            if _same(item, *spot):
                yield (
                    f"{place}.was",
                    f"{item['foot']} {item['claw']} {item['code']} is listed too; "
                    "what is called otherwise now is not also found or healed",
                )
                break


CHECKS: dict[str, tuple[Callable[[Content], Found], ...]] = {
    "bull": (_came_needs_arrived, _born_between),
    "vet-exam": (_again_on_with("deferred"), _semen_fits, _each_part_once),
    "vet-look": (_again_on_with("again"), _place_fits_about, _limb_of_a_joint),
    "body": (_limb_of_a_joint,),
    "check": (_valid_until_with_pass,),
    "mobility": (off_scale,),
    "condition": (off_scale,),
    "feet": (
        _each_foot_once,
        _a_foot_was_tried,
        _only_lifted_feet,
        _claw_fits_code,
        _stage_is_of_dd,
        _was_is_another_code,
        _measure_says_something,
        _found_or_healed,
        _was_is_not_listed,
    ),
}
