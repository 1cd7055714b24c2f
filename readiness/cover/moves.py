"""Which bulls to move where, so that the fewest females of a farm go without a bull.

Exact, by the mixed-integer solver, one aim after another: the fewest females that nobody carries,
then the fewest moves, then bulls of one pen together, then tags in their order. Pure.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import NamedTuple

from readiness.cover.groups import group_cover, short_of, worker_of
from readiness.cover.results import GroupCover, Worker
from readiness.engine.assess import assess
from readiness.engine.results import Assessment
from readiness.herd.board import Herd
from readiness.history import History
from readiness.history.groups import Group, Key
from readiness.trade.females import HEIFERS, speaks_of_heifers
from readiness.visits.program import NO_END, Budget, Program

WORKER = "worker"
SECONDS = 20.0
WIDE = 800
"""In a wider model, of a hundred bulls and a dozen groups, which of the best moves are of one pen
is not sought: it would take seconds, and changes neither how many are short nor how many move."""


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
        stands: dict[tuple[int, bool], Assessment] = {}  # alike in groups that turn out together
        for group in groups:
            to = key_of(group)
            if group.females is None or to == home or not fits(state, group):
                continue
            said = herd.groups[to]
            asked = (said.turnout, said.heifers)
            if asked not in stands:
                stands[asked] = assessed_for(state, said, herd.on)
            there = worker_of(stands[asked], state, said, rules)
            if there.forecast:
                pen = str(state.profile.get("pen") or "")
                found.append(Candidate(there.bull, pen, to, there, home, carries))
    return sorted(found, key=lambda one: (one.bull.key, one.to))


def key_of(group: GroupCover) -> Key:
    return group.farm or "", group.group


def _pens_of(herd: Herd, groups: Iterable[GroupCover]) -> set[tuple[str, Key]]:
    """Each pen from which a group has a worker already."""
    pens = {state.key: str(state.profile.get("pen") or "") for state in herd.states}
    return {(pens[worker.bull.key], key_of(group)) for group in groups for worker in group.workers}


def fits(state: History, group: GroupCover) -> bool:
    """Whether anybody may propose him for the group: nobody who is dangerous, and to heifers only
    one of whom somebody said that he is safe with them: heifers that stand in a name alone, too."""
    heifers = group.category == HEIFERS or speaks_of_heifers(group.group)
    safe = not heifers or state.profile.get("heifer_safe") is True
    return safe and state.profile.get("temper") != "dangerous"


def assessed_for(state: History, group: Group, on: int) -> Assessment:
    """How he would stand as a worker of this group."""
    return assess(
        state, on, turnout=group.turnout, group=group.name, role=WORKER, heifers=group.heifers
    )


# ---- which moves ---------------------------------------------------------------------------------

Place = tuple[str, Key]
"""A pen and the group to which a bull of it goes."""


class Alike(NamedTuple):
    """Bulls between which nothing tells but their tags, which rise: where they work now, what they
    carry there, their pen, and what each would carry where (group, females)."""

    home: Key | None
    carries: int
    pen: str
    could: tuple[tuple[Key, int], ...]
    bulls: tuple[str, ...]


def alike_of(here: Sequence[Candidate]) -> list[Alike]:
    """The candidates by what tells between them, those with the first tag first."""
    could: dict[str, list[Candidate]] = {}
    for one in here:
        could.setdefault(one.bull.key, []).append(one)
    found: dict[tuple[Key | None, int, str, tuple[tuple[Key, int], ...]], list[str]] = {}
    for key, ways in could.items():
        places = tuple((one.to, one.there.carrier.females) for one in ways)
        like = (ways[0].home, ways[0].carries_at_home, ways[0].pen, places)
        found.setdefault(like, []).append(key)
    return [Alike(*like, tuple(bulls)) for like, bulls in found.items()]


def best(
    groups: Sequence[GroupCover], here: Sequence[Candidate], settled: Collection[Place]
) -> list[Candidate]:
    """The best of all ways to move these bulls, who stand by tag. ``settled``: the pens from which
    a group has bulls already."""
    if one := _one_that_does(groups, here, settled):
        return [one]
    from readiness.visits.highs import Solver  # numpy and HiGHS, only where it takes more

    model = _Model(groups, alike_of(here), settled)
    solver = Solver(model)
    values: list[float] | None = None
    budget = Budget(SECONDS)
    for costs in model.aims():
        found = solver.least(costs, budget, values)
        if found.values is None or not found.proven:
            break
        values = found.values
        least = sum(cost * round(value) for cost, value in zip(costs, values, strict=True))
        solver.at_most(costs, least)
    if values is None:
        return []
    ways = {(one.bull.key, one.to): one for one in here}
    return [ways[way] for way in model.chosen(values)]


def _one_that_does(
    groups: Sequence[GroupCover], here: Sequence[Candidate], settled: Collection[Place]
) -> Candidate | None:
    """The one move, where one leaves nobody short: no way to move bulls is better."""

    def short_after(one: Candidate) -> int:
        gains = {one.to: one.there.carrier.females, one.home: -one.carries_at_home}
        return sum(
            short_of(group.females, group.capacity_forecast + gains.get(key_of(group), 0)) or 0
            for group in groups
        )

    able = [one for one in here if short_after(one) == 0]
    return min(
        able, key=lambda one: bool(one.pen) and (one.pen, one.to) not in settled, default=None
    )


class _Model(Program):
    """A column for how many of some alike go to a group, one a group for the females that it lacks,
    one for each pen from which bulls go to a group that has none of it yet."""

    def __init__(
        self, groups: Sequence[GroupCover], alike: Sequence[Alike], settled: Collection[Place]
    ) -> None:
        super().__init__()
        self.going = {
            (like, to): self.column(most=float(len(like.bulls)))
            for like in alike
            for to, _ in like.could
        }
        for like in alike:
            ways = [(self.going[like, to], 1.0) for to, _ in like.could]
            self.row(0.0, float(len(like.bulls)), ways)
        self.short = [
            self._lacks(group, group.females, group.short)
            for group in groups
            if group.females is not None and group.short is not None
        ]
        self.pens = self._pens(settled)

    def _lacks(self, group: GroupCover, females: int, short: int) -> int:
        """No group is shorter than it was: nobody is taken away whom it cannot spare."""
        lacks = self.column(most=float(short))
        terms = [(lacks, 1.0)]
        for (like, to), column in self.going.items():
            gains = dict(like.could)[to] if to == key_of(group) else 0
            loses = like.carries if like.home == key_of(group) else 0
            if gains or loses:
                terms.append((column, float(gains - loses)))
        self.row(float(females - group.capacity_forecast), NO_END, terms)
        return lacks

    def _pens(self, settled: Collection[Place]) -> list[int]:
        columns: dict[Place, int] = {}
        for (like, to), column in self.going.items():
            place = (like.pen, to)
            if like.pen and place not in settled:
                columns.setdefault(place, -1)
                if columns[place] < 0:
                    columns[place] = self.column()
                few = (columns[place], -float(len(like.bulls)))
                self.row(-NO_END, 0.0, [(column, 1.0), few])
        return list(columns.values())

    def aims(self) -> list[list[float]]:
        """What is to be least, one after the other: short, moves, pens, late tags."""
        going = self.going.values()
        short, moved, pens = (
            self.objective((column, 1.0) for column in columns)
            for columns in (self.short, going, self.pens)
        )
        by_tag = self.objective((column, float(at)) for at, column in enumerate(going))
        return [short, moved] if self.width > WIDE else [short, moved, pens, by_tag]

    def chosen(self, values: Sequence[float]) -> list[tuple[str, Key]]:
        """(bull, group) of each move; of those alike the first by tag."""
        waiting = {like: iter(like.bulls) for like, _ in self.going}
        return [
            (next(waiting[like]), to)
            for (like, to), column in self.going.items()
            for _ in range(round(values[column]))
        ]


# ---- told one by one -----------------------------------------------------------------------------


def _told(herd: Herd, groups: Sequence[GroupCover], chosen: Iterable[Candidate]) -> list[Move]:
    """The moves in an order in which no group is shorter after one than before all of them: first
    who leaves no place behind."""
    now = {key_of(group): group for group in groups}
    states = {state.key: state for state in herd.states}
    told = []
    for one in sorted(chosen, key=lambda one: (one.home is not None, one.bull.key)):
        before, state = now[one.to], states[one.bull.key]
        in_a_group = (one.to[0], state.group) in herd.groups
        after = _with(herd, before, [*before.workers, one.there])
        assert before.short is not None and after.short is not None
        assert before.chance is not None and after.chance is not None
        told.append(
            Move(
                farm=before.farm,
                bull=one.bull,
                group=before.group,
                frm=state.group if in_a_group else None,
                role_before=state.role if in_a_group else None,
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
    working = {worker.bull.key for worker in workers}
    reserves = [bull for bull in group.reserves if bull.key not in working]
    rules = herd.rulebook.for_farm(group.farm)
    return group_cover(herd.on, herd.groups[key_of(group)], workers, reserves, rules)
