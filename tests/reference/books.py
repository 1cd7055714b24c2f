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
from .threads import Entry, Maker

FARMS = (None, None, None, "Low Farm")
# Days from the day of assessment to turnout: the ends of every window, both sides of today, and
# seasons that are over (12 weeks are 84 days) or nearly.
SOON = (0, 1, 6, 7, 8, 13, 14)
TURNOUTS = (
    -200,
    -85,
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

    Contract entries, each with an id, in the order in which they were recorded: mostly that of
    their days, some written down later; groups and strikes besides; some dated after ``on``.
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


def _id(rng: random.Random) -> str:
    digits = f"{rng.getrandbits(128):032x}"
    return f"{digits[:8]}-{digits[8:12]}-4{digits[13:16]}-a{digits[17:20]}-{digits[20:]}"


def _groups(rng: random.Random, today: int) -> list[Entry]:
    """Five groups on two farms; some said again with another turnout, some only later."""
    said = []
    for number, farm in enumerate((None, None, None, "Low Farm", "Low Farm"), 1):
        name = f"Group {number if number < 5 else 1}"  # the same name on both farms
        for again in range(rng.choice((1, 1, 1, 2, 3))):
            over = -rng.choice(TURNOUTS)
            entry: Entry = {
                "kind": "group",
                "group": name,
                "turnout": threads.iso(today - over),
                "on": threads.iso(
                    today - rng.choice((200, 150, 90, 5, 0)) if again else today - 200
                ),
            }
            if rng.random() < 0.05:
                entry["on"] = threads.iso(today + 1)
            if farm:
                entry["farm"] = farm
            if rng.random() < 0.5:
                entry |= {"weeks": rng.choice((1, 6, 9, 12)), "females": rng.randint(10, 60)}
            elif over > 7 and rng.random() < 0.5:  # the season ends today, or did some days ago
                entry["weeks"] = over // 7
            if rng.random() < 0.3:
                entry["class"] = "heifers"
            said.append(entry)
    return said


def _bull(
    rng: random.Random, number: int, count: int, groups: list[Entry], today: int
) -> list[Entry]:
    """One bull: booked, put in a group, and what happened to him."""
    tag, farm = f"T {number:04d}", rng.choice(FARMS)
    mine = [entry for entry in groups if entry.get("farm") == farm]
    make = Maker(rng, tag, today)
    told = [_booking(make, farm)]
    turnout = None
    if rng.random() < 0.85:
        group = rng.choice(mine)
        turnout = [e for e in mine if e["group"] == group["group"]][-1]["turnout"]
        told.append(make.entry("join", today - rng.choice((190, 60, 3, 0)), group=group["group"]))
        if rng.random() < 0.3:
            told[-1]["role"] = rng.choice(("worker", "reserve"))
    aim = date.fromisoformat(turnout).toordinal() if turnout else today
    most = count
    if rng.random() < 0.55:
        told += threads.prepared(make, max(aim, today))
        most = rng.choice((len(told), len(told), len(told) + 1, len(told) + 3, count))
    while len(told) < most:
        told += rng.choices(threads.THREADS, threads.WEIGHTS)[0](make)
    kept = told[: max(count, 2)]
    if rng.random() < 0.2:
        kept[-1] = _changed(make, mine, farm)
    for entry in kept[2:]:
        if rng.random() < 0.05:  # the same tag, written otherwise
            entry["bull"] = entry["bull"].replace(" ", "").lower()
    return kept


def _booking(make: Maker, farm: str | None) -> Entry:
    rng = make.rng
    entry = make.entry("bull", make.today - rng.choice((200, 200, 200, 200, 40, 1, 0, -1)))
    if farm:
        entry["farm"] = farm
    if rng.random() < 0.25:
        arrived = make.today - rng.choice((27, 28, 29, 3, 0, -4, 100, 14))
        entry |= {"origin": "bought", "arrived": threads.iso(arrived)}
    if rng.random() < 0.3:
        entry |= {"name": f"Bull {rng.randint(1, 99)}", "breed": "Angus", "temper": "watch"}
    return entry


def _changed(make: Maker, mine: list[Entry], farm: str | None) -> Entry:
    """He changes farm or group, is taken out, or is said to be bought after all."""
    rng, day = make.rng, make.today - make.rng.choice((0, 1, 10, 50, -1))
    other = "Low Farm" if farm is None else "Top Farm"
    return rng.choice(
        (
            make.entry("join", day, group=None),
            make.entry("join", day, group=rng.choice(mine)["group"], role="reserve"),
            make.entry("join", day, group=rng.choice(mine)["group"]),
            make.entry("bull", day, farm=other),
            make.entry("bull", day, origin="homebred"),
            make.entry("bull", day, origin="bought", arrived=threads.iso(day)),
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
            "on": threads.iso(today + rng.choice((-30, 0, 3))),
            "entry": entry["id"],
            "why": "another bull",
            "id": _id(rng),
        }
        for entry in struck
    ]
