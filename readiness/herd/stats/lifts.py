"""Every foot that was lifted, and what was found on it that day.

A bull's age is given in the bands by which the trade says how many females he can serve.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from readiness.entries.entry import Entry
from readiness.herd.board import split
from readiness.history.finding import claws_of
from readiness.history.findings import Feet
from readiness.history.fold import while_here
from readiness.rules.model import RuleBook
from readiness.system.plain import plain
from readiness.trade.ages import Birth, birth_in, said_of_bull
from readiness.trade.codes import SOUND_STAGE
from readiness.trade.feet import FEET

UNKNOWN = "unknown"

_UPTO = (
    (14, "under 15 months"),
    (17, "15 to under 18 months"),
    (23, "18 to under 24 months"),
    (35, "24 to under 36 months"),
    (72, "36 months to 6 years"),
)
"""(whole months up to and including, the band's name)."""

_OVER = "over 6 years"
AGES = (*(name for _, name in _UPTO), _OVER, UNKNOWN)
"""Every band, from young to old."""


def age_band(birth: Birth | None, day: int) -> str:
    """The band of a bull of this birth on ``day`` (an ordinal).

    In whole months; he is over 6 years from 73 months on. ``UNKNOWN`` where nothing is known of his
    birth, where it may be after that day, or where he may be in more than one.
    """
    if birth is None or birth.last > day:
        return UNKNOWN
    ages = birth.months(day)
    young, old = (next((n for upto, n in _UPTO if m <= upto), _OVER) for m in (ages[0], ages[-1]))
    return young if young == old else UNKNOWN


class Listing(NamedTuple):
    """A finding that a lift lists. ``claw``: outer, inner or skin; ``zone`` None: not said."""

    claw: str
    code: str
    zone: int | None


class FootLift(NamedTuple):
    """One foot lifted once. ``farm``: where he was that day; ``breed`` "" where it is not known;
    ``age``: his band that day."""

    bull: str
    day: int
    foot: str
    farm: str
    breed: str
    age: str
    found: frozenset[Listing]


def foot_lifts(entries: Iterable[Entry], rulebook: RuleBook, on: int) -> list[FootLift]:
    """The lifts up to ``on`` (an ordinal), bull by bull.

    ``entries``: all effective entries in ``entry_order``, bulls and groups together. A bull's breed
    and birthday are those said last: a later saying corrects. His farm is the one said last by the
    end of that day; before any was said, the first that was.
    """
    by_bull, _ = split(entries, on)
    return [lift for key, own in by_bull.items() for lift in _of_bull(key, own, rulebook)]


def _of_bull(key: str, entries: Sequence[Entry], rulebook: RuleBook) -> Iterator[FootLift]:
    own = list(while_here(entries))
    profile: dict[str, Any] = {}
    farms: list[tuple[int, str]] = []
    for entry in own:
        if entry.kind == "bull":
            profile = said_of_bull(profile, entry.body)
            if "farm" in entry.body:
                farms.append((entry.day, entry.body["farm"]))
    breed = breed_in(profile)
    birth = birth_in(profile)
    feet = Feet(rulebook.for_farm(farms[-1][1] if farms else None))
    for entry in own:
        if entry.kind != "feet":
            continue
        feet.lift(entry.day, entry.id, entry.body)
        found = _found(entry.body, feet)
        farm, age = _farm_on(farms, entry.day), age_band(birth, entry.day)
        for foot in FEET:
            if foot in entry.body["lifted"]:
                here = frozenset(found.get(foot, ()))
                yield FootLift(key, entry.day, foot, farm, breed, age, here)


def breed_in(profile: Mapping[str, Any]) -> str:
    """His breed as it was said, "" where it was not."""
    return " ".join(plain(str(profile.get("breed") or "")).split())


def _farm_on(farms: Sequence[tuple[int, str]], day: int) -> str:
    """The farm by the end of a day; the first one before that was said."""
    then = [farm for said, farm in farms if said <= day]
    return then[-1] if then else (farms[0][1] if farms else "")


def _found(body: Mapping[str, Any], feet: Feet) -> dict[str, set[Listing]]:
    """Foot → everything that this entry, which ``feet`` took in already, lists on it."""
    found: dict[str, set[Listing]] = {}
    for item in body.get("findings", ()):
        for claw in claws_of(item["claw"]):
            key = (item["foot"], claw, item["code"])
            # Found again without its zone or stage it keeps those it has; so does one renamed.
            open_ = feet.open.get(key) or feet.open.get((*key[:2], item.get("was", "")))
            stage, zone = item.get("stage"), item.get("zone")
            if open_ is not None:
                stage = stage or open_.stage
                zone = open_.zone if zone is None else zone
            if stage != SOUND_STAGE:
                found.setdefault(key[0], set()).add(Listing(claw, key[2], zone))
    return found
