"""Spots of one finding: in zones, several in one entry, stages going on, names there and back."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from .maker import Entry, Maker
from .values import FEET, FINDINGS, STAGES


def zoned(make: Maker) -> list[Entry]:
    """Found in a zone; slight in that zone or another, soon and late, then in the other again."""
    rng, foot, claw = make.rng, make.rng.choice(FEET), make.rng.choice(("outer", "inner"))
    code = rng.choice(("WLF", "SH", "DS", "CC", "XX"))
    listed: Entry = {"foot": foot, "claw": claw, "code": code, "zone": rng.choice((0, 3, 4))}
    if make.maybe(0.6):
        listed["severity"] = rng.choice((2, 3, 3))
    day = make.ago(28, 35, 42, 7)
    told = [make.feet(day, [foot], findings=[listed])]
    while make.maybe(0.75) and len(told) < 5:
        day = make.after(day, 1, 7, 28, 28)
        again = [_in_a_zone(make, listed) for _ in range(rng.choice((1, 1, 1, 2)))]
        told.append(make.feet(day, [foot], findings=again))
        if make.maybe(0.25):
            name = rng.choice([c for c in ("WLF", "SH", "SU", "HHE", "CC", "TU") if c != code])
            named = _in_a_zone(make, listed) | {"code": name, "was": code}
            told.append(make.feet(make.after(day, 1, 7, 28), [foot], findings=[named]))
            listed, code = listed | {"code": name}, name
    return told


def _in_a_zone(make: Maker, listed: Entry) -> Entry:
    spot: Entry = {name: listed[name] for name in ("foot", "claw", "code")}
    if make.maybe(0.8):
        spot["zone"] = make.rng.choice((listed["zone"], listed["zone"], 0, 3, 4))
    if make.maybe(0.8):
        spot["severity"] = make.rng.choice((1, 1, 1, 2))
    return spot


def several(make: Maker) -> list[Entry]:
    """Several spots again, some with nothing said; a rename beside another spot of that name."""
    rng, foot, skin = make.rng, make.rng.choice(FEET), make.maybe(0.4)
    claw = "skin" if skin else rng.choice(("outer", "inner"))
    code = rng.choice(("DD", "DD", "IH") if skin else ("WLF", "SU", "SH", "CC"))
    place: Entry = {"foot": foot, "claw": claw, "code": code}
    day = make.ago(14, 28, 33, 7)
    told = [make.feet(day, [foot], findings=[place | _grade(make, code)])]
    while make.maybe(0.7) and len(told) < 5:
        day = make.after(day, 0, 7, 14, 28, *FINDINGS[code].clear)
        spots = [place | _grade(make, code) for _ in range(rng.choice((1, 2, 2, 3)))]
        if make.maybe(0.4):
            names = ("IH", "DD", "ID", "IP") if skin else ("HHE", "HHE", "AC", "WLF", "SH")
            name = rng.choice([other for other in names if other != code])
            spots = [{**place, "code": name} | _grade(make, name) for _ in spots]
            spots[rng.randrange(len(spots))]["was"] = code
            code = name
            place = place | {"code": code}
        told.append(make.feet(day, [foot], findings=spots))
    return told


def _grade(make: Maker, code: str) -> Entry:
    said: Entry = {}
    if make.maybe(0.55):
        said["severity"] = make.rng.choice((1, 1, 2, 3))
    if code == "DD" and make.maybe(0.6):
        said["stage"] = make.rng.choice((*STAGES, "M2", "M4"))
    return said


def stages(make: Maker) -> list[Entry]:
    """Dermatitis that goes on from stage to stage, and is listed healed."""
    foot, day = make.rng.choice(FEET), make.ago(14, 21, 28)
    told: list[Entry] = []
    while (not told or make.maybe(0.7)) and len(told) < 4:
        found: Entry = {"foot": foot, "claw": "skin", "code": "DD"}
        if make.maybe(0.9):
            found["stage"] = make.rng.choice(("M1", "M2", "M2", "M4.1", *STAGES))
        told.append(make.feet(day, [foot], findings=[found]))
        day = make.after(day, 3, 7, 14)
    if make.maybe(0.3):
        healed = [{"foot": foot, "claw": "skin", "code": "DD"}]
        told.append(make.feet(day, [foot], healed=healed))
    return told


def there_and_back(make: Maker) -> list[Entry]:
    """Called otherwise, and by its old name again: foul and swelling, toe lesions, dermatitis."""
    rng, foot, skin = make.rng, make.rng.choice(FEET), make.maybe(0.6)
    claw = "skin" if skin else rng.choice(("outer", "inner"))
    names = ("IP", "SW", "DD", "ID") if skin else ("TU", "TN", "WLA", "HHE")
    code, day = rng.choice(names[:3]), make.ago(3, 7, 14, 15, 42)
    found: Entry = {"foot": foot, "claw": claw, "code": code}
    told = [make.feet(day, [foot], findings=[found])]
    while make.maybe(0.85) and len(told) < 8:
        day = make.after(day, 1, 2, 3, 7)
        if make.maybe(0.35):
            told.append(make.entry("vet-look", day, about="foot", outcome="fit"))
            continue
        now: Entry = {"foot": foot, "claw": claw, "code": code}
        if make.maybe(0.7):
            name = rng.choice([other for other in names if other != code])
            now |= {"code": name, "was": code}
            code = name
        if make.maybe(0.4):
            now["severity"] = rng.choice((1, 2))
        told.append(make.feet(day, [foot], findings=[now]))
    return told


def floored(make: Maker) -> list[Entry]:
    """Nobody says how bad it is, it gets another name, and then it is said to be slight."""
    rng, foot = make.rng, make.rng.choice(FEET)
    place: Entry = {"foot": foot, "claw": rng.choice(("outer", "inner"))}
    old, new = rng.sample(("SU", "BU", "WLF", "SH", "DS", "WLA"), 2)
    new = new if new in ("WLF", "SH", "DS") else "XX"
    row, day = FINDINGS[old], make.ago(28, 33, 42)
    told = [make.feet(day, [foot], findings=[place | {"code": old}])]
    named = place | {"code": new, "was": old}
    told.append(make.feet(make.after(day, 1, 3, 7), [foot], findings=[named]))
    for after in rng.choice(((3, 30), (14, 21), row.clear[1:2])):
        slight = place | {"code": new, "severity": 1}
        day = make.after(day, after)
        told.append(make.feet(day, [foot], findings=[slight]))
    return told


def unplaced(make: Maker) -> list[Entry]:
    """Several spots, of some nobody says where; in other zones as well; then less, here and there,
    under that name or another."""
    rng, foot = make.rng, make.rng.choice(FEET)
    code = rng.choice(("WLF", "SH", "DS", "XX", "SU"))
    place: Entry = {"foot": foot, "claw": rng.choice(("outer", "inner"))}
    day = make.ago(28, 29, 35, 42)

    def listed(name: str, severities: tuple[int, ...], **first: Any) -> Entry:
        spots: list[Entry] = []
        for _ in range(rng.choice((1, 2, 2, 2, 3))):
            spot = place | {"code": name, "severity": rng.choice(severities)}
            spot |= {"zone": rng.choice((3, 3, 4, 5))} if make.maybe(0.6) else {}
            spots.append(spot)
        spots[0] |= first
        return make.feet(day, [foot], findings=spots)

    told = [listed(code, (2, 2, 3, 1))]
    while make.maybe(0.4) and len(told) < 3:
        day = make.after(day, 1, 7, 14)
        name = rng.choice((code, code, "WLF", "BU"))
        was = {"was": code} if name != code else {}
        told.append(listed(name, (2, 2, 3, 1), **was))
        code = name
    while make.maybe(0.7) and len(told) < 6:
        day = make.after(day, 7, 14, 28, 28, 33)
        named = make.maybe(0.4)
        name = rng.choice(("HHE", "CC", "AC")) if named else code
        told.append(listed(name, (1,), **({"was": code} if named else {})))
    return told


def met_again(make: Maker) -> list[Entry]:
    """Called otherwise and by its old name again, where another has that name meanwhile."""
    rng, foot, skin = make.rng, make.rng.choice(FEET), make.maybe(0.6)
    claw = "skin" if skin else rng.choice(("outer", "inner"))
    old, name = rng.sample(("IP", "SW", "DD") if skin else ("TU", "TN", "WLA"), 2)
    place: Entry = {"foot": foot, "claw": claw}
    ways = [{"code": old}, {"code": name, "was": old}, {"code": old}, {"code": old, "was": name}]
    day, told = make.ago(3, 7, 14, 15), []
    for way in ways:
        told.append(make.feet(day, [foot], findings=[place | way]))
        day = make.after(day, 1, 2, 3, 7)
        if make.maybe(0.3):
            told.append(make.entry("vet-look", day, about="foot", outcome="fit"))
    if make.maybe(0.5):
        told.append(make.feet(day, [foot], findings=[place | {"code": old}]))
    return told


def begun_again(make: Maker) -> list[Entry]:
    """Severe, slight here or in another zone, worse again: its days begin again and again; or
    nobody says how bad it is until it has spread."""
    rng, foot = make.rng, make.rng.choice(FEET)
    unsaid = make.maybe(0.4)
    code = rng.choice(("WLF", "SH", "XX") if unsaid else ("SU", "SU", "BU", "WLF"))
    place: Entry = {"foot": foot, "claw": rng.choice(("outer", "inner")), "code": code}
    ways: list[list[int | None]] = [[3, 1, 2], [3, 1, 2], [3, 1, 1], [3, 2, 1]]
    ways = [[None, None, 1], [None, None, None, 1]] if unsaid else ways
    day, told = make.ago(25, 33, 42, 28), []
    for severity in rng.choice(ways):
        found = place | ({"severity": severity} if severity else {})
        # slight at last: of all of it, where nobody said how bad it was
        last = unsaid and severity == 1
        found |= {} if last or make.maybe(0.2) else {"zone": rng.choice((3, 4, 5))}
        told.append(make.feet(day, [foot], findings=[found]))
        day = make.after(day, 0, 1, 3, 7)
    if make.maybe(0.6):
        healed = [{name: place[name] for name in ("foot", "claw", "code")}]
        told.append(make.feet(make.after(day, 25, 33, 42), [foot], healed=healed))
    return told


def another_thing(make: Maker) -> list[Entry]:
    """What is slight or over, found again with this or that not said, under its name or after
    another."""
    rng, foot, skin = make.rng, make.rng.choice(FEET), make.maybe(0.7)
    code, other = ("DD", "SW") if skin else ("XX", "SH")
    place: Entry = {"foot": foot, "claw": "skin" if skin else "outer"}
    first = place | {"code": code}
    first |= {"stage": rng.choice(("M0", "M3", "M4", "M2"))} if skin else {"severity": 1}
    day = make.ago(1, 7, 14, 28)
    spots = [first, *([place | {"code": other}] if make.maybe(0.3) else [])]
    told = [make.feet(day, [foot], findings=spots)]
    while (len(told) < 2 or make.maybe(0.4)) and len(told) < 4:
        day = make.after(day, 0, 1, 7, 14)
        found = place | {"code": code}
        found |= {"severity": rng.choice((1, 2))} if make.maybe(0.4) else {}
        found |= {"stage": rng.choice(("M0", "M4"))} if skin and make.maybe(0.25) else {}
        found |= {"was": other} if make.maybe(0.25) else {}
        told.append(make.feet(day, [foot], findings=[found]))
    return told


SPOT_THREADS: tuple[Callable[[Maker], list[Entry]], ...] = (
    zoned,
    several,
    stages,
    there_and_back,
    floored,
    unplaced,
    met_again,
    begun_again,
    another_thing,
)
SPOT_WEIGHTS = (4, 4, 3, 4, 3, 4, 2, 3, 3)
