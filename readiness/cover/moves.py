"""Which bulls to move where, so that the fewest females of a farm go without a bull.

Exact, by the mixed-integer solver, one aim after another: the fewest females that nobody carries,
then the fewest moves, then bulls of one pen together, then tags in their order. Pure.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import NamedTuple

from readiness.cover.groups import GroupCover, Worker, group_cover, ready_by, worker_of
from readiness.engine.assess import assess
from readiness.engine.results import Assessment
from readiness.herd.board import Herd
from readiness.history import History
from readiness.history.groups import Group, Key
from readiness.trade.females import HEIFERS
from readiness.visits.columns import NO_END, Columns

WORKER = "worker"
SECONDS = 20.0


@dataclass(frozen=True, slots=True)
class Move:
    """One bull to another group, or from its reserve to its workers. ``short_…`` and ``chance_…``:
    those of the group that gets him, as they stand when the moves before it are made.
    """

    farm: str | None
    bull: Assessment
    group: str
    frm: str | None
    role_before: str | None
    short_before: int
    short_after: int
    chance_before: Fraction
    chance_after: Fraction


class Candidate(NamedTuple):
    """A bull who may be a worker of a group: as he stands today and as he would stand there.
    ``home``: the group that he works in now, of whom it would lack what he carries."""

    bull: Assessment
    pen: str
    to: Key
    there: Worker
    home: Key | None
    carries_at_home: int


def moves(herd: Herd, groups: Sequence[GroupCover]) -> tuple[Move, ...]:
    """The moves that leave the fewest females of each farm without a bull; none where no group is
    short, or no move helps."""
    found: list[Move] = []
    for farm in sorted({group.farm or "" for group in groups}):
        own = [group for group in groups if (group.farm or "") == farm]
        if any(group.short for group in own):
            here = candidates(herd, own)
            chosen = best(own, here, _pens_of(herd, own)) if here else []
            found += _told(herd, own, chosen)
    return tuple(found)


def joins(moves: Iterable[Move], on: date, who: str) -> list[dict[str, object]]:
    """The entries that make the moves, one batch."""
    by = {"by": who} if who else {}
    return [
        {"kind": "join", "on": on.isoformat(), "bull": move.bull.bull, "group": move.group,
         "role": WORKER, **by}
        for move in moves
    ]  # fmt: skip


# ---- who may be moved ----------------------------------------------------------------------------


def candidates(herd: Herd, groups: Sequence[GroupCover]) -> list[Candidate]:
    """Who of one farm may be a worker of which of its groups, where he is none now: only one who is
    here, is not dangerous, and is or can be ready by that group's turnout."""
    farm = groups[0].farm or ""
    rules = herd.rulebook.for_farm(farm)
    working = {
        worker.bull.key: (key_of(group), worker.carrier.females if worker.forecast else 0)
        for group in groups
        for worker in group.workers
    }
    found = []
    for state in herd.states:
        if (state.farm or "") != farm or state.out:
            continue
        home, carries = working.get(state.key, (None, 0))
        if home is not None and herd.groups[home].females is None:
            continue  # nobody knows whether that group can do without him
        for group in groups:
            if group.females is None or key_of(group) == home or not fits(state, group):
                continue
            there = assessed_for(state, herd.groups[key_of(group)], herd.on)
            if there.status == "GO" or ready_by(there, group.turnout):
                worker = worker_of(there, state, herd.groups[key_of(group)], rules)
                pen = str(state.profile.get("pen") or "")
                found.append(Candidate(there, pen, key_of(group), worker, home, carries))
    return sorted(found, key=lambda one: (one.bull.key, one.to))


def key_of(group: GroupCover) -> Key:
    return group.farm or "", group.group


def _pens_of(herd: Herd, groups: Iterable[GroupCover]) -> set[tuple[str, Key]]:
    """Each pen from which a group has a worker already."""
    pens = {state.key: str(state.profile.get("pen") or "") for state in herd.states}
    return {(pens[worker.bull.key], key_of(group)) for group in groups for worker in group.workers}


def fits(state: History, group: GroupCover) -> bool:
    """Whether anybody may propose him for the group: nobody who is dangerous, and to heifers only
    one of whom somebody said that he is safe with them."""
    safe = group.category != HEIFERS or state.profile.get("heifer_safe") is True
    return safe and state.profile.get("temper") != "dangerous"


def assessed_for(state: History, group: Group, on: int) -> Assessment:
    """How he would stand as a worker of this group."""
    return assess(
        state, on, turnout=group.turnout, group=group.name, role=WORKER, heifers=group.heifers
    )


# ---- which moves ---------------------------------------------------------------------------------


def best(
    groups: Sequence[GroupCover], here: Sequence[Candidate], settled: Collection[tuple[str, Key]]
) -> list[Candidate]:
    """The best of all ways to move these bulls. ``settled``: the pens from which a group has bulls
    already."""
    from readiness.visits.highs import Solver  # numpy and HiGHS, only where a group is short

    model = _Model(groups, here, settled)
    solver = Solver(model)
    values: list[float] | None = None
    for costs in (model.short_of_all(), model.moved(), model.pens_apart(), model.tags()):
        found = solver.least(costs, SECONDS, values)
        if found.values is None or not found.proven:
            break
        values = found.values
        least = sum(cost * round(value) for cost, value in zip(costs, values, strict=True))
        solver.at_most(costs, least)
    if values is None:
        return []
    return [one for one, column in zip(here, model.moves, strict=True) if round(values[column])]


class _Model(Columns):
    """A column a possible move, one a group for the females that it lacks, one for each pen from
    which bulls go to a group."""

    def __init__(
        self,
        groups: Sequence[GroupCover],
        here: Sequence[Candidate],
        settled: Collection[tuple[str, Key]],
    ) -> None:
        super().__init__()
        self.here = here
        self.moves = [self.column() for _ in here]
        self._each_bull_once()
        self.short = [
            self._lacks(group, group.females, group.short)
            for group in groups
            if group.females is not None and group.short is not None
        ]
        self.pens = self._pens(settled)

    def _each_bull_once(self) -> None:
        of: dict[str, list[int]] = {}
        for one, column in zip(self.here, self.moves, strict=True):
            of.setdefault(one.bull.key, []).append(column)
        for columns in of.values():
            self.row(0.0, 1.0, [(column, 1.0) for column in columns])

    def _lacks(self, group: GroupCover, females: int, short: int) -> int:
        """No group is shorter than it was: nobody is taken away whom it cannot spare."""
        lacks = self.column(most=float(short))
        terms = [(lacks, 1.0)]
        for one, column in zip(self.here, self.moves, strict=True):
            if one.to == key_of(group):
                terms.append((column, float(one.there.carrier.females)))
            if one.home == key_of(group):
                terms.append((column, -float(one.carries_at_home)))
        self.row(float(females - group.capacity_forecast), NO_END, terms)
        return lacks

    def _pens(self, settled: Collection[tuple[str, Key]]) -> list[int]:
        columns: dict[tuple[str, Key], int] = {}
        for one, column in zip(self.here, self.moves, strict=True):
            place = (one.pen, one.to)
            if one.pen and place not in settled:
                if place not in columns:
                    columns[place] = self.column()
                self.row(-NO_END, 0.0, [(column, 1.0), (columns[place], -1.0)])
        return list(columns.values())

    def short_of_all(self) -> list[float]:
        return self.objective((column, 1.0) for column in self.short)

    def moved(self) -> list[float]:
        return self.objective((column, 1.0) for column in self.moves)

    def pens_apart(self) -> list[float]:
        return self.objective((column, 1.0) for column in self.pens)

    def tags(self) -> list[float]:
        """The first in their order: the sum of their places is least."""
        return self.objective((column, float(at)) for at, column in enumerate(self.moves))


# ---- told one by one -----------------------------------------------------------------------------


def _told(herd: Herd, groups: Sequence[GroupCover], chosen: Iterable[Candidate]) -> list[Move]:
    """The moves in an order in which no group is shorter after one than before all of them: first
    who leaves no place behind."""
    now = {key_of(group): group for group in groups}
    told = []
    for one in sorted(chosen, key=lambda one: (one.home is not None, one.bull.key)):
        before, states = now[one.to], {state.key: state for state in herd.states}
        after = _with(herd, before, [*before.workers, one.there])
        assert before.short is not None and after.short is not None
        assert before.chance is not None and after.chance is not None
        state = states[one.bull.key]
        told.append(
            Move(
                farm=before.farm,
                bull=one.bull,
                group=before.group,
                frm=state.group if (one.to[0], state.group) in herd.groups else None,
                role_before=state.role if (one.to[0], state.group) in herd.groups else None,
                short_before=before.short,
                short_after=after.short,
                chance_before=before.chance,
                chance_after=after.chance,
            )
        )
        now[one.to] = after
        if one.home is not None:
            left = [w for w in now[one.home].workers if w.bull.key != one.bull.key]
            now[one.home] = _with(herd, now[one.home], left)
    return told


def _with(herd: Herd, group: GroupCover, workers: Sequence[Worker]) -> GroupCover:
    """The group if these were its workers."""
    as_said: Mapping[Key, Group] = herd.groups
    rules = herd.rulebook.for_farm(group.farm)
    said = as_said[key_of(group)]._replace(females=group.females)
    kept = {worker.bull.key for worker in workers}
    reserves = [bull for bull in group.reserves if bull.key not in kept]
    return group_cover(herd.on, said, workers, reserves, rules)
