"""How the bulls of each group stand towards its females: now, at turnout, and through the season.

Pure. Days are ordinals.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from readiness.cover.chance import chance, spares
from readiness.cover.results import Carrier, GroupCover, Strength, Worker, carried_by
from readiness.engine.results import Assessment, Board
from readiness.herd.board import Herd
from readiness.history import History
from readiness.history.groups import Group, Key, season_worked
from readiness.history.records import NEVER
from readiness.rules.model import CoverRules, Rules
from readiness.trade.words import Day


def groups_of_board(herd: Herd, board: Board) -> tuple[GroupCover, ...]:
    """The cover of every group of this board of the herd."""
    states = {state.key: state for state in herd.states}
    groups = []
    for line in board.groups:
        key = (line.farm or "", line.group)
        group = herd.groups[key]
        own = [bull for bull in board.bulls if (bull.farm or "", bull.group) == key]
        rules = herd.rulebook.for_farm(group.farm)
        ended = _ended(herd, key)
        workers = [
            worker_of(bull, states[bull.key], group, rules, ended)
            for bull in own
            if bull.role == "worker"
        ]
        reserves = [bull for bull in own if bull.role != "worker"]
        groups.append(group_cover(herd.on, group, workers, reserves, rules))
    return tuple(groups)


def _ended(herd: Herd, key: Key) -> int:
    """The last day of the group's season before, where that is over and the next is to come."""
    before = season_worked(herd.said.get(key, ()), herd.on)
    weeks = herd.rulebook.for_farm(key[0]).limits.group_weeks
    last = NEVER if before is None else before.last_day(weeks)
    return last if last < herd.on else NEVER


def worker_of(
    bull: Assessment, state: History, group: Group, rules: Rules, ended: int = NEVER
) -> Worker:
    """A bull as a worker of this group; ``bull``: assessed for it. One who is out since before
    ``ended`` was never brought in from the season before: he is not out for this one."""
    months = state.birth.months(group.turnout) if state.birth else None
    cover, go = rules.cover, bull.status == "GO" and not state.hired_out
    return Worker(
        bull,
        months,
        Carrier(cover.females_for(months), cover.fails(months)),
        cover.gestation(str(state.profile.get("breed", ""))),
        go,
        go or ready_by(bull, group.turnout),
        state.out.day if state.out and state.out.day > ended else None,
    )


def ready_by(bull: Assessment, day: int) -> bool:
    """Whether he can be ready by then, every check passing. Nobody waits for one who is out."""
    return bull.earliest_ready is not None and bull.earliest_ready <= day


def group_cover(
    on: int, group: Group, workers: Sequence[Worker], reserves: Iterable[Assessment], rules: Rules
) -> GroupCover:
    """One group with these workers."""
    females, cover = group.females, rules.cover
    by_turnout = _strength([worker for worker in workers if worker.forecast], females, cover)
    outside = [worker.out for worker in workers if worker.out is not None]
    under_way = on > group.turnout or (on == group.turnout and bool(outside))
    at_work = [worker for worker in workers if worker.go and worker.out is not None]
    begins = min([group.turnout, *(w.out for w in by_turnout.bulls if w.out is not None)])
    last_day = group.last_day(rules.limits.group_weeks)
    carried_for = [worker.gestation for worker in by_turnout.bulls] or [cover.gestation("")]
    return GroupCover(
        farm=group.farm,
        group=group.name,
        turnout=group.turnout,
        category=group.category,
        females=females,
        workers=tuple(workers),
        reserves=tuple(reserves),
        capacity_go=carried_by(worker for worker in workers if worker.go),
        by_turnout=by_turnout,
        at_work=_strength(at_work, females, cover) if under_way else None,
        covered_from=None if females is None else _covered_from(on, workers, females),
        first_calf=begins + min(carried_for),
        last_calf=last_day + max(carried_for),
        last_day=last_day,
    )


def _strength(bulls: Sequence[Worker], females: int | None, cover: CoverRules) -> Strength:
    carriers = [worker.carrier for worker in bulls]
    carried = carried_by(bulls)
    best = max((each.females for each in carriers), default=0)
    return Strength(
        bulls=tuple(bulls),
        carried=carried,
        short=short_of(females, carried),
        chance=chance(carriers, females) if females is not None else None,
        spare_for_90=_spares(carriers, females, cover, 90),
        spare_for_95=_spares(carriers, females, cover, 95),
        short_if_one_fails=short_of(females, carried - best),
    )


def _spares(
    carriers: Sequence[Carrier], females: int | None, cover: CoverRules, wanted: int
) -> int | None:
    """How many bulls of the middle sort to add for a chance of ``wanted`` per cent: of these the
    one in the middle, of two there the one who carries less."""
    if females is None:
        return None
    middle = sorted(each.females for each in carriers)[(len(carriers) - 1) // 2 :]
    spare = Carrier(middle[0] if middle else cover.cover_spare, cover.cover_fails)
    return spares(carriers, females, spare, cover.cover_spare_most, wanted)


def short_of(females: int | None, carried: int) -> int | None:
    """The females that are not carried; None where nobody said how many there are."""
    return None if females is None else max(0, females - carried)


def by_day(on: int, workers: Iterable[Worker]) -> list[tuple[Day, int]]:
    """(day, females carried from then on) at each day from ``on`` on at which it grows."""
    days = [(on if w.go else w.bull.earliest_ready, w.carrier.females) for w in workers]
    carried: dict[int, int] = {on: 0}
    for day, more in sorted((day, carries) for day, carries in days if day is not None):
        carried[day] = carried[max(carried)] + more
    return list(carried.items())


def _covered_from(on: int, workers: Iterable[Worker], females: int) -> int | None:
    """The first day on which those who are ready by then carry all the females."""
    return next((day for day, carried in by_day(on, workers) if carried >= females), None)
