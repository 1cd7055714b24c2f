"""What has happened to one bull up to a day, told entry by entry, each rule beside its code.

Days are ordinals.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from .found import feet_findings
from .state import Ask, Entry, Look, Part, Run, Sick, Story, day_of
from .values import BEST, FEET, FIGURES, LAME_FROM, PAIN_WORDS, WORST


def tell(entries: list[Entry], rules: dict[str, Any], day: int) -> Story:
    """The story of one bull from his entries in their order; later days do not count."""
    story = Story(rules)
    for entry in entries:
        # nothing counts that comes after he left
        if story.left or day_of(entry["on"]) > day:
            story.meets("entry after he left", story.left)
            story.meets("entry of a later day", not story.left)
            continue
        chapter = CHAPTERS.get(entry["kind"])
        if chapter is not None:
            story.place += 1
            chapter(story, entry, day_of(entry["on"]))
    return story


def _bull(story: Story, entry: Entry, day: int) -> None:
    # a field said later overlays the one said earlier
    story.meets("bull said again", story.here)
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
    story.left = act == "left"
    if act == "out":
        story.meets("out, said twice", story.out)
        story.went_out = story.went_out if story.out else day
        # on hire until he next comes in
        story.on_hire = story.on_hire or reason == "hired"
        # taken out because he is lame: he is lame wherever he goes
        if reason == "lame":
            story.meets("went out lame")
            _lame(story, day, FEET, story.rules["lame.lift"], own_day=True)
    story.out = act == "out"
    if act != "in":
        return
    story.came_in.append(day)
    # back from hire, whether this line says so or the one that let him out did
    if reason == "hired" or story.on_hire:
        story.meets("in from hire, said" if reason == "hired" else "in after he was out hired")
        story.back_from_hire = day
    story.on_hire = False
    # coming in because he is lame is a lame event
    if reason == "lame":
        story.meets("came in lame")
        _lame(story, day, FEET, story.rules["lame.lift"], own_day=True)


def _lame(
    story: Story, day: int, feet: tuple[str, ...], within: int, own_day: bool = False
) -> None:
    # a first lame event opens a run; any lame event undoes a mild day
    run = story.run
    if run is None:
        run = story.run = Run(day, day, day)
    elif run.mild is not None:
        # an ask reaches back to the run's first day, after a mild day only to the first lame event
        # since
        story.meets("lame again after a mild day")
        run.asks_from, run.mild = day, None
    run.last_event = day
    # what wants a fresh lift asks from its own day: nothing before will do; nor does any lift of
    # long ago
    since = day if own_day else max(run.asks_from, day - story.rules["lame.long"])
    story.meets("lame event that asks no further back", run.asks_from < since < day)
    story.meets("lame event that asks from an earlier day", since < day)
    for foot in feet:
        run.asked.append((day, foot))
        story.asks.append(Ask(foot, since, day + within, day))


def _mobility(story: Story, entry: Entry, day: int) -> None:
    scale, score = entry["scale"], entry["score"]
    lame, carrying = score >= LAME_FROM[scale], story.walks_on()
    # sound on a block or a wrap says nothing
    story.meets("walked on a wrap", bool(story.wraps))
    story.meets("walked on a block", bool(story.on_block()))
    story.scores.append((day, not lame, not carrying))
    if not lame:
        if not carrying:
            _sound(story, day, score == BEST[scale])
        return
    worst = score == WORST[scale]
    story.meets("worst score", worst)
    # the limb named, else what carries a block or wrap now, else all four
    if "limb" in entry:
        feet: tuple[str, ...] = (entry["limb"],)
    elif carrying:
        feet = tuple(foot for foot in FEET if foot in carrying)
        story.meets("lame on a block or wrap, no limb named")
    else:
        feet = FEET
    within = story.rules["lame.lift_worst" if worst else "lame.lift"]
    # worst, on a block or wrap, or of a limb that this lameness has not been about before
    asked = {foot for _, foot in story.run.asked} if story.run else set()
    fresh = "limb" in entry and entry["limb"] not in asked
    story.meets("lame of another limb", bool(asked) and fresh)
    _lame(story, day, feet, within, own_day=worst or bool(carrying) or fresh)
    if worst and story.run:
        story.worst_scores.append((day, story.run))


def _sound(story: Story, day: int, best: bool) -> None:
    """A sound score that counts: whether it ends the run, or is its mild day."""
    run, again = story.run, story.rules["mobility.again"]
    if run is None:
        return
    if day < run.last_event + again:
        story.meets("sound too soon")
        return
    # nor does a walk say anything while a drug or a block may still hide lameness
    if day < story.settled():
        story.meets("sound, but masked")
        return
    # over with the best score, or with two sound ones far enough apart: he walks so by nature
    if best or (run.mild is not None and day >= run.mild + again):
        story.meets("sound: the best ends the run" if best else "sound: mild twice ends the run")
        story.run = None
    elif run.mild is None:
        # sound, though not the best, for the first time
        story.meets("mild day")
        run.mild = day
    else:
        story.meets("mild again too soon")


def _incident(story: Story, entry: Entry, day: int) -> None:
    limb, lame, ill = entry.get("limb"), entry.get("lame", False), entry["cause"] == "illness"
    # hurt by anything but an illness alone, where neither walk nor limb nor place is suspected
    suspect = entry.get("suspect")
    if not ill or lame or limb or suspect:
        story.meets("ill and suspected, no more", ill and not lame and not limb)
        story.hurt.append((day, suspect == "back"))
        story.meets("hurt, the back suspected", suspect == "back")
    # ill, or with fever from whatever cause
    if ill or entry.get("fever", False):
        story.ill.append(day)
        story.ill_still = True
    kind = " lame" * lame + " limb" * bool(limb) + " fever" * entry.get("fever", False)
    story.meets(f"incident {entry['cause']}{kind}")
    # a limb that somebody suspects is lifted, lame or not
    # so are all four, where a foot is suspected and nobody says which
    suspected = (limb,) if limb else FEET if suspect == "foot" else ()
    story.meets("a foot suspected, not which", not limb and suspect == "foot")
    for foot in suspected:
        story.asks.append(Ask(foot, day, day + story.rules["lame.lift"], day))
    if lame:
        _lame(story, day, (limb,) if limb else FEET, story.rules["lame.lift"], own_day=True)


def _block_on(story: Story, entry: Entry, day: int) -> None:
    # a new block starts over, and what the old one on that claw left to do is gone
    place = entry["foot"], entry["claw"]
    story.meets("block fitted again", place in story.blocks)
    story.blocks[place] = ("on", day)


def _block_off(story: Story, entry: Entry, day: int) -> None:
    # taking off what is not on is kept and does nothing
    place = entry["foot"], entry["claw"]
    on = story.blocks.get(place, ("off", 0))[0] == "on"
    story.meets("block off with none on", not on)
    if on:
        story.meets("block lost" if entry.get("lost") else "block off")
        story.blocks[place] = ("off", day)


def _condition(story: Story, entry: Entry, day: int) -> None:
    low, high = story.rules["condition.hold"][entry["scale"]]
    story.conditions.append((day, low <= entry["score"] <= high))


def _exam(story: Story, entry: Entry, day: int) -> None:
    before = _figures_before(story, day)
    story.exams.append(before | entry)
    given = {figure: entry[figure] for figure in FIGURES if figure in entry}
    if entry["outcome"] != "satisfactory":
        # what was handed on is handed on, unless it was measured again
        story.doubted = {name: value for name, value in before.items() if name not in given}
    else:
        story.doubted = {} if entry.get("stands", False) else before | given
    story.meets("a figure taken over", len(story.exams[-1]) > len(entry))
    seen = entry.get("feet_seen", False)
    # a vet who examines him and sees his feet has looked at them
    if seen:
        story.looks.append(Look(day, story.place, "feet", "exam", "seen"))
    if entry["outcome"] != "satisfactory":
        return
    # a good examination ends a vet's no, as to feet and walk only where he saw the feet
    story.meets("unfit ended by an examination", bool(story.unfit))
    story.unfit = [look for look in story.unfit if look.matter == "feet" and not seen]
    story.ill_still = False
    for part in list(story.body):
        # and it ends what was wrong with his body before it
        story.meets("body ended by an examination")
        _body_ends(story, part, day)


def _figures_before(story: Story, day: int) -> Entry:
    """The figures that an examination on ``day`` takes over where it does not give them."""
    # "satisfactory" said again does not make a low figure of the one before go away
    if not story.exams or day - day_of(story.exams[-1]["on"]) > story.rules["vet.oldest"]:
        return {}
    return dict(story.doubted)


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
    if about == "illness" and entry["outcome"] == "fit":
        story.ill_still = False
    named = "foot" if look.foot else "limb" if look.limb else "part" if look.part else "all"
    story.meets(f"vet-look {about} {look.outcome} {named}")
    if look.outcome == "unfit":
        story.unfit.append(look)
    if look.outcome != "fit":
        return
    # only a fit about the same, of all or of just that place, takes a vet's no away
    left = [u for u in story.unfit if u.matter != look.matter or not look.answers(u.names)]
    story.meets("unfit ended by a look", len(left) < len(story.unfit))
    story.meets("fit, yet unfit stands", bool(left))
    story.unfit = left
    # a vet's fit ends what it names, or everything where it names nothing; a joint goes with its
    # limb
    for part in list(story.body):
        if about == "body" and (look.part is None or (look.part, look.limb) == part):
            story.meets("body ended by a look")
            _body_ends(story, part, day)


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
    # said to be pain relief, or not said either way and named by a known word
    words = [letters(entry["product"]), letters(entry.get("reason") or "")]
    known = any(letters(word) in said for word in PAIN_WORDS for said in words)
    # the bare word is one by itself: paint is none
    told = f"{entry['product']} {entry.get('reason') or ''}".casefold()
    parted = "".join(mark if mark.isalpha() else " " for mark in told)
    known = known or "pain" in parted.split()
    story.meets("pain relief known by a word", known and "pain_relief" not in entry)
    story.meets("pain word, but said to be none", known and entry.get("pain_relief") is False)
    if entry.get("pain_relief", known):
        story.pain.append(day)


def letters(text: str) -> str:
    # "Pain-killer", "pain killer" and "painkiller" are one word
    return "".join(sign for sign in text.casefold() if sign.isalnum())


def _own(story: Story, entry: Entry, day: int) -> None:
    said = story.own.setdefault(entry["check"].casefold(), [])
    story.meets("own check: a fail after a pass", entry["result"] == "fail" and bool(said))
    said.append((day, entry["result"]))


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
