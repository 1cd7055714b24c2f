"""What a vet examines, looks at and is asked for, as threads of entries."""

from __future__ import annotations

from collections.abc import Callable

from .feet_threads import OUTCOMES
from .maker import Entry, Maker, iso
from .values import FEET

PARTS = ("penis", "sheath", "scrotum", "eyes", "mouth", "other", *("joint", "joint", "back") * 2)
ABOUT = ("foot", "lame", "body", "illness", "other")


def figures(make: Maker) -> Entry:
    """Figures of an examination, mostly good; now and then just under their least."""
    rng, said = make.rng, {}
    if make.maybe(0.8):
        # fives above the least of any age are common, so that not every bull falls below
        said["scrotum_cm"] = rng.choice((36, 38, 40, 34, 33.9, 33, 32, 31.9, 31, 30, 29.9))
    if make.maybe(0.7):
        said["motility_pct"] = rng.choice((80, 70, 65, 61, 60, 60, 59))
    if make.maybe(0.7):
        said["normal_pct"] = rng.choice((90, 80, 75, 71, 70, 70, 69))
    return said | ({"stands": make.maybe(0.8)} if make.maybe(0.3) else {})


def exam(make: Maker, day: int, outcome: str) -> Entry:
    entry = make.entry("vet-exam", day, outcome=outcome)
    if outcome == "deferred" and make.maybe(0.5):
        entry["again_on"] = iso(make.after(day, 14, 28, 60))
    if make.maybe(0.4):
        entry["feet_seen"] = make.maybe(0.8)
    if make.maybe(0.4):
        entry |= figures(make)
    return entry


def vet(make: Maker) -> list[Entry]:
    day = make.ago(60, 61, 28, 1)
    outcome = make.rng.choice(("satisfactory",) * 4 + ("deferred",) * 3 + ("unsatisfactory",))
    told = [exam(make, day, outcome)]
    if outcome != "satisfactory" and make.maybe(0.4):
        told.append(exam(make, make.after(day, 0, 14, 28), "satisfactory"))
    while make.maybe(0.3) and len(told) < 4:  # examined again, with figures and without
        day = make.after(day, 0, 14, 60)
        told.append(exam(make, day, again_outcome(make)))
    return told


def again_outcome(make: Maker) -> str:
    return make.rng.choice(("satisfactory",) * 4 + ("deferred",))


def look(make: Maker, day: int, about: str, outcome: str) -> Entry:
    """A vet's look, that names a foot, a part, a joint with or without its limb, or nothing."""
    rng = make.rng
    entry = make.entry("vet-look", day, about=about, outcome=outcome)
    if about in ("foot", "lame") and make.maybe(0.5):
        entry["foot"] = rng.choice(FEET)
    if about == "body" and make.maybe(0.6):
        entry |= part(make)
    if outcome == "again" and make.maybe(0.5):
        entry["again_on"] = iso(make.after(day, 0, 1, 3, 7, 11))
    return entry


def part(make: Maker) -> Entry:
    named = {"part": make.rng.choice(PARTS)}
    if named["part"] == "joint" and make.maybe(0.7):
        named["limb"] = make.rng.choice(FEET)
    return named


NAMES = ("foot", "part", "limb")


def like(make: Maker, asked: Entry, day: int, outcome: str) -> Entry:
    """A look about the same, that names the same, nothing, or something else."""
    about = asked["about"]
    if about in ("foot", "lame") and make.maybe(0.3):
        about = "lame" if about == "foot" else "foot"
    entry = look(make, day, about, outcome)
    if make.maybe(0.75):
        for name in NAMES:
            entry.pop(name, None)
        if make.maybe(0.6):
            entry |= {name: asked[name] for name in NAMES if name in asked}
    return entry


def looks(make: Maker) -> list[Entry]:
    """A look of any kind and outcome, and what may answer or end it, that day or later."""
    rng, day = make.rng, make.ago(1, 2, 7, 9, 10)
    told = [look(make, day, rng.choice(ABOUT), rng.choice(("fit", "again", "again", "unfit")))]
    if told[0]["outcome"] == "again" and make.maybe(0.1):
        told.append(dict(told[0]))  # the same again on one day
    while make.maybe(0.55) and len(told) < 4:
        day = make.after(day, 0, 1, 2, 7)
        if make.maybe(0.2):
            told.append(exam(make, day, rng.choice(("satisfactory", "deferred"))))
        else:
            told.append(like(make, told[0], day, rng.choice(OUTCOMES)))
    return told


def body(make: Maker) -> list[Entry]:
    """A part found wrong, to watch, right; what the vet says of it; a walk before and after."""
    rng, day, named = make.rng, make.ago(1, 2, 3, 7, 14), part(make)
    told = [
        make.entry("body", day, state=rng.choice(("wrong", "wrong", "watch", "right")), **named)
    ]
    asked = make.entry("vet-look", day, about="body", outcome="fit", **named)
    while make.maybe(0.65) and len(told) < 5:
        day = make.after(day, 0, 0, 1, 2, 7)
        kind = rng.random()
        if kind < 0.25:
            state = rng.choice(("wrong", "watch", "right", "right"))
            told.append(make.entry("body", day, state=state, **named))
        elif kind < 0.75:
            told.append(like(make, asked, day, rng.choice(OUTCOMES)))
        elif kind < 0.85:
            told.append(exam(make, day, rng.choice(("satisfactory", "deferred"))))
        else:
            told.append(make.score(day, "sound"))
    if make.maybe(0.5):  # another part besides
        state = rng.choice(("wrong", "watch", "watch", "right"))
        told.append(make.entry("body", day, state=state, **part(make)))
    return told


def handed_on(make: Maker) -> list[Entry]:
    """A figure, low or just good enough, of an examination of any outcome; later ones without."""
    rng, day = make.rng, make.ago(60, 61, 59, 30)
    outcome = rng.choice(("satisfactory", "deferred", "unsatisfactory"))
    told = [make.entry("vet-exam", day, outcome=outcome, **figures(make))]
    while (len(told) < 2 or make.maybe(0.4)) and len(told) < 4:
        day = min(make.after(day, 0, 1, 14, 28, 60, make.today - day), make.today)
        told.append(make.entry("vet-exam", day, outcome=again_outcome(make)))
        if make.maybe(0.15):
            told[-1] |= figures(make)
    return told


def fit_again(make: Maker) -> list[Entry]:
    """A vet's no, and what ends it or does not, beside the walk that may count."""
    rng, day = make.rng, make.ago(1, 2, 3, 7)
    told = [look(make, day, rng.choice(("foot", "lame", "body", "body", *ABOUT)), "unfit")]
    day = make.after(day, 0, 1, 2)
    if make.maybe(0.3):
        told.append(make.entry("vet-exam", day, outcome="satisfactory", feet_seen=make.maybe(0.8)))
    else:
        told.append(like(make, told[0], day, "fit"))
    if make.maybe(0.6):
        told.append(make.score(make.after(day, 0, 0, 1), "best"))
    return told


def found_ill(make: Maker) -> list[Entry]:
    """A vet says of a bull, at work perhaps, that he is ill; what he says of it that day or
    later."""
    rng, day = make.rng, make.ago(1, 7, 13, 14)
    told = [make.entry("moved", make.before(day, 1, 7), act="out")] if make.maybe(0.6) else []
    told.append(
        look(make, day, rng.choice(("illness",) * 4 + ("other",)), rng.choice(("again", "unfit")))
    )
    while make.maybe(0.5) and len(told) < 4:
        day = make.after(day, 0, 1, 13, 14)
        if make.maybe(0.5):
            told.append(exam(make, day, again_outcome(make)))
        else:
            told.append(look(make, day, "illness", rng.choice(("fit", "fit", "again"))))
    return told


VET_THREADS: tuple[Callable[[Maker], list[Entry]], ...] = (
    vet,
    looks,
    body,
    handed_on,
    fit_again,
    found_ill,
)
VET_WEIGHTS = (3, 4, 4, 2, 2, 2)
