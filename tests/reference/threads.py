"""What happens to a bull, as threads of entries whose days are the rules' own numbers.

Each thread is one story: a finding and its looks, a block and its going off, a lameness. Days may
fall after the day of assessment; they must not count then.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from .feet_threads import FEET_THREADS, FEET_WEIGHTS, seen_foot, spot
from .maker import Entry, Maker, iso
from .spot_threads import SPOT_THREADS, SPOT_WEIGHTS
from .state import day_of
from .values import FEET
from .vet_threads import VET_THREADS, VET_WEIGHTS, figures

DRUGS = (
    *("a drug", "Meloxicam 20 mg", "NSAIDs", "a drench", "Ketoprofen", "Analgesic mix"),
    *("Xylazine 2 %", "hydrocortisone"),
)
REASONS = (
    "for the pain: a Pain-Killer",
    "worms",
    "an anti inflammatory",
    "painkilling",
    "nerve block",
)

OWN_NAMES = ("bvd-test", "ring-check", "blood-test", "hire-check", "lab-test")


def prepared(make: Maker, turnout: int) -> list[Entry]:
    """All that turnout asks for, each mostly in its window, sometimes a day out of it."""
    rng, told = make.rng, []

    def day(oldest: int, settle: int = 0) -> int:
        first, last = turnout - oldest, make.today - settle
        inside = rng.randint(min(first, last), last)
        return rng.choice((*(inside,) * 10, first, first - 1, last))

    lifted = day(120, rng.choice((0, 2, 20)))
    told.append(make.entry("feet", lifted, lifted=list(FEET), work=make.work("LH")))
    if not told[0]["work"]:
        del told[0]["work"]
    walk = day(14)
    told += [make.score(walk, "sound"), *_before_the_walk(make, walk)]
    told.append(make.condition(day(30), inside=True))
    exam = make.entry("vet-exam", day(60), outcome="satisfactory")
    if make.maybe(0.3):
        exam |= {"scrotum_cm": 38, "motility_pct": 65, "normal_pct": 78, "feet_seen": True}
    elif make.maybe(0.3):
        exam |= figures(make)
    told.append(exam)
    if make.maybe(0.15):  # ill, and examined just long enough after it or a day short
        ill = make.before(day_of(exam["on"]), 14)
        told.append(make.entry("incident", ill, cause="illness"))
    for name, oldest in (("bvd-test", 30), ("blood-test", 90), ("lab-test", 45)):
        if make.maybe(0.94):
            passed = make.entry("check", day(oldest), check=name, result="pass")
            if make.maybe(0.2):
                passed["valid_until"] = iso(turnout + rng.choice((0, 0, 1, -1)))
            told.append(passed)
    for name in ("ring-check", "hire-check"):
        if make.maybe(0.25):
            told.append(make.entry("check", day(60), check=name, result="pass"))
    rng.shuffle(told)
    return told


def _before_the_walk(make: Maker, walk: int) -> list[Entry]:
    """Now and then what a walk must settle after, just long enough before it or a day short."""
    rng, foot = make.rng, make.rng.choice(FEET)
    pared = [{"foot": foot, "act": rng.choice(("trim", "pare"))}]
    near, week = make.before(walk, 1, 2, 2, 3, 3), make.before(walk, 7)
    same = walk + make.wobble()
    wrapped = {"lifted": [foot], "work": [{"foot": foot, "act": "wrap"}]}
    drug = {"given_by": "vet", "product": rng.choice(DRUGS)}
    happened: tuple[list[Entry], ...] = (
        [make.entry("treatment", week, **drug, pain_relief=True)],
        [make.entry("treatment", week, **drug, reason=rng.choice(REASONS))],
        [make.entry("feet", near, lifted=[foot], work=pared)],
        [make.entry("incident", near, cause=rng.choice(("fall", "transport", "other")))],
        [make.entry("incident", week, cause="fight", suspect="back")],
        [make.entry("moved", same, act="in", reason="rested")],
        [
            make.entry("feet", walk - 3, **wrapped),
            make.entry("feet", same, lifted=[foot]),
        ],
        [
            make.entry("body", walk - 9, part="back", state="wrong"),
            make.entry("vet-look", same, about="body", outcome="fit"),
        ],
        [
            make.entry("block-on", walk - 50, foot=foot, claw="outer"),
            make.entry("block-off", week, foot=foot, claw="outer"),
            make.entry("feet", rng.choice((week, near, same)), lifted=[foot]),
        ],
        [
            make.feet(walk - 30, [foot], findings=[spot(make, foot, "outer", "SU")]),
            make.feet(same, [foot], healed=[{"foot": foot, "claw": "outer", "code": "SU"}]),
        ],
    )
    kind = rng.randrange(2 * len(happened))
    return happened[kind] if kind < len(happened) else []


def lame(make: Maker) -> list[Entry]:
    """Lame, lifted or refused, seen by the vet, walked sound too soon or in time, mild twice."""
    rng, day = make.rng, make.ago(1, 2, 7, 14, 15, 21, 35, 120)
    told = [make.score(day, rng.choice(("lame", "lame", "worst")))]
    if make.maybe(0.15):
        told = [make.entry("moved", day, act="in", reason="lame")]
    while make.maybe(0.8) and len(told) < 7:
        kind = rng.random()
        day = make.after(day, 0, 1, 2, 6, 7, 7, 7, 14)
        limb = told[0].get("limb")
        if kind < 0.3:
            feet = [limb] if limb and make.maybe(0.7) else list(FEET)
            told.append(make.feet(day, feet))
            if make.maybe(0.4):
                code = rng.choice(("HHE", "CC", "CC", "SH", "WLF", "AC"))
                told[-1]["findings"] = [spot(make, feet[0], "outer", code)]
            elif make.maybe(0.2):
                code = rng.choice(("CC", "SH", "SU", "AC"))
                told[-1]["healed"] = [{"foot": feet[0], "claw": "outer", "code": code}]
        elif kind < 0.4:
            told.append(make.entry("feet", day, lifted=[], refused=[limb or rng.choice(FEET)]))
        elif kind < 0.7:
            told.append(make.score(day, rng.choice(("mild", "mild", "best", "sound"))))
        elif kind < 0.85:
            told.append(seen_foot(make, day, limb or rng.choice(FEET)))
        else:
            told.append(make.score(day, rng.choice(("lame", "lame", "worst"))))
    return told


def mild(make: Maker) -> list[Entry]:
    """Lame, then sound but not the best, a week on and a week on; lame again in between."""
    rng, day = make.rng, make.ago(7, 14, 15, 21)
    told = [make.score(day, "lame")]
    for kind in ("mild", rng.choice(("mild", "mild", "lame")), "mild"):
        day = make.after(day, 7)
        told.append(make.score(day, kind))
    if make.maybe(0.5):
        told.insert(rng.randint(1, 3), make.feet(day, [told[0].get("limb", "LF")]))
    return told


def masked(make: Maker) -> list[Entry]:
    """Lame; a drug, or a block that comes off, and a walk before and after it has settled."""
    rng, foot, day = make.rng, make.rng.choice(FEET), make.ago(14, 15, 21, 28)
    told = [make.score(day, "lame")]
    block = make.entry("block-on", day - 30, foot=foot, claw="outer")
    drug = make.entry("treatment", day, given_by="vet", product=rng.choice(DRUGS))
    hides = rng.choice(([drug], [drug], [block, block | {"kind": "block-off"}]))
    off = make.after(day, 0, 1, 3, 7)
    hides[-1]["on"] = iso(off)
    told += [*hides, make.feet(make.after(off, 1), list(FEET))]
    for kind in rng.choices(("mild", "best", "sound", "lame"), k=3):
        told.append(make.score(make.after(off, 6, 7, 7), kind))
        off = make.after(off, 0, 7)
    return told


def limbs(make: Maker) -> list[Entry]:
    """One lameness of several limbs, long, by walks and otherwise; lifts in between."""
    rng, day = make.rng, make.ago(15, 21, 28, 29)
    told = [make.score(day, "lame")]
    while make.maybe(0.85) and len(told) < 7:
        day = make.after(day, 0, 1, 2, 7, 13)
        kind = rng.random()
        if kind < 0.45:
            told.append(make.score(day, "lame"))
        elif kind < 0.8:
            told.append(make.feet(day, rng.choice(([rng.choice(FEET)], list(FEET)))))
        elif kind < 0.9:
            told.append(make.entry("incident", day, cause="fall", lame=True))
        else:
            told.append(make.entry("moved", day, act="in", reason="lame"))
    return told


def worst_of_two(make: Maker) -> list[Entry]:
    """Lame on one limb and hardly walking on another; the vet looks at this one or that."""
    rng, day = make.rng, make.ago(2, 3, 7, 14)
    one, two = rng.sample(FEET, 2)
    told = [make.score(day, "lame") | {"limb": one}]
    day = make.after(day, 0, 1, 2)
    told.append(make.score(day, "worst") | {"limb": two})
    if make.maybe(0.6):
        told.append(make.feet(day, [one, two]))
    foot = rng.choice(({"foot": one}, {"foot": one}, {"foot": two}, {}))
    told.append(make.entry("vet-look", make.after(day, 0, 1), about="foot", outcome="fit", **foot))
    return told


def remembered(make: Maker) -> list[Entry]:
    """The worst score, no vet, and sound since: asked for as long as it is remembered."""
    day, limb = make.today - make.rng.choice((119, 120, 121)), make.rng.choice(FEET)
    worst = make.entry("mobility", day, scale="gb0-3", score=3, limb=limb)
    return [worst, make.feet(day + 1, [limb]), make.score(day + 8, "best")]


def incident(make: Maker) -> list[Entry]:
    told = [_incident(make)]
    while make.maybe(0.6) and len(told) < 4:
        told.append(_incident(make))
    return told


def _incident(make: Maker) -> Entry:
    rng = make.rng
    cause = rng.choice(("fight", "fall", "transport", "illness", "illness", "other"))
    entry = make.entry("incident", make.ago(2, 3, 7, 14, 61), cause=cause)
    for flag, chance in (("lame", 0.4), ("fever", 0.4)):
        if make.maybe(chance):
            entry[flag] = make.maybe(0.85)
    if make.maybe(0.4):
        entry["limb"] = rng.choice(FEET)
    if make.maybe(0.5):
        entry["suspect"] = rng.choice(("foot", "shoulder", "stifle", "back", "back", "other"))
    return entry


def condition(make: Maker) -> list[Entry]:
    day = make.ago(21, 30, 35, 36, 51)
    told = [make.condition(day, inside=make.maybe(0.4))]
    if make.maybe(0.6):
        told.append(make.condition(make.after(day, 0, 21, 20), inside=make.maybe(0.7)))
    return told


def moved(make: Maker) -> list[Entry]:
    """In, left and perhaps back, out and in again; out on hire and back."""
    rng, day = make.rng, make.ago(0, 1, 14, 28, 29)
    kind = rng.random()
    if kind < 0.25:
        reason = rng.choice(("rested", "lame", "hired", "other"))
        return [make.entry("moved", day, act="in", reason=reason)]
    if kind < 0.32:
        told = [make.entry("moved", day, act="left", reason=rng.choice(("sold", "culled", "died")))]
        if make.maybe(0.6):
            told.append(make.entry("moved", make.after(day, 0, 1, 14, 28), act="in"))
        return told
    told = [make.entry("moved", day, act="out")]
    if make.maybe(0.4):
        told[0]["reason"] = "hired"
    if make.maybe(0.2):
        told.append(make.entry("moved", make.after(day, 1, 7), act="out"))
    if make.maybe(0.4):
        back = make.after(day, 0, 2, 10, 27, 28)
        told.append(make.entry("moved", back, act="in", reason=rng.choice(("rested", "lame"))))
    return told


def went_out(make: Maker) -> list[Entry]:
    """Out with this or that not done; some of it done on that day, or while he is out."""
    rng, day = make.rng, make.ago(1, 3, 14, 30)
    done: list[Entry] = []
    if make.maybe(0.6):
        done.append(make.entry("feet", make.before(day, 100, 120, 119), lifted=list(FEET)))
    chances: tuple[tuple[str, Entry], ...] = (
        ("vet-exam", {"outcome": rng.choice(("satisfactory", "satisfactory", "unsatisfactory"))}),
        ("condition", {"scale": "five", "score": 3}),
        ("mobility", {"scale": "gb0-3", "score": rng.choice((0, 0, 1))}),
        ("check", {"check": "bvd-test", "result": "pass"}),
        ("feet", {"lifted": list(FEET)}),
    )
    for kind, fields in chances:
        if make.maybe(0.75):
            on = rng.choice((day - 1, day, day, make.after(day, 1, 3, 14)))
            done.append(make.entry(kind, on, **fields))
    done.insert(rng.randint(0, len(done)), make.entry("moved", day, act="out"))
    return done


def odds(make: Maker) -> list[Entry]:
    """Treatments, weights, own checks, trims, blocks off that were never on."""
    rng, day = make.rng, make.ago(2, 7, 14, 30)
    foot = rng.choice(FEET)
    kind = rng.randrange(6)
    entry: dict[str, Any]
    if kind == 0:
        entry = make.entry("treatment", day, given_by="vet", product=rng.choice(DRUGS))
        if make.maybe(0.5):
            entry["pain_relief"] = make.maybe(0.5)
        if make.maybe(0.4):
            entry["reason"] = rng.choice(REASONS)
        if make.maybe(0.2):
            entry["withdrawal_until"] = iso(day + 10)
    elif kind == 1:
        entry = make.entry("weight", day, kg=rng.randint(500, 1200))
    elif kind in (2, 3):
        name = rng.choice((*OWN_NAMES, "unknown-check"))
        entry = make.entry("check", day, check=name, result=rng.choice(("pass", "pass", "fail")))
    elif kind == 4:
        entry = make.feet(day, [foot], work=[{"foot": foot, "act": rng.choice(("trim", "pare"))}])
    else:
        entry = make.entry("block-off", day, foot=foot, claw="outer")
    return [entry]


def own_check(make: Maker) -> list[Entry]:
    """One of the farm's own checks, passed and failed, that may apply to other bulls only."""
    rng, day = make.rng, make.ago(7, 14, 30, 60)
    told: list[Entry] = []
    name = rng.choice((*OWN_NAMES, "hire-check", "hire-check", "ring-check"))
    while (not told or make.maybe(0.5)) and len(told) < 3:
        result, spelled = rng.choice(("pass", "fail")), rng.choice((name, name, name.upper()))
        told.append(make.entry("check", day, check=spelled, result=result))
        if result == "pass" and make.maybe(0.3):
            told[-1]["valid_until"] = iso(make.after(day, 7, 14, 30, 60))
        day = make.after(day, 0, 1, 14)
    return told


OWN_THREADS: tuple[Callable[[Maker], list[Entry]], ...] = (
    lame,
    mild,
    masked,
    limbs,
    worst_of_two,
    remembered,
    incident,
    condition,
    moved,
    went_out,
    odds,
    own_check,
)
THREADS = (*FEET_THREADS, *SPOT_THREADS, *VET_THREADS, *OWN_THREADS)
WEIGHTS = (*FEET_WEIGHTS, *SPOT_WEIGHTS, *VET_WEIGHTS, 4, 2, 3, 3, 1, 1, 6, 3, 2, 3, 3, 5)
