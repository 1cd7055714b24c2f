"""Turnout put off, where no move mends a shortage: the first later day on which the group would be
covered, everything assessed for that day.

Pure. Days are ordinals.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from readiness.cover.groups import group_cover, ready_by, worker_of
from readiness.cover.moves import Move, assessed_for, joins, key_of
from readiness.cover.results import GroupCover
from readiness.engine.results import Assessment
from readiness.herd.board import Herd
from readiness.history import History
from readiness.history.groups import Key
from readiness.rules.model import Rules


@dataclass(frozen=True, slots=True)
class PutOff:
    """A group as it is, and as it would be turned out on the first later day on which its bulls are
    enough. ``with_moves``: whether the moves that help are made before, by which it is sooner; None
    where none of them concerns the group."""

    before: GroupCover
    after: GroupCover
    with_moves: bool | None

    @property
    def days(self) -> int:
        """By how many days."""
        return self.after.turnout - self.before.turnout


def put_off(herd: Herd, groups: Sequence[GroupCover], moves: Sequence[Move]) -> Iterator[PutOff]:
    """Of each group that is short, whatever is moved, and of which nobody is out yet; none where no
    turnout within ``cover.put_off`` days would do."""
    states = {state.key: state for state in herd.states}
    for group in groups:
        own = [move for move in moves if _to(move) == key_of(group)]
        short = own[-1].short_after if own else group.short
        if not short or len(group.waiting) < len(group.workers):
            continue
        as_it_is = [worker.bull for worker in group.workers]
        moved = _after(group, moves)
        ways = [(as_it_is, False), (moved, True)] if moved != as_it_is else [(as_it_is, None)]
        found = [
            PutOff(group, after, with_moves)
            for team, with_moves in ways
            if (after := _first_covered(herd, group, [(states[b.key], b) for b in team]))
        ]
        if found:
            yield min(found, key=lambda each: each.days)


def later_turnout(
    found: PutOff, moves: Sequence[Move], on: date, who: str
) -> list[dict[str, object]]:
    """The entries that put the turnout off, as one batch: with the ``moves`` of its farm, where it
    is meant with them."""
    group = found.after
    said = {"on": on.isoformat(), **({"by": who} if who else {})}
    farm = {"farm": group.farm} if group.farm else {}
    turnout = date.fromordinal(group.turnout).isoformat()
    own = [move for move in moves if move.farm == group.farm] if found.with_moves else []
    return [
        *joins(own, on, who),
        {"kind": "group", "group": group.group, "turnout": turnout, **farm, **said},
    ]


def _to(move: Move) -> Key:
    """The group that gets him."""
    return move.farm or "", move.group


def _after(group: GroupCover, moves: Sequence[Move]) -> list[Assessment]:
    """The group's workers once the moves are made, each assessed for it."""
    gone = {move.bull.key for move in moves if _to(move) != key_of(group)}
    here = [worker.bull for worker in group.workers if worker.bull.key not in gone]
    return here + [move.bull for move in moves if _to(move) == key_of(group)]


def _first_covered(
    herd: Herd, group: GroupCover, team: Sequence[tuple[History, Assessment]]
) -> GroupCover | None:
    """The group of these workers at the first later turnout at which nobody is short. No day is
    tried on which those who can be ready by then would carry too few, all else passing."""
    rules = herd.rulebook.for_farm(group.farm)
    last = group.turnout + rules.cover.cover_put_off
    for turnout in range(max(group.turnout + 1, herd.on), last + 1):
        able = [state for state, bull in team if bull.status == "GO" or ready_by(bull, turnout)]
        if sum(_carries(state, turnout, rules) for state in able) < (group.females or 0):
            continue
        said = herd.groups[key_of(group)]._replace(turnout=turnout)
        workers = [
            worker_of(assessed_for(state, said, herd.on), state, said, rules) for state, _ in team
        ]
        working = {bull.key for _, bull in team}
        reserves = [bull for bull in group.reserves if bull.key not in working]
        found = group_cover(herd.on, said, workers, reserves, rules)
        if found.short == 0:
            return found
    return None


def _carries(state: History, turnout: int, rules: Rules) -> int:
    return rules.cover.females_for(state.birth.months(turnout) if state.birth else None)
