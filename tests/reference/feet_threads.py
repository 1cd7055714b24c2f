"""What happens to a bull's feet, as threads of entries whose days are the rules' own numbers."""

from __future__ import annotations

from collections.abc import Callable

from .maker import Entry, Maker, iso
from .values import FEET, FINDINGS, STAGES, Finding

HORN = sorted(code for code, row in FINDINGS.items() if row.claw in ("claw", "any"))
SKIN = sorted(code for code, row in FINDINGS.items() if row.claw in ("skin", "any"))
HORN_HOLDS = ("SU", "SU", "BU", "WLA", "TU", "TN", "TS")
SKIN_HOLDS = ("IP", "IP", "SW", "IH", "DD", "DD")
BY_SEVERITY = ("SH", "WLF", "DS", "HFV", "CC", "SC", "XX")
OUTCOMES = ("fit", "fit", "fit", "again", "again", "unfit")


def spot(make: Maker, foot: str, claw: str, code: str, again: bool = False) -> Entry:
    """A finding: its place and code, and what is said of it."""
    found: Entry = {"foot": foot, "claw": claw, "code": code}
    if not again or make.maybe(0.5):
        found["severity"] = make.rng.choice((1, 1, 2, 2, 3))
    if code == "DD" and make.maybe(0.7):
        found["stage"] = make.rng.choice(STAGES)
    if make.maybe(0.2):
        found["zone"] = make.rng.randint(0, 12)
    if make.maybe(0.15):
        found.pop("severity", None)
    return found


def place(make: Maker) -> tuple[str, str, str]:
    """A foot, a claw and a code that fits it, mostly one that holds."""
    foot = make.rng.choice(FEET)
    if make.maybe(0.4):
        claw = "skin"
        code = make.rng.choice(SKIN_HOLDS if make.maybe(0.75) else SKIN)
    else:
        claw = make.rng.choice(("outer", "outer", "inner", "both"))
        code = make.rng.choice(HORN_HOLDS if make.maybe(0.6) else HORN)
    return foot, claw, code


def marks(row: Finding) -> tuple[int, ...]:
    return tuple(days for days in (*row.looks, *row.clear, row.vet_open, 7) if days)


def gone(make: Maker, foot: str, claw: str, code: str) -> list[Entry]:
    healed: Entry = {"foot": foot, "claw": claw, "code": code}
    if make.maybe(0.2):
        healed["stable"] = make.maybe(0.8)
    return [healed]


def finding(make: Maker) -> list[Entry]:
    """Found, looked at, got better or worse, called something else, healed too soon or in time."""
    foot, claw, code = place(make)
    row = FINDINGS[code]
    day = make.ago(*marks(row), 120)
    first = [spot(make, foot, claw, code)]
    if make.maybe(0.08):  # two spots of the same, perhaps on one of both claws only
        first.append(spot(make, foot, "outer" if claw == "both" else claw, code))
    told = [make.feet(day, [foot], findings=first, work=make.work(foot))]
    if row.vet_from and make.maybe(0.4):
        told.append(seen_foot(make, make.after(day, 0, 2), foot))
    while make.maybe(0.7) and len(told) < 6:
        day = make.after(day, 0, 3, 5, 7, 14, 21, 28, *row.clear)
        kind = make.rng.random()
        if kind < 0.35:
            again = [spot(make, foot, claw, code, True)]
            if make.maybe(0.1):
                again.append(spot(make, foot, claw, code, True))
            told.append(make.feet(day, [foot], findings=again))
        elif kind < 0.7:
            healed = gone(make, foot, claw, code)
            told.append(make.feet(day, [foot], healed=healed, work=make.work(foot)))
        elif kind < 0.88:
            named = _renamed(make, foot, claw, code)
            told.append(make.feet(day, [foot], findings=[named]))
            code, row = named["code"], FINDINGS[named["code"]]
        else:
            told.append(make.feet(day, [foot], work=make.work(foot)))  # silence
    if make.maybe(0.2):
        told.append(seen_foot(make, make.after(day, 0, 2), foot))
    return told


def _renamed(make: Maker, foot: str, claw: str, code: str) -> Entry:
    """Called something else; a fresh name, mostly: two that become one are rare."""
    names = SKIN if claw == "skin" else HORN
    make.used.add((foot, claw, code))
    fresh = [name for name in names if (foot, claw, name) not in make.used and name != code]
    new = make.rng.choice(fresh or [name for name in names if name != code])
    if make.maybe(0.3):  # what begins anew under its new name
        new = make.rng.choice([name for name in names if FINDINGS[name].anew and name != code])
    make.used.add((foot, claw, new))
    return spot(make, foot, claw, new, True) | {"was": code}


def unsaid(make: Maker) -> list[Entry]:
    """Its severity not said, said later; said under another name; up, down and up again."""
    rng, foot = make.rng, make.rng.choice(FEET)
    claw = rng.choice(("outer", "inner", "both"))
    code = rng.choice((*BY_SEVERITY, *BY_SEVERITY, "SU", "BU"))
    day = make.ago(28, 33, 42, 7)
    ways: list[list[int | None]] = [[None, 1], [None, 2], [None, 3], [3, 2, 3], [None, 3, 1]]
    ways += [[2, 1], [3, 1], [2, None, 1]]
    said = rng.choice(ways)
    if said == [3, 2, 3]:  # into the vet column, out of it and in again
        code = rng.choice(("SU", "BU", code))
    told, was = [], None
    if make.maybe(0.25):  # said once, under another name
        was = rng.choice([other for other in ("SH", "WLF", "SU") if other != code])
        named = {"foot": foot, "claw": claw, "code": was, "severity": rng.choice((1, 2, 3))}
        told.append(make.feet(make.before(day, 3, 7, 28), [foot], findings=[named]))
    for severity in said:
        found: Entry = {"foot": foot, "claw": claw, "code": code}
        found |= {"severity": severity} if severity else {}
        found |= {"was": was} if was else {}
        was = None
        told.append(make.feet(day, [foot], findings=[found]))
        day = make.after(day, 0, 3, 7, 28, 33, 42)
    if make.maybe(0.4):
        told.append(make.feet(day, [foot], healed=gone(make, foot, claw, code)))
    return told


def merged(make: Maker) -> list[Entry]:
    """Two findings of one claw become one: renamed to a code that is open there."""
    rng, foot = make.rng, make.rng.choice(FEET)
    claw = rng.choice(("skin", "outer", "outer", "inner"))
    codes = SKIN if claw == "skin" else ("SU", "BU", "SH", "WLF", "WLA", "CC", "HHE", "TU")
    old, other = rng.sample(codes, 2)
    day = make.ago(28, 42, 35, 14)
    sooner, later = rng.sample((old, other), 2)
    told = [make.feet(day, [foot], findings=[spot(make, foot, claw, sooner)])]
    day = make.after(day, 0, 0, 3, 7)
    both = [spot(make, foot, claw, code, code == sooner) for code in (sooner, later)]
    told.append(make.feet(day, [foot], findings=both))
    row = FINDINGS[old]
    day = make.after(day, 0, 3, 7, *marks(row))
    told.append(
        make.feet(day, [foot], findings=[spot(make, foot, claw, other, True) | {"was": old}])
    )
    while make.maybe(0.6) and len(told) < 6:
        day = make.after(day, 0, 3, 7, *marks(FINDINGS[other]), *marks(row))
        if make.maybe(0.6):
            told.append(make.feet(day, [foot], healed=gone(make, foot, claw, other)))
        else:
            told.append(make.feet(day, [foot], findings=[spot(make, foot, claw, other, True)]))
    return told


def low_rename(make: Maker) -> list[Entry]:
    """A holding finding called something that would not hold, said and not said, soon and late."""
    rng, foot = make.rng, make.rng.choice(FEET)
    skin = make.maybe(0.4)
    claw = "skin" if skin else rng.choice(("outer", "inner"))
    old = rng.choice(("DD", "IP", "IH") if skin else ("SU", "SH", "WLF", "BU"))
    low = rng.choice(("ID", "IH", "DD") if skin else ("HHE", "AC", "CC", "DS"))
    if low == old:
        low = "ID"
    row, day = FINDINGS[old], make.ago(28, 33, 42, 14, 7)
    found: Entry = {"foot": foot, "claw": claw, "code": old, "severity": rng.choice((2, 3))}
    named: Entry = {"foot": foot, "claw": claw, "code": low, "was": old}
    if make.maybe(0.7):
        named["severity"] = 1
    if low == "DD" and make.maybe(0.8):
        named["stage"] = rng.choice(("M0", "M3", "M4"))
    if make.maybe(0.4):  # the new name lies in this zone or that
        found["zone"], named["zone"] = rng.choice(((3, 3), (3, 4), (0, 4)))
    spots = [named]
    if make.maybe(0.25):  # another spot says how bad it is, what renames it perhaps not
        other = {name: named[name] for name in ("foot", "claw", "code")} | {"severity": 1}
        spots.insert(rng.randint(0, 1), other | ({"stage": "M4"} if low == "DD" else {}))
    told = [make.feet(day, [foot], findings=[found])]
    day = make.after(day, *row.clear, 7)
    told.append(make.feet(day, [foot], findings=spots))
    if make.maybe(0.5):
        told.append(make.feet(make.after(day, 0, 7), [foot], healed=gone(make, foot, claw, old)))
    return told


def thin(make: Maker) -> list[Entry]:
    """Soles measured, thin and not, beside TS found, healed or renamed, or alone."""
    rng, foot, day = make.rng, make.rng.choice(FEET), make.ago(28, 7)
    told: list[Entry] = []
    while (not told or make.maybe(0.6)) and len(told) < 4:
        claw = rng.choice(("outer", "inner", "both"))
        measure: Entry = {"foot": foot, "claw": claw, "wall_mm": rng.choice((80, 92))}
        if make.maybe(0.9):
            measure["sole_mm"] = rng.choice((3, 4, 4.5, 5, 5, 5.5, 6, 7))
        other = rng.choice(("outer", "inner", claw))
        kind = rng.random()
        listed = {"foot": foot, "claw": other, "code": "TS"}
        lifted = make.feet(day, [foot], measures=[measure])
        if kind < 0.15:
            lifted["findings"] = [listed | {"severity": rng.choice((1, 2, 3))}]
        elif kind < 0.4:
            lifted["healed"] = [listed]
        elif kind < 0.5:
            lifted["findings"] = [listed | {"code": "SU", "was": "TS"}]
        told.append(lifted)
        day = make.after(day, 0, 7, 28)
    return told


def odd_feet(make: Maker) -> list[Entry]:
    """What is kept and changes nothing: healed that is not open; a rename of nothing open."""
    foot, claw, code = place(make)
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
        where = make.before(day, 3, 7) if make.maybe(0.2) else where
        code = rng.choice(HORN_HOLDS)
        told.append(make.feet(where, [foot], findings=[spot(make, foot, bad, code)]))
        if make.maybe(0.25):
            named = [_renamed(make, foot, bad, code)]
            told.append(make.feet(make.after(where, 1, 3, 7), [foot], findings=named))
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


def wrap(make: Maker) -> list[Entry]:
    """A wrap put on, left on by a lift of the same day, off later; a walk on it."""
    rng, foot, day = make.rng, make.rng.choice(FEET), make.ago(1, 5, 6, 14)
    told = [make.feet(day, [foot], work=[{"foot": foot, "act": "wrap"}])]
    if make.maybe(0.25):  # an entry that says both leaves it on
        told[0]["work"].append({"foot": foot, "act": "unwrap"})
    while make.maybe(0.6) and len(told) < 5:
        day = make.after(day, 0, 0, 1, 5)
        kind = rng.random()
        if kind < 0.3:
            told.append(make.feet(day, [foot], work=[{"foot": foot, "act": "unwrap"}]))
        elif kind < 0.5:
            told.append(make.feet(day, [foot]))
        elif kind < 0.65:
            told.append(make.feet(day, [foot], work=[{"foot": foot, "act": "wrap"}]))
        else:
            told.append(make.score(day, rng.choice(("best", "sound", "lame", "worst"))))
    return told


def seen_foot(make: Maker, day: int, foot: str) -> Entry:
    """A vet's look at that foot, at another, or at all."""
    about = make.rng.choice(("foot", "foot", "lame", "lame", "body", "other"))
    entry = make.entry("vet-look", day, about=about, outcome=make.rng.choice(OUTCOMES))
    if about in ("foot", "lame") and make.maybe(0.5):
        entry["foot"] = make.rng.choice((foot, foot, *FEET))
    if entry["outcome"] == "again" and make.maybe(0.5):
        entry["again_on"] = iso(make.after(day + 1, 0, 2, 6, 10))
    return entry


FEET_THREADS: tuple[Callable[[Maker], list[Entry]], ...] = (
    finding,
    unsaid,
    merged,
    low_rename,
    thin,
    odd_feet,
    block,
    wrap,
)
FEET_WEIGHTS = (8, 4, 4, 3, 3, 1, 4, 4)
