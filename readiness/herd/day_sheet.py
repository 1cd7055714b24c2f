"""The day sheet: what was seen and done at a farm on one day, and the work counted.

Pure: the standing entries of the book in, plain frozen values out.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from readiness.engine.results import Assessment
from readiness.entries.entry import Entry, from_roster
from readiness.herd.board import assess_herd, fold_book
from readiness.history import History, history
from readiness.rules.model import RuleBook
from readiness.trade.feet import ACT_DONE, ACTS

SEEN_OR_DONE = (
    "feet", "block-on", "block-off", "mobility", "condition", "weight", "vet-exam", "vet-look",
    "body", "incident", "treatment", "check", "moved",
)  # fmt: skip
"""The kinds of entry that stand on a sheet; a bull booked in or put in a group is paperwork."""


def on_a_sheet(entry: Entry) -> bool:
    """Whether it tells of a bull who was before somebody; a weight in a spreadsheet does not."""
    return entry.kind in SEEN_OR_DONE and not from_roster(entry)


@dataclass(frozen=True, slots=True)
class Handled:
    """One bull of the sheet. ``tag``, ``name``, ``farm``: as on the day, or as he was booked later
    where he was not yet. ``entries``: those of the day, as they were said. ``assessment``: how he
    stands after them, None where he has left or was not booked yet. ``state``: as at the day's end.
    """

    key: str
    tag: str
    name: str
    farm: str
    state: History
    entries: tuple[Entry, ...]
    assessment: Assessment | None


@dataclass(frozen=True, slots=True)
class Work:
    """One kind of work, counted: on so many bulls, so many ``units`` (feet, or blocks)."""

    what: str
    bulls: int
    count: int
    unit: str


@dataclass(frozen=True, slots=True)
class Sheet:
    """One farm's day. ``bulls`` in the order of first handling; ``by``: who wrote it down."""

    farm: str
    on: int
    by: tuple[str, ...]
    bulls: tuple[Handled, ...]
    work: tuple[Work, ...]


def day_sheets(
    entries: Sequence[Entry], rulebook: RuleBook, on: int, farm: str | None = None
) -> tuple[Sheet, ...]:
    """The sheets of day ``on`` (an ordinal), one for each farm where something was seen or done, by
    the farm's name; a bull is on the farm where he is at the end of the day.

    ``entries``: all effective entries in ``entry_order``. ``farm``: only this one.
    """
    handled = _handled(entries, rulebook, on)
    return tuple(
        _sheet(name, on, [bull for bull in handled if bull.farm == name])
        for name in sorted({bull.farm for bull in handled})
        if farm is None or name == farm
    )


def last_day_with_work(
    entries: Sequence[Entry], rulebook: RuleBook, on: int, farm: str | None = None
) -> int | None:
    """The last day before ``on`` that has a sheet, None where there is none."""
    booked = (entry for entry in entries if entry.kind == "bull")
    there = {e.bull for e in booked if farm is None or e.body.get("farm", "") == farm}
    worked = (e for e in entries if e.day < on and on_a_sheet(e) and e.bull in there)
    days = {entry.day for entry in worked}
    found = (day for day in sorted(days, reverse=True) if day_sheets(entries, rulebook, day, farm))
    return next(found, None)


def _handled(entries: Sequence[Entry], rulebook: RuleBook, on: int) -> list[Handled]:
    today: dict[str, list[Entry]] = {}
    for entry in entries:
        if entry.day == on and on_a_sheet(entry):
            today.setdefault(entry.bull, []).append(entry)
    if not today:
        return []
    bulls = {bull.key: bull for bull in assess_herd(fold_book(entries, rulebook, on)).bulls}
    own: dict[str, list[Entry]] = {key: [] for key in today}
    for entry in entries:
        if entry.bull in own:
            own[entry.bull].append(entry)
    return [_one(key, own[key], said, bulls.get(key), rulebook, on) for key, said in today.items()]


def _one(
    key: str,
    own: Sequence[Entry],
    said: Sequence[Entry],
    assessment: Assessment | None,
    rulebook: RuleBook,
    on: int,
) -> Handled:
    """One bull. He may have been worked on before he was booked: then as he was booked first."""
    profile: dict[str, object] = {}
    for entry in own:
        if entry.kind == "bull" and (entry.day <= on or not profile):
            profile |= entry.body
    farm = str(profile.get("farm") or "")
    state = history(own, rulebook.for_farm(farm or None), on, key)
    tag = str(profile.get("bull") or said[0].body["bull"])
    name = str(profile.get("name") or "")
    return Handled(key, tag, name, farm, state, tuple(said), assessment)


def _sheet(farm: str, on: int, bulls: list[Handled]) -> Sheet:
    said = [entry for bull in bulls for entry in bull.entries]
    by = dict.fromkeys(str(entry.body["by"]) for entry in said if entry.body.get("by"))
    return Sheet(farm, on, tuple(by), tuple(bulls), tuple(work_of(said)))


def work_of(entries: Iterable[Entry]) -> list[Work]:
    """The work that entries of one day tell of, counted; a foot counts once for each kind of work,
    however often it was said; a block for each time one was fitted. What was not done is left out.
    """
    feet: dict[str, set[tuple[str, str]]] = {}
    blocks: dict[str, list[str]] = {}
    for entry in entries:
        body, bull = entry.body, entry.bull
        if entry.kind == "feet":
            for what, where in _feet_work(body):
                feet.setdefault(what, set()).add((bull, where))
        elif entry.kind in ("block-on", "block-off"):
            blocks.setdefault(_block_work(entry), []).append(bull)
    order = ("lifted", *(ACT_DONE[act] for act in ACTS), "could not be lifted")
    counted = [_of_feet(what, feet[what]) for what in order if what in feet]
    order = ("blocks fitted", "blocks taken off", "blocks lost")
    return counted + [_of_blocks(what, blocks[what]) for what in order if what in blocks]


def _feet_work(body: Mapping[str, Any]) -> Iterable[tuple[str, str]]:
    yield from (("lifted", foot) for foot in body.get("lifted", ()))
    yield from (("could not be lifted", foot) for foot in body.get("refused", ()))
    yield from ((ACT_DONE[done["act"]], done["foot"]) for done in body.get("work", ()))


def _block_work(entry: Entry) -> str:
    if entry.kind == "block-on":
        return "blocks fitted"
    return "blocks lost" if entry.body.get("lost") else "blocks taken off"


def _of_feet(what: str, places: set[tuple[str, str]]) -> Work:
    return Work(what, len({bull for bull, _ in places}), len(places), "feet")


def _of_blocks(what: str, bulls: list[str]) -> Work:
    return Work(what, len(set(bulls)), len(bulls), "blocks")
