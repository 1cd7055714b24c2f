"""The day sheet: what was seen and done at a farm on one day, and the work counted.

Pure: the standing entries of the book in, plain frozen values out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from readiness.engine.results import Assessment
from readiness.entries.entry import Entry, from_roster
from readiness.herd.board import assess_herd, fold_book
from readiness.history import History, history
from readiness.rules.model import RuleBook
from readiness.system.grouped import grouped
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
    told = (entry for entry in entries if entry.day == on and on_a_sheet(entry))
    today = grouped(told, lambda entry: entry.bull)
    if not today:
        return []
    bulls = {bull.key: bull for bull in assess_herd(fold_book(entries, rulebook, on)).bulls}
    own = grouped((e for e in entries if e.bull in today), lambda entry: entry.bull)
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
    done: dict[str, set[tuple[str, str]]] = {}
    for entry in entries:
        for what, where in _done(entry):
            done.setdefault(what, set()).add((entry.bull, where))
    return [
        Work(what, len({bull for bull, _ in done[what]}), len(done[what]), unit)
        for what, unit in _WORK.items()
        if what in done
    ]


_WORK = {
    **dict.fromkeys(("lifted", *(ACT_DONE[act] for act in ACTS), "would not lift"), "feet"),
    **dict.fromkeys(("blocks fitted", "blocks taken off", "blocks lost"), "blocks"),
}
"""Every kind of work, in the order of a sheet → what is counted of it."""


def _done(entry: Entry) -> Iterator[tuple[str, str]]:
    """The work that an entry tells of, and what it counts by: the foot, of a block the entry."""
    body = entry.body
    if entry.kind == "feet":
        yield from (("lifted", foot) for foot in body.get("lifted", ()))
        yield from (("would not lift", foot) for foot in body.get("refused", ()))
        yield from ((ACT_DONE[done["act"]], done["foot"]) for done in body.get("work", ()))
    elif entry.kind == "block-on":
        yield "blocks fitted", entry.id
    elif entry.kind == "block-off":
        yield "blocks lost" if body.get("lost") else "blocks taken off", entry.id
