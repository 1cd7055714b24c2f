"""Fields that must fit each other within one entry.

Nothing here looks at other entries: whether a line is valid never depends on what the book holds,
so that a merge or a strike cannot make it wrong. Each check takes an entry whose shape stands and
gives (field, text) pairs.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from readiness.trade import codes, scales
from readiness.trade.body import JOINT
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


def _again_on_with(outcome: str) -> Callable[[Content], Found]:
    def check(content: Content) -> Found:
        if "again_on" in content and content["outcome"] != outcome:
            yield "again_on", f"goes with {outcome} only, not {content['outcome']}; leave it out"

    return check


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
        yield "score", f"{score} is not on the scale {scale.id}; write {scale.range_words}"


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


def _only_lifted_feet(content: Content) -> Found:
    """What was seen or done on a foot was seen or done with that foot up."""
    for key in ("findings", "healed", "work", "measures"):
        for index, item in enumerate(content.get(key, [])):
            if item["foot"] not in content["lifted"]:
                yield (
                    f"{key}[{index}].foot",
                    f"{item['foot']} is not among the lifted feet; add it to lifted",
                )


def _claw_fits_code(content: Content) -> Found:
    for key in ("findings", "healed"):
        for index, item in enumerate(content.get(key, [])):
            fitting = codes.claw_words(item["code"])
            if item["claw"] not in fitting:
                yield (
                    f"{key}[{index}].claw",
                    f"{item['claw']} does not fit {item['code']} "
                    f"({codes.CODES[item['code']].name}); write {' or '.join(fitting)}",
                )


def _stage_is_of_dd(content: Content) -> Found:
    for index, finding in enumerate(content.get("findings", [])):
        if "stage" in finding and finding["code"] != "DD":
            yield (
                f"findings[{index}].stage",
                f"goes with DD only, not {finding['code']}; leave it out",
            )


def _was_is_another_code(content: Content) -> Found:
    for index, finding in enumerate(content.get("findings", [])):
        if finding.get("was") == finding["code"]:
            yield (
                f"findings[{index}].was",
                f"{finding['code']} is the same code; write what it was called before, "
                "or leave it out",
            )


def _measure_says_something(content: Content) -> Found:
    for index, measure in enumerate(content.get("measures", [])):
        if not MEASURES.keys() & measure.keys():
            yield f"measures[{index}]", f"measures nothing; write one of {', '.join(MEASURES)}"


def _found_or_healed(content: Content) -> Found:
    """The same finding cannot be there and be gone; both claws are outer and inner."""
    for index, gone in enumerate(content.get("healed", [])):
        for found in content.get("findings", []):
            same = (found["foot"], found["code"]) == (gone["foot"], gone["code"])
            if same and claws_overlap(found["claw"], gone["claw"]):
                yield (
                    f"healed[{index}]",
                    f"{gone['foot']} {gone['claw']} {gone['code']} is listed as found too; "
                    "it is one or the other",
                )
                break


def _was_is_not_listed(content: Content) -> Found:
    """A finding that is called otherwise now is no longer there under its old name."""
    found = content.get("findings", [])
    for index, renamed in enumerate(found):
        for item in (*found, *content.get("healed", [])):
            same = (item["foot"], item["code"]) == (renamed["foot"], renamed.get("was"))
            if same and claws_overlap(item["claw"], renamed["claw"]):
                yield (
                    f"findings[{index}].was",
                    f"{renamed['foot']} {item['claw']} {item['code']} is listed too; "
                    "what is called otherwise now is not also found or healed",
                )
                break


CHECKS: dict[str, tuple[Callable[[Content], Found], ...]] = {
    "bull": (_came_needs_arrived,),
    "vet-exam": (_again_on_with("deferred"),),
    "vet-look": (_again_on_with("again"), _place_fits_about, _limb_of_a_joint),
    "body": (_limb_of_a_joint,),
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
