"""What has happened to one bull up to a day, told entry by entry, each sentence beside its code.

Days are ordinals. Quotations are from the specification of the assessment.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from .found import feet_findings
from .state import Entry, Event, Run, Story, day_of
from .values import FEET, LAME_FROM, WORST


def tell(entries: list[Entry], rules: dict[str, Any], day: int) -> Story:
    """The story of one bull from his entries in their order; later days do not count."""
    story = Story(rules)
    for entry in entries:
        # "entries after `left` change nothing"
        if story.left or day_of(entry["on"]) > day:
            continue
        chapter = CHAPTERS.get(entry["kind"])
        if chapter is not None:
            chapter(story, entry, day_of(entry["on"]))
    return story


def _bull(story: Story, entry: Entry, day: int) -> None:
    # "said again, later fields replace earlier"
    story.bull = (
        story.bull
        | {"bull": story.bull.get("bull", entry["bull"])}
        | {name: value for name, value in entry.items() if name not in ("bull", "kind", "on", "id")}
    )
    # "a bull is on the board from the day of his first `bull` entry"
    story.here = True


def _join(story: Story, entry: Entry, day: int) -> None:
    # "group* or null to take him out, role (first time worker; later kept unless said)"
    story.group = entry["group"]
    story.role = entry.get("role") or story.role or "worker"


def _moved(story: Story, entry: Entry, day: int) -> None:
    story.left = entry["act"] == "left"
    story.out = entry["act"] == "out"
    if entry["act"] == "in":
        story.came_in.append(day)
        # "or coming in (`moved` in) with reason lame"
        if entry.get("reason") == "lame":
            _lame(story, day, FEET, story.rules["lame.lift"])


def _lame(story: Story, day: int, feet: tuple[str, ...], within: int) -> None:
    # "A run of lameness begins with a lame event"
    if story.run is None:
        story.run = Run([])
    story.run.events.append(Event(day, feet, within))


def _mobility(story: Story, entry: Entry, day: int) -> None:
    lame = entry["score"] >= LAME_FROM[entry["scale"]]
    blocked = story.on_block()
    # "Taken while a block is on, a sound score does not count"
    story.scores.append((day, not lame, not blocked))
    if not lame:
        # "ends with a sound score that counts, mobility.again or more after its last lame event"
        if story.run and not blocked and day >= story.run.last + story.rules["mobility.again"]:
            story.run = None
        return
    worst = entry["score"] == WORST[entry["scale"]]
    if worst:
        story.worst_scores.append(day)
    # "a lame event of the open run asks for its limb; where none is named for the blocked feet if
    # it is a score under a block, else for all four"
    if "limb" in entry:
        feet: tuple[str, ...] = (entry["limb"],)
    elif blocked:
        feet = tuple(foot for foot in FEET if foot in {foot for foot, _ in blocked})
    else:
        feet = FEET
    _lame(story, day, feet, story.rules["lame.lift_worst" if worst else "lame.lift"])


def _incident(story: Story, entry: Entry, day: int) -> None:
    limb, lame = entry.get("limb"), entry.get("lame", False)
    # "**Hurt** is an incident by fight or fall, or lame, or with a limb."
    if entry["cause"] in ("fight", "fall") or lame or limb:
        story.hurt.append(day)
    # "**Illness** is an incident by illness or with fever."
    if entry["cause"] == "illness" or entry.get("fever", False):
        story.ill.append(day)
    # "an incident with a limb for that limb from its day"
    if limb:
        story.limb_asks.append((day, limb))
    if lame:
        _lame(story, day, (limb,) if limb else FEET, story.rules["lame.lift"])


def _block_on(story: Story, entry: Entry, day: int) -> None:
    # "fitting again renews"; "Fitting again on that claw takes an older block-look and
    # block-off's settling away."
    story.blocks[entry["foot"], entry["claw"]] = ("on", day)


def _block_off(story: Story, entry: Entry, day: int) -> None:
    # "a block-off with no block on [...] changes nothing"
    place = entry["foot"], entry["claw"]
    if story.blocks.get(place, ("off", 0))[0] == "on":
        story.blocks[place] = ("off", day)


def _condition(story: Story, entry: Entry, day: int) -> None:
    low, high = story.rules["condition.hold"][entry["scale"]]
    story.conditions.append((day, low <= entry["score"] <= high))


def _exam(story: Story, entry: Entry, day: int) -> None:
    story.exams.append(entry)
    # "a vet's look (entry `vet-look` about foot or lame, or `vet-exam` with `feet_seen`)"
    if entry.get("feet_seen", False):
        story.vet_looks.append((day, None))


def _vet_look(story: Story, entry: Entry, day: int) -> None:
    if entry["about"] in ("foot", "lame"):
        story.vet_looks.append((day, entry.get("foot")))


def _treatment(story: Story, entry: Entry, day: int) -> None:
    if entry.get("pain_relief", False):
        story.pain.append(day)


def _own(story: Story, entry: Entry, day: int) -> None:
    story.own.setdefault(entry["check"], []).append((day, entry["result"]))


def _feet(story: Story, entry: Entry, day: int) -> None:
    story.lifts += [(day, foot) for foot in entry.get("lifted", [])]
    if any(work["act"] in ("trim", "pare") for work in entry.get("work", [])):
        story.trims.append(day)
    feet_findings(story, entry, day)


CHAPTERS: dict[str, Callable[[Story, Entry, int], None]] = {
    "bull": _bull,
    "join": _join,
    "moved": _moved,
    "mobility": _mobility,
    "incident": _incident,
    "block-on": _block_on,
    "block-off": _block_off,
    "condition": _condition,
    "vet-exam": _exam,
    "vet-look": _vet_look,
    "treatment": _treatment,
    "check": _own,
    "feet": _feet,
}
