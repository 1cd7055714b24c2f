"""After the season: which of the bulls that worked are due rest, feed or an examination. It informs
only: nothing here holds or clears a bull.

Pure. Days are ordinals.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from readiness.engine.results import Assessment
from readiness.herd.board import Herd
from readiness.history import History
from readiness.history.groups import Group, season_worked
from readiness.history.records import NEVER, Exam, Outing, Trouble
from readiness.trade.words import Day

Measured = tuple[Day, float]


class Loss(NamedTuple):
    """Lost at work and not regained: the last of before and the last of all. ``what``: condition
    or kg."""

    what: str
    before: Measured
    now: Measured

    @property
    def lost(self) -> float:
        """By how much."""
        return self.before[1] - self.now[1]


class Rest(NamedTuple):
    """He would go out ``again`` sooner than ``until``."""

    until: Day
    again: Day


@dataclass(frozen=True, slots=True)
class AfterSeason:
    """A bull whose season is over. ``group``: with whom he worked, from ``out`` to ``back`` (None:
    he is out still); ``last_day``: that season's, None where nobody said which it was.
    ``troubles``: the last of each kind while he worked, where he has passed no examination since.
    ``exam``: his last; ``exam_due``: whether none is passed that counts for his next season."""

    bull: Assessment
    group: str | None
    last_day: Day | None
    out: Day
    back: Day | None
    rest: Rest | None
    lost: tuple[Loss, ...]
    troubles: tuple[Trouble, ...]
    exam: Exam | None
    exam_due: bool

    @property
    def last_passed(self) -> Day | None:
        """The day of his last examination, where he passed it."""
        return _passed(self.exam) or None

    @property
    def due(self) -> bool:
        """Whether there is anything to say of him."""
        return bool(self.back is None or self.rest or self.lost or self.troubles or self.exam_due)


def after_seasons(herd: Herd, bulls: Iterable[Assessment]) -> tuple[AfterSeason, ...]:
    """Of these bulls those whose season is over and of whom there is anything to say, who is out
    still first."""
    states = {state.key: state for state in herd.states}
    over = (bull for bull in bulls if is_over(herd, states[bull.key]))
    told = [each for bull in over if (each := _after(herd, bull, states[bull.key])).due]
    return tuple(
        sorted(told, key=lambda each: (each.back is not None, each.group or "", each.bull.key))
    )


def is_over(herd: Herd, state: History) -> bool:
    """Whether he worked, and not on hire, and that season is over: its last day is past, or he came
    in and belongs to that group no more. One who is out works where he is said to be, once the
    season there is under way."""
    if not state.outings or state.outings[-1].hired:
        return False
    now = herd.groups.get((state.farm or "", state.group or ""))
    if state.out and now is not None and now.turnout <= herd.on:
        return False
    last = state.outings[-1]
    season = season_of(herd, state, last)
    if season is not None and last_day_of(herd, season) < herd.on:
        return True
    return last.back != NEVER and (last.group is None or last.group != state.group)


def season_of(herd: Herd, state: History, outing: Outing) -> Group | None:
    """The season in which he was out then; None where he went before the first turnout, or after
    the last day and so for the next one."""
    said = herd.said.get((state.farm or "", outing.group or ""), [])
    season = season_worked(said, outing.back or herd.on)
    return season if season is not None and outing.out <= last_day_of(herd, season) else None


def last_day_of(herd: Herd, season: Group) -> int:
    return season.last_day(herd.rulebook.for_farm(season.farm).limits.group_weeks)


def _after(herd: Herd, bull: Assessment, state: History) -> AfterSeason:
    last = state.outings[-1]
    season = season_of(herd, state, last)
    out = _since(herd, state, season)
    until = last.back or herd.on
    again = _again(herd, state)
    exam, limits = state.exam, state.rules.limits
    passed = _passed(exam)
    too_old = passed < (again or herd.on) - limits.vet_oldest
    return AfterSeason(
        bull=bull,
        group=last.group,
        last_day=None if season is None else last_day_of(herd, season),
        out=out,
        back=last.back or None,
        rest=_rest(until, again, state.rules.cover.working_rest),
        lost=_losses(state, out, last.back or None),
        troubles=_troubles(state.troubles, out, until, passed),
        exam=exam,
        exam_due=limits.vet_required and too_old,
    )


def _passed(exam: Exam | None) -> int:
    return exam.day if exam is not None and exam.outcome == "satisfactory" else NEVER


def _since(herd: Herd, state: History, season: Group | None) -> int:
    """The day on which he first went out in that season."""
    last = state.outings[-1]
    same = [
        outing.out
        for outing in state.outings
        if season is not None and outing.group == last.group and not outing.hired
        if (then := season_of(herd, state, outing)) and then.turnout == season.turnout
    ]
    return min(same, default=last.out)


def _again(herd: Herd, state: History) -> int | None:
    """The day on which he is to go out again, today at the earliest; None where none is known."""
    group = herd.groups.get((state.farm or "", state.group or ""))
    return max(group.turnout, herd.on) if group is not None and state.role == "worker" else None


def _rest(until: int, again: int | None, least: int) -> Rest | None:
    if again is None or again - until >= least:
        return None
    return Rest(until + least, again)


def _losses(state: History, out: int, back: int | None) -> tuple[Loss, ...]:
    scale = state.condition.scale if state.condition else ""
    scores = [(each.day, each.score) for each in state.conditions if each.scale == scale]
    found = (_loss("condition", scores, out, back), _loss("kg", state.weights, out, back))
    return tuple(each for each in found if each is not None)


def _loss(what: str, measured: Sequence[Measured], out: int, back: int | None) -> Loss | None:
    """Less while he worked, or when he was first measured after, and less still the last time."""
    before = [each for each in measured if each[0] <= out]
    after = [each for each in measured if each[0] > out]
    if not before or not after:
        return None
    at_work = [value for day, value in after if back is None or day <= back]
    first_since = [value for day, value in after if back is not None and day > back][:1]
    low = min([*at_work, *first_since])
    was, now = before[-1], after[-1]
    return Loss(what, was, now) if low < was[1] and now[1] < was[1] else None


def _troubles(told: Iterable[Trouble], out: int, until: int, passed: int) -> tuple[Trouble, ...]:
    """The last of each kind in these days that no examination passed on a later day answers."""
    last = {each.what: each for each in told if out <= each.day <= until and each.day >= passed}
    return tuple(sorted(last.values()))
