"""The day of turnout: who of a group goes, who stays and from when he could follow.

Pure. Days are ordinals.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any, NamedTuple

from readiness.cover.results import GroupCover
from readiness.engine.results import Assessment
from readiness.herd.board import Herd
from readiness.history.records import Walk
from readiness.trade.words import Day


class Goer(NamedTuple):
    """A bull with his last walk, None where he never was scored."""

    bull: Assessment
    walk: Walk | None


@dataclass(frozen=True, slots=True)
class TurnoutDay:
    """``goes``: the workers that may go (``may_go``); ``stays``: those that may not; ``reserve``:
    whoever is no worker; ``out``: those that work already. ``cover``: that of the group."""

    on: Day
    cover: GroupCover
    goes: tuple[Goer, ...]
    stays: tuple[Assessment, ...]
    reserve: tuple[Assessment, ...]
    out: tuple[Assessment, ...]

    def who(self, key: str) -> Assessment | None:
        """The bull of this key who is of the group and not out yet."""
        here = (*(goer.bull for goer in self.goes), *self.stays, *self.reserve)
        return next((bull for bull in here if bull.key == key), None)


def may_go(bull: Assessment, on: Day) -> bool:
    """Whether he is GO, and as ready on this day as he is for his turnout: let out before it he may
    lack what counts only from some day on."""
    ready = bull.earliest_ready
    return bull.status == "GO" and ready is not None and ready <= on


def turnout_day(herd: Herd, cover: GroupCover) -> TurnoutDay:
    """Who of the group goes on the day of the herd."""
    states = {state.key: state for state in herd.states}
    workers = [worker.bull for worker in cover.workers]
    here = [bull for bull in workers if not states[bull.key].out]
    return TurnoutDay(
        on=herd.on,
        cover=cover,
        goes=tuple(Goer(b, states[b.key].walk) for b in here if may_go(b, herd.on)),
        stays=tuple(bull for bull in here if not may_go(bull, herd.on)),
        reserve=tuple(bull for bull in cover.reserves if not states[bull.key].out),
        out=tuple(b for b in (*workers, *cover.reserves) if states[b.key].out),
    )


def let_out(
    going: Sequence[tuple[Assessment, str | None]], on: date, who: str
) -> list[dict[str, Any]]:
    """The entries that let them out, as one batch; with each, why, where that was said. One in
    reserve becomes a worker: who goes out in the place of another works."""
    said = {"on": on.isoformat(), **({"by": who} if who else {})}
    joins = [
        {"kind": "join", "bull": bull.bull, "group": bull.group, "role": "worker", **said}
        for bull, _ in going
        if bull.role != "worker" and bull.group is not None
    ]
    moved = {"kind": "moved", "act": "out", **said}
    return joins + [
        {**moved, "bull": bull.bull, **({"note": why} if why else {})} for bull, why in going
    ]


def came_in(bull: Assessment, why: str | None, on: date, who: str) -> dict[str, Any]:
    """The entry that brings him in; with the reason, where one was said."""
    said = {"on": on.isoformat(), **({"by": who} if who else {})}
    reason = {"reason": why} if why else {}
    return {"kind": "moved", "act": "in", "bull": bull.bull, **reason, **said}
