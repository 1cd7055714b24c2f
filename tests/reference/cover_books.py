"""Random farms for cover: groups that want more bulls than they have, and bulls to be moved.

``cover_book`` is seeded as ``random_book`` is: the same seed gives the same book everywhere. Births
lie around the ages at which a bull's worth changes, and females around what the bulls make up.
Invented bulls, farms and groups.
"""

from __future__ import annotations

import random
from datetime import date

from . import threads
from .books import between
from .figures import months_on
from .maker import Entry, Maker, iso

FARMS = (None, "Low Farm")
# Days from the day of assessment to turnout: turned out already, today, soon, later, season over.
TURNOUTS = (-85, -84, -20, -1, 0, 0, 3, 3, 7, 7, 14, 14, 20, 30, 45, 60, 75)
FEMALES = (0, 10, 15, 20, 20, 25, 30, 30, 35, 35, 36, 45, 50, 60, 65, 70, 71, 100)
AGES = (13, 14, 15, 18, 24, 36, 60, 72, 73)  # months
BREEDS = ("Angus", "AA", "Hereford", "he", "Limousin", "LIM", "Charolais", "CH", "Simmental", "SIM")
OTHER_BREEDS = ("Shorthorn", "Blonde", "Holstein-Friesian", "Highland")


def cover_book(seed: int, on: date, farms: int = 2, most_bulls: int = 8) -> list[Entry]:
    """Up to ``farms`` farms of 2 or 3 groups and 3 to ``most_bulls`` bulls each, seen on ``on``.

    As ``random_book``: valid entries, each with an id, in the order in which they were recorded.
    """
    rng = random.Random(seed)
    today = on.toordinal()
    told: list[Entry] = []
    for farm in FARMS[: rng.randint(1, farms)]:
        groups = _groups(rng, farm, today)
        told += groups
        for number in range(rng.randint(3, most_bulls)):
            # tags of both farms run into one another, so that the order of tags is not of farms
            tag = f"T {2 * number + FARMS.index(farm):04d}"
            told += _bull(Maker(rng, tag, today), farm, groups)
    told.sort(key=lambda entry: str(entry["on"]))
    return [entry | {"id": _id(rng)} for entry in told]


def _id(rng: random.Random) -> str:
    digits = f"{rng.getrandbits(128):032x}"
    return f"{digits[:8]}-{digits[8:12]}-4{digits[13:16]}-a{digits[17:20]}-{digits[20:]}"


def _groups(rng: random.Random, farm: str | None, today: int) -> list[Entry]:
    """Two or three; both farms have the same names. Some are said again otherwise."""
    said = []
    for name in ("Hill", "Meadow", "Shed")[: rng.randint(2, 3)]:
        for again in range(rng.choice((1, 1, 1, 2))):
            entry: Entry = {
                "kind": "group",
                "group": name,
                "turnout": iso(today + rng.choice(TURNOUTS)),
                "on": iso(today - (rng.choice((90, 5, 0, -1)) if again else 200)),
            }
            if farm:
                entry["farm"] = farm
            if rng.random() < 0.8:
                entry["females"] = rng.choice(FEMALES)
            if rng.random() < 0.3:
                entry["weeks"] = rng.choice((3, 9, 12))
            if rng.random() < 0.3:
                entry["class"] = rng.choice(("heifers", "heifers", "cows"))
            if again and rng.random() < 0.3:
                entry[rng.choice(("weeks", "females", "class"))] = None
            said.append(entry)
    return said


def _bull(make: Maker, farm: str | None, groups: list[Entry]) -> list[Entry]:
    """Booked, mostly in a group, mostly ready for it or soon to be, now and then out or away."""
    rng, today = make.rng, make.today
    group = rng.choice(groups)
    aim = max(date.fromisoformat(group["turnout"]).toordinal(), today)
    told = [_booking(make, farm, date.fromisoformat(group["turnout"]).toordinal())]
    if make.maybe(0.75):
        joined = make.entry("join", today - rng.choice((190, 60, 3, 0)), group=group["group"])
        role = rng.choice(("worker", "worker", "reserve", None))
        told.append(joined | ({"role": role} if role else {}))
    kind = rng.random()
    # as it is, ready for his own group's turnout, or for going out today
    told += threads.prepared(make, aim if kind < 0.6 else today) if kind < 0.85 else []
    if make.maybe(0.2):
        told += threads.lame(make)
    elif make.maybe(0.15):
        told += rng.choices(threads.THREADS, threads.WEIGHTS)[0](make)
    if make.maybe(0.2):
        told.append(make.entry("moved", today - rng.choice((0, 1, 10)), act="out"))
        if make.maybe(0.3):
            told.append(make.entry("moved", today, act="in", reason="rested"))
    elif make.maybe(0.05):
        told.append(make.entry("moved", today - 1, act="left", reason="sold"))
    if make.maybe(0.08):
        told.append(make.entry("join", today - rng.choice((0, 1)), group=None))
    return told


def _booking(make: Maker, farm: str | None, turnout: int) -> Entry:
    """His booking; just of an age at his group's turnout, or a day short of it."""
    rng = make.rng
    entry = make.entry("bull", make.today - 200)
    if farm:
        entry["farm"] = farm
    if make.maybe(0.8):
        months = rng.choice((*AGES, 30, 48))
        entry["born"] = iso(months_on(turnout, -months) + make.wobble())
        entry |= between(entry["born"])
    if make.maybe(0.6):
        entry["breed"] = rng.choice((*BREEDS, *OTHER_BREEDS))
    if make.maybe(0.6):
        entry["pen"] = rng.choice(("North pen", "South pen"))
    if make.maybe(0.6):
        entry["heifer_safe"] = make.maybe(0.75)
    if make.maybe(0.3):
        entry["temper"] = rng.choice(("quiet", "watch", "dangerous"))
    return entry
