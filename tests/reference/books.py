"""Random books of valid entries, for running the engine beside the reference.

``random_book`` is plain and seeded: the same seed gives the same book on every machine. Its
entries hang together in threads (an ulcer and its looks, a block and its going off) whose days are
the rules' own numbers, now and then a day off, so that every "from" and "to" is met exactly, missed
by a day, and kept by a day. Invented bulls, farms and groups.
"""

from __future__ import annotations

import random
from datetime import date

from . import threads
from .figures import months_on
from .maker import Entry, Maker, iso
from .state import day_of

# The farm's own checks that the books speak of; "unknown-check" in them is one that it does not.
OWN_CHECKS = [
    {"name": "bvd-test", "who": "vet", "from": 30, "to": 0, "applies": "all"},
    {"name": "ring-check", "who": "farmer", "from": 60, "to": 7, "applies": "bought"},
    {"name": "blood-test", "who": "vet", "from": "ever", "lag": 14, "applies": "homebred"},
    {"name": "hire-check", "who": "vet", "from": 60, "to": 21, "lag": 7, "applies": "hired"},
    {"name": "lab-test", "who": "vet", "to": 14, "valid": 45, "applies": "bought"},
]
FARMS = (None, None, None, "Low Farm")
# Days from the day of assessment to turnout: the ends of every window, both sides of today, and
# seasons that are over (12 weeks are 84 days) or nearly.
SOON = (0, 1, 6, 7, 8, 13, 14)
TURNOUTS = (
    -200,
    -85,
    -85,
    -84,
    -84,
    -30,
    -29,
    -28,
    -1,
    *SOON,
    *SOON,
    15,
    20,
    28,
    35,
    56,
    57,
    62,
    90,
    120,
    121,
    180,
)


def random_book(seed: int, bulls: int, entries_per_bull: int, on: date) -> list[Entry]:
    """A book of ``bulls`` bulls with about ``entries_per_bull`` entries each, seen on ``on``.

    As `import` takes them, each with an id, in the order in which they were recorded: mostly that
    of their days, some written down later; groups and strikes besides; some dated after ``on``.
    """
    rng = random.Random(seed)
    today = on.toordinal()
    groups = _groups(rng, today)
    told = list(groups)
    for number in range(1, bulls + 1):
        told += _bull(rng, number, entries_per_bull, groups, today)
    told = _recorded(rng, told)
    for entry in told:
        entry["id"] = _id(rng)
    return told + _strikes(rng, told, today)


LOOKS = ("feet", "block-off", "mobility", "condition", "vet-exam", "vet-look", "check")


def some_written_ahead(book: list[Entry]) -> list[Entry]:
    """The same book, where every fourth look was recorded before its day: by a day, as clocks of
    other time zones have it, or by more. By their ids, so that no draw of another thing is changed.
    """
    told = []
    for entry in book:
        chance = int(entry["id"][:4], 16)
        early = entry["kind"] in LOOKS and chance % 4 == 0
        before = (1, 2, 2, 30)[chance // 4 % 4]
        day = iso(day_of(entry["on"]) - before)
        told.append({**entry, "recorded": day} if early else entry)
    return told


def examined_twice(book: list[Entry]) -> list[Entry]:
    """The same book, where every other examination is written once more, of the same day, with
    other figures: no draw of another thing is changed."""
    good = {"scrotum_cm": 44, "motility_pct": 90, "normal_pct": 90}
    told = []
    for entry in book:
        told.append(entry)
        if entry["kind"] == "vet-exam" and int(entry["id"][:4], 16) % 2 == 0:
            again = f"{(int(entry['id'][:8], 16) + 1) % 16**8:08x}{entry['id'][8:]}"
            told.append({**entry, **good, "id": again})
    return told


def _id(rng: random.Random) -> str:
    digits = f"{rng.getrandbits(128):032x}"
    return f"{digits[:8]}-{digits[8:12]}-4{digits[13:16]}-a{digits[17:20]}-{digits[20:]}"


def _groups(rng: random.Random, today: int) -> list[Entry]:
    """Five groups on two farms; some said again with another turnout, some only later."""
    said = []
    for number, farm in enumerate((None, None, None, "Low Farm", "Low Farm"), 1):
        name = f"Group {number if number < 5 else 1}"  # the same name on both farms
        name = "Late heifers" if number == 3 else name
        for again in range(rng.choice((1, 1, 1, 2, 3))):
            over = -rng.choice(TURNOUTS)
            entry: Entry = {
                "kind": "group",
                "group": name,
                "turnout": iso(today - over),
                "on": iso(today - rng.choice((200, 150, 90, 5, 0)) if again else today - 200),
            }
            if rng.random() < 0.05:
                entry["on"] = iso(today + 1)
            if farm:
                entry["farm"] = farm
            if rng.random() < 0.5:
                entry |= {"weeks": rng.choice((1, 6, 9, 12)), "females": rng.randint(10, 60)}
            elif over > 7 and rng.random() < 0.5:  # the season ends today, or did some days ago
                entry["weeks"] = over // 7
            if rng.random() < 0.35:
                entry["class"] = rng.choice(("heifers", "heifers", "cows"))
            if again and rng.random() < 0.4:  # a field taken away
                entry[rng.choice(("weeks", "weeks", "females", "class"))] = None
            said.append(entry)
    return said


def _bull(
    rng: random.Random, number: int, count: int, groups: list[Entry], today: int
) -> list[Entry]:
    """One bull: booked, put in a group, and what happened to him."""
    tag, farm = f"T {number:04d}", rng.choice(FARMS)
    mine = [entry for entry in groups if entry.get("farm") == farm]
    make = Maker(rng, tag, today)
    turnout, joined = None, None
    ready = make.maybe(0.55)
    if rng.random() < 0.85:
        soon = [entry for entry in mine if iso(today) <= entry["turnout"] <= iso(today + 14)]
        group = rng.choice(soon if soon and ready and make.maybe(0.6) else mine)
        turnout = [e for e in mine if e["group"] == group["group"]][-1]["turnout"]
        joined = make.entry("join", today - rng.choice((190, 60, 3, 0)), group=group["group"])
        if rng.random() < 0.3:
            joined["role"] = rng.choice(("worker", "reserve"))
    aim = date.fromisoformat(turnout).toordinal() if turnout else today
    told = [_booking(make, farm, max(aim, today), plain=ready and make.maybe(0.7))]
    told += [joined] if joined else []
    most = count
    if ready:
        told += threads.prepared(make, max(aim, today))
        if make.maybe(0.1):
            told.append(make.entry("moved", today - rng.choice((0, 0, 1, 7)), act="out"))
        most = rng.choice((len(told), len(told), len(told) + 1, len(told) + 3, count))
    while len(told) < most:
        told += rng.choices(threads.THREADS, threads.WEIGHTS)[0](make)
    kept = told[: max(count, 2)]
    if make.maybe(0.7):
        _measured(make, kept)
    if rng.random() < 0.2:
        kept[-1] = _changed(make, mine, farm)
    for entry in kept[2:]:
        if rng.random() < 0.05:  # the same tag, written otherwise
            entry["bull"] = entry["bull"].replace(" ", "").lower()
    return kept


def _measured(make: Maker, told: list[Entry]) -> None:
    """Make his last examination meet the least figure of an age that he is just about to pass."""
    exams = [entry for entry in told if "scrotum_cm" in entry]
    if not exams:
        return
    months, least = make.rng.choice(((15, 30), (18, 31), (21, 32), (24, 33), (30, 34)))
    exams[-1]["scrotum_cm"] = least + make.rng.choice((0, 0, 0.5, 1, -0.5))
    told[0]["born"] = iso(months_on(day_of(exams[-1]["on"]), -months) + make.wobble())
    told[0].pop("born_from", None)
    told[0] |= between(told[0]["born"])


def _booking(make: Maker, farm: str | None, aim: int, plain: bool) -> Entry:
    """His first entry; ``plain``: nothing in it is against him."""
    rng = make.rng
    entry = make.entry("bull", make.today - rng.choice((200, 200, 200, 200, 40, 1, 0, -1)))
    if farm:
        entry["farm"] = farm
    if plain:
        return entry | ({"born": iso(aim - 900)} if make.maybe(0.3) else {})
    if rng.random() < 0.35:
        arrived = make.today - rng.choice((27, 28, 29, 3, 0, -4, 100, 14, 100, 60))
        entry |= {"origin": rng.choice(("bought", "hired", "hired")), "arrived": iso(arrived)}
    elif rng.random() < 0.3:
        entry["origin"] = "homebred"
    if "arrived" not in entry and rng.random() < 0.12:  # from where is not said
        entry["arrived"] = iso(make.today - rng.choice((27, 28, 29, 3)))
    if rng.random() < 0.5:
        entry["born"] = _born(make, aim)
        entry |= between(entry["born"])
    if rng.random() < 0.4:
        entry["heifer_safe"] = rng.random() < 0.6
    if rng.random() < 0.3:
        entry |= {"name": f"Bull {rng.randint(1, 99)}", "breed": "Angus", "temper": "watch"}
    return entry


def between(born: str) -> Entry:
    """Of some births only two days are known, between which he was born: one of them the day that
    matters. By the day itself, so that no draw of another thing is changed."""
    day = day_of(born)
    match day % 5:
        case 0:
            return {"born_from": iso(day - (day % 7) * 60 - 1)}
        case 1:
            return {"born": iso(day + (day % 7) * 60 + 1), "born_from": born}
    return {}


def _born(make: Maker, aim: int) -> str:
    """Just old enough on a day that matters, or a day short of it, or grown long since."""
    rng = make.rng
    if make.maybe(0.1):  # months without that day
        return rng.choice(("2024-08-31", "2024-10-31", "2025-01-31", "2024-11-30"))
    months = rng.choice((13, 14, 14, 15, 18, 21, 24, 25, 40, 72, 80))
    return iso(months_on(rng.choice((aim, make.today)), -months) + make.wobble())


def _changed(make: Maker, mine: list[Entry], farm: str | None) -> Entry:
    """He changes farm or group, is taken out, or is said to be bought or born otherwise."""
    rng, day = make.rng, make.today - make.rng.choice((0, 1, 10, 50, -1))
    other = "Low Farm" if farm is None else "Top Farm"
    return rng.choice(
        (
            make.entry("join", day, group=None),
            make.entry("join", day, group=rng.choice(mine)["group"], role="reserve"),
            make.entry("join", day, group=rng.choice(mine)["group"]),
            make.entry("bull", day, farm=other),
            make.entry("bull", day, origin="homebred"),
            make.entry("bull", day, origin="bought", arrived=iso(day)),
            make.entry("bull", day, origin="hired", arrived=iso(day)),
            make.entry("bull", day, born=_born(make, make.today)),
            make.entry("bull", day, heifer_safe=make.maybe(0.5)),
            make.entry("moved", day, act="left", reason="sold"),
        )
    )


def _recorded(rng: random.Random, told: list[Entry]) -> list[Entry]:
    """The order of recording: that of the days, but for what was written down later."""

    def recorded(place: int) -> tuple[str, int]:
        late = rng.random() < 0.06
        return "9999" if late else told[place]["on"], place

    return [told[place] for place in sorted(range(len(told)), key=recorded)]


def _strikes(rng: random.Random, told: list[Entry], today: int) -> list[Entry]:
    """Some entries withdrawn, on days before and after today; a bull keeps his booking."""
    struck = [e for e in told if e["kind"] not in ("bull", "group") and rng.random() < 0.03]
    return [
        {
            "kind": "strike",
            "on": iso(today + rng.choice((-30, 0, 3))),
            "entry": entry["id"],
            "why": "another bull",
            "id": _id(rng),
        }
        for entry in struck
    ]
