"""What is written of a look before its own day: nobody can have seen it.

An entry says on which day it was ``recorded`` (that day in UTC) where that is not its own. Written
longer before its day than the rules allow for clocks of other time zones, a lift, a block off, a
walk, a condition score, an examination, a vet's look or a test clears nothing; what it finds wrong
counts all the same.
"""

from __future__ import annotations

from collections.abc import Callable

from .spots import keys
from .state import Entry, Story, day_of
from .values import LAME_FROM


def recorded(entry: Entry) -> int:
    return day_of(entry["recorded"] if "recorded" in entry else entry["on"])


def what_counts(story: Story, entry: Entry) -> Entry | None:
    """The entry, what is left of one that was written ahead, or None where nothing is."""
    if day_of(entry["on"]) - recorded(entry) <= story.rules["seen.ahead"]:
        return entry
    kind = entry["kind"]
    if kind == "feet":
        return _found_wrong(story, entry)
    left: dict[str, Callable[[], bool]] = {
        # the block is on until somebody has seen it off
        "block-off": lambda: False,
        "mobility": lambda: entry["score"] >= LAME_FROM[entry["scale"]],
        "condition": lambda: not _within(story, entry),
        # one that failed stands; else one that did not pass takes the place of the last
        "vet-exam": lambda: entry["outcome"] != "satisfactory" and not _failed(story),
        "vet-look": lambda: entry["outcome"] != "fit",
        "check": lambda: entry["result"] == "fail",
    }
    if kind not in left:  # nobody has to see what it says
        return entry
    wrong = left[kind]()
    story.meets(f"written ahead: {kind}", not wrong)
    story.meets(f"written ahead, wrong: {kind}", wrong)
    if not wrong:
        return None
    if kind == "vet-exam":  # neither figures nor feet were seen
        said = ("kind", "on", "bull", "outcome", "again_on")
        return {name: entry[name] for name in said if name in entry}
    return entry


def _within(story: Story, entry: Entry) -> bool:
    low, high = story.rules["condition.hold"][entry["scale"]]
    return bool(low <= entry["score"] <= high)


def _failed(story: Story) -> bool:
    return bool(story.exams) and story.exams[-1]["outcome"] == "unsatisfactory"


def _found_wrong(story: Story, entry: Entry) -> Entry:
    """Of a lift: what was found that holds, where it does not hold already."""

    def holds_already(foot: str, claw: str, code: str) -> bool:
        known = story.open.get((foot, claw, code))
        return known is not None and known.holds

    wrong = []
    for item in entry.get("findings", []):
        row = story.rules["findings"][item["code"]]
        for foot, claw, code in keys(item):
            if row.holds(item.get("severity"), item.get("stage")):
                more = {name: item[name] for name in item if name != "was"}
                if not holds_already(foot, claw, code):
                    wrong.append(more | {"claw": claw})
    thin = [
        measure | {"claw": claw}
        for measure in entry.get("measures", [])
        if "sole_mm" in measure
        for foot, claw, code in keys(measure, "TS")
        if not holds_already(foot, claw, code)
    ]
    story.meets("written ahead: feet")
    story.meets("written ahead, wrong: feet", bool(wrong))
    return {
        "kind": "feet",
        "on": entry["on"],
        "lifted": [],
        "refused": entry.get("refused", []),
        "findings": wrong,
        "measures": thin,
    }
