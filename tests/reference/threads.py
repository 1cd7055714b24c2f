"""What happens to a bull, as threads of entries whose days are the rules' own numbers.

Each thread is one story: a finding and its looks, a block and its going off, a lameness. Days may
fall after the day of assessment; they must not count then.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from .values import FEET, FINDINGS, LAME_FROM, STAGES, WORST

Entry = dict[str, Any]
HORN = sorted(code for code, row in FINDINGS.items() if row.claw in ("claw", "any"))
SKIN = sorted(code for code, row in FINDINGS.items() if row.claw in ("skin", "any"))
HORN_HOLDS = ("SU", "SU", "BU", "WLA", "TU", "TN", "TS")
SKIN_HOLDS = ("IP", "IP", "SW", "IH", "DD", "DD")


def iso(day: int) -> str:
    return date.fromordinal(day).isoformat()


@dataclass
class Maker:
    """Makes entries of one bull; every choice comes from ``rng``."""

    rng: random.Random
    tag: str
    today: int
    used: set[tuple[str, str, str]] = field(default_factory=set)

    def entry(self, kind: str, day: int, **fields: Any) -> Entry:
        return {"kind": kind, "on": iso(day), "bull": self.tag, **fields}

    def ago(self, *days: int) -> int:
        """A day so long ago that one of ``days`` falls on today or next to it; or any day."""
        kind = self.rng.random()
        if days and kind < 0.6:
            return self.today - self.rng.choice(days) + self.wobble()
        return self.today - self.rng.randint(0, 60 if kind < 0.85 else 200)

    def wobble(self) -> int:
        return self.rng.choice((0, 0, 0, 1, -1))

    def after(self, day: int, *days: int) -> int:
        """One of ``days`` after a day, or a day more or less, never before it."""
        return max(day, day + self.rng.choice(days) + self.wobble())

    def maybe(self, chance: float) -> bool:
        return self.rng.random() < chance

    def feet(self, day: int, feet: list[str], **fields: Any) -> Entry:
        """A lift; sometimes another foot goes up too, or would not."""
        lifted, other = list(feet), self.rng.choice(FEET)
        fields = {name: value for name, value in fields.items() if value}
        if other not in lifted:
            if self.maybe(0.15):
                lifted.append(other)
            elif self.maybe(0.1):
                fields["refused"] = [other]
        return self.entry("feet", day, lifted=lifted, **fields)

    def work(self, foot: str) -> list[Entry]:
        if self.maybe(0.5):
            return []
        return [{"foot": foot, "act": self.rng.choice(("trim", "pare", "dress", "wrap"))}]

    def score(self, day: int, kind: str) -> Entry:
        """A walk on one of the scales: sound, lame or worst."""
        scale = self.rng.choice(("gb0-3", "gb0-3", "five1-5", "nz0-3"))
        lame, worst = LAME_FROM[scale], WORST[scale]
        sound = self.rng.randint(1 if scale == "five1-5" else 0, lame - 1)
        score = {"sound": sound, "lame": lame, "worst": worst}[kind]
        entry = self.entry("mobility", day, scale=scale, score=score)
        if kind != "sound" and self.maybe(0.6):
            entry["limb"] = self.rng.choice(FEET)
        return entry

    def condition(self, day: int, inside: bool) -> Entry:
        five = (2.5, 3.0, 3.25, 3.5, 4.0) if inside else (1.0, 2.25, 4.25, 5.0)
        nine = (4.0, 5.0, 6.5, 7.0) if inside else (2.0, 3.5, 7.5, 9.0)
        scale = self.rng.choice(("five", "nine"))
        score = self.rng.choice(five if scale == "five" else nine)
        return self.entry("condition", day, scale=scale, score=score)


def prepared(make: Maker, turnout: int) -> list[Entry]:
    """All that turnout asks for, each mostly in its window, sometimes a day out of it."""
    rng, told = make.rng, []

    def day(oldest: int, settle: int = 0) -> int:
        first, last = turnout - oldest, make.today - settle
        inside = rng.randint(min(first, last), last)
        return rng.choice((inside, inside, inside, inside, inside, inside, first, first - 1, last))

    lifted = day(120, rng.choice((0, 2, 20)))
    told.append(make.entry("feet", lifted, lifted=list(FEET), work=make.work("LH")))
    if not told[0]["work"]:
        del told[0]["work"]
    walk = day(14)
    told += [make.score(walk, "sound"), *_before_the_walk(make, walk)]
    told.append(make.condition(day(30), inside=True))
    exam = make.entry("vet-exam", day(60), outcome="satisfactory")
    if make.maybe(0.3):
        exam |= {"feet_seen": True, "scrotum_cm": 36, "motility_pct": 65, "normal_pct": 78}
    told.append(exam)
    if make.maybe(0.8):
        told.append(make.entry("check", day(30), check="bvd-test", result="pass"))
    rng.shuffle(told)
    return told


def _before_the_walk(make: Maker, walk: int) -> list[Entry]:
    """Now and then what a walk must settle after, just long enough before it or a day short."""
    foot, kind = make.rng.choice(FEET), make.rng.randrange(16)
    pared = [{"foot": foot, "act": make.rng.choice(("trim", "pare"))}]
    day = walk - make.rng.choice((1, 2, 2, 3, 3, 4))
    happened = (
        make.entry("treatment", day, given_by="vet", product="a drug", pain_relief=True),
        make.entry("feet", day, lifted=[foot], work=pared),
        make.entry("incident", day, cause="fall"),
        make.entry("moved", walk + make.wobble(), act="in", reason="rested"),
    )
    return [happened[kind]] if kind < len(happened) else []


def _finding(make: Maker, foot: str, claw: str, code: str, again: bool = False) -> Entry:
    found: Entry = {"foot": foot, "claw": claw, "code": code}
    if not again or make.maybe(0.5):
        found["severity"] = make.rng.choice((1, 1, 2, 2, 3))
    if code == "DD" and make.maybe(0.8):
        found["stage"] = make.rng.choice(STAGES)
    if make.maybe(0.2):
        found["zone"] = make.rng.randint(0, 12)
    if make.maybe(0.1):
        found.pop("severity", None)
    return found


def _place(make: Maker) -> tuple[str, str, str]:
    """A foot, a claw and a code that fits it, mostly one that holds."""
    foot = make.rng.choice(FEET)
    if make.maybe(0.4):
        claw = "skin"
        code = make.rng.choice(SKIN_HOLDS if make.maybe(0.75) else SKIN)
    else:
        claw = make.rng.choice(("outer", "outer", "inner", "both"))
        code = make.rng.choice(HORN_HOLDS if make.maybe(0.7) else HORN)
    return foot, claw, code


def finding(make: Maker) -> list[Entry]:
    """Found, looked at, got better or worse, called something else, healed too soon or in time."""
    rng = make.rng
    foot, claw, code = _place(make)
    row = FINDINGS[code]
    marks = tuple(x for x in (*row.looks, *row.clear, row.vet_open, 7, 120) if x)
    day = make.ago(*marks)
    first = [_finding(make, foot, claw, code)]
    if make.maybe(0.05):
        first.append(_finding(make, foot, claw, code))  # two spots of the same
    told = [make.feet(day, [foot], findings=first, work=make.work(foot))]
    if row.vet_from and make.maybe(0.4):
        told.append(_vet_seen(make, make.after(day, 0, 2)))
    while make.maybe(0.7) and len(told) < 6:
        day = make.after(day, 0, 3, 5, 7, 14, 21, 28, *row.clear)
        kind = rng.random()
        if kind < 0.35:
            told.append(make.feet(day, [foot], findings=[_finding(make, foot, claw, code, True)]))
        elif kind < 0.75:
            gone: Entry = {"foot": foot, "claw": claw, "code": code}
            if make.maybe(0.2):
                gone["stable"] = True
            told.append(make.feet(day, [foot], healed=[gone], work=make.work(foot)))
        elif kind < 0.88:
            named = _renamed(make, foot, claw, code)
            told.append(make.feet(day, [foot], findings=[named]))
            code, row = named["code"], FINDINGS[named["code"]]
        else:
            told.append(make.feet(day, [foot], work=make.work(foot)))  # silence
    if make.maybe(0.2):
        told.append(_vet_seen(make, make.after(day, 0, 2)))
    return told


def _renamed(make: Maker, foot: str, claw: str, code: str) -> Entry:
    """Called something else; a fresh name, mostly: two that become one are rare."""
    names = SKIN if claw == "skin" else HORN
    make.used.add((foot, claw, code))
    fresh = [name for name in names if (foot, claw, name) not in make.used and name != code]
    new = make.rng.choice(fresh or [name for name in names if name != code])
    make.used.add((foot, claw, new))
    return _finding(make, foot, claw, new, True) | {"was": code}


def odd_feet(make: Maker) -> list[Entry]:
    """What is kept and changes nothing: healed that is not open; a rename of nothing open."""
    foot, claw, code = _place(make)
    day = make.ago()
    if make.maybe(0.5):
        return [make.feet(day, [foot], healed=[{"foot": foot, "claw": claw, "code": code}])]
    return [make.feet(day, [foot], findings=[_renamed(make, foot, claw, code)])]


def block(make: Maker) -> list[Entry]:
    """A block fitted, fitted again, off or lost; a walk on it; mostly by a finding."""
    rng, foot = make.rng, make.rng.choice(FEET)
    claw = rng.choice(("outer", "inner"))
    day = make.ago(28, 42, 35, 7, 2)
    told = []
    if make.maybe(0.5):
        bad = claw if make.maybe(0.4) else "inner" if claw == "outer" else "outer"
        where = make.after(day, 0, 0, 5) if make.maybe(0.3) else day
        found = _finding(make, foot, bad, rng.choice(HORN_HOLDS))
        told.append(make.feet(where, [foot], findings=[found]))
    told.append(make.entry("block-on", day, foot=foot, claw=claw))
    while make.maybe(0.6) and len(told) < 7:
        day = make.after(day, 0, 3, 7, 28, 42)
        kind = rng.random()
        if kind < 0.2:
            told.append(make.entry("block-on", day, foot=foot, claw=claw))
        elif kind < 0.65:
            told.append(make.entry("block-off", day, foot=foot, claw=claw))
            if make.maybe(0.3):
                told[-1]["lost"] = True
        elif kind < 0.8:
            told.append(make.score(day, rng.choice(("sound", "lame", "worst"))))
        else:
            told.append(make.feet(day, [foot]))
    return told


def lame(make: Maker) -> list[Entry]:
    """Lame, lifted, seen by the vet, walked sound too soon or in time."""
    rng, day = make.rng, make.ago(1, 2, 7, 14, 15, 21, 35, 120)
    told = [make.score(day, rng.choice(("lame", "lame", "worst")))]
    if make.maybe(0.15):
        told = [make.entry("moved", day, act="in", reason="lame")]
    while make.maybe(0.75) and len(told) < 6:
        kind = rng.random()
        day = make.after(day, 0, 1, 2, 6, 7, 14)
        if kind < 0.4:
            limb = told[0].get("limb")
            feet = [limb] if limb and make.maybe(0.7) else list(FEET)
            told.append(make.feet(day, feet))
            if make.maybe(0.3):
                harmless = _finding(make, feet[0], "outer", rng.choice(("HHE", "CC", "SH", "WLF")))
                told[-1]["findings"] = [harmless]
        elif kind < 0.75:
            told.append(make.score(day, "sound"))
        elif kind < 0.9:
            told.append(_vet_seen(make, day))
        else:
            told.append(make.score(day, "lame"))
    return told


def _vet_seen(make: Maker, day: int) -> Entry:
    about = make.rng.choice(("foot", "foot", "lame", "lame", "illness", "other"))
    entry = make.entry("vet-look", day, about=about)
    if make.maybe(0.4):
        entry["foot"] = make.rng.choice(FEET)
    return entry


def incident(make: Maker) -> list[Entry]:
    rng = make.rng
    cause = rng.choice(("fight", "fall", "transport", "illness", "other"))
    entry = make.entry("incident", make.ago(2, 3, 7, 14, 61), cause=cause)
    for flag, chance in (("lame", 0.4), ("fever", 0.2)):
        if make.maybe(chance):
            entry[flag] = make.maybe(0.85)
    if make.maybe(0.4):
        entry |= {"limb": rng.choice(FEET), "suspect": "shoulder"}
    return [entry]


def vet(make: Maker) -> list[Entry]:
    day = make.ago(60, 61, 28, 1)
    outcome = make.rng.choice(("satisfactory",) * 3 + ("deferred",) * 3 + ("unsatisfactory",))
    entry = make.entry("vet-exam", day, outcome=outcome)
    if outcome == "deferred" and make.maybe(0.5):
        entry["again_on"] = iso(make.after(day, 14, 28, 60))
    if make.maybe(0.3):
        entry["feet_seen"] = make.maybe(0.8)
    return [entry]


def condition(make: Maker) -> list[Entry]:
    day = make.ago(21, 30, 35, 36, 51)
    told = [make.condition(day, inside=make.maybe(0.4))]
    if make.maybe(0.6):
        told.append(make.condition(make.after(day, 0, 21, 20), inside=make.maybe(0.7)))
    return told


def moved(make: Maker) -> list[Entry]:
    rng, day = make.rng, make.ago(0, 1, 14)
    kind = rng.random()
    if kind < 0.25:
        return [make.entry("moved", day, act="in", reason=rng.choice(("rested", "lame", "other")))]
    if kind < 0.35:
        return [make.entry("moved", day, act="left", reason=rng.choice(("sold", "culled", "died")))]
    told = [make.entry("moved", day, act="out")]
    if make.maybe(0.5):
        back = make.after(day, 0, 2, 10)
        told.append(make.entry("moved", back, act="in", reason=rng.choice(("rested", "lame"))))
    return told


def odds(make: Maker) -> list[Entry]:
    """Treatments, weights, own checks, trims, blocks off that were never on."""
    rng, day = make.rng, make.ago(2, 3, 14, 30)
    foot = rng.choice(FEET)
    kind = rng.randrange(6)
    if kind == 0:
        entry = make.entry("treatment", day, given_by="vet", product="a drench")
        if make.maybe(0.6):
            entry["pain_relief"] = make.maybe(0.8)
    elif kind == 1:
        entry = make.entry("weight", day, kg=rng.randint(500, 1200))
    elif kind in (2, 3):
        name = rng.choice(("bvd-test", "bvd-test", "ring-check", "unknown-check"))
        entry = make.entry("check", day, check=name, result=rng.choice(("pass", "pass", "fail")))
    elif kind == 4:
        entry = make.feet(day, [foot], work=[{"foot": foot, "act": rng.choice(("trim", "pare"))}])
    else:
        entry = make.entry("block-off", day, foot=foot, claw="outer")
    return [entry]


THREADS: tuple[Callable[[Maker], list[Entry]], ...] = (
    finding,
    odd_feet,
    block,
    lame,
    incident,
    vet,
    condition,
    moved,
    odds,
)
WEIGHTS = (8, 1, 4, 4, 3, 2, 4, 2, 4)
