"""The vet's days: for each farm the fewest days on which his examinations and looks can be done,
each within the days advised for it, and those as early as they can be.

Pure. What a day may be is the farm's own: its working days, less what its rules leave out.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass

from readiness.herd.diary import Diary, Due
from readiness.rules.model import RuleBook, VisitRules
from readiness.rules.public_holidays import holidays_of
from readiness.rules.workdays import days_of
from readiness.system.grouped import grouped
from readiness.trade.words import Day

VET = "vet"
PAST, NO_DAY, NO_END = (
    "past its last day: as soon as the vet can come",
    "no working day of the farm within its days",
    "nothing says by when, and no day is proposed that suits it",
)
"""Why no day is proposed for a check."""

Window = tuple[Day, Day]
"""First and last day, both in it."""


@dataclass(frozen=True, slots=True)
class VetDay:
    """A day proposed for the vet at a farm, with what he can do on it."""

    on: Day
    farm: str | None
    dues: tuple[Due, ...]


@dataclass(frozen=True, slots=True)
class VetDays:
    """``days``: the first first. ``left``: what no day of them covers, and why."""

    days: tuple[VetDay, ...] = ()
    left: tuple[tuple[Due, str], ...] = ()

    def until(self, last: Day | None) -> VetDays:
        """Without the days after ``last`` (None: all of them)."""
        return VetDays(tuple(day for day in self.days if last is None or day.on <= last), self.left)


def vet_days(diary: Diary, rulebook: RuleBook) -> VetDays:
    """The days proposed for what is the vet's in this diary, which is as people plan it."""
    dated = [due for _, dues in diary.days for due in dues if due.check.who == VET]
    loose = [due for due in (*diary.overdue, *diary.undated) if due.check.who == VET]
    of_farm, loose_of = (grouped(dues, lambda due: due.farm) for dues in (dated, loose))
    days: list[VetDay] = []
    left: list[tuple[Due, str]] = []
    for farm in dict.fromkeys((*of_farm, *loose_of)):
        own = of_farm.get(farm, [])
        last = max((due.day for due in own), default=diary.on)
        working = working_days(rulebook.for_farm(farm).visits, diary.on, last)
        placed = _placed(own, working)
        _ride_along(loose_of.get(farm, []), placed)
        left += [(due, _why(due)) for due in (*own, *loose_of.get(farm, ())) if due not in placed]
        for on, dues in grouped(placed, placed.__getitem__).items():
            days.append(VetDay(on, farm, tuple(sorted(dues, key=_by_bull))))
    return VetDays(tuple(sorted(days, key=lambda day: (day.on, day.farm or ""))), tuple(left))


def working_days(rules: VisitRules, first: Day, last: Day) -> list[Day]:
    """The days of a farm on which somebody may come, in order."""
    off = holidays_of(rules.visits_holidays, first, last)
    return sorted(
        set(days_of(rules.visits_workdays, rules.visits_except, first, last)) - off.keys()
    )


def fewest_days(
    windows: Iterable[Window], days: Collection[Day], kept: Collection[Day] = ()
) -> set[Day]:
    """The ``kept`` days, and the fewest of ``days`` that, with them, hit every window that holds
    one of ``days`` at all; of all such choices that whose last day, then whose last but one, and so
    on, is the earliest.

    The windows are taken by their first day, the latest first: where none of the days chosen hits
    one, its first day must be hit or a later one, and no later one hits more of those to come.
    """
    found = set(kept)
    starts = (
        (min(inside), last)
        for first, last in windows
        if (inside := [day for day in days if first <= day <= last])
    )
    for first, last in sorted(starts, reverse=True):
        if not any(first <= day <= last for day in found):
            found.add(first)
    return found


def _placed(dues: Sequence[Due], working: Collection[Day]) -> dict[Due, Day]:
    """Each check's day. What waits for another of the vet's on the same bull gets its day after
    that one has his: the days are the fewest as long as none does."""
    ids = {(due.key, due.check.id): due for due in dues}
    placed: dict[Due, Day] = {}
    chosen: set[Day] = set()
    todo = set(dues)
    while todo:
        now = [
            due
            for due in dues
            if due in todo and not any(ids.get((due.key, it)) in todo for it in due.check.after)
        ]
        windows = [_window(due, ids, placed) for due in now]
        chosen = fewest_days(windows, working, chosen)
        for due, (first, last) in zip(now, windows, strict=True):
            if hit := [day for day in chosen if first <= day <= last]:
                placed[due] = min(hit)
        todo.difference_update(now)
    return placed


def _window(due: Due, ids: dict[tuple[str, str], Due], placed: dict[Due, Day]) -> Window:
    """From its first day, or so long after what it waits for, to the day by which to plan it."""
    befores = ((ids.get((due.key, other)), days) for other, days in due.check.lags)
    waited = (placed[before] + days for before, days in befores if before in placed)
    return max([due.check.not_before, *waited]), due.day


def _ride_along(loose: Iterable[Due], placed: dict[Due, Day]) -> None:
    """What is overdue or has no last day asks for no day of its own, but is done on the first that
    suits it: the vet is there anyhow."""
    chosen = sorted(set(placed.values()))
    for due in loose:
        hit = next((day for day in chosen if day >= due.check.not_before), None)
        if hit is not None:
            placed[due] = hit


def _why(due: Due) -> str:
    if due.check.overdue:
        return PAST
    return NO_DAY if due.check.has_last_day else NO_END


def _by_bull(due: Due) -> tuple[str, str]:
    return due.key, due.check.id
