"""The season of a group: the days to keep in mind, the bulls at work, and who could stand in.

Pure. Days are ordinals.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from readiness.cover.after import AfterSeason, is_over, last_day_of, season_of
from readiness.cover.groups import ready_by
from readiness.cover.moves import assessed_for, fits, key_of
from readiness.cover.results import GroupCover
from readiness.engine.results import Assessment
from readiness.herd.board import Herd
from readiness.history import History
from readiness.rules.model import CoverRules
from readiness.trade.words import Day, every_words, list_words

TURNOUT, RETURNS = "turnout", "watch for returns"
LOOK = "look at the working bulls"
REST, STILL_OUT = "rest between groups", "out, though no season is under way; bring in"
ENDS, CALVES = "the season's last day: bring the bulls in", "calves due"


class Event(NamedTuple):
    """What a group's days from ``first`` to ``last`` are for; ``every``: only each so many days,
    from the first on; ``whom``: the bulls meant, where they are not all of the group."""

    farm: str | None
    group: str
    first: Day
    last: Day
    what: str
    every: int | None = None
    whom: str = ""

    @property
    def text(self) -> str:
        """ "look at the working bulls every other day", "rest between groups: Gorse"."""
        often = f" {every_words(self.every)}" if self.every else ""
        return f"{self.what}{often}{f': {self.whom}' if self.whom else ''}"


@dataclass(frozen=True, slots=True)
class Working:
    """A bull at work: when he was last looked at (or let out), and the day by which to look again.
    ``condition``, ``kg``: what he has lost since he went out, None where he was not scored or
    weighed both before and after."""

    bull: Assessment
    looked: Day
    look_by: Day
    condition: float | None
    kg: float | None


class StandIn(NamedTuple):
    """Who could work in the place of another: from which day, every check passing; where he is."""

    bull: Assessment
    ready: Day
    place: str


ON_HOLD, LATE = "on HOLD, and no day is given", "not ready before the season ends"
OUT, ELSEWHERE = "out already", "to work in another group"
DANGEROUS, NOT_SAFE = "dangerous", "not said to be safe on heifers"
WHY_NOT = (ON_HOLD, LATE, OUT, ELSEWHERE, DANGEROUS, NOT_SAFE)


class Offers(NamedTuple):
    """Who ``could`` stand in, the first that is ready first; and of the farm's others why not, and
    how many."""

    could: tuple[StandIn, ...]
    why_not: tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class Season:
    """A group at work: ``stand_ins`` where one of its bulls should not be working."""

    group: GroupCover
    working: tuple[Working, ...]
    stand_ins: tuple[StandIn, ...]

    @property
    def bring_in(self) -> tuple[Working, ...]:
        """Those who should not be working."""
        return tuple(each for each in self.working if each.bull.status == "HOLD")


def events(group: GroupCover, rules: CoverRules) -> Iterator[Event]:
    """The days of a season: turnout, the returns to watch for, its end, the calves."""
    last = group.last_day

    def event(first: int, until: int, what: str, every: int | None = None) -> Event:
        return Event(group.farm, group.group, first, until, what, every)

    yield event(group.turnout, group.turnout, TURNOUT)
    first, length = group.turnout + rules.returns_first, rules.returns_last - rules.returns_first
    while first <= last:
        yield event(first, min(first + length, last), RETURNS)
        first += rules.returns_cycle
    for day, until, every in looks(group.turnout, last, rules):
        yield event(day, until, LOOK, every)
    yield event(last, last, ENDS)
    yield event(group.first_calf, group.last_calf, CALVES)


def looks(turnout: int, last: int, rules: CoverRules) -> Iterator[tuple[int, int, int]]:
    """(first look, last day, days between looks): often at first, then for the rest of the season;
    whoever looks so has looked by ``Working.look_by`` each time."""
    often, usual = rules.working_look_first, rules.working_look
    changes = turnout + often * -(-rules.working_first // often) if often != usual else last
    if turnout + often <= last:
        yield turnout + often, min(changes, last), often
    if changes + usual <= last:
        yield changes + usual, last, usual


def season(herd: Herd, group: GroupCover) -> Season | None:
    """The group's season as it stands; None before any of its bulls is out."""
    states = {state.key: state for state in herd.states}
    rules = herd.rulebook.for_farm(group.farm)
    bulls = [worker.bull for worker in group.workers] + list(group.reserves)
    out = [bull for bull in bulls if _works(herd, states[bull.key])]
    if not out:
        return None
    working = tuple(_working(bull, states[bull.key], group.turnout, rules.cover) for bull in out)
    hurt = any(each.bull.status == "HOLD" for each in working)
    return Season(group, working, offers(herd, group).could if hurt else ())


def _works(herd: Herd, state: History) -> bool:
    """Whether he is out with a group of this farm, and not still from a season that is over."""
    return bool(state.out) and not state.hired_out and not is_over(herd, state)


def _working(bull: Assessment, state: History, turnout: int, rules: CoverRules) -> Working:
    looked = max(state.out.day, last_looked(state))
    early = looked < turnout + rules.working_first
    scale = state.condition.scale if state.condition else ""
    scores = [(each.day, each.score) for each in state.conditions if each.scale == scale]
    return Working(
        bull,
        looked,
        looked + (rules.working_look_first if early else rules.working_look),
        _lost(scores, state.out.day),
        _lost(state.weights, state.out.day),
    )


def last_looked(state: History) -> int:
    """The last day on which somebody said anything of how he is."""
    lifts = [state.last_lift(foot) for foot in state.lifts]
    told = [each[-1].day for each in (state.walks, state.conditions, state.vet_looks) if each]
    exam = state.exam.day if state.exam else 0
    return max([*lifts, *told, exam, state.hurt.day, state.illness.day])


def _lost(measured: Sequence[tuple[int, float]], since: int) -> float | None:
    """How much less the last is than the last of before; below 0 where it is more."""
    before = [value for day, value in measured if day <= since]
    after = [value for day, value in measured if day > since]
    return before[-1] - after[-1] if before and after else None


def offers(herd: Herd, group: GroupCover) -> Offers:
    """Who works nowhere else and could work here before the season ends; nobody who is dangerous,
    and to heifers only who is said to be safe. And why the others of the farm could not; whoever is
    at work here, or counts, is neither."""
    here = {worker.bull.key for worker in group.workers}
    at_work = {w.bull.key for w in group.workers if w.out is not None}
    at_work |= {worker.bull.key for worker in group.counts.bulls}
    could, why_not = [], Counter[str]()
    for state in herd.states:
        if (state.farm or "") != (group.farm or ""):
            continue
        found = _offered(herd, group, state, own=state.key in here)
        if isinstance(found, StandIn):
            could.append(found)
        elif state.key not in at_work:
            why_not[found] += 1
    could.sort(key=lambda each: (each.ready, each.bull.key))
    return Offers(tuple(could), tuple((why, why_not[why]) for why in WHY_NOT if why_not[why]))


def _offered(herd: Herd, group: GroupCover, state: History, *, own: bool) -> StandIn | str:
    """A bull of the group's farm in the place of one of its bulls, or why he is not offered."""
    in_a_group = (state.farm or "", state.group) in herd.groups
    if state.out:
        return OUT
    if in_a_group and state.role == "worker" and not own:
        return ELSEWHERE
    if not fits(state, group):
        return DANGEROUS if state.profile.get("temper") == "dangerous" else NOT_SAFE
    there = assessed_for(state, herd.groups[key_of(group)], herd.on)
    ready = herd.on if there.status == "GO" else there.earliest_ready
    if ready is None:
        return ON_HOLD
    if there.status != "GO" and not ready_by(there, group.last_day):
        return LATE
    place = f"reserve of {state.group}" if in_a_group else "in no group"
    if own:
        been = bool(state.outings) and state.outings[-1].back >= group.turnout
        place = "came in again" if been else "not let out yet"
    return StandIn(there, ready, place)


def still_out(herd: Herd) -> list[str]:
    """The keys of the bulls that are out, and not on hire, though no season of their group is under
    way: it is over, or they are in no group."""
    return [
        state.key
        for state in herd.states
        if state.out
        and not state.hired_out
        and ((state.farm or "", state.group) not in herd.groups or is_over(herd, state))
    ]


def rests(after: Iterable[AfterSeason]) -> Iterator[Event]:
    """The days of rest of those who came in and are to go out again too soon."""
    together: dict[tuple[str | None, str, int, int], list[Assessment]] = {}
    for each in after:
        if each.rest is not None and each.back is not None and each.bull.group is not None:
            days = (each.back, each.rest.until - 1)
            together.setdefault((each.bull.farm, each.bull.group, *days), []).append(each.bull)
    for (farm, group, first, last), bulls in together.items():
        yield Event(farm, group, first, last, REST, whom=_names(bulls))


def calvings(herd: Herd, bulls: Iterable[Assessment]) -> Iterator[Event]:
    """When the calves of the seasons that are over are due, by the days on which these bulls were
    out with the group."""
    states = {state.key: state for state in herd.states}
    due: dict[tuple[str | None, str, int], list[tuple[int, int]]] = {}
    for state in (states[bull.key] for bull in bulls):
        carried = state.rules.cover.gestation(str(state.profile.get("breed", "")))
        for outing in state.outings:
            worked = None if outing.hired else season_of(herd, state, outing)
            if worked is not None and last_day_of(herd, worked) < herd.on:
                season = (worked.farm, worked.name, worked.turnout)
                days = (outing.out + carried, (outing.back or herd.on) + carried)
                due.setdefault(season, []).append(days)
    for (farm, group, _), found in due.items():
        yield Event(farm, group, min(found)[0], max(last for _, last in found), CALVES)


def to_bring_in(herd: Herd, strays: Iterable[Assessment]) -> Iterator[Event]:
    """Today's: those who are still out, by the group that they went out with."""
    states = {state.key: state for state in herd.states}
    together: dict[tuple[str | None, str], list[Assessment]] = {}
    for bull in strays:
        went_with = states[bull.key].outings[-1].group or ""
        together.setdefault((bull.farm, went_with), []).append(bull)
    for (farm, group), bulls in together.items():
        yield Event(farm, group, herd.on, herd.on, STILL_OUT, whom=_names(bulls))


def _names(bulls: Iterable[Assessment]) -> str:
    return list_words(bull.name or bull.bull for bull in bulls)
