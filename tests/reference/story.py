"""What has happened to one bull up to a day, told entry by entry, each rule beside its code.

Days are ordinals.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from .ahead import what_counts
from .found import feet_findings
from .lameness import read_lameness
from .pain import relieves_pain, speaks_of_pain
from .state import Ask, Entry, Look, Part, Sick, Step, Story, day_of
from .values import BEST, FEET, LAME_FROM, WORST


def tell(entries: list[Entry], rules: dict[str, Any], day: int) -> Story:
    """The story of one bull from his entries in their order; later days do not count."""
    story = Story(rules)
    for entry in entries:
        later = day_of(entry["on"]) > day
        story.meets("entry after he left", story.left and not later)
        story.meets("entry of a later day", later)
        # what is said of one who has left is true as well: he may come in again
        if later:
            continue
        chapter = CHAPTERS.get(entry["kind"])
        counts = what_counts(story, entry)
        if chapter is not None and counts is not None:
            story.place += 1
            chapter(story, counts, day_of(entry["on"]))
    read_lameness(story)
    return story


def _bull(story: Story, entry: Entry, day: int) -> None:
    # a field said later overlays the one said earlier
    story.meets("bull said again", story.here)
    if "born" in entry:
        # a day on which he was born takes the place of what was known of it between two days
        story.meets("born on a day that nobody knows", "born_from" in entry)
        story.bull = {name: value for name, value in story.bull.items() if name != "born_from"}
    story.bull = (
        story.bull
        | {"bull": story.bull.get("bull", entry["bull"])}
        | {name: value for name, value in entry.items() if name not in ("bull", "kind", "on", "id")}
    )
    # he is on the board from his booking on
    story.here = True


def _join(story: Story, entry: Entry, day: int) -> None:
    # null takes him out of his group; a worker unless said; his role is kept until said otherwise
    story.group = entry["group"]
    story.role = entry.get("role") or story.role or "worker"


def _moved(story: Story, entry: Entry, day: int) -> None:
    act, reason = entry["act"], entry.get("reason")
    had_left = story.left
    story.left = act == "left" or (had_left and act != "in")
    if act == "out":
        story.meets("out, said twice", story.out)
        story.went_out = story.went_out if story.out else day
        # on hire until he next comes in
        story.on_hire = story.on_hire or reason == "hired"
    story.out = act == "out"
    if act in ("in", "out") and reason == "lame":
        # moved because he is lame: he is lame on either side of the gate
        story.meets("came in lame" if act == "in" else "went out lame")
        within = story.rules["lame.lift"]
        story.steps.append(Step(day, lame=True, feet=FEET, within=within, own_day=True))
    if act != "in":
        return
    story.came_in.append(day)
    # back from hire, whether this line says so or the one that let him out did; or from wherever
    # he was since he left
    if reason == "hired" or story.on_hire or had_left:
        story.meets("in after he left", had_left)
        story.meets("in from hire, said", reason == "hired")
        story.meets("in after he was out hired", story.on_hire and reason != "hired")
        story.back_again = day
    story.on_hire = False


def _mobility(story: Story, entry: Entry, day: int) -> None:
    scale, score, limb = entry["scale"], entry["score"], entry.get("limb")
    carrying = story.walks_on()
    story.meets("walked on a wrap", bool(story.wraps))
    story.meets("walked on a block", bool(story.on_block()))
    lame, worst = score >= LAME_FROM[scale], score == WORST[scale]
    story.scores.append((day, not lame, not carrying))
    if not lame:
        # on a block or a wrap, or while a drug or a block that is off may still work, it says
        # nothing; only what has been told by then is known to work
        masked = day < story.settled()
        hidden = bool(carrying) or masked
        step = Step(day, lame=False, best=score == BEST[scale], hidden=hidden, masked=masked)
        story.steps.append(step)
        return
    story.meets("worst score", worst)
    story.meets("lame on a block or wrap, no limb named", bool(carrying) and not limb)
    # the limb named, else what carries a block or wrap now, else all four
    carried = tuple(foot for foot in FEET if foot in carrying)
    step = Step(
        day,
        lame=True,
        feet=(limb,) if limb else carried or FEET,
        limb=limb,
        within=story.rules["lame.lift_worst" if worst else "lame.lift"],
        own_day=worst or bool(carrying),
        worst=worst,
    )
    story.steps.append(step)


def _incident(story: Story, entry: Entry, day: int) -> None:
    limb, suspect, lame = entry.get("limb"), entry.get("suspect"), entry.get("lame", False)
    ill, fever, within = entry["cause"] == "illness", entry.get("fever"), story.rules["lame.lift"]
    # ill and nothing else is no hurt; a walk, a limb or a place that somebody speaks of is
    if not (ill and not lame and limb is None and suspect is None):
        story.meets("ill and suspected, no more", ill and not lame and not limb)
        story.hurt.append((day, suspect == "back"))
        story.meets("hurt, the back suspected", suspect == "back")
    # ill, or with fever from whatever cause
    if ill or fever:
        _is_ill(story, day)
    kind = " lame" * lame + " limb" * bool(limb) + " fever" * bool(fever)
    story.meets(f"incident {entry['cause']}{kind}")
    # a limb that is spoken of goes up, lame or not; where a foot is suspected and nobody says
    # which, all four do
    # (what is put down to shoulder or stifle often sits in the foot)
    in_a_limb = suspect in ("foot", "shoulder", "stifle")
    story.meets(f"{suspect} suspected, not which", not limb and in_a_limb)
    spoken_of = (limb,) if limb else FEET if in_a_limb else ()
    story.asks += [Ask(foot, day, day + within, day) for foot in spoken_of]
    if lame:
        feet = (limb,) if limb else FEET
        story.steps.append(Step(day, True, feet, limb, within, own_day=True))


def _is_ill(story: Story, day: int) -> None:
    story.ill.append(day)
    story.ill_told = story.place


def _block_on(story: Story, entry: Entry, day: int) -> None:
    # a new block starts over, and what the old one on that claw left to do is gone
    place = entry["foot"], entry["claw"]
    story.meets("block fitted again", place in story.blocks)
    story.blocks[place] = ("on", day)


def _block_off(story: Story, entry: Entry, day: int) -> None:
    place = entry["foot"], entry["claw"]
    on = story.blocks.get(place, ("off", 0))[0] == "on"
    # of what comes off, nobody need have written that it was on
    story.meets("block off with none on", not on)
    story.meets("block lost" if entry.get("lost") else "block off", on)
    story.blocks[place] = ("off", day)


def _condition(story: Story, entry: Entry, day: int) -> None:
    low, high = story.rules["condition.hold"][entry["scale"]]
    story.conditions.append((day, low <= entry["score"] <= high))


def _exam(story: Story, entry: Entry, day: int) -> None:
    story.exams.append(entry)
    seen = entry.get("feet_seen", False)
    # a vet who examines him and sees his feet has looked at them
    if seen:
        story.looks.append(Look(day, story.place, "feet", "exam", "seen"))
    if entry["outcome"] != "satisfactory":
        return
    # a good examination ends a vet's no of an earlier day, as to feet and walk only where he saw
    # the feet
    left = [u for u in story.unfit if u.day == day or (u.matter == "feet" and not seen)]
    same = [u for u in left if u.day == day and (u.matter != "feet" or seen)]
    story.meets("examined on the day of the unfit", bool(same))
    story.meets("unfit ended by an examination", len(left) < len(story.unfit))
    _unfit_ends(story, left, day)
    story.well_told = story.place
    for part in list(story.body):
        # and it ends what was wrong with his body before it
        story.meets("body ended by an examination")
        _body_ends(story, part, day)


def _vet_look(story: Story, entry: Entry, day: int) -> None:
    about, again_on = entry["about"], entry.get("again_on")
    look = Look(
        day,
        story.place,
        "feet" if about in ("foot", "lame") else about,
        about,
        entry["outcome"],
        entry.get("foot"),
        entry.get("part"),
        entry.get("limb"),
        day_of(again_on) if again_on else None,
    )
    story.looks.append(look)
    if about == "illness":
        # unless the vet says that he is fit, he is ill
        if look.outcome == "fit":
            story.well_told = story.place
        else:
            _is_ill(story, day)
    named = "foot" if look.foot else "limb" if look.limb else "part" if look.part else "all"
    story.meets(f"vet-look {about} {look.outcome} {named}")
    if look.outcome == "unfit":
        story.unfit.append(look)
    if look.outcome != "fit":
        return
    # only a fit about the same, of all or of just that place, on a later day takes a vet's no away
    about_it = [u for u in story.unfit if u.matter == look.matter and look.answers(u.names)]
    left = [u for u in story.unfit if u not in about_it or u.day == day]
    story.meets("fit on the day of the unfit", any(u.day == day for u in about_it))
    story.meets("unfit ended by a look", len(left) < len(story.unfit))
    story.meets("fit, yet unfit stands", bool(left))
    _unfit_ends(story, left, day)
    # a vet's fit ends what it names, or everything where it names nothing; a joint goes with its
    # limb
    for part in list(story.body):
        if about == "body" and (look.part is None or (look.part, look.limb) == part):
            story.meets("body ended by a look")
            _body_ends(story, part, day)


def _unfit_ends(story: Story, left: list[Look], day: int) -> None:
    """A vet's no ended, but for what is ``left``."""
    ended = [look for look in story.unfit if look not in left]
    story.unfit = left
    if any(look.in_his_walk for look in ended):
        story.meets("unfit ended, as to his walk")
        story.unfit_ended.append(day)


def _body(story: Story, entry: Entry, day: int) -> None:
    # wrong opens that part, at a joint for that limb; right is no vet's word and closes nothing
    part: Part = entry["part"], entry.get("limb")
    story.meets(f"body {entry['part']} {entry['state']}" + " limb" * ("limb" in entry))
    story.meets("right, yet wrong stands", entry["state"] == "right" and part in story.body)
    if entry["state"] == "wrong" and part not in story.body:
        story.body[part] = Sick(part, day, story.place)


def _body_ends(story: Story, part: Part, day: int) -> None:
    # a walk from before this day does not show that joint or back
    del story.body[part]
    if part[0] in ("joint", "back"):
        story.body_ended.append(day)


def _treatment(story: Story, entry: Entry, day: int) -> None:
    known, said = speaks_of_pain(entry), entry.get("pain_relief")
    story.meets("pain relief known by a word", known and said is None)
    story.meets("pain word, but said to be none", known and said is False)
    if relieves_pain(entry):
        story.pain.append(day)


def _own(story: Story, entry: Entry, day: int) -> None:
    said = story.own.setdefault(entry["check"].casefold(), [])
    story.meets("own check: a fail after a pass", entry["result"] == "fail" and bool(said))
    other = [result for then, result, _ in said if then == day and result != entry["result"]]
    story.meets("own check: failed and passed on a day", bool(other))
    until = entry.get("valid_until")
    said.append((day, entry["result"], None if until is None else day_of(until)))


def _feet(story: Story, entry: Entry, day: int) -> None:
    story.lifts += [(day, foot) for foot in entry.get("lifted", [])]
    story.refused += [(day, foot) for foot in entry.get("refused", [])]
    story.meets("only refused", not entry["lifted"])
    if any(work["act"] in ("trim", "pare") for work in entry.get("work", [])):
        story.trims.append(day)
    for foot in entry.get("lifted", []):
        acts = {work["act"] for work in entry.get("work", []) if work["foot"] == foot}
        _wraps(story, foot, acts, day)
    feet_findings(story, entry, day)


def _wraps(story: Story, foot: str, acts: set[str], day: int) -> None:
    # a wrap stays until that foot goes up on another day or somebody takes it off; wrapped anew, it
    # is on
    if foot in story.wraps and (story.wraps[foot] < day or "unwrap" in acts):
        story.meets("unwrapped the same day", story.wraps[foot] == day)
        story.meets("wrap off by a later lift", story.wraps[foot] < day and "unwrap" not in acts)
        del story.wraps[foot]
        story.unwrapped.append(day)
    elif "unwrap" in acts:
        # it came off, though nobody wrote that it was on
        story.meets("unwrapped with no wrap on")
        story.unwrapped.append(day)
    story.meets("wrap left by a lift of the same day", foot in story.wraps and "wrap" not in acts)
    if "wrap" in acts:
        story.meets("wrap and unwrap in one entry", "unwrap" in acts)
        story.wraps[foot] = day


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
    "body": _body,
    "treatment": _treatment,
    "check": _own,
    "feet": _feet,
}
