"""Hypothesis strategies for small books: what shrinks to a case that a person can read.

Every drawn book is of valid entries. Days are few and close together, and mostly the rules' own
numbers before the day of assessment, so that ends of windows meet.
"""

from __future__ import annotations

from datetime import date
from typing import Any

from hypothesis import strategies as st

from .feet_threads import HORN, SKIN
from .maker import Entry, iso
from .values import FEET, STAGES

Drawn = st.SearchStrategy[Entry]
# Days before the day of assessment; two lie after it.
AGO = (0, 1, 2, 3, 4, 5, 7, 8, 13, 14, 15, 21, 22, 25, 28, 29, 33, 35, 36, 42, 43, 49, 60, 61, 63)
DAYS = (*AGO, 70, 84, 119, 120, 121, 150, -1, -3)
foot = st.sampled_from(FEET)
claw = st.sampled_from(("outer", "inner"))
flag = st.booleans()
ACTS = ("trim", "pare", "dress", "wrap", "unwrap")
OUTCOMES = st.sampled_from(("fit", "unfit", "again"))


def having(required: dict[str, st.SearchStrategy[Any]], **optional: Any) -> Drawn:
    return st.fixed_dictionaries(required, optional=optional)


def kind(name: str, required: dict[str, st.SearchStrategy[Any]], **optional: Any) -> Drawn:
    return having({"kind": st.just(name), **required}, **optional)


@st.composite
def places(draw: st.DrawFn) -> Entry:
    """A claw (or the skin) of a foot and a code that fits it."""
    skin = draw(st.booleans())
    where = "skin" if skin else draw(st.sampled_from(("outer", "inner", "both")))
    return {
        "foot": draw(foot),
        "claw": where,
        "code": draw(st.sampled_from(SKIN if skin else HORN)),
    }


@st.composite
def spots(draw: st.DrawFn) -> Entry:
    """A finding: its place and code, and what is said of it."""
    spot = draw(places())
    if draw(st.booleans()):
        spot["severity"] = draw(st.integers(1, 3))
    if spot["code"] == "DD" and draw(st.booleans()):
        spot["stage"] = draw(st.sampled_from(STAGES))
    if draw(st.integers(0, 4)) == 0:
        codes = [
            code for code in (SKIN if spot["claw"] == "skin" else HORN) if code != spot["code"]
        ]
        spot["was"] = draw(st.sampled_from(codes))
    if draw(st.integers(0, 2)) == 0:
        spot["zone"] = draw(st.integers(3, 4))
    return spot


def parts(place: Entry) -> set[tuple[str, str]]:
    """The claws of feet that a place names; both are two."""
    sides = ("outer", "inner") if place["claw"] == "both" else (place["claw"],)
    return {(place["foot"], side) for side in sides}


@st.composite
def lifts(draw: st.DrawFn) -> Entry:
    """A lift; of a claw either something is found or something is healed, so no line is refused."""
    found: list[Entry] = []
    for spot in draw(st.lists(spots(), max_size=2)):
        if not any(parts(spot) & parts(other) for other in found):
            found.append(spot)
    taken = set().union(*(parts(spot) for spot in found))
    healed: list[Entry] = []
    for place in draw(st.lists(places(), max_size=2)):
        if not parts(place) & taken:
            healed.append(place)
            taken |= parts(place)
    for spot in found[:]:
        if draw(st.integers(0, 4)) == 0:  # another spot of it, of which less or other is said
            other = {name: spot[name] for name in ("foot", "claw", "code")}
            found.append(other | draw(having({}, severity=st.integers(1, 3), zone=st.just(4))))
    named = {spot["foot"] for spot in [*found, *healed]}
    more = draw(st.sets(foot, min_size=0 if named else 1))
    entry: Entry = {"kind": "feet", "lifted": [f for f in FEET if f in named | more]}
    if found:
        entry["findings"] = found
    if healed:
        entry["healed"] = healed
    if draw(st.integers(0, 4)) == 0:
        acts = draw(st.lists(st.sampled_from(ACTS), min_size=1, max_size=2, unique=True))
        entry["work"] = [{"foot": entry["lifted"][0], "act": act} for act in acts]
    refused = [f for f in FEET if f not in entry["lifted"]]
    if refused and draw(st.integers(0, 4)) == 0:
        entry["refused"] = refused[:1]
    if draw(st.integers(0, 4)) == 0:
        sole, claw = draw(st.sampled_from((4, 5, 6))), draw(st.sampled_from(("outer", "both")))
        entry["measures"] = [{"foot": entry["lifted"][0], "claw": claw, "sole_mm": sole}]
    return entry


mobility = st.one_of(
    kind("mobility", {"scale": st.sampled_from(("gb0-3", "nz0-3")), "score": st.integers(0, 3)}),
    kind("mobility", {"scale": st.just("five1-5"), "score": st.integers(1, 5)}, limb=foot),
)
condition = st.one_of(
    kind("condition", {"scale": st.just("five"), "score": st.sampled_from((2.25, 2.5, 3.0, 4.0))}),
    kind("condition", {"scale": st.just("nine"), "score": st.sampled_from((3.5, 4.0, 7.0, 7.5))}),
)
incident = kind(
    "incident",
    {"cause": st.sampled_from(("fight", "fall", "transport", "illness", "other"))},
    lame=flag,
    fever=flag,
    limb=foot,
    suspect=st.sampled_from(("foot", "back")),
)
figures = {
    "scrotum_cm": st.sampled_from((30, 33.9, 34, 40)),
    "motility_pct": st.sampled_from((59, 60)),
    "normal_pct": st.sampled_from((69, 70)),
    "stands": flag,
    "feet_seen": flag,
}
joint = st.just("joint")
part = st.sampled_from(("eyes", "back", "joint"))
vet = st.one_of(
    kind("vet-exam", {"outcome": st.sampled_from(("satisfactory", "unsatisfactory"))}),
    kind("vet-exam", {"outcome": st.just("satisfactory")}, **figures),
    kind("vet-exam", {"outcome": st.just("deferred")}, feet_seen=flag),
)
vet_look = st.one_of(
    kind("vet-look", {"about": st.sampled_from(("foot", "lame")), "outcome": OUTCOMES}, foot=foot),
    kind("vet-look", {"about": st.sampled_from(("illness", "other")), "outcome": OUTCOMES}),
    kind("vet-look", {"about": st.just("body"), "outcome": OUTCOMES}, part=part),
    kind("vet-look", {"about": st.just("body"), "outcome": OUTCOMES, "part": joint}, limb=foot),
)
state = st.sampled_from(("wrong", "wrong", "watch", "right"))
body = st.one_of(
    kind("body", {"part": part, "state": state}),
    kind("body", {"part": joint, "state": state}, limb=foot),
)
block = st.one_of(
    kind("block-on", {"foot": foot, "claw": claw}),
    kind("block-off", {"foot": foot, "claw": claw}, lost=flag),
)
moved = st.one_of(
    kind("moved", {"act": st.sampled_from(("in", "out", "out"))}),
    kind("moved", {"act": st.just("in"), "reason": st.sampled_from(("lame", "rested", "hired"))}),
)
other = st.one_of(
    kind(
        "treatment",
        {"given_by": st.just("vet"), "product": st.sampled_from(("a drug", "Pain-killer"))},
        pain_relief=flag,
    ),
    kind(
        "check",
        {
            "check": st.sampled_from(("bvd-test", "BVD-test")),
            "result": st.sampled_from(("pass", "fail")),
        },
    ),
    kind(
        "check",
        {"check": st.sampled_from(("bvd-test", "lab-test")), "result": st.just("pass")},
        valid_until=st.sampled_from((-1, 0, 1, 6, 7, 13, 14, 35)),  # days from today
    ),
    kind("join", {"group": st.sampled_from(("Cows", None))}, role=st.just("reserve")),
)
happenings = st.one_of(
    lifts(),
    lifts(),
    lifts(),
    mobility,
    condition,
    incident,
    vet,
    vet_look,
    body,
    block,
    moved,
    other,
)


@st.composite
def books(draw: st.DrawFn, on: date, bulls: int = 1, entries: int = 12) -> list[Entry]:
    """A small book: up to ``bulls`` bulls, each booked long ago, with up to ``entries`` entries.

    ``on`` is the day of assessment. Entries carry no ids, so there are no strikes.
    """
    today = on.toordinal()
    booked = iso(today - 200)
    turnout = iso(today - draw(st.sampled_from((0, -1, -6, -7, -14, -20, -35, -62, 1, 84, 85))))
    told: list[Entry] = [{"kind": "group", "group": "Cows", "turnout": turnout, "on": booked}]
    for number in range(1, draw(st.integers(1, bulls)) + 1):
        tag = f"T {number:04d}"
        told.append({"kind": "bull", "bull": tag, "on": booked})
        if draw(flag):
            arrived = iso(today - draw(st.sampled_from((27, 28, 3))))
            told[-1] |= {"arrived": arrived} | draw(having({}, origin=st.just("bought")))
        told.append({"kind": "join", "bull": tag, "on": booked, "group": "Cows"})
        for entry in draw(st.lists(happenings, max_size=entries)):
            day = iso(today - draw(st.sampled_from(DAYS)))
            until = entry.get("valid_until")
            more = {} if until is None else {"valid_until": iso(today + until)}
            told.append({**entry, **more, "bull": tag, "on": day})
    return told
